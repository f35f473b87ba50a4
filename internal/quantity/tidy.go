package quantity

import "strings"

// Tidy returns what is written without what a hand, a form or a spreadsheet puts around
// it and that says nothing: blanks of every width as one space, figures and letters of
// full width as plain ones, an apostrophe in front (a spreadsheet's mark of text), a pair
// of quotation marks, a tick or a full stop at the end.
func Tidy(s string) string {
	b := make([]rune, 0, len(s))
	for _, r := range s {
		switch {
		case '！' <= r && r <= '～':
			r -= '！' - '!'
		case blank(r):
			if r == '\u200b' || r == '\ufeff' || len(b) > 0 && b[len(b)-1] == ' ' {
				continue
			}
			r = ' '
		}
		b = append(b, r)
	}
	return Ticked(unwrapped(trim(string(b))))
}

// unwrapped takes off quotation marks around s, or an apostrophe in front of it. A mark
// after a figure may be minutes: "'3'" is 3'.
func unwrapped(s string) string {
	for i, pair := range [...][2]string{{`"`, `"`}, {"“", "”"}, {"‘", "’"}, {"'", "'"}} {
		if t, ok := strings.CutPrefix(s, pair[0]); ok {
			if t, ok = strings.CutSuffix(t, pair[1]); ok && trim(t) != "" && (i < 2 || !digit(t[len(t)-1])) {
				return trim(t)
			}
		}
	}
	for _, mark := range [...]string{"'", "’", "‘"} {
		if t, ok := strings.CutPrefix(s, mark); ok && trim(t) != "" {
			return trim(t)
		}
	}
	return s
}

// longestHand bounds what is looked at a second time, in bytes.
const longestHand = 100

// NotSaid reports whether s is one of the words by which people say that they wrote
// nothing: "n/a", "?", "tbc", "unknown". Whether they mean so is the field's to say:
// some have such a word among their choices.
func NotSaid(s string) bool {
	var buf [longestUnsaid]byte
	switch string(lowered(&buf, s)) {
	case "unknown", "not known", "not recorded", "not written", "not noted", "blank", "tbc", "tba", "tbd", "t.b.c.", "to be confirmed", "…", "...", "/":
		return true
	}
	return NoAnswer(s)
}

// NoAnswer is NotSaid for marks that are not even words: "n/a" and "?". They say
// nothing in a field of plain words either.
func NoAnswer(s string) bool {
	var buf [longestUnsaid]byte
	switch string(lowered(&buf, s)) {
	case "n/a", "n/a.", "n.a.", "n / a", "#n/a", "not applicable", "?", "??", "???":
		return true
	}
	return false
}

const longestUnsaid = 15

// lowered is s with its English letters in lower case; empty where s is too long, or
// begins with a letter or figure that none of the words above begins with.
func lowered(buf *[longestUnsaid]byte, s string) []byte {
	if s == "" || len(s) > len(buf) {
		return nil
	}
	switch c := s[0]; {
	case digit(c):
		return nil
	case 'a' <= c|0x20 && c|0x20 <= 'z':
		if c |= 0x20; c != 'n' && c != 't' && c != 'u' && c != 'b' {
			return nil
		}
	}
	b := append(buf[:0], s...)
	for i, c := range b {
		if 'A' <= c && c <= 'Z' {
			b[i] = c + 'a' - 'A'
		}
	}
	return b
}
