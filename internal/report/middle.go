package report

import (
	"strings"

	"footing/internal/result"
)

// due lists what runs out, by day.
func (p *page) due() {
	if len(p.Due) == 0 {
		return
	}
	p.heading(2, titleDue)
	if on := p.Purpose.On; on != "" {
		kind := orElse(p.Purpose.Kind, "day")
		p.para(say("The %s is on %s, %s.", kind, day(on), orElse(away(p.AsOf, on), "a day that cannot be read")))
	}
	if t := timelineOf(p.Result); t != nil {
		p.para(text(t.about()))
		p.fence("figure "+timelineKey, t.lines())
	}
	var rows [][]md
	for _, d := range p.Due[:min(len(p.Due), mostLines)] {
		when := away(p.AsOf, d.On)
		if p.Purpose.On != "" && p.soon(d) && d.On >= p.AsOf {
			when += ", " + p.before()
		}
		rows = append(rows, []md{text(day(d.On)), text(when), text(d.What),
			text(strings.TrimSpace(singular(d.Kind) + " " + ident(d.Kind, d.Record))), text(d.State)})
	}
	p.table([]md{"On", "When", "What", "Record", "State"}, rows)
	if more := len(p.Due) - mostLines; more > 0 {
		p.para(say("and %s; every one is in audit.json.", several(more, "more", "more")))
	}
}

// declared sets what is to be signed beside what the records say.
func (p *page) declared() {
	if len(p.Declarations) == 0 {
		return
	}
	p.heading(2, titleDeclared)
	p.para("This does not tell you what to sign. Ask your regulator where in doubt.")
	var rows [][]md
	for _, d := range p.Declarations {
		rows = append(rows, []md{say("“%s”", d.Text), text(d.State), text(strings.Join(d.Rests, ", "))})
	}
	p.table([]md{"Declaration", "What the records say", "Records it rests on"}, rows)
}

// conforming lists the checks that conform with how many they examined, and what
// they observed all the same.
func (p *page) conforming() {
	p.heading(2, titleConforming)
	observed := map[string][]int{}
	for _, i := range p.order {
		observed[p.Findings[i].Check] = append(observed[p.Findings[i].Check], i)
	}
	var rows [][]md
	for _, c := range p.Checks {
		if c.Outcome == result.Conforming {
			examined := p.examined(c)
			if refs := p.refs(observed[c.ID]); refs != "" {
				examined += say("; but see %s", refs)
			}
			rows = append(rows, []md{text(upper(c.Title)), examined, text(c.ID)})
		}
	}
	if len(rows) == 0 {
		p.para("No check could say so from what was typed.")
		return
	}
	p.para("As it is written in the records, for the things counted here and no others.")
	p.table([]md{"What holds", "Examined", "Check"}, rows)
}

func (p *page) examined(c result.Check) md {
	things := orElse(c.Things, "examined")
	if c.Counts.Examined == 1 {
		things = orElse(c.Thing, things)
	}
	out := say("%s of %s %s", c.Counts.Conforming, c.Counts.Examined, things)
	if c.Counts.NotAssessed > 0 {
		out += say("; %s not judged", c.Counts.NotAssessed)
	}
	return out
}

// numbers prints what checks without a finding worked out.
func (p *page) numbers() {
	found := map[string]bool{}
	for _, f := range p.Findings {
		found[f.Check] = true
	}
	first := true
	for _, id := range p.withNumbers() {
		if found[id] {
			continue
		}
		if first {
			p.heading(2, titleNumbers)
			first = false
		}
		p.heading(3, text(upper(orElse(p.title(id), "without a check"))))
		p.figuresOf(id)
	}
}

// withNumbers lists the checks that have figures or exhibits, each once.
func (p *page) withNumbers() []string {
	var ids []string
	seen := map[string]bool{}
	add := func(id string) {
		if !seen[id] {
			seen[id] = true
			ids = append(ids, id)
		}
	}
	for _, f := range p.Figures {
		add(f.Check)
	}
	for _, x := range p.Exhibits {
		if x.Chart == nil { // charts have a section of their own
			add(x.Check)
		}
	}
	return ids
}

// figuresOf prints the numbers and tables of one check.
func (p *page) figuresOf(check string) {
	if f := p.figures[check]; len(f) > 0 {
		p.fence("figure "+p.figureKey(check), numbers(f).lines())
	}
	for i := range p.Exhibits {
		if x := &p.Exhibits[i]; x.Check == check && x.Chart == nil {
			p.para(say("**%s**", orElse(x.Title, "Table")))
			p.fence("figure "+p.exhibitKey(i), shown(x).lines())
		}
	}
}

// notApplicable lists the checks that do not fit this practice.
func (p *page) notApplicable() { p.outcome(titleNot, "", result.NotApplicable) }

// broken lists the checks that failed to run.
func (p *page) broken() {
	p.outcome(titleBroken, "The fault lies in the program, not in your records. What these checks look at was not judged. Please report it to whoever keeps the program.", result.Broken)
}

func (p *page) outcome(title, lead md, outcome string) {
	var items []md
	for _, c := range p.Checks {
		if c.Outcome == outcome {
			items = append(items, say("%s (%s): %s", upper(plain(c.Title)), c.ID, stop(orElse(orElse(c.Reason, reasons(c)), "no reason given"))))
		}
	}
	if len(items) == 0 {
		return
	}
	p.heading(2, title)
	p.para(lead)
	p.list(items...)
}
