package trace

import (
	"fmt"
	"math"
)

// row is one reading.
type row struct {
	line             int
	sec              float64 // since 1970, of the day, or elapsed
	daily            bool    // without its day
	coldest, warmest float64 // °C
	pressure         float64 // kPa, NaN where none
	phase            []byte  // nil: as before, or none
	written          [24]byte
	shownLen         int
}

func (w *row) text() string { return text(w.written[:w.shownLen]) }

// timeline turns the times of a clock into seconds from the first reading.
//
// A step back, or one too long, may be one stray time or the clock itself put on or
// back; only the next reading tells. So such a reading is held for one line.
type timeline struct {
	any      bool
	first    float64 // the first time
	zero     float64 // what is taken off a time to make it seconds from the first
	last     float64 // the last time used
	day      float64 // midnight before it, in the same count
	coldest  float64 // of the last
	pressure float64
	held     bool
	hold     row
	holdText [64]byte
	again    bool // headings were repeated before this reading
	pace
}

// unroll puts a time of day on the day on which it comes next to another time.
func (t *timeline) unroll(w *row, by float64) float64 {
	if !w.daily {
		return w.sec
	}
	at := math.Floor(by/86400)*86400 + w.sec
	if at < by-43200 {
		at += 86400
	}
	return at
}

// take uses a reading, or holds it. Everything but a step of the usual kind comes here.
func (r *reader) take(w *row) {
	t := &r.timeline
	if t.held {
		r.settleHeld(w)
		if r.state != inTable {
			r.t.Aside++
			return
		}
	}
	if !t.any {
		t.any, t.first, t.zero = true, w.sec, w.sec
		r.useRow(w, w.sec)
		return
	}
	at := t.unroll(w, t.last)
	step := at - t.last
	if t.again {
		t.again = false
		if step < 0 || step > r.gap {
			r.anew(w.line)
			r.t.Aside++
			return
		}
	}
	switch {
	case step == 0:
		if r.resolution == 0 {
			r.problems.say("repeated", w.line, fmt.Sprintf("%s has the same time as the reading before, %s; both are kept.", atLine(w.line), w.text()),
				"A clock that was put back by a moment, or a line exported twice, would explain it.")
		}
		r.useRow(w, at)
	case step < 0 || step > r.far:
		r.holdBack(w)
	case step <= r.near:
		r.see(step)
		r.useRow(w, at)
	default:
		r.useRow(w, at)
	}
}

// useRow hands a reading on, and keeps what the next is compared with.
func (r *reader) useRow(w *row, at float64) {
	r.day = math.Floor(at/86400) * 86400
	r.use(at, w.coldest, w.warmest, w.pressure, w.phase)
}

// use hands a reading on: its time in the count of the timeline.
func (r *reader) use(at, coldest, warmest, pressure float64, phase []byte) {
	t := &r.timeline
	t.last, t.coldest, t.pressure = at, coldest, pressure
	r.t.Readings++
	x := at - t.zero
	r.series.Add(x, coldest, warmest, pressure)
	r.sketch.add(coldest, pressure)
	if r.thin != nil {
		r.thin.add(x, coldest, warmest, pressure)
	}
	if r.table.phase >= 0 {
		if !r.phases.add(x, phase) {
			r.problems.say("phases", r.line, fmt.Sprintf("%s begins phase %d; only the first %d are kept.", atLine(r.line), mostPhases+1, mostPhases),
				"Nothing to do: all readings are judged. Phases that change with every line would explain it.")
		}
	}
}

// lasting tells a time span in words.
func lasting(s float64) string {
	switch {
	case s < 120:
		return fmt.Sprintf("%.4g s", s)
	case s < 7200:
		if rest := math.Mod(math.Round(s), 60); rest > 0 {
			return fmt.Sprintf("%.0f min %.0f s", math.Floor(math.Round(s)/60), rest)
		}
		return fmt.Sprintf("%.0f min", s/60)
	case s < 2*86400:
		return fmt.Sprintf("%.0f h %.0f min", math.Floor(math.Round(s/60)/60), math.Mod(math.Round(s/60), 60))
	}
	return fmt.Sprintf("%.0f days", s/86400)
}
