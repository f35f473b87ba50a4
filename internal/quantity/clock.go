package quantity

import "strings"

type clockText struct {
	second int // of the day
	kind   clock
	zoned  bool
	offset int // seconds east of Greenwich
}

// scanClock reads what follows a date: " 14:05", "T14:05:06.5Z", ", 2:05 pm".
func scanClock(s string) (c clockText, why string) {
	const unclear = "has no clock that can be read after its date"
	if (s[0] == 'T' || s[0] == 't') && len(s) > 1 {
		s = s[1:]
	} else {
		t := trimLeft(strings.TrimPrefix(s, ","))
		if len(t) == len(s) {
			return c, unclear
		}
		s = t
	}
	var f [3]int
	parts := 0
	for parts < 3 {
		if parts > 0 {
			if s == "" || s[0] != ':' && !(parts == 1 && pointClock(s)) {
				break
			}
			s = s[1:]
		}
		n := 0
		for n < len(s) && n < 3 && digit(s[n]) {
			f[parts] = f[parts]*10 + int(s[n]-'0')
			n++
		}
		if n == 0 || n > 2 || parts > 0 && n != 2 {
			return c, unclear
		}
		s = s[n:]
		parts++
	}
	if parts < 2 {
		return c, "has an hour without minutes"
	}
	c.kind = toMinute
	if parts == 3 {
		c.kind = toSecond
		if len(s) > 1 && (s[0] == '.' || s[0] == ',') && digit(s[1]) {
			s = strings.TrimLeft(s[1:], "0123456789")
		}
	}
	s = trimLeft(s)
	half, s := scanHalf(s)
	if half != 0 {
		if f[0] < 1 || f[0] > 12 {
			return c, "has an hour that does not go with am or pm"
		}
		f[0] %= 12
		if half == 'p' {
			f[0] += 12
		}
	}
	if f[0] > 23 || f[1] > 59 || f[2] > 59 {
		return c, "has a clock that no clock shows"
	}
	c.second = f[0]*3600 + f[1]*60 + f[2]
	if s == "" {
		return c, ""
	}
	var ok bool
	if c.offset, ok = scanOffset(s); !ok || half != 0 {
		return c, "has more after the clock than can be read"
	}
	c.zoned = true
	return c, ""
}

// pointClock is true for minutes after a point, as in 14.05 or 2.30pm.
func pointClock(s string) bool {
	return len(s) >= 3 && s[0] == '.' && digit(s[1]) && digit(s[2]) && (len(s) == 3 || !digit(s[3]))
}

// scanHalf reads am or pm, with or without dots.
func scanHalf(s string) (half byte, rest string) {
	if s == "" {
		return 0, s
	}
	h := s[0] | 0x20
	if h != 'a' && h != 'p' {
		return 0, s
	}
	t := strings.TrimPrefix(s[1:], ".")
	if t == "" || t[0]|0x20 != 'm' {
		return 0, s
	}
	return h, strings.TrimPrefix(t[1:], ".")
}

// scanOffset reads Z, +02:00, +0200 or −05:00 to its end, in seconds east.
func scanOffset(s string) (int, bool) {
	if s == "Z" || s == "z" {
		return 0, true
	}
	sign := 1
	switch {
	case s[0] == '+':
		s = s[1:]
	case s[0] == '-':
		s, sign = s[1:], -1
	case strings.HasPrefix(s, "−"):
		s, sign = s[len("−"):], -1
	default:
		return 0, false
	}
	if len(s) == 5 && s[2] == ':' {
		s = s[:2] + s[3:]
	}
	if len(s) != 4 || !digit(s[0]) || !digit(s[1]) || !digit(s[2]) || !digit(s[3]) {
		return 0, false
	}
	h, m := int(s[0]-'0')*10+int(s[1]-'0'), int(s[2]-'0')*10+int(s[3]-'0')
	return sign * (h*3600 + m*60), h <= 23 && m <= 59
}
