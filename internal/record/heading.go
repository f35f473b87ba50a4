package record

import (
	"strings"

	"footing/schemas"
)

// most headings that one file can have; the names beyond it are not looked at.
const mostLanes = 4096

// lane makes the lane for a heading as written.
func (s *sheet) lane(written string) *lane {
	if len(s.lanes) >= mostLanes {
		return s.beyond
	}
	l := &lane{written: written, sheet: s}
	s.lanes = append(s.lanes, l)
	f, inside := s.matchHeading(written, l)
	if f == nil {
		if clockAlone(written) {
			f, _ = s.plan.kind.Field(s.plan.kind.When)
			l.part = clockPart
		}
		if f == nil || f.Form != schemas.Moment {
			l.part = whole
			return l
		}
	}
	c := s.plan.column(f)
	if c == nil {
		return l
	}
	l.col = c
	l.forget = c.holds == holdsText && f.Choices == nil // judged sooner than looked up
	if c.holds == holdsQuantity && inside != "" {
		if u, ok := unitOf(inside, c.dim); ok {
			l.unit, l.unitText = u, inside
		}
	}
	first := s.byColumn[c.index]
	if first == nil {
		s.byColumn[c.index] = l
	}
	switch {
	case s.src != nil && s.src.named(): // a later row may lack the other name: each row settles it for itself
		if l.shared = first != nil || l.part != whole; first != nil {
			first.shared = true
		}
	case first != nil:
		s.second(l, first)
	case l.part != whole:
		s.newPair(c, l)
	}
	return l
}

// matchHeading finds the field of a heading, and what stands in brackets after it.
func (s *sheet) matchHeading(written string, l *lane) (f *schemas.Field, inside string) {
	match := s.plan.kind.Match
	base := trim(written)
	if f, ok := match(base); ok {
		return f, ""
	}
	if b, in, ok := cutBrackets(base); ok {
		if f, ok := match(b); ok {
			return f, in
		}
		base = b
	}
	folded := schemas.Fold(base)
	for suffix, p := range map[string]part{"date": dayPart, "time": clockPart} {
		if before, ok := strings.CutSuffix(folded, suffix); ok && before != "" {
			if f, ok := match(before); ok && f.Form == schemas.Moment {
				l.part = p
				return f, ""
			} else if ok && f.Form == schemas.Day && p == dayPart {
				return f, ""
			}
		}
	}
	return nil, ""
}

// cutBrackets splits "temperature [°C]" into "temperature" and "°C".
func cutBrackets(s string) (before, inside string, ok bool) {
	for _, b := range []string{"[]", "()"} {
		if strings.HasSuffix(s, b[1:]) {
			if i := strings.LastIndexByte(s, b[0]); i > 0 {
				return trim(s[:i]), trim(s[i+1 : len(s)-1]), true
			}
		}
	}
	return s, "", false
}

// plainHeading is the heading without a unit.
func (l *lane) plainHeading() string {
	before, _, _ := cutBrackets(trim(l.written))
	return before
}

// column gives the plan's column of a field.
func (p *plan) column(f *schemas.Field) *column {
	for _, c := range p.cols {
		if c.field == f {
			return c
		}
	}
	return nil
}
