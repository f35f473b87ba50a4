package checks

import (
	"fmt"
	"sort"

	"footing/internal/audit"
	"footing/internal/practice"
)

// worked is a service, repair or validation between two cycles, at which numbers may
// have been run up or set back; left is work between them that wrote a number which it
// left on the counter. Nil where none is written. The days of both cycles count.
func (c *cyclesCounter) worked(a, b cyclesCounterRow) *practice.Upkeep {
	return c.between(a, b, func(u *practice.Upkeep) bool {
		return u.Task == "service" || u.Task == "repair" || u.Task == "validation" || u.CounterAfter.Written
	})
}

func (c *cyclesCounter) left(a, b cyclesCounterRow) *practice.Upkeep {
	return c.between(a, b, func(u *practice.Upkeep) bool { return u.CounterAfter.Written && int(u.CounterAfter.Value) < b.number })
}

func (c *cyclesCounter) upkept(a, b cyclesCounterRow) bool {
	return c.worked(a, b) != nil || c.left(a, b) != nil
}

func (c *cyclesCounter) between(a, b cyclesCounterRow, is func(*practice.Upkeep) bool) (found *practice.Upkeep) {
	first := sort.Search(len(c.upkeep), func(i int) bool { return c.upkeep[i].DoneOn >= a.on })
	for _, u := range c.upkeep[first:] {
		if u.DoneOn > b.on {
			break
		}
		if is(u) {
			found = u
		}
	}
	return found
}

// step judges the numbers after one cycle's, or after another from which the count went
// on, and before the next.
func (c *cyclesCounter) step(a, b cyclesCounterRow) {
	if u := c.left(a, b); u != nil && int(u.CounterAfter.Value) >= a.number {
		a = cyclesCounterRow{number: int(u.CounterAfter.Value), on: u.DoneOn, here: audit.At(&u.Row, "counter_after")}
	}
	if c.leaps(a, b) {
		c.leap(a, b)
		return
	}
	h := cyclesCounterHole{a: a, b: b, stretches: c.absent(a.number, b.number)}
	blank := c.unnumbered(a.on, b.on)
	sure := h.longest() - blank
	if sure <= 0 {
		c.x.Met(c.subject)
		return
	}
	switch {
	case a.here.Field != "counter_after" && c.worked(a, b) != nil:
		h.why = "numbers are missing next to a service, repair or validation, at which cycles are run that no log has"
	case !c.tested:
		h.why = "numbers are missing, and no test cycle with its number is typed: test or aborted cycles, or a page not typed, would explain it"
	case !c.x.P.Whole("loads", a.on, b.on) || !c.x.P.Whole("tests", a.on, b.on):
		h.why = "numbers are missing where not every load and test is said to be typed, so they are not judged"
	}
	c.holes = append(c.holes, h)
	if h.why != "" {
		c.x.Unclear(c.subject, h.why, audit.Field{Kind: "tests", Name: "counter"})
		return
	}
	f := audit.Fault{Grade: audit.Minor, Matter: "hole", Weight: float64(sure), Day: b.on, Criterion: c.runIs, Evidence: h.evidence(),
		Found:  cyclesCounterList(h.stretches, c.run) + " " + h.when(),
		Needed: "each cycle is written, tests and broken-off cycles too; such a cycle that nobody wrote down, or a number mistyped, would explain it",
	}
	if blank > 0 {
		f.Found += fmt.Sprintf(", of which %d may be rows written there without a number, or with one out of place", blank)
	}
	if float64(sure) > c.run {
		f.Grade, f.Matter = audit.Major, "run"
	}
	c.x.NotMet(c.subject, f)
}

// leaps reports whether more numbers lie between than cycles could have run.
func (c *cyclesCounter) leaps(a, b cyclesCounterRow) bool {
	return float64(b.number-a.number-1) > c.day*float64(b.on-a.on+1)
}

// leap tells of a count that goes on far higher.
func (c *cyclesCounter) leap(a, b cyclesCounterRow) {
	c.x.Unclear(c.subject, "the count leaps by more than cycles could run in the time between, so a number is mistyped or the counter was changed", audit.Field{Kind: "upkeep", Name: "counter_after"})
	c.x.Remark(c.subject, audit.Fault{Matter: "leap", Day: b.on, Evidence: cyclesCounterHole{a: a, b: b}.evidence(),
		Found:  fmt.Sprintf("the count goes from %d to %d %s", a.number, b.number, cyclesCounterHole{a: a, b: b}.when()),
		Needed: "more than cycles could run in that time; a number mistyped, or a counter that was changed, would explain it",
		Steps: []string{
			"Compare the two rows with the printouts or the display's history, and write the correction of a mistyped number as a new row with today's date.",
			"If the counter was changed at a service or repair, write its number after the work into upkeep (counter_after).",
		}})
}
