package quantity

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestParseDay(t *testing.T) {
	for _, c := range []struct {
		in   string
		o    DateOrder
		want string
	}{
		{"2026-03-31", ISO, "2026-03-31"},
		{"2026-03-31", MDY, "2026-03-31"},
		{" 2026-3-1\u00a0", DMY, "2026-03-01"},
		{"2026/03/31", ISO, "2026-03-31"},
		{"31/03/2026", DMY, "2026-03-31"},
		{"31.3.2026", DMY, "2026-03-31"},
		{"31-03-2026", DMY, "2026-03-31"},
		{"03/31/2026", MDY, "2026-03-31"},
		{"03/04/2026", DMY, "2026-04-03"},
		{"03/04/2026", MDY, "2026-03-04"},
		{"31 Mar 2026", ISO, "2026-03-31"},
		{"31-Mar-2026", MDY, "2026-03-31"},
		{"31 march 2026", ISO, "2026-03-31"},
		{"March 31, 2026", DMY, "2026-03-31"},
		{"Sept. 1, 2026", ISO, "2026-09-01"},
		{"2026-Mar-31", ISO, "2026-03-31"},
		{"29.2.2024", DMY, "2024-02-29"},
		{"1900-01-01", ISO, "1900-01-01"},
		{"2199-12-31", ISO, "2199-12-31"},
	} {
		d, err := ParseDay(c.in, c.o)
		if assert.NoError(t, err, c.in) {
			assert.Equal(t, c.want, d.String(), c.in)
		}
	}
}

func TestParseDayRefusesInWords(t *testing.T) {
	for _, c := range []struct {
		in    string
		o     DateOrder
		words string
	}{
		{"", ISO, "is empty"},
		{"31/03/2026", ISO, "could be day or month first"},
		{"03/31/2026", DMY, "no month of that number; what can be read: 2026-03-31, or 31/03/2026 where the practice says day or month first; dates are read in the order dmy"},
		{"31/03/26", DMY, "two figures for the year"},
		{"31 Mar 26", ISO, "two figures for the year"},
		{"26-03-31", ISO, "two figures for the year"},
		{"2026-02-29", ISO, "no day of the calendar"},
		{"31/04/2026", DMY, "no day of the calendar"},
		{"2026-00-10", ISO, "no month"},
		{"2026-13-10", ISO, "no month"},
		{"2026-03-00", ISO, "no day"},
		{"0226-03-31", ISO, "year that cannot be meant"},
		{"1899-12-31", ISO, "year that cannot be meant"},
		{"2200-01-01", ISO, "year that cannot be meant"},
		{"2026-03", ISO, "not a whole date"},
		{"2026", ISO, "not a whole date"},
		{"20260331", ISO, "not a whole date"},
		{"2026-03-31T00:00:00Z", ISO, "has a clock with the date"},
		{"2026-03-31 00:00", ISO, "write the date alone: 2026-03-31"},
		{"2026-03-31.", ISO, "has more after the date"},
		{"2026-03-31-1", ISO, "not a date"},
		{"2026 03 31", ISO, "not a date"},
		{"2026-03/31", ISO, "not a date"},
		{"2026--03-31", ISO, "not a date"},
		{"2026-03-311", ISO, "not a date"},
		{"2026-003-31", ISO, "not a date"},
		{"003/04/2026", DMY, "not a date"},
		{"31/03/20266", DMY, "not a date"},
		{"31 Mars 2026", DMY, "not a date"},
		{"31 Ma 2026", DMY, "not a date"},
		{"Mar Apr 2026", DMY, "not a date"},
		{"31 3 Mar", DMY, "not a date"},
		{"today", ISO, "not a date"},
	} {
		d, err := ParseDay(c.in, c.o)
		assert.Zero(t, d, c.in)
		assert.ErrorContains(t, err, c.words, c.in)
	}
	_, err := ParseDateOrder("ymd")
	assert.ErrorContains(t, err, `"dmy" or "mdy"`)
	for _, o := range []DateOrder{ISO, DMY, MDY} {
		got, err := ParseDateOrder(o.String())
		require.NoError(t, err)
		assert.Equal(t, o, got)
	}
}

