package record

import (
	"strings"

	"footing/schemas"
)

// part says whether a heading has a whole moment, or its day or clock alone.
type part uint8

const (
	whole part = iota
	dayPart
	clockPart
)

// pair is a moment whose day and clock stand under two headings.
type pair struct {
	day, clock         *lane
	dayText, clockText string
	row                uint32 // that the texts are of
}

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
	if first := s.byColumn[c.index]; first != nil {
		s.second(l, first)
		return l
	}
	s.byColumn[c.index] = l
	if l.part != whole {
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

// second settles what becomes of a second heading for one field: the clock beside the
// day of a moment, or nothing.
func (s *sheet) second(l, first *lane) {
	c := l.col
	if c.field.Form == schemas.Moment && s.pairs[c.index] == nil && first.part == whole && l.part == whole &&
		aboutClock(l.written) != aboutClock(first.written) {
		l.part, first.part = dayPart, dayPart
		if aboutClock(l.written) {
			l.part = clockPart
		} else {
			first.part = clockPart
		}
	}
	if c.field.Form == schemas.Moment && (l.part == clockPart) != (first.part == clockPart) {
		p := s.newPair(c, first)
		if l.part == clockPart && p.clock == nil {
			p.clock, l.pair = l, p
			return
		}
		if l.part != clockPart && p.day == nil {
			p.day, l.pair, l.part = l, p, dayPart
			s.byColumn[c.index] = l
			return
		}
	}
	l.col, l.part = nil, whole
	l.extra = first
}

// newPair gives the pair of a moment, with l as its day or clock.
func (s *sheet) newPair(c *column, l *lane) *pair {
	p := s.pairs[c.index]
	if p == nil {
		p = &pair{}
		s.pairs[c.index] = p
		s.paired = append(s.paired, p)
	}
	if l.pair == nil {
		l.pair = p
		if l.part == clockPart {
			p.clock = l
		} else {
			l.part, p.day = dayPart, l
		}
	}
	return p
}

// main is the lane that speaks for the pair.
func (p *pair) main() *lane {
	if p.day != nil {
		return p.day
	}
	return p.clock
}

func clockAlone(heading string) bool {
	switch schemas.Fold(heading) {
	case "time", "clock", "hour", "timeofday":
		return true
	}
	return false
}

func aboutClock(heading string) bool {
	f := schemas.Fold(heading)
	return strings.HasPrefix(f, "time") || strings.HasSuffix(f, "time")
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
