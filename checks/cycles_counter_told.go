package checks

import (
	"fmt"
	"strings"

	"footing/internal/audit"
	"footing/internal/quantity"
)

// misplaced tells of a row whose number does not lie between those before and after it.
func (c *cyclesCounter) misplaced(r *cyclesCounterRow) {
	same := c.twin(r)
	if same != nil && (!same.load || !r.load || same.on == r.on) {
		c.x.Met(c.subject) // a test in a load, or two rows of one cycle
		return
	}
	f := audit.Fault{Grade: audit.Minor, Matter: "back", Day: r.on, Evidence: []audit.Evidence{r.here, r.dated()},
		Found:  fmt.Sprintf("cycle number %d on %s lies out of its place in the series", r.number, r.on.Words()),
		Needed: "numbers rise from one cycle to the next; a number or a day mistyped, or a row of another sterilizer, would explain it"}
	if same != nil {
		if r.on < same.on {
			r, same = same, r
		}
		f.Matter, f.Found = "repeat", fmt.Sprintf("cycle number %d stands on %s and on %s", r.number, same.on.Words(), r.on.Words())
		f.Needed = "each cycle has its own number; a number or a day mistyped, or a row typed twice, would explain it"
		f.Day, f.Evidence = r.on, []audit.Evidence{same.here, r.noted("the same number")}
	}
	c.x.NotMet(c.subject, f)
}

// twin is the row with the same number that kept its place, the nearest in time; nil
// where none has it.
func (c *cyclesCounter) twin(r *cyclesCounterRow) (found *cyclesCounterRow) {
	for _, o := range c.byNumber()[r.number] {
		if o.kept && (found == nil || cyclesCounterFar(o.on, r.on) < cyclesCounterFar(found.on, r.on)) {
			found = o
		}
	}
	return found
}

func cyclesCounterFar(a, b quantity.Day) quantity.Day { return max(a-b, b-a) }

// again tells of a count that began anew, lower.
func (c *cyclesCounter) again(a, b cyclesCounterRow) {
	f := audit.Fault{Matter: "again", Day: b.on, Found: fmt.Sprintf("after cycle number %d the count goes on from %d on %s", a.number, b.number, b.on.Words()),
		Needed:   "a counter set back or changed, or a numbering that begins anew each month or year, would explain it",
		Evidence: []audit.Evidence{a.noted("the number before"), b.noted("the number after")},
		Steps: []string{
			"Look into the service reports of that time: if the counter was set back or changed, write its number after the work into upkeep (counter_after).",
			"If the numbers are your own and begin anew each month or year, nothing is wrong: write so into the note of the sterilizer.",
		}}
	if u := c.left(a, b); u != nil {
		c.step(cyclesCounterRow{number: int(u.CounterAfter.Value), on: u.DoneOn, here: audit.At(&u.Row, "counter_after")}, b)
		return
	}
	if u := c.worked(a, b); u != nil {
		f.Matter, f.Needed = "again at work", "the "+u.Task+" of "+u.DoneOn.Words()+" lies between, at which counters are set back"
		f.Evidence = append(f.Evidence, audit.At(&u.Row, "task", "between them"))
	}
	c.x.Met(c.subject)
	c.x.Remark(c.subject, f)
}

// tell shows which numbers are missing, and makes one observation of those that are
// not judged.
func (c *cyclesCounter) tell() {
	var rows [][]string
	f := audit.Fault{Matter: "open", Needed: "test or aborted cycles, a page not typed, cycles run at a service or a number mistyped would explain it, so it is not judged"}
	var open [][]int
	for _, h := range c.holes {
		for _, s := range h.stretches {
			rows = append(rows, []string{cyclesCounterRange(s), h.a.on.Words(), h.b.on.Words()})
		}
		if h.why != "" {
			if open == nil {
				f.Day = h.b.on
			}
			open, f.Evidence = append(open, h.stretches...), append(f.Evidence, h.evidence()...)
		}
	}
	if len(rows) > 0 {
		c.x.Show("Cycle numbers of "+c.subject.ID+" that are not in the log", []string{"numbers", "after", "before"}, rows)
	}
	if open != nil {
		f.Found = cyclesCounterList(open, c.run)
		c.x.Remark(c.subject, f)
	}
}

// cyclesCounterHole is one or more stretches of numbers that are nowhere, between two cycles.
type cyclesCounterHole struct {
	a, b      cyclesCounterRow
	stretches [][]int // the first and the last number of each
	why       string  // why it is not judged
}

func (h cyclesCounterHole) evidence() (list []audit.Evidence) {
	if h.a.here.Row != nil {
		list = append(list, h.a.noted("the number before"))
	}
	return append(list, h.b.noted("the number after"))
}

// when says between which days it lies.
func (h cyclesCounterHole) when() string {
	switch {
	case h.a.here.Field == "counter_start":
		return "before the first load, of " + h.b.on.Words()
	case h.a.on == h.b.on:
		return "on " + h.b.on.Words()
	}
	return "between " + h.a.on.Words() + " and " + h.b.on.Words()
}

// longest is how many numbers its longest stretch has.
func (h cyclesCounterHole) longest() (n int) {
	for _, s := range h.stretches {
		n = max(n, s[1]-s[0]+1)
	}
	return n
}

// cyclesCounterList names stretches of numbers: "cycle numbers 398 to 401 and 410 are
// not in the log".
func cyclesCounterList(stretches [][]int, most float64) string {
	first := stretches[0]
	switch {
	case len(stretches) == 1 && first[0] == first[1]:
		return fmt.Sprintf("cycle number %d is not in the log", first[0])
	case len(stretches) == 1:
		return "cycle numbers " + cyclesCounterRange(first) + " are not in the log"
	}
	var parts []string
	for i, s := range stretches {
		if float64(i) >= most && i+1 < len(stretches) {
			return fmt.Sprintf("cycle numbers %s and %d more stretches are not in the log", strings.Join(parts, ", "), len(stretches)-i)
		}
		parts = append(parts, cyclesCounterRange(s))
	}
	last := len(parts) - 1
	return "cycle numbers " + strings.Join(parts[:last], ", ") + " and " + parts[last] + " are not in the log"
}

func cyclesCounterRange(s []int) string {
	if s[0] == s[1] {
		return fmt.Sprint(s[0])
	}
	return fmt.Sprintf("%d to %d", s[0], s[1])
}
