package checks

import (
	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/quantity"
)

// clientsOf is the client of a visit as a subject.
func clientsOf(v *practice.Visit) audit.Subject {
	return audit.Subject{Kind: "clients", ID: v.Client}
}

// clientsShared reports whether two clients seem to have one pseudonym, so that
// nobody can say whose answers are whose.
func clientsShared(p *practice.Practice, v *practice.Visit) bool {
	_, state := p.Client(v.Client)
	return state == practice.Shared
}

// clientsSharedWhy says so.
const clientsSharedWhy = "several rows of clients have the id that the visit names, so it cannot be told whose answers these are"

// clientsLost reports whether a screen that seems to be missing may stand under an
// id typed wrong: where clients are typed, and the client's own id, or that of a
// screen of the day or earlier, is not among them.
func clientsLost(p *practice.Practice, client string, day quantity.Day) bool {
	if !p.Typed("clients") {
		return false
	}
	if _, state := p.Client(client); state == practice.Absent {
		return true
	}
	for i := range p.Screens {
		s := &p.Screens[i]
		if _, state := p.Client(s.Client); s.AskedOn <= day && state == practice.Absent {
			return true
		}
	}
	return false
}

// clientsWhole reports whether every screen that the client can have had until
// the day is in the folder: those of all time, or those since well before the
// client's first visit, where that is written.
func clientsWhole(x *audit.Examination, client string, day quantity.Day) bool {
	p := x.P
	if p.Whole("screens", 1, day) {
		return true
	}
	c, state := p.Client(client)
	lead, ok := x.Criterion("clients.screen-lead", nil)
	if state != practice.One || !c.FirstVisitOn.Written() || !ok {
		return false
	}
	first := c.FirstVisitOn
	if visits := p.VisitsOf(client); len(visits) > 0 {
		first = min(first, visits[0].Started.Day())
	}
	return p.Whole("screens", first.AddDays(-int(lead.Quantity().In(quantity.DayU))), day)
}

// clientsQuestions are the questions that must be answered, by the practice's own
// list or else by the criterion, and whose list it is.
func clientsQuestions(x *audit.Examination) (questions []string, c *audit.Criterion) {
	if own := x.P.Rules.ScreenQuestions; len(own.Items) > 0 {
		return own.Items, nil
	}
	if shipped, ok := x.Criterion("clients.screen-questions", nil); ok {
		return shipped.Items(), &shipped
	}
	return nil, nil
}
