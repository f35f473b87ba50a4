package checks

import (
	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/quantity"
)

var _ = define(audit.Check{
	ID:      "cycles/release",
	Title:   "someone named released each load, after it had ended",
	Why:     "Release is the moment at which a person looks at the cycle's values and indicators and says that the packs may be used. Before the cycle has ended there is nothing to look at, and without a name nobody has said it.",
	Grades:  []audit.Grade{audit.Major, audit.Minor},
	Subject: "sterilizers", Thing: "released load", Things: "released loads",
	Needs: []string{"loads"},
	Helps: []string{"loads.decision", "loads.released_by", "loads.released_at", "loads.ended", "practice.coverage"},
	Fix: []string{
		"Look at the log book: a clock that was not put forward or back, or start and end in each other's place, explains a release before the end. Write a correction as a new row with today's date.",
		"Where the release stands written by someone whose initials were not typed, add the person as a late entry.",
		"Fill in nothing from memory.",
		"From today on, the person who releases a load writes the hour and who they are, once the cycle has ended and its values have been looked at.",
	},
	Verify: "Each later load has a person and an hour of release that lies after its end.",
	Run: func(x *audit.Examination) {
		x.Nothing("no load is written but rejected or pending ones")
		named := cyclesColumnOf(x.P, func(l *practice.Load) bool { return l.ReleasedBy != "" })
		for _, l := range x.P.LoadsByTime() {
			subject := cyclesSubject(l)
			s, _ := x.P.Sterilizer(l.Sterilizer)
			switch {
			case l.Decision == "rejected" || l.Decision == "pending":
				x.Pass()
			case l.ReleasedBy == "" && !l.ReleasedAt.Written() && cyclesContract(x, subject, l, s):
			case !l.Released():
				x.Unclear(subject, "whether the load was released is not written", audit.Field{Kind: "loads", Name: "decision"})
			default:
				cyclesReleaseOf(x, subject, l, named.gap(x.P, l))
			}
		}
	},
})

func cyclesReleaseOf(x *audit.Examination, subject audit.Subject, l *practice.Load, gap bool) {
	early, against := cyclesReleaseEarly(l)
	switch {
	case l.ReleasedAt.Written() && l.ReleasedAt.Day() < l.Started.Day():
		x.Unclear(subject, "the release lies on a day before the start, as written, so one of the two days is a slip", audit.Field{Kind: "loads", Name: "released_at"})
	case early == quantity.Yes:
		f := audit.Fault{Grade: audit.Major, Matter: "early", Found: "released before the cycle had ended, as written", Needed: "a load is released after its end", Day: l.Started.Day(),
			Evidence: []audit.Evidence{audit.At(&l.Row, "released_at"), audit.At(&l.Row, against)}}
		if against == "exposure" {
			f.Found = "released before the hold that is written could have ended"
		}
		x.NotMet(subject, f)
	case l.ReleasedBy == "" && gap:
		x.NotMet(subject, audit.Fault{Grade: audit.Minor, Matter: "no name", Found: "released with nobody named, in a log that names someone for other loads", Needed: "the person who releases a load is named",
			Day: l.Started.Day(), Evidence: []audit.Evidence{audit.At(&l.Row, "released_by")}})
	case l.ReleasedBy == "":
		x.Unclear(subject, "who released the load is not written, which does not say that nobody did", audit.Field{Kind: "loads", Name: "released_by"})
	case early == quantity.No:
		x.Met(subject)
	case !l.ReleasedAt.Written():
		x.Unclear(subject, "when the load was released is not written", audit.Field{Kind: "loads", Name: "released_at"})
	case !l.Ended.Written():
		x.Unclear(subject, "when the cycle ended is not written", audit.Field{Kind: "loads", Name: "ended"})
	default:
		x.Unclear(subject, "the hours that are written do not tell whether the release came after the end", audit.Field{Kind: "loads", Name: "released_at"}, audit.Field{Kind: "loads", Name: "ended"})
	}
}

// cyclesReleaseEarly says whether a load was released before it ended, and the
// field that shows it: its end, else its start with the hold that is written.
func cyclesReleaseEarly(l *practice.Load) (quantity.Tri, string) {
	if l.Ended.Written() {
		return quantity.Before(l.ReleasedAt, l.Ended), "ended"
	}
	if !l.ReleasedAt.Written() {
		return quantity.Unsure, "ended"
	}
	if quantity.Before(l.ReleasedAt, l.Started) == quantity.Yes {
		return quantity.Yes, "started"
	}
	least := l.Exposure
	least.Value -= least.Half
	if float64(l.ReleasedAt.Last()) < float64(l.Started.First())+cyclesSeconds(least) {
		return quantity.Yes, "exposure"
	}
	return quantity.Unsure, "ended"
}
