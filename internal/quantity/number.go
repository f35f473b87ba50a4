package quantity

import (
	"strings"
	"unicode/utf8"
)

// decimal is a number as written: digits × 10^-places, and how it was spelled.
type decimal struct {
	digits int64 // signed, all digits without the point
	places int   // digits after the point
	text   string
}

// Nine digits before the point, nine after, fifteen in all: more is no reading,
// and this many a float64 prints as they were written.
const (
	mostDigits = 9
	mostInAll  = 1e15
)

var powers = [...]float64{1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9}

// value is rounded once, since both operands are exact.
func (d decimal) value() float64 { return float64(d.digits) / powers[d.places] }

func (d decimal) half() float64 { return 0.5 / powers[d.places] }

// scan reads the number at the start of s, and returns what follows it with
// blanks cut off. why and todo, for a person, are set where it cannot be read.
func scan(s string) (d decimal, rest, why, todo string) {
	i, negative := 0, false
	switch {
	case strings.HasPrefix(s, "-"):
		i, negative = 1, true
	case strings.HasPrefix(s, "+"):
		i = 1
	case strings.HasPrefix(s, "−"):
		i, negative = len("−"), true
	}
	i += len(s[i:]) - len(trimLeft(s[i:]))
	start := i
	whole := 0
	for ; i < len(s) && digit(s[i]); i, whole = i+1, whole+1 {
		if whole == mostDigits {
			return d, "", "has more digits than a reading has", "write at most nine before the point"
		}
		d.digits = d.digits*10 + int64(s[i]-'0')
	}
	if i+1 < len(s) && (s[i] == '.' || s[i] == ',') && digit(s[i+1]) {
		comma := s[i] == ','
		for i++; i < len(s) && digit(s[i]); i++ {
			if d.places == mostDigits {
				return d, "", "has more digits than a reading has", "write at most nine after the point"
			}
			d.digits = d.digits*10 + int64(s[i]-'0')
			d.places++
		}
		if comma && d.places == 3 && whole >= 1 && whole <= 3 && s[start] != '0' {
			t := s[start:i]
			return d, "", "could have a decimal comma or a thousands comma",
				"write " + strings.Replace(t, ",", ".", 1) + " or " + strings.Replace(t, ",", "", 1)
		}
	} else if whole == 0 {
		return d, "", "does not begin with a number", ""
	}
	if d.digits >= mostInAll {
		return d, "", "has more digits than a reading has", "write at most fifteen"
	}
	d.text = s[start:i]
	if negative {
		d.digits = -d.digits
		d.text = "-" + d.text
	}
	if i < len(s) {
		rest = trimLeft(s[i:])
		if why, todo = afterNumber(s[i:], rest); why != "" {
			return d, "", why, todo
		}
	}
	return d, rest, "", ""
}

// afterNumber looks for what makes the number just read doubtful. tail is what
// follows it, rest the same without the blanks at its start.
func afterNumber(tail, rest string) (why, todo string) {
	if rest == "" {
		return "", ""
	}
	c := rest[0]
	switch {
	case digit(c):
		return "holds two numbers, or a gap within one", "write one number without spaces"
	case c == '.' || c == ',':
		if len(rest) > 1 && digit(rest[1]) {
			return "has more than one point or comma", "write thousands without a separator"
		}
		return "has a point or comma with no digit after it", "leave it out, or write the digit"
	case c == '\'' || strings.HasPrefix(rest, "’"):
		r := strings.TrimPrefix(strings.TrimPrefix(rest, "'"), "’")
		if len(r) >= 3 && digit(r[0]) && digit(r[1]) && digit(r[2]) {
			return "has a thousands mark", "write thousands without a separator"
		}
	case c == ':':
		return "could be hours and minutes, or minutes and seconds", "look at which it was, and write it in the form 2 h 30 min or 2 min 30 s"
	case (tail[0] == 'e' || tail[0] == 'E') && len(tail) > 1 && (digit(tail[1]) || tail[1] == '+' || tail[1] == '-'):
		return "is written with a power of ten", "write the number out"
	}
	return "", ""
}

func digit(c byte) bool { return '0' <= c && c <= '9' }

// blank says whether r is a space, of whatever width, or a mark without width.
func blank(r rune) bool {
	switch r {
	case ' ', '\t', '\n', '\r', '\u00a0', '\u202f', '\u2007', '\u2009', '\u200a', '\u2002', '\u2003', '\u3000', '\u200b', '\ufeff':
		return true
	}
	return false
}

func trimLeft(s string) string {
	for s != "" {
		r, n := rune(s[0]), 1
		if s[0] >= utf8.RuneSelf {
			r, n = utf8.DecodeRuneInString(s)
		}
		if !blank(r) {
			break
		}
		s = s[n:]
	}
	return s
}

func trim(s string) string {
	s = trimLeft(s)
	for s != "" {
		r, n := rune(s[len(s)-1]), 1
		if r >= utf8.RuneSelf {
			r, n = utf8.DecodeLastRuneInString(s)
		}
		if !blank(r) {
			break
		}
		s = s[:len(s)-n]
	}
	return s
}
