package workbook

import (
	"math"
	"strconv"
	"time"
)

const (
	daySeconds = 86400
	lastSerial = 2958465 // 9999-12-31 in the 1900 system (ECMA-376 Part 1, 18.17.4.1)
	shift1904  = 1462    // days between the two systems
	firstYear  = 367     // serials below lie in 1900, when nobody keeps a clock
)

// appendTime writes a serial number of days as the kind of time that it is; see Rows.
// ok is false if it stays a number.
func (s *section) appendTime(b []byte, serial float64, from1904 bool) (_ []byte, kind Kind, ok bool) {
	if s.elapsed {
		return s.appendElapsed(b, serial)
	}
	if serial < 0 || serial >= lastSerial+1 {
		return b, 0, false
	}
	seconds := int64(math.Round(serial * daySeconds))
	days, second := seconds/daySeconds, int(seconds%daySeconds)
	switch {
	case days == 0 && (s.clock || second > 0):
		return appendClock(b, second), Clock, true
	case !s.date && days < firstYear:
		return s.appendElapsed(b, serial)
	}
	day, ok := dayOf(days, from1904)
	if !ok {
		return b, 0, false
	}
	b = day.AppendFormat(b, "2006-01-02")
	if second == 0 && !s.hour {
		return b, Day, true
	}
	return appendClock(append(b, ' '), second), Moment, true
}

// dayOf returns the day of a serial. In the 1900 system 60 is 29 February 1900, which
// did not exist: for the days before it the count is one less.
func dayOf(days int64, from1904 bool) (time.Time, bool) {
	switch {
	case from1904:
		days += shift1904
	case days == 60 || days == 0:
		return time.Time{}, false
	case days < 60:
		days++
	}
	const epoch = 25569 // 1970-01-01
	return time.Unix((days-epoch)*daySeconds, 0).UTC(), days <= lastSerial
}

func appendClock(b []byte, second int) []byte {
	b = append(append2(b, second/3600), ':')
	b = append2(b, second/60%60)
	if second%60 != 0 {
		b = append2(append(b, ':'), second%60)
	}
	return b
}

func append2(b []byte, n int) []byte { return append(b, byte('0'+n/10), byte('0'+n%10)) }

// longestElapsed in days: a thousand years.
const longestElapsed = 365_000

// appendElapsed writes "2 h 30 min", "3 min 30.5 s"; nought in the smallest unit that
// the format shows.
func (s *section) appendElapsed(b []byte, days float64) ([]byte, Kind, bool) {
	if days < 0 || days > longestElapsed {
		return b, 0, false
	}
	steps := int64(math.Pow10(s.places))
	n := int64(math.Round(days * daySeconds * float64(steps)))
	start := len(b)
	for _, u := range [...]struct {
		size int64
		name string
	}{{3600, " h"}, {60, " min"}} {
		if whole := n / (u.size * steps); whole > 0 {
			b = append(strconv.AppendInt(gap(b, start), whole, 10), u.name...)
			n -= whole * u.size * steps
		}
	}
	switch {
	case n > 0 || len(b) == start && s.second:
		b = strconv.AppendFloat(gap(b, start), float64(n)/float64(steps), 'f', -1, 64)
		b = append(b, " s"...)
	case len(b) == start:
		b = append(b, "0 min"...)
	}
	return b, Elapsed, true
}

// gap parts what follows from what is there.
func gap(b []byte, start int) []byte {
	if len(b) > start {
		b = append(b, ' ')
	}
	return b
}
