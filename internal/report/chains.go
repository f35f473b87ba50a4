package report

import (
	"slices"
	"strconv"

	"footing/internal/result"
)

// chains prints what lies behind each visit, a heading a visit.
func (p *lookPage) chains() {
	if len(p.a.Chains) == 0 {
		return
	}
	p.heading(2, titleChains)
	p.para("“Not found” means that such rows are kept and there is none for this visit. “Never typed” means that no such row is in the folder, so it is not judged. Neither says that it was not done: look on paper first.")
	for i := range p.a.Chains {
		if i == mostListed {
			p.para(say("And %s; every one is in lookback.csv and lookback.json.", several(len(p.a.Chains)-mostListed, "more visit", "more visits")))
			break
		}
		c := &p.a.Chains[i]
		p.heading(3, text(chainTitle(c)))
		p.chain(c)
	}
}

// chainTitle is "Visit V-12, 18 Mar 2026, client C-0147".
func chainTitle(c *result.Chain) string {
	title := orElse(named("visits", c.Visit), "A visit without an id")
	if c.On != "" {
		title += ", " + day(c.On)
	}
	if c.Client != "" {
		title += ", client " + ident("clients", c.Client)
	}
	return title
}

// chain prints one chain without its heading: how it stands, each link with where it
// is written, and later copies.
func (p *page) chain(c *result.Chain) {
	p.para(text(chainStands(c)))
	p.table(texts(chainColumns), cells(chainRows(c)))
	if len(c.Copies) > 0 {
		p.para(say("**Typed after the complaint was received**, so later copies; the paper is the record: %s.", join(placesOf(c.Copies))))
	}
}

var chainColumns = []string{"Link", "State", "What is written", "Where"}

// chainRows are the links of a chain; one that rests on a row typed after a complaint
// was received says so.
func chainRows(c *result.Chain) (rows [][]string) {
	copies := placesOf(c.Copies)
	for _, l := range c.Links {
		at := places(l.Evidence)
		if all := placesOf(l.Evidence); slices.ContainsFunc(all, func(s string) bool { return slices.Contains(copies, s) }) {
			at = join(marked(all, copies))
		}
		rows = append(rows, []string{upper(plain(l.Name)), stateMark(l.State) + " " + l.State, l.What, at})
	}
	return rows
}

// marked says of each place that is a later copy that it is one.
func marked(places, copies []string) (out []string) {
	for _, s := range places {
		if slices.Contains(copies, s) {
			s += " (a later copy)"
		}
		out = append(out, s)
	}
	return out
}

// chainStands counts the links of a chain by state, and says who and where.
func chainStands(c *result.Chain) string {
	count := map[string]int{}
	for _, l := range c.Links {
		count[l.State]++
	}
	var parts []string
	for _, state := range linkStates {
		if n := count[state]; n > 0 {
			parts = append(parts, strconv.Itoa(n)+" "+state)
		}
	}
	out := "Links: " + join(parts) + "."
	if len(parts) == 0 {
		out = "No link is known."
	}
	if c.Whole {
		out += " Each link that is kept was found."
	}
	who := ""
	if c.Person != "" {
		who = " By " + ident("people", c.Person) + "."
	}
	if c.Site != "" {
		who += " At " + plain(c.Site) + "."
	}
	if s := place(c.Record); s != "" {
		who += " Written in " + s + "."
	}
	return out + who
}

var linkStates = []string{result.LinkFound, result.LinkPart, result.LinkMissing, result.LinkUnkept, result.LinkNone}

// stateMark is the shape that stands with a state, so that it is seen at a glance.
func stateMark(state string) string {
	switch state {
	case result.LinkFound:
		return "●"
	case result.LinkPart:
		return "◐"
	case result.LinkMissing:
		return "○"
	}
	return "–"
}