// The whole calendar, day by day, against the time package.
func TestCalendarAgreesWithTimePackage(t *testing.T) {
	at := time.Date(1, 1, 1, 12, 0, 0, 0, time.UTC)
	for d := Day(1); d <= lastDay; d++ {
		y, m, n := d.Date()
		ty, tm, tn := at.Date()
		if y != ty || m != tm || n != tn || NewDay(y, m, n) != d {
			t.Fatalf("day %d is %d-%d-%d, not %v; and back is %d", d, y, m, n, at, NewDay(y, m, n))
		}
		if d%97 == 0 && d.Weekday() != at.Weekday() {
			t.Fatalf("%v is no %v", d, d.Weekday())
		}
		at = at.Add(24 * time.Hour)
	}
	assert.Equal(t, unixEpoch, NewDay(1970, 1, 1))
	assert.Equal(t, lastDay, NewDay(9999, 12, 31))
}

func TestDayArithmetic(t *testing.T) {
	day := func(s string) Day {
		d, err := ParseDay(s, ISO)
		require.NoError(t, err)
		return d
	}
	assert.Equal(t, "2026-04-14", day("2026-03-31").AddDays(14).String())
	assert.Equal(t, "2026-03-17", day("2026-03-31").AddDays(-14).String())
	for _, c := range []struct {
		from string
		n    int
		to   string
	}{
		{"2026-01-31", 1, "2026-02-28"},
		{"2024-01-31", 1, "2024-02-29"},
		{"2024-02-29", 12, "2025-02-28"},
		{"2026-03-31", -1, "2026-02-28"},
		{"2026-12-15", 1, "2027-01-15"},
		{"2026-01-15", -1, "2025-12-15"},
		{"2026-08-31", 6, "2027-02-28"},
		{"2026-08-31", 0, "2026-08-31"},
		{"2026-08-31", 200000, "9999-12-31"},
		{"2026-08-31", -200000, "0001-01-01"},
	} {
		assert.Equal(t, c.to, day(c.from).AddMonths(c.n).String(), "%s and %d months", c.from, c.n)
	}
	for _, c := range []struct{ from, span, to string }{
		{"2026-03-31", "14 d", "2026-04-14"},
		{"2026-03-31", "1 week", "2026-04-07"},
		{"2026-03-31", "12 months", "2027-03-31"},
		{"2026-01-31", "1 month", "2026-02-28"},
		{"2024-02-29", "1 year", "2025-02-28"},
		{"2026-03-31", "1 year 6 months", "2027-09-30"},
		{"2026-03-31", "10 h", "2026-04-01"},
		{"2026-03-31", "24 h", "2026-04-01"},
		{"2026-03-31", "25 h", "2026-04-02"},
		{"2026-03-31", "0 min", "2026-03-31"},
		{"2026-03-31", "0.5 months", "2026-04-30"},
		{"2026-03-31", "999999999 years", "9999-12-31"},
		{"2026-03-31", "999999999 weeks", "9999-12-31"},
	} {
		assert.Equal(t, c.to, day(c.from).Add(must(t, c.span, Span)).String(), "%s and %s", c.from, c.span)
	}
	assert.Zero(t, Day(0).AddDays(3)+Day(0).AddMonths(3)+Day(0).Add(Exact(1, DayU))+day("2026-03-31").Add(Quantity{}))
	assert.Panics(t, func() { day("2026-03-31").Add(Exact(1, Celsius)) })
	assert.Equal(t, "2027-02-01", NewDay(2026, 13, 32).String(), "carried over as time.Date does")
	assert.Equal(t, "2025-11-30", NewDay(2026, 0, 0).String())
}

// No month is skipped, whatever the day, and a month on and back never gains a day.
func TestMonthsAreNeverSkipped(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := NewDay(2000, 1, 1).AddDays(rapid.IntRange(0, 40000).Draw(t, "day"))
		n := rapid.IntRange(-500, 500).Draw(t, "months")
		y, m, day := d.Date()
		to := d.AddMonths(n)
		ty, tm, tday := to.Date()
		if ty*12+int(tm) != y*12+int(m)+n || tday > day {
			t.Fatalf("%v and %d months is %v", d, n, to)
		}
		if tday < day && to.AddDays(1).AddMonths(0) != NewDay(ty, tm+1, 1) {
			t.Fatalf("%v and %d months is %v, which is not the end of its month", d, n, to)
		}
		if to.AddMonths(-n) > d {
			t.Fatalf("%v, %d months on and back, is later", d, n)
		}
	})
}

func TestDayText(t *testing.T) {
	d := NewDay(2026, 3, 1)
	assert.Equal(t, "1 Mar 2026", d.Words())
	assert.Equal(t, "31 Mar 2026", d.AddDays(30).Words())
	assert.Empty(t, Day(0).Words()+Day(0).String())
	assert.Equal(t, time.Sunday, d.Weekday())
	y, m, n := Day(0).Date()
	assert.Zero(t, y+int(m)+n)
	assert.False(t, Day(0).Written())
}
