package record

import (
	"cmp"
	"slices"
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
	l.forget = c.holds == holdsText && f.Choices == nil                       // judged sooner than looked up
	if unit := cmp.Or(inside, plainMark(written)); c.holds == holdsQuantity { // a heading can be a unit itself: "mins", "psi"
		if u, ok := unitOf(unit, c.dim); ok {
			l.unit, l.unitText = u, unit
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
	if f, ok := matchPlain(match, base); ok {
		return f, ""
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

// matchPlain finds the field of a heading without what forms put around its words:
// "wrapped Y/N", "sterilizer #", "# of packs". It leaves alone what would ask for something
// else: only yes and no are answered by Y/N, only what can be counted or named has a number,
// and "no. of staff" asks how many, not who.
func matchPlain(match func(string) (*schemas.Field, bool), heading string) (*schemas.Field, bool) {
	bare := plainMark(heading)
	low := strings.ToLower(bare)
	for _, lead := range [...]string{"# of ", "no. of ", "no of ", "nr of ", "nr. of ", "#"} {
		if strings.HasPrefix(low, lead) {
			for _, words := range [...]string{"number of ", ""} {
				if f, ok := match(words + bare[len(lead):]); ok && (manyOf(f) || lead == "#" && countable(f)) {
					return f, true
				}
			}
		}
	}
	for _, tail := range [...]string{"y/n", "yes/no", "y / n", "yes / no", "yes or no", "tick"} {
		if strings.HasSuffix(low, tail) {
			if f, ok := match(plainMark(strings.TrimRight(bare[:len(bare)-len(tail)], "?,:;("))); ok && (f.Form == schemas.YesNo || slices.Contains(f.Choices, "yes")) {
				return f, true
			}
		}
	}
	for _, tail := range [...]string{"#", " no", " nr"} {
		if strings.HasSuffix(low, tail) {
			if f, ok := match(bare[:len(bare)-len(tail)]); ok && countable(f) {
				return f, true
			}
		}
	}
	return match(bare)
}

// countable is true for a field that holds how many, or which one.
func countable(f *schemas.Field) bool {
	return manyOf(f) || f.Form == schemas.ID || f.Form == schemas.Ref
}

// manyOf is true for a field that holds how many.
func manyOf(f *schemas.Field) bool {
	return f.Form == schemas.Number || f.Form == schemas.CountOrList
}

// plainMark takes the marks off the end of a heading.
func plainMark(s string) string { return trim(strings.TrimRight(trim(s), "?:.* ")) }

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
