package checks

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"footing/internal/practice"
	"footing/internal/quantity"
)

var monitoringFirst = quantity.NewDay(2025, time.December, 1)

func monitoringMoment(t testing.TB, d quantity.Day) quantity.Moment {
	m, err := quantity.ParseMoment(d.String(), quantity.ISO, time.UTC)
	require.NoError(t, err)
	return m
}

// monitoringPlan is a small practice: on which days it used the sterilizer, and which
// spore tests it ran. A test's word is pass, spoiled, fail or pending.
type monitoringPlan struct {
	uses  []int
	tests []monitoringPlanned
	loads []*practice.Load
	rows  []*practice.Test
}

type monitoringPlanned struct {
	on   int
	word string
}

func (p *monitoringPlan) make(t testing.TB) {
	slices.Sort(p.uses)
	slices.SortStableFunc(p.tests, func(a, b monitoringPlanned) int { return a.on - b.on })
	for _, on := range p.uses {
		p.loads = append(p.loads, &practice.Load{Started: monitoringMoment(t, monitoringFirst.AddDays(on)), Decision: "released"})
	}
	for _, x := range p.tests {
		row := &practice.Test{Type: "spore", RunAt: monitoringMoment(t, monitoringFirst.AddDays(x.on)), Result: x.word, Control: "growth"}
		if x.word == "spoiled" {
			row.Result, row.Control = "pass", "no-growth"
		}
		p.rows = append(p.rows, row)
	}
}

func monitoringDrawn(t *rapid.T) monitoringPlan {
	const span = 60
	p := monitoringPlan{uses: rapid.SliceOfN(rapid.IntRange(0, span), 0, 40).Draw(t, "uses")}
	for _, on := range rapid.SliceOfN(rapid.IntRange(0, span), 0, 12).Draw(t, "tests") {
		p.tests = append(p.tests, monitoringPlanned{on, rapid.SampledFrom([]string{"pass", "pass", "pass", "fail", "spoiled", "pending"}).Draw(t, "word")})
	}
	return p
}

// Day by day, by the words of the rule: a day of use is covered by a test that counts, of
// that day or of one of the so many days before it. Agreement over thousands of small
// practices.
func TestMonitoringLateDaysByDay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := monitoringDrawn(t)
		p.make(fakeTB{})
		n := rapid.SampledFrom([]int{0, 1, 6, 7, 8, 30}).Draw(t, "interval")
		within := func(day int, words ...string) bool {
			return slices.ContainsFunc(p.tests, func(x monitoringPlanned) bool {
				return slices.Contains(words, x.word) && day-n <= x.on && x.on <= day
			})
		}
		var late, open []int
		for _, day := range slices.Compact(slices.Clone(p.uses)) {
			switch {
			case within(day, "pass", "fail"):
			case within(day, "pending"):
				open = append(open, day)
			default:
				late = append(late, day)
			}
		}
		var gotLate, gotOpen []int
		used := 0
		for _, s := range monitoringStretches(monitoringDays(p.loads), p.rows) {
			used += len(s.days)
			l, o := s.late(quantity.Exact(float64(n), quantity.DayU))
			for _, d := range l {
				gotLate = append(gotLate, int(d.on-monitoringFirst))
			}
			for _, d := range o {
				gotOpen = append(gotOpen, int(d.on-monitoringFirst))
			}
		}
		if !slices.Equal(late, gotLate) || !slices.Equal(open, gotOpen) {
			t.Fatalf("interval %d, uses %v, tests %v: late %v and open %v day by day, got %v and %v", n, p.uses, p.tests, late, open, gotLate, gotOpen)
		}
		if used != len(slices.Compact(slices.Clone(p.uses))) {
			t.Fatalf("%d days of use in stretches", used)
		}
	})
}

// fakeTB fails loudly where a made-up day could not be read.
type fakeTB struct{ testing.TB }

func (fakeTB) Helper()                   {}
func (fakeTB) Errorf(f string, a ...any) { panic(fmt.Sprintf(f, a...)) }
func (fakeTB) FailNow()                  { panic("a day that cannot be read") }

