package audit

import (
	"fmt"

	"footing/internal/practice"
	"footing/internal/quantity"
	"footing/internal/result"
)

// clients are those who were treated, or may have been, in the last twelve months; they
// are counted and never named.
func (a *asking) clients() map[string]bool {
	from, until := a.year()
	seen := map[string]bool{}
	for _, v := range a.p.VisitsByTime() {
		if d := v.Started.Day(); d >= from && d <= until && v.Treated() != quantity.No && v.Client != "" {
			seen[v.Client] = true
		}
	}
	return seen
}

// of counts how many of the clients have a row of a kind.
func (a *asking) of(out *result.AskedFor, rows int, has map[string]bool, one, many string) {
	clients := a.clients()
	for c := range clients {
		if has[c] {
			out.Found++
		}
	}
	out.Of, out.Things = len(clients), "clients treated"
	out.State = standing(out.Found, out.Of)
	if out.Found == 0 && rows > 0 {
		out.State = result.AskedPart
	}
	typed := "none is typed"
	if rows > 0 {
		typed = Plural(rows, one, many) + " typed"
	}
	switch {
	case out.Of == 0:
		out.What = typed + "; no visit with treatment of the last twelve months is typed"
	case rows == 0:
		out.What = fmt.Sprintf("%s; %s treated in the last twelve months", typed, Plural(out.Of, "client was", "clients were"))
	default:
		out.What = fmt.Sprintf("%s, for %d of %s treated in the last twelve months", typed, out.Found, Plural(out.Of, "client", "clients"))
	}
	if n := out.Of - out.Found; n > 0 {
		out.Lacks = append(out.Lacks, "those of "+Plural(n, "client", "clients"))
	}
}

func (a *asking) allergies() result.AskedFor {
	out := result.AskedFor{Topic: "Allergy answers", Question: "What do you ask about allergies, and where are the answers?", Look: "look on the clients' cards and their first forms", KeptAt: keptAt(a.p, "screens", nil)}
	has := map[string]bool{}
	for i := range a.p.Screens {
		has[a.p.Screens[i].Client] = true
	}
	a.of(&out, len(a.p.Screens), has, "set of answers", "sets of answers")
	out.Evidence = firstAndLast(len(a.p.Screens), func(i int) Evidence { return At(&a.p.Screens[i].Row, "asked_on") })
	return out
}

func (a *asking) consents() result.AskedFor {
	out := result.AskedFor{Topic: "Consents", Question: "Show me how a client consents, and one that is signed.", Look: "look for the signed forms with the cards", KeptAt: keptAt(a.p, "consents", nil)}
	has := map[string]bool{}
	for i := range a.p.Consents {
		if c := &a.p.Consents[i]; !c.WithdrawnOn.Written() || c.WithdrawnOn > a.p.AsOf {
			has[c.Client] = true
		}
	}
	a.of(&out, len(a.p.Consents), has, "consent", "consents")
	out.Evidence = firstAndLast(len(a.p.Consents), func(i int) Evidence { return At(&a.p.Consents[i].Row, "given_on") })
	return out
}

func (a *asking) incidents() result.AskedFor {
	rows := everyRow(a.p.Incidents)
	out := a.mayBeEmpty("incidents", len(rows), "incident", "incidents", func(i int) Evidence { return At(&rows[i].Row, "occurred_on") })
	out.Topic, out.Question, out.Look = "Incident log", "Show me the log of incidents: cuts, needle injuries, reactions.", "look into the incident book"
	closed := 0
	for _, r := range rows {
		if r.ClosedOn.Written() {
			closed++
		}
	}
	if len(rows) > 0 {
		out.What += fmt.Sprintf("; written as closed: %d", closed)
	}
	out.KeptAt = keptAt(a.p, "incidents", entriesOf(rows, func(n *practice.Incident) *practice.Entry { return &n.Entry }))
	return out
}

func (a *asking) complaints() result.AskedFor {
	rows := everyRow(a.p.Complaints)
	out := a.mayBeEmpty("complaints", len(rows), "complaint", "complaints", func(i int) Evidence { return At(&rows[i].Row, "received_on") })
	out.Topic, out.Question, out.Look = "Complaints log", "Show me the log of complaints, and how each was answered.", "look into the folder of letters and the e-mails"
	answered := 0
	for _, r := range rows {
		if r.AnsweredOn.Written() || r.ClosedOn.Written() {
			answered++
		}
	}
	if len(rows) > 0 {
		out.What += fmt.Sprintf("; written as answered or closed: %d", answered)
	}
	out.KeptAt = keptAt(a.p, "complaints", entriesOf(rows, func(c *practice.Complaint) *practice.Entry { return &c.Entry }))
	return out
}

// mayBeEmpty is a log that may rightly be empty: one without a row is found where all rows
// are said to be here, else nothing tells it from one that is not typed.
func (a *asking) mayBeEmpty(kind string, n int, one, many string, at func(int) Evidence) (out result.AskedFor) {
	from, until := recorded(a.p)
	out.Found, out.Things = n, many
	out.Evidence = firstAndLast(n, at)
	whole := from.Written() && a.p.Whole(kind, from, until)
	switch {
	case n > 0:
		out.State, out.What = result.AskedFound, Plural(n, one, many)+" typed"
	case whole:
		out.State, out.What = result.AskedFound, fmt.Sprintf("none is typed, and the folder is said to hold all %s since %s", many, from.Words())
	default:
		out.State, out.What = result.AskedUntyped, "none is typed: none happened, or the book is not typed"
		out.Lacks = []string{"the book itself"}
	}
	return out
}
