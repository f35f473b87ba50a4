package checks

import (
	"slices"
	"strings"

	"footing/internal/audit"
	"footing/internal/practice"
)

var _ = define(audit.Check{
	ID:    "gear/dust",
	Title: "Work that makes dust had a gown, a mask or respirator, and eye protection",
	Why: "A rotary tool turns nail and skin into dust so fine that most of it can be breathed in, with fungi in it, and throws splinters at the eyes. " +
		"Gear is read from the list in the visit's note; a visit without a list is not judged, since not written is not the same as not worn.",
	Grades:  []audit.Grade{audit.Minor, audit.Observation},
	Subject: "people",
	Thing:   "visit with dust",
	Things:  "visits with dust",
	Needs:   []string{"visits"},
	Helps:   []string{"visits.gear", "visits.procedures", "visits.instruments", "instruments"},
	Uses:    []string{"gear.dust-work", "gear.dust-needed", "gear.dust-advised"},
	Fix: []string{
		"Ask whoever treated: if the gear was worn and only not listed, add to the note, dated today, that it was; leave the old entry as it is.",
		"Before the next dusty work: lay out gown, mask or respirator, and eye protection beside the tool, in the sizes needed, also in the bag.",
		"A respirator helps only where it fits; ask the maker or an occupational hygienist which kind suits nail dust and how often fit is tested.",
		"Anyone with a cough, tight chest or sore eyes after dusty work sees a doctor; write it into incidents.",
		"From today on, list the gear in each visit note; no gear at all is written as \"none\".",
	},
	Verify: "every visit with dust from today on lists a gown, a mask or respirator, and eye protection",
	Run: func(x *audit.Examination) {
		work, _ := x.Criterion("gear.dust-work", nil)
		needed, _ := x.Criterion("gear.dust-needed", nil)
		advised, _ := x.Criterion("gear.dust-advised", nil)
		for _, v := range x.P.VisitsByTime() {
			if !v.Done() {
				x.Pass()
				continue
			}
			gearDustVisit(x, v, work, needed, advised)
		}
	},
})

func gearDustVisit(x *audit.Examination, v *practice.Visit, work, needed, advised audit.Criterion) {
	s := audit.Whole
	if v.Person != "" {
		s = audit.Subject{Kind: "people", ID: v.Person}
	}
	by, unread := gearDustBy(x.P, v, work)
	switch {
	case by == "" && len(v.Procedures.Items) == 0:
		x.Unclear(s, "what was done at a visit is not written", audit.Field{Kind: "visits", Name: "procedures"})
		return
	case by == "" && unread:
		x.Unclear(s, "an instrument named at a visit leads to no single row of instruments, so whether it makes dust is not known", audit.Field{Kind: "instruments"})
		return
	case by == "":
		x.Pass()
		return
	case !v.Gear.Written:
		x.Unclear(s, "the gear worn at a visit with dust is not written", audit.Field{Kind: "visits", Name: "gear"})
		return
	}
	lacks, less := gearDustLacks(v, needed), gearDustLacks(v, advised)
	if len(lacks)+len(less) == 0 {
		x.Met(s)
		return
	}
	f := audit.Fault{Day: v.Started.Day(), Evidence: []audit.Evidence{audit.At(&v.Row, by), audit.At(&v.Row, "gear")}}
	if len(lacks) > 0 {
		f.Grade, f.Matter, f.Criterion = audit.Minor, strings.Join(lacks, ", "), &needed
		f.Found = "the gear listed for work that makes dust leaves out " + strings.Join(lacks, " and ")
		f.Needed = "needed are " + gearDustWords(needed) + "; if it was worn, add that to the note, dated today"
		x.NotMet(s, f)
		return
	}
	f.Grade, f.Matter, f.Criterion = audit.Observation, "advised "+strings.Join(less, ", "), &advised
	f.Found = "the gear listed for work that makes dust leaves out " + strings.Join(less, " or ")
	f.Needed = "many wear these too, so that dust is not carried home; no rule that was read asks for them"
	f.Steps = []string{"Decide whether hair and shoes are to be covered at dusty work, and write it into the policy on rotary-tool dust.", "If so, list them in the visit notes from today on."}
	x.NotMet(s, f)
}

// gearDustBy is the field of a visit by which it made dust, "" if by none; unread
// says that an instrument could not be looked up.
func gearDustBy(p *practice.Practice, v *practice.Visit, work audit.Criterion) (field string, unread bool) {
	switch {
	case slices.ContainsFunc(v.Procedures.Items, work.Has):
		return "procedures", false
	case slices.ContainsFunc(v.SingleUse.Items, work.Has):
		return "single_use", false
	}
	for _, id := range v.Instruments.Items {
		tool, state := p.Instrument(id)
		switch {
		case state == practice.One && work.Has(tool.Type):
			return "instruments", false
		case state != practice.One && p.Typed("instruments"):
			unread = true
		}
	}
	return "", unread
}

func gearDustWords(wanted audit.Criterion) string {
	return strings.ReplaceAll(strings.Join(wanted.Items(), ", "), "/", " or ")
}

// gearDustLacks lists what a list of gear lacks; "mask/respirator" is either.
func gearDustLacks(v *practice.Visit, wanted audit.Criterion) (lacks []string) {
	for _, item := range wanted.Items() {
		either := strings.Split(item, "/")
		if !slices.ContainsFunc(either, v.Gear.Has) {
			lacks = append(lacks, strings.Join(either, " or "))
		}
	}
	return lacks
}
