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
