package checks

import (
	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/quantity"
)

// cyclesSubject is what findings about a load are grouped by: its sterilizer.
func cyclesSubject(l *practice.Load) audit.Subject {
	if l.Sterilizer == "" {
		return audit.Whole
	}
	return audit.Subject{Kind: "sterilizers", ID: l.Sterilizer}
}

// cyclesEachSteam calls look for every load of a steam sterilizer that was not
// rejected and does not wait for a decision. Loads whose sterilizer cannot be
// told are unclear; all others lie outside.
func cyclesEachSteam(x *audit.Examination, look func(audit.Subject, *practice.Load, *practice.Sterilizer)) {
	x.Nothing("no load of a steam sterilizer is written but rejected or pending ones")
	for _, l := range x.P.LoadsByTime() {
		if l.Decision == "rejected" || l.Decision == "pending" {
			x.Pass()
			continue
		}
		s, state := x.P.Sterilizer(l.Sterilizer)
		switch {
		case l.Sterilizer == "":
			x.Unclear(cyclesSubject(l), "which sterilizer ran the load is not written", audit.Field{Kind: "loads", Name: "sterilizer"})
		case state == practice.Absent:
			x.Unclear(cyclesSubject(l), "the sterilizer that the load names is not in the records", audit.Field{Kind: "sterilizers"})
		case state != practice.One:
			x.Unclear(cyclesSubject(l), "the sterilizer that the load names cannot be told: its row was set aside, or several rows have its id")
		case s.Method != "steam":
			x.Pass()
		default:
			look(cyclesSubject(l), l, s)
		}
	}
}

// cyclesUndecided tells of a fault in a load that has no release written: not
// assessed, since nothing says that it was used, and an observation.
func cyclesUndecided(x *audit.Examination, s audit.Subject, f audit.Fault) {
	x.Unclear(s, "no release is written, so whether the load was used cannot be told", audit.Field{Kind: "loads", Name: "decision"})
	f.Grade, f.Matter, f.Weight = audit.Observation, f.Matter+" without a release", 0
	f.Found += ", with no release written"
	f.Steps = []string{
		"Look into the log book: if the load was released, write the decision; if it was rejected, write that.",
		"If it was released, set its packs aside until you know why the values differ.",
		"From today on, write the decision for each load before a pack of it is used.",
	}
	x.Remark(s, f)
}

// cyclesContract settles a contractor's load whose values are not typed: the
// contractor's certificate stands for them. False for all other loads.
func cyclesContract(x *audit.Examination, subject audit.Subject, l *practice.Load, s *practice.Sterilizer) bool {
	if s == nil || s.OperatedBy != "contractor" {
		return false
	}
	if l.Certificate != "" {
		x.Nothing("for each load that was not rejected, the contractor's certificate stands in place of its values")
		x.Pass()
	} else {
		x.Unclear(subject, "neither the values nor the contractor's certificate of the load are written", audit.Field{Kind: "loads", Name: "certificate"})
	}
	return true
}

// cyclesColumn knows, for each sterilizer, between which days a field of its
// loads is written: inside that time a blank is a gap in the log.
type cyclesColumn map[string]cyclesDays

type cyclesDays struct{ first, last quantity.Day }

func cyclesColumnOf(p *practice.Practice, written func(*practice.Load) bool) cyclesColumn {
	c := cyclesColumn{}
	for _, l := range p.LoadsByTime() {
		if !written(l) {
			continue
		}
		day := l.Started.Day()
		if d, ok := c[l.Sterilizer]; ok {
			day = d.first
		}
		c[l.Sterilizer] = cyclesDays{day, l.Started.Day()}
	}
	return c
}

// gap reports whether a blank in this load is a gap of the log itself, not only
// of what was typed: the log has the field before and after, or is all here.
func (c cyclesColumn) gap(p *practice.Practice, l *practice.Load) bool {
	d, ok := c[l.Sterilizer]
	day := l.Started.Day()
	return ok && (d.first <= day && day <= d.last || p.Covered("loads", day, day))
}

// cyclesAir lists the ways in which the load's air may have been drawn out: by
// its program's pulses, else its sterilizer's row, else the class; both where
// nothing says.
func cyclesAir(s *practice.Sterilizer, program *practice.Program) []string {
	switch {
	case program != nil && program.Pulses.Written && program.Pulses.Value > 0 && s.AirRemoval != "gravity":
		return []string{"dynamic"}
	case program != nil && program.Pulses.Written && program.Pulses.Value == 0:
		return []string{"gravity"}
	case s.AirRemoval != "":
		return []string{s.AirRemoval}
	case s.Class == "B":
		return []string{"dynamic"}
	case s.Class == "N":
		return []string{"gravity"}
	}
	return []string{"gravity", "dynamic"}
}

// cyclesItems says what the packs of a load hold: "hollow" if any instrument in
// them is, "solid" if all are written as not hollow, else "".
func cyclesItems(p *practice.Practice, l *practice.Load) string {
	key := practice.Key(&l.Row)
	if _, state := p.Load(key); state != practice.One {
		return ""
	}
	packs := p.PacksOf(key)
	all := len(packs) > 0 && (!l.PacksMade.Written || float64(len(packs)) >= l.PacksMade.Value)
	for _, k := range packs {
		all = all && len(k.Instruments.Items) > 0
		for _, id := range k.Instruments.Items {
			i, state := p.Instrument(id)
			if state == practice.One && i.Hollow == quantity.IsYes {
				return "hollow"
			}
			all = all && state == practice.One && i.Hollow == quantity.IsNo
		}
	}
	if all {
		return "solid"
	}
	return ""
}

// cyclesChosen reports whether the practice itself chose the rule set that a
// criterion stands in.
func cyclesChosen(x *audit.Examination, c audit.Criterion) bool {
	set := x.P.Profile.RuleSet
	if c.Set == audit.Yours || set != "" && c.Set == set {
		return true
	}
	if c.Set != audit.FootCare {
		return false
	}
	for _, known := range audit.Sets() {
		if set == known {
			return true
		}
	}
	return false
}

// cyclesSeconds is a span in seconds; 0 for one that is not written, or that
// goes by the calendar, as no cycle does.
func cyclesSeconds(q quantity.Quantity) float64 {
	if q.AtLeast(quantity.Exact(0, quantity.Second), quantity.Quantity{}) == quantity.Unsure {
		return 0
	}
	return q.In(quantity.Second)
}