// A closed time is no gap: taking the loads of any run of days away never makes a day
// late that was not.
func TestMonitoringBreaksMakeNoGap(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := monitoringDrawn(t)
		p.make(fakeTB{})
		interval := quantity.Exact(float64(rapid.IntRange(0, 31).Draw(t, "interval")), quantity.DayU)
		lateOf := func(loads []*practice.Load) (days []quantity.Day) {
			for _, s := range monitoringStretches(monitoringDays(loads), p.rows) {
				l, _ := s.late(interval)
				for _, d := range l {
					days = append(days, d.on)
				}
			}
			return days
		}
		before := lateOf(p.loads)
		from, until := rapid.IntRange(0, 60).Draw(t, "closed from"), rapid.IntRange(0, 60).Draw(t, "until")
		var open []*practice.Load
		for _, l := range p.loads {
			if on := int(l.Started.Day() - monitoringFirst); on < from || on > until {
				open = append(open, l)
			}
		}
		for _, d := range lateOf(open) {
			if !slices.Contains(before, d) {
				t.Fatalf("%s is late once %d to %d are closed", d, from, until)
			}
		}
	})
}

// monitoringBack is the first day from which an interval still reaches a day: by trial.
func TestMonitoringBack(t *testing.T) {
	for _, words := range []string{"0 d", "1 d", "7 d", "30 d", "1 week", "1 month", "3 months", "1 year"} {
		interval, err := quantity.Parse(words, quantity.Span, quantity.Fallback{})
		require.NoError(t, err)
		for i := range 800 {
			d := quantity.NewDay(2023, time.December, 1).AddDays(i)
			from := monitoringBack(d, interval)
			assert.GreaterOrEqual(t, from.Add(interval), d, "%s before %s", words, d)
			assert.Less(t, from.AddDays(-1).Add(interval), d, "%s before %s", words, d)
		}
	}
}

func TestMonitoringWeek(t *testing.T) {
	monday := quantity.NewDay(2026, time.June, 1) // a Monday, by any calendar
	for i := range 7 {
		assert.Equal(t, monday, monitoringWeek(monday.AddDays(i)))
	}
	assert.Equal(t, monday.AddDays(7), monitoringWeek(monday.AddDays(7)))
	for words, is := range map[string]bool{"7 d": true, "1 week": true, "168 h": true, "8 d": false, "1 month": false} {
		q, err := quantity.Parse(words, quantity.Span, quantity.Fallback{})
		require.NoError(t, err)
		assert.Equal(t, is, monitoringIsWeek(q), words)
	}
}

// First days of use after a break: longer than the interval, or not; a test of any kind
// in the break ends it.
func TestMonitoringRested(t *testing.T) {
	week := quantity.Exact(7, quantity.DayU)
	for _, c := range []struct {
		name  string
		plan  monitoringPlan
		rest  int
		found bool
	}{
		{"closed for 6 days, the seventh is due", monitoringPlan{uses: []int{0, 7}, tests: []monitoringPlanned{{0, "pass"}}}, 0, false},
		{"closed for 7 days", monitoringPlan{uses: []int{0, 8}, tests: []monitoringPlanned{{0, "pass"}}}, 7, true},
		{"closed for 14 days", monitoringPlan{uses: []int{0, 3, 18}, tests: []monitoringPlanned{{0, "pass"}}}, 14, true},
		{"used all along", monitoringPlan{uses: []int{0, 4, 8}, tests: []monitoringPlanned{{0, "pass"}}}, 0, false},
		{"a test that does not count ran in the break", monitoringPlan{uses: []int{0, 18}, tests: []monitoringPlanned{{0, "pass"}, {16, "spoiled"}}}, 0, false},
	} {
		c.plan.make(t)
		s := monitoringStretches(monitoringDays(c.plan.loads), c.plan.rows)[0]
		late, _ := s.late(week)
		if len(late) == 0 {
			assert.False(t, c.found, c.name)
			continue
		}
		rest, found := s.rested(late[0].on, week)
		assert.Equal(t, c.found, found, c.name)
		if found {
			assert.Equal(t, c.rest, rest, c.name)
		}
	}
}
