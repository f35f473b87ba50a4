package checks

import (
	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/quantity"
)

var _ = define(audit.Check{
	ID:      "cycles/drying",
	Title:   "wrapped steam loads were dried as long as the program asks, and none that came out wet was released",
	Why:     "Water in a pack draws germs through paper and seams, so a wet pack does not keep what the cycle did. The program says how long to dry; where it does not, published times do.",
	Grades:  []audit.Grade{audit.Major, audit.Minor, audit.Observation},
	Subject: "sterilizers", Thing: "released wrapped load", Things: "released wrapped loads",
	Needs: []string{"loads", "sterilizers"},
	Helps: []string{"loads.drying", "loads.packs_dry", "loads.wrapped", "loads.decision", "loads.program", "programs.drying", "sterilizers.air_removal"},
	Uses:  []string{"cycles.drying"},
	Fix: []string{
		"Set aside packs of these loads that are still closed, and look at each: process again what is or was damp, in new packaging.",
		"Use the drying time that the program sets, and do not open the door early; if packs are still damp, load less and leave room between them.",
		"If packs come out damp after the full time, ask the maker or your service firm about the drying.",
		"From today on, write the drying time and whether the packs were dry, and reject a load that is wet.",
	},
	Verify: "The next loads are written with the full drying time and with dry packs.",
	Run: func(x *audit.Examination) {
		cyclesEachSteam(x, func(subject audit.Subject, l *practice.Load, s *practice.Sterilizer) {
			switch {
			case l.Wrapped == quantity.IsNo:
				x.Nothing("no load of a steam sterilizer is written as wrapped")
				x.Pass()
			case l.PacksDry == quantity.IsNo:
				f := audit.Fault{Grade: audit.Major, Matter: "wet", Found: "released with packs written as not dry", Needed: "a load that comes out wet is rejected",
					Day: l.Started.Day(), Evidence: []audit.Evidence{audit.At(&l.Row, "packs_dry"), audit.At(&l.Row, "decision")}}
				if l.Decision == "" {
					f.Found = "packs written as not dry"
					cyclesUndecided(x, subject, f)
				} else {
					x.NotMet(subject, f)
				}
			case !l.Drying.Written() && cyclesContract(x, subject, l, s):
			case !l.Drying.Written():
				x.Unclear(subject, "how long the load was dried is not written", audit.Field{Kind: "loads", Name: "drying"})
			case l.Wrapped == quantity.NotWritten:
				x.Unclear(subject, "whether the load was wrapped is not written", audit.Field{Kind: "loads", Name: "wrapped"})
			default:
				cyclesDryingOf(x, subject, l, s)
			}
		})
	},
})

// cyclesDryingOf judges the drying time of a wrapped load: by its program, else
// by the criterion.
func cyclesDryingOf(x *audit.Examination, subject audit.Subject, l *practice.Load, s *practice.Sterilizer) {
	f := audit.Fault{Grade: audit.Minor, Matter: "short", Found: "dried " + l.Drying.String(), Day: l.Started.Day(), Evidence: []audit.Evidence{audit.At(&l.Row, "drying")}}
	a := cyclesAgainstPrograms(x.P, l, s)
	if a.named && a.program == nil {
		x.Unclear(subject, a.why, a.missing...)
		return
	}
	if a.program == nil || !a.program.Drying.Written() {
		if a.program == nil && cyclesDryingSet(x.P, l) {
			x.Unclear(subject, "which program ran is not written", audit.Field{Kind: "loads", Name: "program"})
			return
		}
		cyclesDryingByRule(x, subject, l, cyclesAir(s, a.program), f)
		return
	}
	switch dried := l.Drying.AtLeast(a.program.Drying, quantity.Quantity{}); {
	case dried == quantity.Yes:
		x.Met(subject)
	case !a.named:
		x.Unclear(subject, "dried shorter than the only program asks, but the load does not name its program", audit.Field{Kind: "loads", Name: "program"})
	case dried == quantity.Unsure:
		x.Unclear(subject, "the drying written is too near to what is needed, given the digits written")
	default:
		f.Needed = "its program asks for " + a.program.Drying.String()
		f.Weight = cyclesSeconds(a.program.Drying) - cyclesSeconds(l.Drying)
		f.Evidence = append(f.Evidence, audit.At(&a.program.Row, "drying", "its program"))
		cyclesDryingTell(x, subject, l, f)
	}
}

// cyclesDryingSet reports whether any program of the load's sterilizer sets a
// drying time, so that which one ran matters.
func cyclesDryingSet(p *practice.Practice, l *practice.Load) bool {
	for i := range p.Programs {
		if p.Programs[i].Sterilizer == l.Sterilizer && p.Programs[i].Drying.Written() {
			return true
		}
	}
	return false
}

func cyclesDryingByRule(x *audit.Examination, subject audit.Subject, l *practice.Load, air []string, f audit.Fault) {
	needed := func(c audit.Criterion) string { return c.Value() + " is needed" }
	var rulings []audit.Ruling
	for _, way := range air {
		rulings = append(rulings, x.Ask("cycles.drying", audit.When{"air_removal": way}, func(c audit.Criterion) audit.Verdict {
			switch l.Drying.AtLeast(c.Quantity(), quantity.Quantity{}) {
			case quantity.Yes:
				return audit.Meets
			case quantity.No:
				return audit.Fail
			}
			return audit.CannotTell
		}))
	}
	r := rulings[0]
	for _, other := range rulings {
		if other.Verdict != r.Verdict || other.Depends != r.Depends {
			x.Unclear(subject, "dried long enough for one way of drawing the air out and not for another, and which the sterilizer has is not written", audit.Field{Kind: "sterilizers", Name: "air_removal"})
			return
		}
	}
	if r.Verdict == audit.Fail {
		f.Weight = cyclesSeconds(r.Criterion.Quantity()) - cyclesSeconds(l.Drying)
		if !r.Depends && l.Decision == "" {
			f.Needed = needed(r.Criterion)
			cyclesDryingTell(x, subject, l, f)
			return
		}
	}
	x.Settle(subject, r, f, needed, "the drying written is too near to what is needed, given the digits written")
}

func cyclesDryingTell(x *audit.Examination, subject audit.Subject, l *practice.Load, f audit.Fault) {
	if l.Decision == "" {
		cyclesUndecided(x, subject, f)
		return
	}
	x.NotMet(subject, f)
}
