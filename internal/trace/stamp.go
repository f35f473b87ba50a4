package trace

import (
	"bytes"
	"strings"

	"footing/internal/quantity"
)

// stamp is a time as one field has it.
type stamp struct {
	seconds float64 // of "a:b" 60a+b; of a plain number the number; dated: since 1970
	parts   int     // 1 for a plain number, else the parts between colons
	first   int     // the first part
	dated   bool
	half    bool // am or pm stands with it
	broken  bool // with parts of a second
	lost    bool // a date stands with it that could not be read
}

// readClock reads 14:05, 14:05:07, 14.05.07, 125:30, 2:05:07.25 pm.
func readClock(b []byte) (s stamp, ok bool) {
	b = trim(b)
	half := byte(0)
	if b, half = cutHalf(b); half != 0 {
		s.half = true
	}
	var part [3]int
	sep := byte(':')
	if bytes.IndexByte(b, ':') < 0 {
		if bytes.Count(b, []byte(".")) != 2 {
			return s, false
		}
		sep = '.'
	}
	for {
		i := 0
		for ; i < len(b) && b[i]-'0' < 10; i++ {
			part[s.parts] = part[s.parts]*10 + int(b[i]-'0')
		}
		if i == 0 || i > 4 || s.parts > 0 && (i != 2 || part[s.parts] > 59) {
			return s, false
		}
		s.parts++
		b = b[i:]
		if len(b) == 0 || b[0] != sep || s.parts == 3 {
			break
		}
		b = b[1:]
	}
	if s.parts < 2 || sep == '.' && s.parts < 3 {
		return s, false
	}
	if s.half {
		if part[0] < 1 || part[0] > 12 {
			return s, false
		}
		part[0] %= 12
		if half == 'p' {
			part[0] += 12
		}
	}
	for _, p := range part[:s.parts] {
		s.seconds = s.seconds*60 + float64(p)
	}
	s.first = part[0]
	if len(b) > 0 {
		f, ok := fraction(b)
		if !ok {
			return s, false
		}
		s.seconds, s.broken = s.seconds+f, true
	}
	return s, true
}

// fraction reads ".25" or ",25" or, as some loggers write it, ":250".
func fraction(b []byte) (float64, bool) {
	if len(b) < 2 || len(b) > 10 || b[0] != '.' && b[0] != ',' && b[0] != ':' || b[0] == ':' && len(b) != 4 {
		return 0, false
	}
	n := 0
	for _, c := range b[1:] {
		if c-'0' > 9 {
			return 0, false
		}
		n = n*10 + int(c-'0')
	}
	return float64(n) / powers[len(b)-1], true
}

// cutHalf takes am or pm off the end, with or without dots.
func cutHalf(b []byte) ([]byte, byte) {
	n := len(b)
	if n < 5 {
		return b, 0
	}
	low := b[n-1] | 0x20
	if b[n-1] == '.' && n > 6 {
		if b[n-3] == '.' && b[n-2]|0x20 == 'm' && (b[n-4]|0x20 == 'a' || b[n-4]|0x20 == 'p') {
			return trim(b[:n-4]), b[n-4] | 0x20
		}
	}
	if low == 'm' && (b[n-2]|0x20 == 'a' || b[n-2]|0x20 == 'p') {
		return trim(b[:n-2]), b[n-2] | 0x20
	}
	return b, 0
}

// readStamp reads one field that holds a time, with its date or without. Where the
// date is in an order that nobody has said, the clock alone is read.
func readStamp(b []byte, o quantity.DateOrder) (stamp, bool) {
	if s, ok := readClock(b); ok {
		return s, true
	}
	if d, ok := number(b); ok {
		return stamp{seconds: d.value, parts: 1, broken: d.places > 0}, true
	}
	colon := bytes.IndexByte(b, ':')
	if colon < 0 || len(b) > 60 {
		return stamp{}, false
	}
	from := colon
	for from > 0 && b[from-1]-'0' < 10 {
		from--
	}
	if from == 0 {
		return stamp{}, false
	}
	rest := b[from:]
	m, err := quantity.ParseMoment(withoutPart(text(b)), o, nil)
	if err == nil && m.HasClock() {
		s := stamp{seconds: float64(m.First()), parts: 2, dated: true}
		if bytes.Count(rest, []byte(":")) > 1 || m.First()%60 != 0 {
			s.parts = 3
		}
		s.seconds += partOf(rest)
		s.broken = partOf(rest) > 0
		return s, true
	}
	if !dateLike(b[:from]) {
		return stamp{}, false
	}
	s, ok := readClock(rest)
	s.lost = true
	return s, ok
}

// dateLike is true for what stands before a clock and has figures and marks of a date.
func dateLike(b []byte) bool {
	digits, marks := 0, 0
	for _, c := range b {
		switch {
		case c-'0' < 10:
			digits++
		case c == '/' || c == '-' || c == '.':
			marks++
		}
	}
	return digits >= 3 && marks >= 1
}

// withoutPart takes ":250" at the end, thousandths behind a colon, for ".250".
func withoutPart(s string) string {
	if i := strings.LastIndexByte(s, ':'); i > 0 && len(s)-i == 4 && strings.Count(s, ":") == 3 {
		return s[:i] + "." + s[i+1:]
	}
	return s
}

// partOf is the part of a second in a clock of three parts, 0 for none.
func partOf(b []byte) float64 {
	colons, i := 0, 0
	for ; i < len(b); i++ {
		if b[i] == ':' {
			colons++
		}
		if colons == 2 && (b[i] == '.' || b[i] == ',') || colons == 3 {
			break
		}
	}
	j := i + 1
	for j < len(b) && b[j]-'0' < 10 {
		j++
	}
	if i == len(b) || j == i+1 {
		return 0
	}
	f, _ := fraction(b[i:j])
	return f
}
