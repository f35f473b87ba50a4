package workbook

import (
	"strconv"
	"strings"
	"unicode/utf8"
)

// formatReader reads one section.
type formatReader struct {
	s      section
	digits bool            // a place for a digit came
	after  strings.Builder // text after the last of them
	minute bool            // an m would be minutes: an hour came just before
	month  bool            // an m came that is months unless seconds follow
	point  bool            // after a second and its point
}

func readSection(code string) (s section, rest string, more bool) {
	var r formatReader
	for code != "" && code[0] != ';' {
		n := r.step(code)
		code = code[n:]
	}
	r.endMonth()
	s = r.s
	s.elapsed = s.elapsed || s.clock && !s.hour && !s.date
	s.empty = !s.date && !s.clock && !s.elapsed && !r.digits
	if !s.empty {
		s.unit = unitOf(r.after.String())
	}
	if s.percent && !strings.Contains(s.unit, "%") {
		s.unit = "%"
	}
	if code == "" {
		return s, "", false
	}
	return s, code[1:], true
}

// unitOf is what stands after a number, "" if it is only brackets and dashes.
func unitOf(s string) string {
	if strings.Trim(s, " \u00a0()-+:;,./_") == "" {
		return ""
	}
	return strings.TrimSpace(s)
}

// step reads what stands at the start of code and returns its length.
func (r *formatReader) step(code string) int {
	c := code[0]
	switch {
	case c == '"':
		text, _, closed := strings.Cut(code[1:], `"`)
		r.after.WriteString(text)
		if !closed {
			return len(code)
		}
		return len(text) + 2
	case c == '\\' || c == '_' || c == '*':
		n := 1 + firstLen(code[1:])
		if c == '\\' {
			r.after.WriteString(code[1:n])
		} else if c == '_' {
			r.after.WriteByte(' ')
		}
		return n
	case c == '[':
		text, _, closed := strings.Cut(code[1:], "]")
		if !closed {
			return len(code)
		}
		r.bracket(text)
		return len(text) + 2
	case hasFold(code, "General"):
		r.digit()
		return len("General")
	case hasFold(code, "AM/PM"):
		r.s.clock, r.s.hour = true, true
		return len("AM/PM")
	case hasFold(code, "A/P"):
		r.s.clock, r.s.hour = true, true
		return len("A/P")
	case hasFold(code, "E+"), hasFold(code, "E-"):
		return 2
	}
	return r.plainStep(code)
}

func (r *formatReader) plainStep(code string) int {
	c := code[0] | 0x20
	run := len(code) - len(strings.TrimLeft(code, string([]byte{c, c &^ 0x20})))
	switch {
	case strings.IndexByte("ydgbe", c) >= 0:
		r.endMonth()
		r.s.date, r.minute, r.point = true, false, false
		return run
	case c == 'm':
		switch {
		case run > 2:
			r.s.date = true
		case r.minute:
			r.clock()
		default:
			r.month = true
		}
		r.minute, r.point = false, false
		return run
	case c == 'h':
		r.endMonth()
		r.clock()
		r.s.hour, r.minute, r.point = true, true, false
		return run
	case c == 's':
		r.month, r.minute, r.point = false, false, true
		r.clock()
		r.s.second = true
		return run
	}
	switch code[0] {
	case '0', '#', '?', '@':
		if r.point && code[0] == '0' {
			r.s.places = min(r.s.places+1, 3)
		} else {
			r.digit()
		}
	case '.', ',':
	case '%':
		r.s.percent = true
		r.after.WriteByte('%')
	default:
		n := firstLen(code)
		r.after.WriteString(code[:n])
		return n
	}
	return 1
}

// bracket reads what stands in [ ]: a colour, a language or currency, a condition,
// or hours, minutes or seconds that are counted on.
func (r *formatReader) bracket(text string) {
	switch low := strings.ToLower(text); {
	case strings.HasPrefix(text, "$"):
		sign, _, _ := strings.Cut(text[1:], "-")
		r.after.WriteString(sign)
	case low != "" && strings.Trim(low, low[:1]) == "" && strings.IndexByte("hms", low[0]) >= 0:
		r.endMonth()
		r.clock()
		r.s.elapsed, r.minute, r.point = true, low[0] == 'h', low[0] == 's'
		r.s.second = r.s.second || low[0] == 's'
	case low != "" && strings.IndexByte("<>=", low[0]) >= 0:
		number := strings.TrimLeft(low, "<>=")
		if limit, err := strconv.ParseFloat(strings.TrimSpace(number), 64); err == nil {
			r.s.test, r.s.limit = low[:len(low)-len(number)], limit
		}
	}
}

func (r *formatReader) clock() { r.s.clock = true }

// digit notes a place for a digit; text before it does not stand after the number.
func (r *formatReader) digit() {
	r.digits = true
	r.after.Reset()
}

// endMonth settles an m that no seconds followed.
func (r *formatReader) endMonth() {
	if r.month {
		r.s.date, r.month = true, false
	}
}

func hasFold(s, prefix string) bool {
	return len(s) >= len(prefix) && strings.EqualFold(s[:len(prefix)], prefix)
}

// firstLen is the length of the first character.
func firstLen(s string) int {
	_, n := utf8.DecodeRuneInString(s)
	return n
}
