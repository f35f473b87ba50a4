package quantity

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func zone(t require.TestingT, name string) *time.Location {
	loc, err := time.LoadLocation(name)
	require.NoError(t, err)
	return loc
}

func TestParseMoment(t *testing.T) {
	oslo := zone(t, "Europe/Oslo")
	for _, c := range []struct {
		in          string
		o           DateOrder
		out, words  string
		first, last string
	}{
		{"2026-03-31 14:05", ISO, "2026-03-31 14:05", "31 Mar 2026 14:05", "2026-03-31T12:05:00Z", "2026-03-31T12:05:59Z"},
		{"2026-03-31 14.05", ISO, "2026-03-31 14:05", "31 Mar 2026 14:05", "2026-03-31T12:05:00Z", "2026-03-31T12:05:59Z"},
		{"31/03/2026 2.05pm", DMY, "2026-03-31 14:05", "31 Mar 2026 14:05", "2026-03-31T12:05:00Z", "2026-03-31T12:05:59Z"},
		{"2026-03-31T14:05", ISO, "2026-03-31 14:05", "31 Mar 2026 14:05", "2026-03-31T12:05:00Z", "2026-03-31T12:05:59Z"},
		{"2026-03-31 9:05", ISO, "2026-03-31 09:05", "31 Mar 2026 09:05", "2026-03-31T07:05:00Z", "2026-03-31T07:05:59Z"},
		{"2026-03-31 14:05:06", ISO, "2026-03-31 14:05:06", "31 Mar 2026 14:05:06", "2026-03-31T12:05:06Z", "2026-03-31T12:05:06Z"},
		{"2026-03-31T14:05:06.789", ISO, "2026-03-31 14:05:06", "31 Mar 2026 14:05:06", "2026-03-31T12:05:06Z", "2026-03-31T12:05:06Z"},
		{"31/03/2026 14:05", DMY, "2026-03-31 14:05", "31 Mar 2026 14:05", "2026-03-31T12:05:00Z", "2026-03-31T12:05:59Z"},
		{"03/31/2026 2:05 pm", MDY, "2026-03-31 14:05", "31 Mar 2026 14:05", "2026-03-31T12:05:00Z", "2026-03-31T12:05:59Z"},
		{"31.3.2026, 2:05 P.M.", DMY, "2026-03-31 14:05", "31 Mar 2026 14:05", "2026-03-31T12:05:00Z", "2026-03-31T12:05:59Z"},
		{"2026-03-31 12:05am", ISO, "2026-03-31 00:05", "31 Mar 2026 00:05", "2026-03-30T22:05:00Z", "2026-03-30T22:05:59Z"},
		{"2026-03-31 12:05 pm", ISO, "2026-03-31 12:05", "31 Mar 2026 12:05", "2026-03-31T10:05:00Z", "2026-03-31T10:05:59Z"},
		{"2026-03-31T23:30:00Z", ISO, "2026-04-01 01:30:00", "1 Apr 2026 01:30:00", "2026-03-31T23:30:00Z", "2026-03-31T23:30:00Z"},
		{"2026-03-31T14:05:00-05:00", ISO, "2026-03-31 21:05:00", "31 Mar 2026 21:05:00", "2026-03-31T19:05:00Z", "2026-03-31T19:05:00Z"},
		{"2026-03-31 14:05 +0200", ISO, "2026-03-31 14:05", "31 Mar 2026 14:05", "2026-03-31T12:05:00Z", "2026-03-31T12:05:59Z"},
		{"2026-03-31T14:05:00−05:00", ISO, "2026-03-31 21:05:00", "31 Mar 2026 21:05:00", "2026-03-31T19:05:00Z", "2026-03-31T19:05:00Z"},
		{"2026-03-31", ISO, "2026-03-31", "31 Mar 2026", "2026-03-30T22:00:00Z", "2026-03-31T21:59:59Z"},
		// Clocks in the European Union change at 01:00 in Greenwich on the last
		// Sundays of March and October (Directive 2000/84/EC).
		{"2026-03-29", ISO, "2026-03-29", "29 Mar 2026", "2026-03-28T23:00:00Z", "2026-03-29T21:59:59Z"},
		{"2026-10-25", ISO, "2026-10-25", "25 Oct 2026", "2026-10-24T22:00:00Z", "2026-10-25T22:59:59Z"},
		{"2026-03-29 01:59", ISO, "2026-03-29 01:59", "29 Mar 2026 01:59", "2026-03-29T00:59:00Z", "2026-03-29T00:59:59Z"},
		{"2026-03-29 02:30", ISO, "2026-03-29 02:30", "29 Mar 2026 02:30", "2026-03-29T00:30:00Z", "2026-03-29T01:30:59Z"},
		{"2026-03-29 03:00", ISO, "2026-03-29 03:00", "29 Mar 2026 03:00", "2026-03-29T01:00:00Z", "2026-03-29T01:00:59Z"},
		{"2026-10-25 01:59", ISO, "2026-10-25 01:59", "25 Oct 2026 01:59", "2026-10-24T23:59:00Z", "2026-10-24T23:59:59Z"},
		{"2026-10-25 02:30", ISO, "2026-10-25 02:30", "25 Oct 2026 02:30", "2026-10-25T00:30:00Z", "2026-10-25T01:30:59Z"},
		{"2026-10-25 02:30:10", ISO, "2026-10-25 02:30:10", "25 Oct 2026 02:30:10", "2026-10-25T00:30:10Z", "2026-10-25T01:30:10Z"},
		{"2026-10-25 03:00", ISO, "2026-10-25 03:00", "25 Oct 2026 03:00", "2026-10-25T02:00:00Z", "2026-10-25T02:00:59Z"},
		{"2026-10-25T02:30:00+01:00", ISO, "2026-10-25T02:30:00+01:00", "25 Oct 2026 02:30:00", "2026-10-25T01:30:00Z", "2026-10-25T01:30:00Z"},
		{"2026-10-25T00:30Z", ISO, "2026-10-25T02:30+02:00", "25 Oct 2026 02:30", "2026-10-25T00:30:00Z", "2026-10-25T00:30:59Z"},
	} {
		m, err := ParseMoment(c.in, c.o, oslo)
		if !assert.NoError(t, err, c.in) {
			continue
		}
		assert.Equal(t, c.out, m.String(), c.in)
		assert.Equal(t, c.words, m.Words(), c.in)
		assert.Equal(t, c.first, time.Unix(m.First(), 0).UTC().Format(time.RFC3339), c.in)
		assert.Equal(t, c.last, time.Unix(m.Last(), 0).UTC().Format(time.RFC3339), c.in)
		assert.Equal(t, len(c.in) > 10, m.HasClock(), c.in)
		assert.True(t, m.Written())
		assert.Equal(t, c.out[:10], m.Day().String())
	}
	a, err := ParseMoment("2026-03-31T12:05:00Z", ISO, oslo)
	require.NoError(t, err)
	b, err := ParseMoment("2026-03-31 14:05:00", ISO, oslo)
	require.NoError(t, err)
	assert.True(t, a == b, "the same second in two spellings is one moment")
	assert.Empty(t, Moment{}.String()+Moment{}.Words())
}

