package report

import (
	"strings"
)

// rules lists every criterion that was chosen or changed.
func (p *page) rules() {
	p.heading(2, titleRules)
	if p.RuleSet != "" {
		p.para(say("Rule set chosen: %s.", p.RuleSet))
	} else {
		p.para("No rule set was chosen.")
	}
	if len(p.Rules) == 0 {
		p.para("No criterion was given another value than the one shipped.")
		return
	}
	var rows [][]md
	for _, r := range p.Rules {
		name := plain(r.Criterion)
		if r.When != "" {
			name += " (" + plain(r.When) + ")"
		}
		compared := md("")
		if r.Looser {
			compared = "**looser than the baseline**"
		}
		source := orElse(p.sourceName(r.Source, ""), "none given")
		if r.Note != "" {
			source += "; " + plain(r.Note)
		}
		rows = append(rows, []md{text(name), text(r.Ours), text(r.Theirs), compared, text(source)})
	}
	p.table([]md{"Criterion", "As shipped", "As you have it", "Compared", "Source"}, rows)
}

// sources lists the texts that criteria rest on.
func (p *page) sources() {
	if len(p.Sources) == 0 {
		return
	}
	p.heading(2, titleSources)
	items := make([]md, 0, len(p.Sources))
	for _, s := range p.Sources {
		how := "read on " + day(s.Read)
		switch {
		case s.Kind == "common practice":
			how = "common practice, no published source"
		case s.Read == "":
			how = "not read for this purpose: its values are given from memory"
		}
		items = append(items, say("%s (%s): %s", s.ID, how, stop(p.sourceName(s.ID, ""))))
	}
	p.list(items...)
}

// gradesDefined says what each grade means, since no standard does.
func (p *page) gradesDefined() {
	p.heading(2, titleGrades)
	p.para("No standard defines these words. Here they mean:")
	var items []md
	for _, g := range grades {
		items = append(items, say("%s **%s**: %s", mark(g), g, stop(orElse(p.Grades[g], "no meaning was given"))))
	}
	p.list(items...)
	p.para("A criterion is what is asked for. Evidence is what the records say. A finding sets the two side by side; a nonconformity is a finding that falls short. A check that could not look is not assessed, which is neither good nor bad.")
}

// closing puts the report below the rules, the maker and the profession.
func (p *page) closing() {
	p.heading(2, titleClosing)
	p.list(
		say("The rules of %s and of the law where you work come first.", p.regulator()),
		"Then what the makers of your sterilizer, instruments and products write.",
		"Then the judgement of licensed practice. This report replaces none of them, and no advice of a clinician, public health, an insurer or a lawyer.",
		"What was judged was what is written. Whether it was done so, only people who were there can say.",
		say("Made by %s on this machine; nothing was sent anywhere.", orElse(strings.TrimSpace(p.Tool), "footing")),
	)
}
