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

// second settles what becomes of a second heading for one field of a table: the clock
// beside the day of a moment, or the day beside its clock, or nothing.
func (s *sheet) second(l, first *lane) {
	c := l.col
	clock := clockAmong(first, l)
	if p := s.pairs[c.index]; clock == nil || p != nil && p.day != nil && p.clock != nil {
		l.col, l.part, l.extra = nil, whole, first
		return
	}
	day := l
	if clock == l {
		day = first
	}
	day.part, clock.part = dayPart, clockPart
	p := s.newPair(c, first)
	p.day, p.clock, day.pair, clock.pair = day, clock, p, p
	s.byColumn[c.index] = day
}

// clockAmong gives which of two headings of one moment has its clock, beside the day under
// the other; nil if they mean the same.
func clockAmong(a, b *lane) *lane {
	if a.col.field.Form != schemas.Moment {
		return nil
	}
	for _, clock := range []func(*lane) bool{hasClock, likeClock} {
		switch {
		case clock(a) && !clock(b):
			return a
		case clock(b) && !clock(a):
			return b
		}
	}
	return nil
}

func hasClock(l *lane) bool { return l.part == clockPart }

func likeClock(l *lane) bool {
	return l.part == clockPart || l.part == whole && aboutClock(l.written)
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