func TestParseMomentRefusesInWords(t *testing.T) {
	for in, words := range map[string]string{
		"":                          "is empty",
		"2026-03-31 2 pm":           "an hour without minutes",
		"2026-03-31 24:00":          "no clock shows",
		"2026-03-31 14:60":          "no clock shows",
		"2026-03-31 14:05:60":       "no clock shows",
		"2026-03-31 13:05 pm":       "does not go with am or pm",
		"2026-03-31 0:05 am":        "does not go with am or pm",
		"2026-03-31 14.5":           "an hour without minutes; what can be read: 14:05, 14:05:30 or 2:05 pm after the date, or no clock; look at the paper, and write the clock after the date in the form 14:05",
		"2026-03-31 14h05":          "an hour without minutes",
		"2026-03-31 14:5":           "no clock that can be read",
		"2026-03-31 114:05":         "no clock that can be read",
		"2026-03-31 2:05 pm Z":      "more after the clock",
		"2026-03-31T14:05:00 CET":   "more after the clock",
		"2026-03-31T14:05:00+2":     "more after the clock",
		"2026-03-31T14:05+25:00":    "more after the clock",
		"2026-03-31T":               "no clock that can be read",
		"2026-03-31x":               "no clock that can be read",
		"14:05":                     "not a whole date",
		"31/03/2026 14:05":          "could be day or month first",
		"2199-12-31T23:59:59-01:00": "year that cannot be meant",
	} {
		m, err := ParseMoment(in, ISO, time.UTC)
		assert.Zero(t, m, in)
		assert.ErrorContains(t, err, words, in)
	}
}

