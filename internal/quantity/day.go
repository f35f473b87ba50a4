package quantity

import (
	"math"
	"time"
)

// Day is a local calendar day: days since 31 December of the year 0 in the
// Gregorian calendar carried backwards, so that Day(1) is 0001-01-01. The zero
// value means not written.
type Day int32

const (
	lastDay   Day = 3652059 // 9999-12-31
	unixEpoch Day = 719163  // 1970-01-01
)

// NewDay returns the day of a date. Month and day past their ends carry over,
// as in time.Date; what falls outside the years 1 to 9999 is brought to its edge.
func NewDay(y int, m time.Month, d int) Day {
	mm := y*12 + int(m) - 1
	y = floorDiv(mm, 12)
	first := daysBefore(y) + daysBeforeMonth(y, mm-y*12)
	return within(int64(first) + int64(d))
}

// daysBefore returns the days from 0000-12-31 to the last day before year y.
func daysBefore(y int) int {
	y--
	return y*365 + floorDiv(y, 4) - floorDiv(y, 100) + floorDiv(y, 400)
}

var monthStarts = [...]int{0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334, 365}

// daysBeforeMonth returns the days of year y before its month m, from 0.
func daysBeforeMonth(y, m int) int {
	if m >= 2 && leap(y) {
		return monthStarts[m] + 1
	}
	return monthStarts[m]
}

func leap(y int) bool { return y%4 == 0 && (y%100 != 0 || y%400 == 0) }

func daysIn(y, m int) int { return daysBeforeMonth(y, m) - daysBeforeMonth(y, m-1) }

func floorDiv(a, b int) int {
	q := a / b
	if a%b < 0 {
		q--
	}
	return q
}

func within(d int64) Day { return Day(max(1, min(int64(lastDay), d))) }

// Written reports whether there is a day at all.
func (d Day) Written() bool { return d != 0 }

// Date returns year, month and day of the month; of a day not written, noughts.
func (d Day) Date() (int, time.Month, int) {
	if d == 0 {
		return 0, 0, 0
	}
	y := int(int64(d)*400/146097) + 1 // right, or one too many
	if daysBefore(y) >= int(d) {
		y--
	} else if daysBefore(y+1) < int(d) {
		y++
	}
	n := int(d) - daysBefore(y)
	m := (n-1)/31 + 1 // right, or one too few
	if daysBeforeMonth(y, m) < n {
		m++
	}
	return y, time.Month(m), n - daysBeforeMonth(y, m-1)
}

// Weekday returns the day of the week.
func (d Day) Weekday() time.Weekday { return time.Weekday(d % 7) }

// AddDays returns the day n days on, or n days back where n is negative. A day
// not written stays so, here and in all arithmetic; the years 1 and 9999 hold it.
func (d Day) AddDays(n int) Day {
	if d == 0 {
		return 0
	}
	return within(int64(d) + int64(n))
}

// AddMonths returns the same day of the month n months on, or the last of that
// month where it is shorter: 31 January and one month is 28 or 29 February.
func (d Day) AddMonths(n int) Day {
	if d == 0 {
		return 0
	}
	y, m, day := d.Date()
	mm := y*12 + int(m) - 1 + max(-200000, min(200000, n))
	y = floorDiv(mm, 12)
	switch {
	case y < 1:
		return 1
	case y > 9999:
		return lastDay
	}
	m = time.Month(mm - y*12 + 1)
	return NewDay(y, m, min(day, daysIn(y, int(m))))
}

// Add returns the day on which a span that begins on d is over: days and weeks are
// counted, months and years go by the calendar, what is shorter is rounded up to
// whole days. A span not written gives a day not written. It panics on a
// quantity that is no span.
func (d Day) Add(span Quantity) Day {
	if d == 0 || !span.Written() {
		return 0
	}
	if span.Unit.calendar() {
		return d.AddMonths(int(math.Ceil(math.Min(span.In(Month), 200000))))
	}
	return d.AddDays(int(math.Ceil(math.Min(span.In(DayU), 4e6))))
}

// Start returns the first instant of the day in loc, also where a change of the
// clock leaves out midnight or gives it twice.
func (d Day) Start(loc *time.Location) time.Time {
	return time.Unix(dayStart(d, loc), 0).In(loc)
}

var monthNames = [...]string{"Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"}

// String returns the day year first, 2026-03-31; "" where not written.
func (d Day) String() string {
	if d == 0 {
		return ""
	}
	return string(d.append(make([]byte, 0, 10)))
}

func (d Day) append(b []byte) []byte {
	y, m, n := d.Date()
	b = append(b, byte('0'+y/1000), byte('0'+y/100%10), byte('0'+y/10%10), byte('0'+y%10), '-')
	b = append2(b, int(m))
	return append2(append(b, '-'), n)
}

func append2(b []byte, n int) []byte { return append(b, byte('0'+n/10), byte('0'+n%10)) }

// Words returns the day for a sentence, 31 Mar 2026; "" where not written.
func (d Day) Words() string {
	if d == 0 {
		return ""
	}
	y, m, n := d.Date()
	b := make([]byte, 0, 11)
	if n > 9 {
		b = append(b, byte('0'+n/10))
	}
	b = append(b, byte('0'+n%10), ' ')
	b = append(b, monthNames[m-1]...)
	return string(append(b, ' ', byte('0'+y/1000), byte('0'+y/100%10), byte('0'+y/10%10), byte('0'+y%10)))
}
