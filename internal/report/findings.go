package report

import (
	"slices"
	"strconv"
	"strings"

	"footing/internal/result"
)

// findings prints each finding under its grade, the most serious first.
func (p *page) findings() {
	p.heading(2, titleFindings)
	if len(p.Findings) == 0 {
		p.para("Nothing that could be examined falls short of its criterion. That is not the whole picture: see [Not judged](#unseen).")
		return
	}
	p.para("Each has a fingerprint, a name that stays the same from audit to audit. Write it with a reason under “accepted” in the rules file to accept a finding for a time, or in an action to follow it up.")
	shown := map[string]int{}
	at := 0
	for at < len(p.order) {
		grade := p.Findings[p.order[at]].Grade
		end := at
		for end < len(p.order) && p.Findings[p.order[end]].Grade == grade {
			end++
		}
		p.heading(3, say("%s %s (%s)", mark(grade), orElse(upper(grade), "Without a grade"), end-at))
		p.para(text(stop(upper(p.Grades[grade]))))
		for _, i := range p.order[at:end] {
			p.finding(i, shown)
		}
		at = end
	}
}

// finding prints one: what to do first, then what it rests on. shown remembers
// under which finding the reason and numbers of a check stand already.
func (p *page) finding(i int, shown map[string]int) {
	f := &p.Findings[i]
	p.heading(4, say("**%s %s %s** %s: %s", mark(f.Grade), upper(f.Grade), p.number[i], p.about(f), stop(f.Summary)))
	p.para(p.extent(f))
	p.para(p.acceptedFor(f))
	if len(f.Steps) > 0 {
		p.para("**What to do**")
		p.steps(p.explainEach(f.Steps))
	}
	if f.Verify != "" {
		p.para(say("**Then check:** %s", p.explain(text(stop(f.Verify)))))
	}
	p.comparedWith(f)
	p.linked(f)
	p.fence("record "+p.key[i], evidence(f, p.number[i]).lines())
	p.drawn(f.Fingerprint)
	if first, before := shown[f.Check]; before {
		if c := p.check[f.Check]; c != nil && c.Why != "" {
			p.para(say("Why it matters, with the numbers of this check, stands with %s.", p.link(first)))
		}
	} else {
		shown[f.Check] = i
		if c := p.check[f.Check]; c != nil && c.Why != "" {
			p.para(say("**Why it matters:** %s", p.explain(text(stop(c.Why)))))
		}
		p.figuresOf(f.Check)
	}
	p.para(say("Check %s is met when: %s Fingerprint: `%s`.", f.Check, stop(p.title(f.Check)), md(p.key[i])))
}

// about names the subject of a finding.
func (ix *index) about(f *result.Finding) string {
	switch {
	case f.Subject.ID == "" && (f.Subject.Kind == "" || f.Subject.Kind == "practice"):
		return "The practice"
	case f.Subject.ID == "":
		return upper(plain(f.Subject.Kind))
	}
	return upper(strings.TrimSpace(singular(f.Subject.Kind) + " " + ident(f.Subject.Kind, f.Subject.ID)))
}

// extent is "3 of 412 loads, 4 Aug 2026 to 2 Nov 2026."
func (p *page) extent(f *result.Finding) md {
	things, thing := "", ""
	if c := p.check[f.Check]; c != nil {
		things, thing = c.Things, c.Thing
	}
	if f.Extent.Of == 1 {
		things = orElse(thing, things)
	}
	var parts []string
	if f.Extent.Of > 0 {
		parts = append(parts, string(say("%s of %s %s", f.Extent.N, f.Extent.Of, orElse(things, "examined"))))
	}
	if s := span(f.Extent.First, f.Extent.Last); s != "" {
		parts = append(parts, string(text(s)))
	}
	if f.FirstSeen != "" && f.FirstSeen != f.Extent.First {
		parts = append(parts, string(say("first seen on %s", day(f.FirstSeen))))
	}
	if len(parts) == 0 {
		return ""
	}
	return md(strings.Join(parts, " · ")) + "."
}

// comparedWith prints the criterion with its source, and how the rule sets
// judge where they differ.
func (p *page) comparedWith(f *result.Finding) {
	if c := f.Criterion; c != nil {
		p.para(p.criterion(c))
	}
	var rows [][]md
	for _, v := range f.Verdicts {
		n := md("")
		if v.N > 0 {
			n = say("%s", v.N)
		}
		rows = append(rows, []md{text(v.Set), text(v.Value), text(v.Verdict), n, p.sourceLink(v.Source, "")})
	}
	if len(rows) > 0 {
		p.para("**It depends on your rule.** Under each rule set:")
		p.table([]md{"Rule set", "Asks for", "Result", "Not met by", "Source"}, rows)
	}
}

func (p *page) criterion(c *result.Criterion) md {
	asks := plain(c.Value)
	if unit := plain(c.Unit); unit != "" && !strings.HasSuffix(asks, unit) {
		asks = strings.TrimSpace(asks + " " + unit)
	}
	out := say("**Compared with:** %s", orElse(plain(c.Text), asks))
	if c.Text != "" && asks != "" && !strings.Contains(c.Text, asks) {
		out += say(" – %s", asks)
	}
	if c.When != "" {
		// A case is written as names and values: air_removal=dynamic.
		out += say(" (%s)", strings.NewReplacer("=", " ", "_", " ").Replace(c.When))
	}
	out = p.explain(md(strings.TrimSuffix(string(out), ".")) + ".")
	var about []string
	about = append(about, "criterion "+plain(c.ID))
	if c.Set != "" {
		about = append(about, "rule set "+plain(c.Set))
	}
	switch c.Level {
	case "must":
		about = append(about, "required there")
	case "should":
		about = append(about, "recommended there")
	}
	source := p.source[c.Source]
	unread := c.Known == "memory" && source != nil && source.Kind == "common practice" // there is no text to be read
	if k := known(c.Known); k != "" && !unread {
		about = append(about, k)
	}
	out += say(" Source: %s.", md(strings.TrimSuffix(string(p.sourceLink(c.Source, c.Section)), ".")))
	return out + say(" (%s.)", upper(strings.Join(about, "; ")))
}

// known says how sure a value is.
func known(how string) string {
	switch how {
	case "read":
		return "read in the source"
	case "computed":
		return "worked out from the source"
	case "memory":
		return "from memory, not yet read in the source"
	case "local":
		return "your own rule"
	}
	return how
}

// sourceName writes a source in short: title, body, year, section.
func (ix *index) sourceName(id, section string) string {
	s := ix.source[id]
	if s == nil {
		return plain(strings.TrimSpace(id + " " + section))
	}
	var parts []string
	for _, part := range []string{orElse(s.Title, s.ID), s.Body, s.Edition, s.Year, section} {
		if part = plain(part); part != "" {
			parts = append(parts, part)
		}
	}
	return strings.Join(parts, ", ")
}

// sourceLink writes a source in short and leads to its line among the sources.
func (ix *index) sourceLink(id, section string) md {
	name := text(orElse(ix.sourceName(id, section), "none named"))
	n := slices.IndexFunc(ix.Sources, func(s result.Source) bool { return s.ID == id })
	if n < 0 {
		return name
	}
	return "[" + name + "](#" + md(sourceAnchor(n)) + ")"
}

// sourceAnchor is the id of the n-th source on the page.
func sourceAnchor(n int) string { return "source-" + strconv.Itoa(n+1) }