func TestBefore(t *testing.T) {
	oslo := zone(t, "Europe/Oslo")
	at := func(s string) Moment {
		if s == "" {
			return Moment{}
		}
		m, err := ParseMoment(s, ISO, oslo)
		require.NoError(t, err)
		return m
	}
	for _, c := range []struct {
		a, b string
		want Tri
	}{
		{"2026-03-31 14:05", "2026-03-31 14:06", Yes},
		{"2026-03-31 14:06", "2026-03-31 14:05", No},
		{"2026-03-31 14:05", "2026-03-31 14:05", Unsure},
		{"2026-03-31 14:05:00", "2026-03-31 14:05:00", No},
		{"2026-03-31 14:05:59", "2026-03-31 14:05", No},
		{"2026-03-31 14:05:58", "2026-03-31 14:05", Unsure},
		{"2026-03-31", "2026-03-31 14:05", Unsure},
		{"2026-03-30", "2026-03-31 00:00", Yes},
		{"2026-03-31", "2026-03-30 23:59", No},
		{"2026-03-30", "2026-03-31", Yes},
		{"2026-03-31", "2026-03-31", Unsure},
		{"2026-10-25 02:30", "2026-10-25 02:40", Unsure},
		{"2026-10-25 02:30", "2026-10-25 03:40", Yes},
		{"2026-10-25T02:50:00+02:00", "2026-10-25T02:10:00+01:00", Yes},
		{"", "2026-03-31", Unsure},
		{"2026-03-31", "", Unsure},
	} {
		assert.Equal(t, c.want, Before(at(c.a), at(c.b)), "%s before %s", c.a, c.b)
	}
}

// Facts of the zone database (tzdata): no midnight in Brazil on 4 Nov 2018, in
// Samoa no 30 Dec 2011, in Cuba 0:00 to 1:00 twice on 1 Nov 2026.
func TestOddMidnights(t *testing.T) {
	for _, c := range []struct{ zone, day, first, next string }{
		{"America/Sao_Paulo", "2018-11-04", "2018-11-04T03:00:00Z", "2018-11-05T02:00:00Z"},
		{"America/Havana", "2026-11-01", "2026-11-01T04:00:00Z", "2026-11-02T05:00:00Z"},
		{"Pacific/Apia", "2011-12-29", "2011-12-29T10:00:00Z", "2011-12-30T10:00:00Z"},
		{"Pacific/Apia", "2011-12-31", "2011-12-30T10:00:00Z", "2011-12-31T10:00:00Z"},
	} {
		d, err := ParseDay(c.day, ISO)
		require.NoError(t, err)
		loc := zone(t, c.zone)
		assert.Equal(t, c.first, d.Start(loc).UTC().Format(time.RFC3339), c.zone)
		assert.Equal(t, c.next, d.AddDays(1).Start(loc).UTC().Format(time.RFC3339), c.zone)
	}
	m, err := ParseMoment("2011-12-30", ISO, zone(t, "Pacific/Apia"))
	require.NoError(t, err)
	assert.Greater(t, m.Last(), m.First(), "a day left out still covers some time")

	// Newfoundland put its clocks back by two hours at 00:01 on 30 Oct 1988.
	m, err = ParseMoment("1988-10-29", ISO, zone(t, "America/St_Johns"))
	require.NoError(t, err)
	assert.Equal(t, "1988-10-30T03:29:59Z", time.Unix(m.Last(), 0).UTC().Format(time.RFC3339))
}

