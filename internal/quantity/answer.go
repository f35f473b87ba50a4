package quantity

import (
	"slices"
	"strings"
	"unicode/utf8"
)

// YesNo is an answer as written. The zero value means none is.
type YesNo uint8

// The answers.
const (
	NotWritten YesNo = iota
	IsYes
	IsNo
)

// String returns "yes", "no", or "".
func (y YesNo) String() string { return [...]string{"", "yes", "no"}[y%3] }

// ticks are the marks that people put beside a word or in its place.
var ticks = [...]string{"\ufe0f", "✓", "✔", "☑", "✅"}

// Ticked returns the word before or after a tick, or before a full stop: "pass" of
// "pass ✓" and of "✓ pass"; s as it is where there is no word.
func Ticked(s string) string {
	t := trim(s)
	if t == "" || t[0] < utf8.RuneSelf && t[len(t)-1] < utf8.RuneSelf && t[len(t)-1] != '.' {
		return t
	}
	if before := trim(strings.TrimSuffix(t, ".")); before != t && before != "" {
		return Ticked(before)
	}
	for _, mark := range ticks {
		if before := trim(strings.TrimSuffix(t, mark)); before != t && before != "" {
			return Ticked(before)
		}
	}
	for _, mark := range ticks {
		if after := trim(strings.TrimPrefix(t, mark)); after != t && after != "" {
			return Ticked(after)
		}
	}
	return t
}

// ParseYesNo reads yes, no, true, false, y, n, or a tick; a tick or a full stop
// after the word says no more than the word. A cross is refused: some tick a box
// with it, others cross out. The error is an *Error.
func ParseYesNo(s string) (YesNo, error) {
	t := Ticked(s)
	var buf [8]byte
	if len(t) <= len(buf) {
		b := append(buf[:0], t...)
		for i, c := range b {
			if 'A' <= c && c <= 'Z' {
				b[i] = c + 'a' - 'A'
			}
		}
		switch string(b) {
		case "yes", "y", "true", "✓", "✔", "☑", "✓\ufe0f", "✔\ufe0f", "☑\ufe0f", "✅":
			return IsYes, nil
		case "no", "n", "false":
			return IsNo, nil
		case "x", "✗", "✘", "☒", "×", "❌":
			return NotWritten, &Error{Found: s, Why: "could be a tick or a cross", Todo: "write yes or no"}
		case "":
			return NotWritten, &Error{Found: s, Why: "is empty", Allowed: "yes or no", Todo: "write the answer, or leave it out"}
		}
	}
	return NotWritten, &Error{Found: s, Why: "is neither yes nor no", Allowed: "yes, no, true, false, y, n or a tick", Todo: "write yes or no"}
}

// Number is a plain number, or none.
type Number struct {
	Value   float64
	Written bool
}

// List is a list as written. All stands for "all", where a field allows it; an
// empty list that is written differs from none.
type List struct {
	Items        []string
	Written, All bool
}

// Has reports whether the list holds s, or is all.
func (l List) Has(s string) bool { return l.All || slices.Contains(l.Items, s) }

// CountOrList is what was written where either will do.
type CountOrList struct {
	List
	Count Number
}

// Number returns how many things were written: the count, else the length of
// the list; not written where neither is, or where the list is "all".
func (c CountOrList) Number() Number {
	if c.Count.Written || !c.List.Written || c.All {
		return c.Count
	}
	return Number{Value: float64(len(c.Items)), Written: true}
}
