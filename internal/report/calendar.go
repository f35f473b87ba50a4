package report

import (
	"slices"
	"time"

	"footing/internal/result"
)

// mostDrawnMonths is how many rows all calendars of a report have together, so that
// a page stays small however many sterilizers there are.
const mostDrawnMonths = 60

// mostCalendars is how many sterilizers have one.
const mostCalendars = 12

// calendar is what is written of one sterilizer, day by day, over its last months.
type calendar struct {
	sterilizer string
	months     []calendarMonth // by time, also those of which nothing is written
	gaps       []result.Gap    // that reach into these months
	earlier    int             // months that are not drawn
	days       []result.Day    // of these months
}

// calendarMonth is one row: day 1 stands at index 0.
type calendarMonth struct {
	name string // 2026-03
	days []calendarDay
}

// calendarDay is one cell. The first letters of gaps name the tests that are not
// written in a stretch that this day is part of.
type calendarDay struct {
	result.Day
	gaps [len(calendarTests)]bool
}

// calendarTests are the tests of a calendar, in the order in which a cell shows them.
var calendarTests = [...]struct{ name, plain string }{
	{"spore", "spore test"}, {"air-removal", "air-removal test"}, {"leak", "leak test"},
}

// results of a day, in the order of calendarTests.
func (d *calendarDay) results() [len(calendarTests)]string {
	return [len(calendarTests)]string{d.Spore, d.AirRemoval, d.Leak}
}

// calendarsOf makes a calendar a sterilizer, in the order of the result, and counts
// the sterilizers that have none.
func calendarsOf(r *result.Result) (out []*calendar, without int) {
	at := map[string]*calendar{}
	for _, d := range r.Days {
		if _, err := time.Parse(time.DateOnly, d.On); err != nil {
			continue
		}
		c := at[d.Sterilizer]
		if c == nil {
			c = &calendar{sterilizer: d.Sterilizer}
			at[d.Sterilizer] = c
			out = append(out, c)
		}
		c.days = append(c.days, d)
	}
	without = max(0, len(out)-mostCalendars)
	out = out[:min(len(out), mostCalendars)]
	most := mostMonths
	if len(out) > 0 {
		most = min(mostMonths, mostDrawnMonths/len(out))
	}
	for _, c := range out {
		c.lay(r, most)
	}
	return out, without
}

// lay puts the days and gaps of a calendar into its last months.
func (c *calendar) lay(r *result.Result, most int) {
	first, last := c.days[0].On, c.days[0].On
	for _, d := range c.days {
		first, last = min(first, d.On), max(last, d.On)
	}
	if _, err := time.Parse(time.DateOnly, r.AsOf); err == nil {
		last = max(last, r.AsOf) // what is not written until the day of the audit shows too
	}
	from, until := monthOf(first), monthOf(last)
	count := (until.Year()-from.Year())*12 + int(until.Month()-from.Month()) + 1
	if count > most {
		c.earlier = count - most
		from = from.AddDate(0, c.earlier, 0)
	}
	index := map[string]*calendarDay{}
	for m := from; !m.After(until); m = m.AddDate(0, 1, 0) {
		month := calendarMonth{name: m.Format("2006-01"), days: make([]calendarDay, m.AddDate(0, 1, -1).Day())}
		c.months = append(c.months, month)
		for i := range month.days {
			index[m.AddDate(0, 0, i).Format(time.DateOnly)] = &month.days[i]
		}
	}
	kept := c.days[:0]
	for _, d := range c.days {
		if cell := index[d.On]; cell != nil {
			cell.Day = d
			kept = append(kept, d)
		}
	}
	c.days = kept
	c.mark(r.Gaps, index)
}

// mark notes the gaps of this sterilizer on the days that are drawn.
func (c *calendar) mark(gaps []result.Gap, index map[string]*calendarDay) {
	for _, g := range gaps {
		test := slices.IndexFunc(calendarTests[:], func(t struct{ name, plain string }) bool { return t.name == g.Test })
		from, errFrom := time.Parse(time.DateOnly, g.From)
		until, errUntil := time.Parse(time.DateOnly, g.Until)
		if g.Sterilizer != c.sterilizer || test < 0 || errFrom != nil || errUntil != nil {
			continue
		}
		seen := false
		begin := monthOf(c.months[0].name + "-01")
		if from.Before(begin) {
			from = begin
		}
		for d := from; !d.After(until); d = d.AddDate(0, 0, 1) {
			cell := index[d.Format(time.DateOnly)]
			if cell == nil {
				break
			}
			cell.gaps[test], seen = true, true
		}
		if seen {
			c.gaps = append(c.gaps, g)
		}
	}
}

// monthOf is the first day of the month of a date that can be read.
func monthOf(on string) time.Time {
	t, _ := time.Parse(time.DateOnly, on)
	return time.Date(t.Year(), t.Month(), 1, 0, 0, 0, 0, time.UTC)
}

// monthName writes 2026-03 as Mar 2026.
func monthName(m string) string {
	t, err := time.Parse("2006-01", m)
	if err != nil {
		return m
	}
	return t.Format("Jan 2006")
}

// span of a calendar in words.
func (c *calendar) span() string {
	first, last := monthName(c.months[0].name), monthName(c.months[len(c.months)-1].name)
	if first == last {
		return first
	}
	return first + " to " + last
}
