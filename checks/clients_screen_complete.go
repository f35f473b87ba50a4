package checks

import (
	"fmt"
	"strings"

	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/quantity"
)

var _ = define(audit.Check{
	ID:    "clients/screen-complete",
	Title: "At each treatment every required allergy question had an answer that is recent enough",
	Why: "A question that was put off is the one that matters when a new plaster or glove comes out of the box. Each question takes its latest answer up to the day of the visit; a yes ends only by a later no to the same question. " +
		"\"No known allergy\" is read as a no to every question left blank beside it; the figure beside this check says how often only that was written. " +
		"No authority states how old an answer may be: 12 months is our judgement.",
	Grades:  []audit.Grade{audit.Minor},
	Subject: "clients",
	Thing:   "treated visit",
	Things:  "treated visits",
	Needs:   []string{"visits", "screens"},
	Helps:   []string{"visits.procedures", "clients.first_visit_on", "rules.screen_questions"},
	Uses:    []string{"clients.screen-questions", "clients.screen-age", "clients.screen-lead"},
	Fix: []string{
		"Look at the client's card first: if the answer stands there, add it to screens with the day on the card.",
		"Otherwise ask the open questions at the start of the next visit, before anything touches the skin.",
		"Where the client is unsure, treat as a yes until it is settled: no latex, no plaster, no chlorhexidine.",
		"From today on, ask again within the interval and write each answer with its day.",
	},
	Verify: "at the next treatment each required question has a yes or a no that is no older than the interval",
	Run: func(x *audit.Examination) {
		r := clientsScreenComplete{Examination: x, kept: map[string]bool{}}
		r.questions, r.list = clientsQuestions(x)
		r.age, _ = x.Criterion("clients.screen-age", nil)
		for i := range x.P.Screens {
			for _, q := range r.questions {
				r.kept[q] = r.kept[q] || x.P.Screens[i].Answer(q) != ""
			}
		}
		for _, v := range x.P.VisitsByTime() {
			r.visit(v)
		}
		x.Figure("treated visits where a question is answered only by \"no known allergy\"", float64(r.general), "visits")
	},
})

type clientsScreenComplete struct {
	*audit.Examination
	questions []string
	list      *audit.Criterion // nil where the practice has its own list
	age       audit.Criterion
	kept      map[string]bool // questions that some screen answers by name
	general   int
}

func (r *clientsScreenComplete) visit(v *practice.Visit) {
	s, day := clientsOf(v), v.Started.Day()
	rows := r.P.ScreensOf(v.Client)
	switch {
	case v.Treated() == quantity.No:
		r.Pass()
		return
	case clientsShared(r.P, v):
		r.Unclear(s, clientsSharedWhy)
		return
	case len(rows) == 0 || rows[0].AskedOn > day:
		r.Unclear(s, "no screen on or before the day is typed, so its answers were not judged", audit.Field{Kind: "screens"})
		return
	}
	f := audit.Fault{Grade: audit.Minor, Day: day, Evidence: []audit.Evidence{audit.At(&v.Row, "started")}}
	var open, old []string
	var unwritten []audit.Field
	general := false
	for _, q := range r.questions {
		at := r.P.AnswerOf(v.Client, q, day)
		name := strings.ReplaceAll(q, "_", " ")
		until := at.On.Add(r.age.Quantity())
		switch {
		case at.Answer == "unsure":
			open = append(open, name+" written as unsure")
			f.Evidence = append(f.Evidence, audit.At(&at.Screen.Row, q))
		case at.Answer == "not-asked":
			open = append(open, name+" written as not asked")
			f.Evidence = append(f.Evidence, audit.At(&at.Screen.Row, q))
		case at.Answer == "" && r.kept[q] && clientsWhole(r.Examination, v.Client, day):
			open = append(open, "no answer on "+name+" written")
			f.Evidence = append(f.Evidence, audit.At(&rows[0].Row, q))
		case at.Answer == "":
			unwritten = append(unwritten, audit.Field{Kind: "screens", Name: q})
		case day > until:
			old = append(old, name)
			f.Evidence = append(f.Evidence, audit.At(&at.Screen.Row, "asked_on"))
			f.Weight = max(f.Weight, float64(day-at.On))
		}
		general = general || at.Field == "any_known"
	}
	if general {
		r.general++
	}
	switch {
	case len(open)+len(old) > 0 && v.Treated() == quantity.Unsure:
		r.Unclear(s, "what was done at the visit is not written, so it may have been no treatment", audit.Field{Kind: "visits", Name: "procedures"})
	case len(open) > 0:
		f.Matter, f.Weight, f.Criterion = "unanswered", float64(len(open)), r.list
		f.Found, f.Needed = "treated with "+strings.Join(open, ", "), "a yes or a no to each of "+r.named()+"; if the card has it, add it to screens"
		r.NotMet(s, f)
	case len(old) > 0:
		f.Matter, f.Criterion = "old", &r.age
		f.Found = fmt.Sprintf("treated %.0f days after the last answer on %s", f.Weight, strings.Join(old, ", "))
		f.Needed = "asked again within " + r.age.Value() + "; if it was, add the row to screens"
		r.NotMet(s, f)
	case len(unwritten) > 0:
		r.Unclear(s, "a required question has no answer typed, so it was not judged", unwritten...)
	default:
		r.Met(s)
	}
}

// named lists the questions in a sentence, with whose list it is.
func (r *clientsScreenComplete) named() string {
	list := strings.ReplaceAll(strings.Join(r.questions, ", "), "_", " ")
	if r.list == nil {
		return list + " (your rule)"
	}
	return list
}
