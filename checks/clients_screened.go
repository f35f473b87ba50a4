package checks

import (
	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/quantity"
)

var _ = define(audit.Check{
	ID:    "clients/screened",
	Title: "Each treated client was asked about allergies before treatment",
	Why: "Gloves, plasters and skin antiseptics can set off a severe reaction. The one cheap protection is to ask before the first thing touches the skin, and to write the answer down. " +
		"Any answered question counts, and a screen of the same day counts as before the visit. That no screen is typed counts only where coverage says that all are.",
	Grades:  []audit.Grade{audit.Major},
	Subject: "clients",
	Thing:   "treated visit",
	Things:  "treated visits",
	Needs:   []string{"visits"},
	Helps:   []string{"screens", "visits.procedures", "clients.first_visit_on"},
	Uses:    []string{"clients.screen-questions", "clients.screen-lead"},
	Fix: []string{
		"Look at the client's card first: if the questions were asked before the visit, add a row to screens with the day on the card.",
		"If they were not, ask before anything touches the client's skin at the next visit, and until then use no latex and no new product on this client.",
		"Write the answers down with the day they were given. Do not date them back.",
		"From today on, ask at the start of each first visit, and keep the answers with the visit note.",
	},
	Verify: "each client who is treated has a screen dated on or before the first treatment",
	Run: func(x *audit.Examination) {
		for _, v := range x.P.VisitsByTime() {
			clientsScreenedVisit(x, v)
		}
	},
})

func clientsScreenedVisit(x *audit.Examination, v *practice.Visit) {
	s, day := clientsOf(v), v.Started.Day()
	treated := v.Treated()
	if treated == quantity.No {
		x.Pass()
		return
	}
	if clientsShared(x.P, v) {
		x.Unclear(s, clientsSharedWhy)
		return
	}
	answered, blank, refused, later := clientsScreenedRows(x, v.Client, day)
	switch {
	case answered != nil:
		x.Met(s)
	case blank != nil:
		x.Unclear(s, "a screen is written for the day or earlier, but none of its answers", audit.Field{Kind: "screens", Name: "any_known"})
	case treated == quantity.Unsure:
		x.Unclear(s, "what was done at the visit is not written, so it may have been no treatment", audit.Field{Kind: "visits", Name: "procedures"})
	case !clientsWhole(x, v.Client, day):
		x.Unclear(s, "no screen on or before the day is typed, and not all screens since before the client's first visit are said to be here and could be read, so not judged", audit.Field{Kind: "screens"})
	case clientsLost(x.P, v.Client, day):
		x.Unclear(s, "the client's id, or that of a screen of the day or earlier, is in no row of clients, so the answers may stand under another id", audit.Field{Kind: "clients"})
	default:
		f := audit.Fault{Grade: audit.Major, Matter: "unscreened", Day: day, Found: "treated, with no allergy answer written for the day or earlier",
			Needed:   "at least one answer is needed before treatment; if the card has it, add its row to screens",
			Evidence: []audit.Evidence{audit.At(&v.Row, "started"), audit.At(&v.Row, "procedures")}}
		if refused != nil {
			f.Found = "treated, with the allergy questions written as not asked"
			f.Evidence = append(f.Evidence, audit.At(&refused.Row, "asked_on", "written as not asked"))
		}
		if later != nil {
			f.Evidence = append(f.Evidence, audit.At(&later.Row, "asked_on", "the first answer typed"))
		}
		x.NotMet(s, f)
	}
}

// clientsScreenedRows finds, of a client's screens until a day, one with an
// answer, one with nothing written, and one in which every required question is
// written as not asked; and the first answered one after the day.
func clientsScreenedRows(x *audit.Examination, client string, day quantity.Day) (answered, blank, refused, later *practice.Screen) {
	for _, s := range x.P.ScreensOf(client) {
		switch {
		case s.AskedOn > day:
			if later == nil && s.Answered() {
				later = s
			}
		case s.Answered():
			answered = s
		case clientsScreenedRefused(x, s):
			refused = s
		default:
			blank = s
		}
	}
	return answered, blank, refused, later
}

func clientsScreenedRefused(x *audit.Examination, s *practice.Screen) bool {
	questions, _ := clientsQuestions(x)
	for _, q := range questions {
		if s.Answer(q) != "not-asked" {
			return false
		}
	}
	return len(questions) > 0
}
