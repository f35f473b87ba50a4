package quantity

import (
	"strings"
	"time"
	"unicode"
	"unicode/utf8"
)

// Moment is a point in time as written: a local day, with the clock or without.
// What it can mean is an interval of seconds: one for a clock with seconds,
// sixty for hours and minutes, the whole local day for a bare date, and more
// where the local clock is put forward or back. Moments can be compared with ==
// for being the same words; for their order there is Before. The zero value
// means not written.
type Moment struct {
	first  int64 // unix seconds
	width  int32 // last = first + width
	day    Day
	second int32 // of the local day
	kind   clock
	offset int16 // minutes east, where it must be printed
}

type clock uint8

const (
	noClock clock = iota
	toMinute
	toSecond
	withOffset clock = 4 // beside one of the two: the local clock alone would say less
)

// Written reports whether there is a moment at all.
func (m Moment) Written() bool { return m.day != 0 }

// HasClock reports whether the hour is written.
func (m Moment) HasClock() bool { return m.kind != noClock }

// Day returns the local day.
func (m Moment) Day() Day { return m.day }

// First returns the earliest second the moment can mean, counted from 1970 in
// Greenwich; Last the latest, both included.
func (m Moment) First() int64 { return m.first }

// Last is told at First.
func (m Moment) Last() int64 { return m.first + int64(m.width) }

// String returns the local day and clock, 2026-03-31 14:05, with seconds where
// written; with its offset only where the local clock alone could mean another
// instant. It is read back to the same moment in the same place.
func (m Moment) String() string {
	if m.day == 0 {
		return ""
	}
	b := m.day.append(make([]byte, 0, 25))
	if m.kind == noClock {
		return string(b)
	}
	if m.kind&withOffset == 0 {
		return string(m.appendClock(append(b, ' ')))
	}
	b = m.appendClock(append(b, 'T'))
	o := int(m.offset)
	if o < 0 {
		b, o = append(b, '-'), -o
	} else {
		b = append(b, '+')
	}
	return string(append2(append(append2(b, o/60), ':'), o%60))
}

// Words returns the moment for a sentence: 31 Mar 2026, or 31 Mar 2026 14:05.
func (m Moment) Words() string {
	if m.kind == noClock {
		return m.day.Words()
	}
	return m.day.Words() + string(m.appendClock([]byte{' '}))
}

func (m Moment) appendClock(b []byte) []byte {
	s := int(m.second)
	b = append2(append(append2(b, s/3600), ':'), s/60%60)
	if m.kind&toSecond != 0 {
		b = append2(append(b, ':'), s%60)
	}
	return b
}

// Before says whether a came before b: Yes, if surely so; No, if surely at the
// same time or later; Unsure, if it cannot be told or either is not written.
func Before(a, b Moment) Tri {
	switch {
	case a.day == 0 || b.day == 0:
		return Unsure
	case a.Last() < b.First():
		return Yes
	case a.First() >= b.Last():
		return No
	}
	return Unsure
}

// ParseMoment reads a moment: with its offset from Greenwich (RFC 3339, turned
// into the local time of loc; with no loc, the day and clock stay as written), with a
// local clock ("2026-03-31 14:05",
// "31/03/2026 2:05 pm", dates in the order o), or a bare date. Parts of a second
// are left out. Hours and minutes may be parted by a point. The error is an *Error;
// where only the clock cannot be read it tells the day.
func ParseMoment(s string, o DateOrder, loc *time.Location) (Moment, error) {
	t := trim(s)
	d, rest, err := scanDay(s, t, o)
	if err != nil {
		return Moment{}, err
	}
	here := loc
	if here == nil {
		here = time.UTC
	}
	if rest == "" {
		first, last := dayBounds(d, here)
		return Moment{first: first, width: int32(last - first), day: d}, nil
	}
	c, why := scanClock(rest)
	if why != "" {
		return Moment{}, &Error{Found: s, Why: why, Allowed: "14:05, 14:05:30 or 2:05 pm after the date, or no clock", Day: alone(d, rest),
			Todo: "look at the paper, and write the clock after the date in the form 14:05"}
	}
	if !c.zoned {
		return local(d, c.second, c.kind, here), nil
	}
	if loc == nil {
		return local(d, c.second, c.kind, time.FixedZone("", int(c.offset))), nil
	}
	m := zoned(naive(d, c.second)-int64(c.offset), c.kind, loc)
	if y, _, _ := m.day.Date(); y < firstYear || y > lastYear {
		return Moment{}, &Error{Found: s, Why: "has a year that cannot be meant", Todo: "write a year from 1900 to 2199"}
	}
	return m, nil
}

// alone returns d unless what follows it may be about another day: "to 2026-03-04".
func alone(d Day, rest string) Day {
	rest = trimLeft(strings.TrimPrefix(trimLeft(rest), ","))
	switch word, _, _ := strings.Cut(strings.ToLower(rest), " "); word {
	case "or", "to", "and", "until", "till", "through":
		return 0
	}
	if r, _ := utf8.DecodeRuneInString(rest); !unicode.IsLetter(r) && !unicode.IsDigit(r) && r != '(' {
		return 0
	}
	for i := range len(rest) {
		if digit(rest[i]) && (i == 0 || !digit(rest[i-1])) {
			for _, o := range [...]DateOrder{DMY, MDY} {
				if _, _, err := scanDay(rest, rest[i:], o); err == nil {
					return 0
				}
			}
		}
	}
	return d
}

func local(d Day, second int, kind clock, loc *time.Location) Moment {
	lo, hi, _ := resolve(naive(d, second), loc)
	return Moment{first: lo, width: int32(hi-lo) + kind.width(), day: d, second: int32(second), kind: kind}
}

func (k clock) width() int32 {
	if k == toMinute {
		return 59
	}
	return 0
}

// zoned makes the local moment of an instant. It keeps the offset only where
// the same local clock could mean another instant too.
func zoned(unix int64, kind clock, loc *time.Location) Moment {
	east := offsetAt(unix, loc)
	at := unix + east - naive(1, 0)
	d := 1 + Day(at/86400)
	m := local(d, int(at%86400), kind, loc)
	// Before about 1940 some offsets had seconds, which nobody writes: the wide
	// meaning stays there.
	if (m.first != unix || m.width != kind.width()) && east%60 == 0 {
		m.first, m.width, m.offset = unix, kind.width(), int16(east/60)
		m.kind |= withOffset
	}
	return m
}
