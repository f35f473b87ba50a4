package trace

import (
	"fmt"
	"math"
)

// By what readings that can be read are still none that can be judged. Our judgement.
const (
	mild      = 10.0 // °C: beside so much, a sensor at just nought is broken
	fallen    = 60.0 // °C: so is one that showed so much in the reading before
	room      = 45.0 // °C: no warmer than this gets a sensor outside the chamber
	hot       = 90.0 // °C: so hot gets one inside, in a cycle of any kind
	pastLeast = 5    // lines with nothing but what no sensor shows
	pastWidth = 50.0 // K: a broken wire shows one code; a scale that is not °C goes over many
	mostTurns = 3    // a clock is seldom set more often in one cycle
)

// misleading is what is kept of a file to tell that its readings would mislead.
type misleading struct {
	cool       int // the column of a sensor that was not warm while another was hot, -1 for none
	past       span
	pastCount  int
	pastColumn int
}

type span struct{ least, most float64 }

// beyond counts a line that had only what no sensor shows.
func (m *misleading) beyond(column int, celsius float64) {
	if m.pastCount++; m.pastCount == 1 {
		m.past = span{celsius, celsius}
	}
	m.pastColumn = column
	m.past.least, m.past.most = math.Min(m.past.least, celsius), math.Max(m.past.most, celsius)
}

// misled says why nothing is judged of readings that could be read.
func (r *reader) misled() {
	t, m := r.t, &r.misleading
	switch {
	case r.series == nil:
	case m.pastCount >= pastLeast && m.past.most-m.past.least >= pastWidth:
		r.unusable(fmt.Sprintf("Readings in %s go up to %s °C in many steps, which no sensor of a sterilizer shows.", r.table.column(m.pastColumn), grouped(int(math.Min(m.past.most, 1e9)))),
			"Export degrees with their decimals, and look at the unit in the heading: tenths of a degree, or another unit, would explain this.")
	case r.problems.count("order") > mostTurns || r.problems.count("stray") > t.Readings:
		r.unusable(fmt.Sprintf("The lines are in no order of time: the clock goes back %s times while the temperature is another.", grouped(r.problems.count("order")+r.problems.count("stray"))),
			"Sort them by time, the oldest first, and look whether the file holds one cycle only.")
	case m.cool >= 0 && t.Cycle.Highest <= room && t.Cycle.Warmest >= hot:
		r.unusable(fmt.Sprintf("The sensor in %s, or another, is never above %.1f °C while the warmest reaches %.1f °C, and the coldest is what is judged.", r.table.column(m.cool), t.Cycle.Highest, t.Cycle.Warmest),
			"Name only the sensors in the chamber at temperature in traces/layout.yaml: a spare one that lies outside it, or a broken one, would explain this.")
	}
}
