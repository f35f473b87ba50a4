package checks

import (
	"slices"

	"footing/internal/audit"
)

var _ = define(audit.Check{
	ID:    "cycles/counter",
	Title: "the cycle numbers of each sterilizer run on without holes, repeats or steps back",
	Why: "The counter of a sterilizer adds one for each cycle, whatever becomes of it. So loads, rejected loads and test cycles together are one series, and a number that is nowhere is a cycle that nobody wrote down. " +
		"Most holes are test cycles, cycles that were broken off, or a page that was not typed.",
	Grades:  []audit.Grade{audit.Major, audit.Minor, audit.Observation},
	Subject: "sterilizers", Thing: "cycle with its number", Things: "cycles with their numbers",
	Needs: []string{"loads"},
	Helps: []string{"loads.counter", "tests", "tests.counter", "upkeep.counter_after", "sterilizers.counter_start", "practice.coverage"},
	Uses:  []string{"cycles.counter-run", "cycles.counter-day", "records.clock"},
	Fix: []string{
		"Look for the numbers named here in the log book, on printouts, in the sterilizer's own memory and among the test records.",
		"Where a row is found, type it: a test under tests, a cycle that was broken off under loads as rejected. Mark it as a late entry with today's date.",
		"Where a number was mistyped, write the correction as a new row with today's date.",
		"Where the counter was set back or changed, write its number after the work into upkeep (counter_after).",
		"What is not found stays missing: fill in nothing from memory, and be ready to say what is known of it.",
		"From today on, write each cycle with its number, tests and broken-off cycles too.",
	},
	Verify: "The next month's numbers run on one by one, with each test and each broken-off cycle among them.",
	Run: func(x *audit.Examination) {
		x.Nothing("no load with a cycle number is one of the practice's own sterilizers")
		run, ok := x.Criterion("cycles.counter-run", nil)
		day, ok2 := x.Criterion("cycles.counter-day", nil)
		if !ok || !ok2 {
			x.Nothing("no rule says how cycle numbers are judged")
			return
		}
		for _, c := range cyclesCounterAll(x) {
			c.run, c.day, c.runIs = run.Number(), day.Number(), &run
			c.clock = monitoringClock(x)
			c.judge()
		}
	},
})

// judge judges the series of one sterilizer.
func (c *cyclesCounter) judge() {
	for range c.blankLoads {
		c.x.Unclear(c.subject, "the cycle number of the load is not written", audit.Field{Kind: "loads", Name: "counter"})
	}
	for range c.shared {
		c.x.Pass()
	}
	cyclesCounterOrder(c.rows, c.clock)
	switch {
	case !slices.ContainsFunc(c.rows, func(r cyclesCounterRow) bool { return r.load }):
		return
	case c.anew():
		for rest := c.rows; len(rest) > 0; {
			n := 1
			for n < len(rest) && rest[n].on == rest[0].on {
				n++
			}
			c.daily(rest[:n])
			rest = rest[n:]
		}
	default:
		c.running()
	}
	c.tell()
}

// daily judges the numbers of one day of a counter that begins anew each day.
func (c *cyclesCounter) daily(rows []cyclesCounterRow) {
	before := cyclesCounterRow{on: rows[0].on}
	for _, r := range rows {
		if r.number <= before.number { // two rows of one cycle, or a count from nought
			c.x.Met(c.subject)
		} else {
			c.step(before, r)
			before = r
		}
	}
}

// running judges a counter that runs on.
func (c *cyclesCounter) running() {
	start := 0
	for i := 1; i <= len(c.rows); i++ {
		if i == len(c.rows) || c.rows[i].number <= c.rows[i-1].number && c.upkept(c.rows[i-1], c.rows[i]) {
			cyclesCounterSettle(c.rows[start:i], c.run)
			start = i
		}
	}
	c.loose()
	var before *cyclesCounterRow
	for i := range c.rows {
		r := &c.rows[i]
		switch {
		case !r.kept:
			c.misplaced(r)
			continue
		case before == nil:
			c.first(*r)
		case r.number > before.number:
			c.step(*before, *r)
		default:
			c.again(*before, *r)
		}
		before = r
	}
}

// loose counts the rows whose number is out of place, and no other's, among those that
// may have had any.
func (c *cyclesCounter) loose() {
	for i := range c.rows {
		if r := &c.rows[i]; !r.kept && c.twin(r) == nil {
			c.blanks, c.astray = append(c.blanks, r.on), append(c.astray, r.number)
		}
	}
	slices.Sort(c.blanks)
	slices.Sort(c.astray)
	c.astray = slices.Compact(c.astray)
}

// first judges the first number of all, by the number that the records begin with.
func (c *cyclesCounter) first(r cyclesCounterRow) {
	s, _ := c.x.P.Sterilizer(c.subject.ID)
	if s == nil || !s.CounterStart.Written || r.number <= int(s.CounterStart.Value) || !r.load {
		c.x.Met(c.subject)
		return
	}
	begin := cyclesCounterRow{number: int(s.CounterStart.Value) - 1, on: r.on, here: audit.At(&s.Row, "counter_start")}
	if c.leaps(begin, r) { // the number is of a day before the records
		c.x.Met(c.subject)
		return
	}
	c.step(begin, r)
}
