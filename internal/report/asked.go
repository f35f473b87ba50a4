package report

import (
	"strconv"

	"footing/internal/result"
)

// mostInItem is how many things that lack one item of the section names.
const mostInItem = 16

// asked goes through what an inspector asks for, in order.
func (p *page) asked() {
	if len(p.AskedFor) == 0 {
		return
	}
	p.heading(2, titleAsked)
	p.para("In the order in which it is often asked (common practice, no source). “Not typed” says nothing of the paper: have it at hand. “Found” says that it is written, not that it is right; read the findings too.")
	rows := make([][]md, 0, len(p.AskedFor))
	for i := range p.AskedFor {
		a := &p.AskedFor[i]
		rows = append(rows, []md{text(strconv.Itoa(i + 1)), text(a.Topic), text(askedMark(a) + " " + a.State), text(countedIn(a)), text(fewOf(a.KeptAt, 3, ""))})
	}
	p.table([]md{"No", "What", "State", "Typed", "Kept at"}, rows)
	for i := range p.AskedFor {
		p.askedFor(i+1, &p.AskedFor[i])
	}
}

func (p *page) askedFor(n int, a *result.AskedFor) {
	p.heading(3, say("%s. %s: %s %s", n, a.Topic, askedMark(a), a.State))
	p.para(say("“%s”", a.Question))
	p.para(text(stop(upper(a.What))))
	if len(a.Lacks) > 0 && a.Walk == nil {
		p.para(say("**%s:** %s", lacking(a), stop(fewOf(texted(a.Lacks), mostInItem, ""))))
	}
	if a.Look != "" {
		p.para(say("**%s**", stop(upper(a.Look))))
	}
	if len(a.KeptAt) > 0 {
		p.para(say("**Kept at:** %s", stop(fewOf(texted(a.KeptAt), mostInItem, ""))))
	}
	if s := places(a.Evidence); s != "" {
		lead := md("**Typed in:**")
		if len(a.Evidence) > 1 {
			lead = "**Typed in**, first and last:"
		}
		p.para(say("%s %s", lead, stop(s)))
	}
	if a.Walk != nil {
		p.table(texts(chainColumns), cells(chainRows(a.Walk)))
	}
}

func texted(list []string) []string {
	out := make([]string, len(list))
	for i, s := range list {
		out[i] = plain(s)
	}
	return out
}

// askedMark is the shape that stands with a state.
func askedMark(a *result.AskedFor) string {
	switch a.State {
	case result.AskedFound:
		return "●"
	case result.AskedPart:
		return "◐"
	case result.AskedUntyped:
		return "○"
	}
	return "–"
}

// countedIn is how much is typed, "" where nothing is.
func countedIn(a *result.AskedFor) string {
	if a.State == result.AskedUntyped || a.State == result.AskedNone {
		return ""
	}
	return counted(a)
}
