package quantity

import (
	"math"
	"strconv"
	"strings"
)

// parseSpan reads a time span of one part or more, each finer than the one
// before. t is s without the blanks around it.
func parseSpan(s, t string, fallback Fallback) (Quantity, error) {
	n, rest, why, todo := scan(t)
	if why != "" {
		return Quantity{}, unread(s, why, todo, Span)
	}
	if rest == "" {
		u, _, err := fallback.fill(s, rest, n, Unsaid, Span)
		if err != nil {
			return Quantity{}, err
		}
		return span(s, n, u)
	}
	word, more := cutWord(rest)
	u, _, ok := unitOf(word, Span)
	if !ok {
		return Quantity{}, unknownUnit(s, word, n.text, Span)
	}
	if more == "" {
		return span(s, n, u)
	}
	return mixedSpan(s, n, u, more)
}

func span(s string, n decimal, u Unit) (Quantity, error) {
	q := Quantity{Value: n.value(), Half: n.half(), Unit: u}
	if why := q.impossible(); why != "" {
		return Quantity{}, &Error{Found: s, Why: why, Todo: "write how long it lasted"}
	}
	return q, nil
}

// cutWord splits "h 30 min" before its first digit; an "and" between parts goes.
func cutWord(s string) (word, more string) {
	i := strings.IndexFunc(s, func(r rune) bool { return '0' <= r && r <= '9' || r == '+' || r == '−' })
	if i < 0 {
		return s, ""
	}
	word = strings.TrimSuffix(trim(s[:i]), "and")
	return trim(strings.TrimSuffix(trim(word), ",")), s[i:]
}

// longestMixed bounds a mixed span, in steps of its last digit, so that value
// and steps can be turned into each other without loss.
const longestMixed = 1 << 50

// mixedSpan reads the parts after the first. The sum is kept in whole steps of
// the last digit, so that it is rounded once.
func mixedSpan(s string, n decimal, coarse Unit, more string) (Quantity, error) {
	refuse := func(why string) (Quantity, error) {
		return Quantity{}, &Error{Found: s, Why: why, Todo: "write it in the form 2 h 30 min, or in one unit"}
	}
	total, at := n.digits, coarse
	if n.digits < 0 {
		return refuse("is below nought")
	}
	for more != "" {
		if n.places > 0 {
			return refuse("has decimals before its last part")
		}
		part, rest, why, todo := scan(more)
		if why != "" {
			return Quantity{}, unread(s, why, todo, Span)
		}
		if rest == "" {
			return refuse("does not say the unit of its last number")
		}
		var word string
		word, more = cutWord(rest)
		u, _, ok := unitOf(word, Span)
		switch {
		case !ok:
			return Quantity{}, unknownUnit(s, word, part.text, Span)
		case u.calendar() != at.calendar():
			return refuse("mixes months or years with units of a fixed length")
		case u >= at:
			return refuse("does not go from the longest unit to the shortest")
		case part.digits < 0:
			return refuse("is below nought")
		}
		steps := float64(ratio(at, u)) * powers[part.places]
		if float64(total)*steps+float64(part.digits) >= longestMixed {
			return refuse("is longer than can be")
		}
		total = total*int64(steps) + part.digits
		n, at = part, u
	}
	for i, m := range mixed {
		if m.coarse == coarse && m.fine == at {
			return Quantity{Value: float64(total) / powers[n.places], Half: n.half(), Unit: firstMixed + Unit(i)}, nil
		}
	}
	return refuse("mixes units that do not go together")
}

func ratio(coarse, fine Unit) int64 { return int64(units[coarse].num / units[fine].num) }

// mixedString prints from the coarsest unit to the finest, leaving out what is
// nought between them.
func (q Quantity) mixedString() string {
	m := mixed[q.Unit-firstMixed]
	places := max(q.places(), 0)
	step := int64(powers[places])
	total := int64(math.Round(q.Value * powers[places]))
	var b []byte
	for u := m.coarse; u > m.fine; u-- {
		size := ratio(u, m.fine) * step
		n := total / size
		total -= n * size
		if n == 0 && u != m.coarse {
			continue
		}
		b = strconv.AppendInt(b, n, 10)
		b = append(b, ' ')
		if n == 1 {
			b = append(b, units[u].name...)
		} else {
			b = append(b, units[u].many...)
		}
		b = append(b, ' ')
	}
	last := Quantity{Value: float64(total) / powers[places], Half: q.Half, Unit: m.fine}
	return string(b) + last.String()
}
