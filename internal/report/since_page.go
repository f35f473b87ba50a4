package report

import (
	"footing/internal/result"
)

const titleCannot = "What cannot be compared, and why"

// sinceShort leads to the section.
func (p *page) sinceShort() md {
	if p.Since == nil {
		return ""
	}
	out := say("%s See [finding by finding](#since).", p.sinceLine())
	if w := p.otherPractice(); w != "" {
		return say("**%s** %s", w, out)
	}
	return out
}

// sinceSection prints what became of the earlier reading that was named.
func (p *page) sinceSection() {
	if p.Since == nil {
		return
	}
	p.heading(2, text(sinceLead+orElse(day(p.Since.AsOf), "an earlier day")))
	if w := p.otherPractice(); w != "" {
		p.para(say("**%s**", w))
	}
	p.para(say("**%s**", stop(upper(p.sinceCounts()))))
	p.sinceSorts(func(i sinceItem) md {
		if i.finding >= 0 {
			return p.link(i.finding)
		}
		return fingerprintOf(i)
	})
}

func fingerprintOf(i sinceItem) md {
	if !fingerprintForm.MatchString(i.key) {
		return ""
	}
	return md("`" + i.key + "`")
}

// sinceSorts prints the findings of each sort, and what cannot be compared. ref names one.
func (p *page) sinceSorts(ref func(sinceItem) md) {
	for sort, items := range p.sinceItems() {
		if len(items) == 0 {
			continue
		}
		p.heading(3, say("%s (%s)", sinceSorts[sort].title, len(items)))
		p.para(text(sinceSorts[sort].note))
		list := make([]md, 0, min(len(items), mostSince)+1)
		for _, i := range items[:min(len(items), mostSince)] {
			list = append(list, sinceEntry(i, ref(i)))
		}
		if more := len(items) - mostSince; more > 0 {
			list = append(list, say("%s; the audit.json of each reading has them all.", several(more, "more", "more")))
		}
		p.list(list...)
	}
	if n := len(p.Since.Earlier); n > 0 {
		p.para(text(earlierWords(n)))
	}
	if len(p.Since.Limits) == 0 {
		return
	}
	p.heading(3, titleCannot)
	lines := p.limitLines()
	items := texts(lines[:min(len(lines), mostSince)])
	if more := len(lines) - mostSince; more > 0 {
		items = append(items, say("%s; the audit.json of each reading has them all.", several(more, "more", "more")))
	}
	p.list(items...)
}

// sinceEntry is one finding: how long, what, and its name.
func sinceEntry(i sinceItem, ref md) md {
	out := say("%s", i.words())
	if d := lasting(i.days); d != "" && i.finding >= 0 {
		out = say("**%s.** %s", d, out)
	}
	if ref != "" {
		out = say("%s (%s)", out, ref)
	}
	return out
}

func earlierWords(n int) string {
	return several(n, "finding that went in an earlier reading has", "findings that went in earlier readings have") + " not come back."
}

// otherPractice is a warning where the two readings bear other names.
func (ix *index) otherPractice() string {
	for _, l := range ix.Since.Limits {
		if l.About == result.LimitPractice {
			return limitWords(l)
		}
	}
	return ""
}

// since writes the line about the earlier reading for a terminal.
func (s *summary) since() {
	if s.Since == nil {
		return
	}
	if w := s.otherPractice(); w != "" {
		s.line(alarm, w)
	}
	s.line(strong, s.sinceLine())
}