var someZones = []string{"UTC", "Europe/Oslo", "America/St_Johns", "America/Halifax", "Australia/Lord_Howe", "Asia/Kathmandu", "Pacific/Auckland",
	"Pacific/Apia", "America/Havana", "Africa/Casablanca", "Asia/Gaza", "America/Sao_Paulo", "Antarctica/Troll", "Asia/Tehran"}

// Whatever the zone, an instant lies in what its own local clock can mean, in
// its local day, and is told exactly by its offset.
func TestInstantsLieWithinTheirWriting(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		loc := zone(t, rapid.SampledFrom(someZones).Draw(t, "zone"))
		at := time.Unix(rapid.Int64Range(0, 2e9).Draw(t, "unix"), 0).In(loc)
		if rapid.Bool().Draw(t, "near a change of the clock") {
			if start, _ := at.ZoneBounds(); !start.IsZero() && start.Unix() > 0 {
				at = start.Add(time.Duration(rapid.IntRange(-7200, 7200).Draw(t, "off by")) * time.Second)
			}
		}
		u := at.Unix()
		read := func(layout string) Moment {
			m, err := ParseMoment(at.Format(layout), ISO, loc)
			if err != nil {
				t.Fatal(err)
			}
			again, err := ParseMoment(m.String(), ISO, loc)
			if err != nil || again != m {
				t.Fatalf("%v prints as %q, which is read as %+v not %+v, %v", at, m, again, m, err)
			}
			if u < m.First() || u > m.Last() {
				t.Fatalf("%v does not lie in %q", at, m)
			}
			return m
		}
		day, minute, second, exact := read("2006-01-02"), read("2006-01-02 15:04"), read("2006-01-02 15:04:05"), read(time.RFC3339)
		if exact.First() != u || exact.Last() != u {
			t.Fatalf("%v is told only within %d s", at, exact.Last()-exact.First())
		}
		if day.First() > minute.First() || minute.First() > second.First() || second.Last() > minute.Last() || minute.Last() > day.Last() {
			t.Fatalf("%v: a finer writing is wider", at)
		}
		if s := day.Day().Start(loc); s.Unix() != day.First() {
			t.Fatalf("%v starts at %v", day, s)
		}
		if before := time.Unix(day.First()-1, 0).In(loc); before.Format("2006-01-02") == day.String() {
			t.Fatalf("%v already ran at %v", day, before)
		}
	})
}

// Where no zone is named, the day and clock of a moment with an offset stay as written.
func TestParseMomentWithoutAZone(t *testing.T) {
	m, err := ParseMoment("2025-12-31T20:00:00-05:00", ISO, nil)
	require.NoError(t, err)
	assert.Equal(t, "2025-12-31", m.Day().String())
	assert.Equal(t, time.Date(2026, 1, 1, 1, 0, 0, 0, time.UTC).Unix(), m.First())
	m, err = ParseMoment("2025-12-31 20:00", ISO, nil)
	require.NoError(t, err)
	assert.Equal(t, time.Date(2025, 12, 31, 20, 0, 0, 0, time.UTC).Unix(), m.First())
}

// Where only the clock cannot be read, the error tells the day; not where a second day
// may follow.
func TestTheDayOfABadClock(t *testing.T) {
	for in, want := range map[string]string{"2026-03-31 12:20 Uhr": "2026-03-31", "2026-03-31, noon": "2026-03-31", "2026-03-31 1220": "2026-03-31", "2026-03-31 12.5": "2026-03-31",
		"2026-03-31 to 2026-04-01": "", "2026-03-31 or 30": "", "2026-03-31 – 4 Apr 2026": "", "2026-03-31 04/05/2026": "", "2026-02-30 12:20 Uhr": "", "soon": ""} {
		_, err := ParseMoment(in, ISO, time.UTC)
		var e *Error
		require.ErrorAs(t, err, &e, in)
		assert.Equal(t, want, e.Day.String(), in)
	}
}
