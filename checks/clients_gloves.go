package checks

import (
	"slices"

	"footing/internal/audit"
	"footing/internal/practice"
)

var _ = define(audit.Check{
	ID:    "clients/gloves",
	Title: "No latex gloves were worn on a client who said yes or unsure to latex, or who was written as not asked",
	Why: "Latex, the natural rubber of some gloves, can set off a reaction that stops breathing within minutes. A yes stands until a later no to the same question. " +
		"An answer of the same day counts as given before the gloves went on, unless a reaction is written for that day or the answer had been no until then.",
	Grades:  []audit.Grade{audit.Critical, audit.Major},
	Subject: "clients",
	Thing:   "visit",
	Things:  "visits",
	Needs:   []string{"visits"},
	Helps:   []string{"visits.gloves", "screens.latex", "incidents"},
	Fix: []string{
		"Today: mark the client's card \"no latex\" where nobody can miss it, and keep latex-free gloves in every size in that room and bag.",
		"If a reaction happens: call the emergency number at once for trouble with breathing, swelling of the face or collapse; treat it first, write it down after.",
		"Look at the card and the note: if the gloves were not latex, or the answer came only after they were on, correct the row with a new one that says so.",
		"Ask the client how the skin was after these visits, and write any reaction into incidents with its day.",
		"Keep every record as it is. Where a client was harmed, tell your insurer and ask the regulator, and public health where they want to know, what must be reported.",
		"From today on, read the latex answer before gloves go on; where it is unsure or was not asked, wear nitrile, vinyl or neoprene.",
	},
	Verify: "no visit after today has latex gloves for a client whose latex answer is not a no",
	Run: func(x *audit.Examination) {
		for _, v := range x.P.VisitsByTime() {
			clientsGlovesVisit(x, v)
		}
	},
})

func clientsGlovesVisit(x *audit.Examination, v *practice.Visit) {
	s, day := clientsOf(v), v.Started.Day()
	switch {
	case !v.Done():
		x.Pass()
		return
	case v.Gloves == "":
		x.Unclear(s, "what the gloves were made of is not written", audit.Field{Kind: "visits", Name: "gloves"})
		return
	case v.Gloves != "latex":
		x.Met(s)
		return
	case clientsShared(x.P, v):
		x.Unclear(s, clientsSharedWhy)
		return
	}
	at := x.P.AnswerOf(v.Client, "latex", day)
	f := audit.Fault{Day: day, Evidence: []audit.Evidence{audit.At(&v.Row, "gloves")}}
	if at.Screen != nil {
		f.Evidence = append(f.Evidence, audit.At(&at.Screen.Row, at.Field), audit.At(&at.Screen.Row, "asked_on"))
	}
	const needed = "gloves without latex are needed; if other gloves were worn, or the answer came only after, write the correction as a new row with today's date"
	switch {
	case at.Answer == "":
		x.Unclear(s, "latex gloves were worn, and no answer about latex until that day is typed", audit.Field{Kind: "screens", Name: "latex"})
	case at.Answer == "no":
		x.Met(s)
	case at.Answer == "yes" && at.Since == day && (at.Before == "no" || clientsGlovesReaction(x.P, v)):
		x.Unclear(s, "latex gloves were worn on the day of the first yes to latex, which may have come out only at that visit")
	case at.Answer == "yes":
		f.Grade, f.Matter, f.Found, f.Needed = audit.Critical, "yes", "latex gloves worn on a client who had said yes to latex", needed
		x.NotMet(s, f)
	case at.Answer == "unsure":
		f.Grade, f.Matter, f.Found, f.Needed = audit.Major, "unsure", "latex gloves worn on a client who was unsure about latex", needed
		x.NotMet(s, f)
	default:
		f.Grade, f.Matter, f.Found, f.Needed = audit.Major, "not asked", "latex gloves worn on a client written as not asked about latex", needed+"; if the card has an earlier answer, add it to screens"
		x.NotMet(s, f)
	}
}

// clientsGlovesReaction reports whether a reaction is written for the visit or its day.
func clientsGlovesReaction(p *practice.Practice, v *practice.Visit) bool {
	if slices.Contains(v.Noticed.Items, "reaction") {
		return true
	}
	for i := range p.Incidents {
		if in := &p.Incidents[i]; in.Type == "reaction" && in.Client == v.Client && in.OccurredOn == v.Started.Day() {
			return true
		}
	}
	return false
}
