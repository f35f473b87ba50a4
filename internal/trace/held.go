package trace

import (
	"fmt"
	"math"
)

// holdBack keeps a reading until the next one.
func (r *reader) holdBack(w *row) {
	t := &r.timeline
	t.held, t.hold = true, *w
	if w.phase != nil {
		t.hold.phase = t.holdText[:copy(t.holdText[:], w.phase)]
	}
}

// settleHeld tells what a held reading was, by the next; nil at the end of the file.
func (r *reader) settleHeld(next *row) {
	t := &r.timeline
	if !t.held {
		return
	}
	t.held = false
	h := &t.hold
	at := t.unroll(h, t.last)
	step := at - t.last
	if next == nil {
		if step < 0 {
			r.stray(h)
		} else {
			r.leap(h, at, 0)
		}
		return
	}
	fromLast := t.unroll(next, t.last) - t.last
	fromHeld := t.unroll(next, at) - at
	switch {
	case fromLast >= 0 && fromLast <= r.gap && (step < 0 || fromLast < step):
		r.stray(h)
	case step > 0:
		r.leap(h, at, fromHeld)
	case fromHeld >= 0 && fromHeld <= r.gap:
		r.back(h, at)
	default:
		r.stray(h)
	}
}

// stray sets aside one reading whose time does not go with those beside it.
func (r *reader) stray(w *row) {
	r.t.Aside++
	r.problems.say("stray", w.line, fmt.Sprintf("%s has the time %s, out of order with the lines before and after it; it is set aside.", atLine(w.line), w.text()),
		"A slip of the logger's clock would explain one such line.")
}

// smooth reports whether a reading goes on from the last one as if little time had passed.
func (r *reader) smooth(w *row) bool {
	return math.Abs(w.coldest-r.coldest) <= 5 && !(math.Abs(w.pressure-r.pressure) > 30)
}

// leap is a step longer than usual: the clock put forward by an hour, a gap, or, by
// the step that follows, another pace.
func (r *reader) leap(w *row, at, next float64) {
	t := &r.timeline
	step := at - t.last
	if r.form.clock != Elapsed && math.Abs(step-3600-t.usual) <= max(5, 2*t.usual) && r.smooth(w) {
		r.problems.say("clock-forward", w.line, fmt.Sprintf("Before line %s the clock leaps forward by an hour, to %s, while the readings go on: it was put forward.", grouped(w.line), w.text()),
			"Nothing to do for the change to summer time; times here go on without the leap.")
		t.zero += step - t.usual
		r.useRow(w, at)
		return
	}
	switch {
	case step <= t.gap:
		r.see(step)
	case next >= step/2:
		r.setPace(step)
	default:
		r.problems.gap(w.line, step)
	}
	r.useRow(w, at)
}

// back is a clock that was put back for good, or a table that began anew.
func (r *reader) back(w *row, at float64) {
	t := &r.timeline
	step := t.last - at
	if r.form.clock == Elapsed && at <= t.first+t.usual && step > t.gap {
		r.anew(w.line)
		r.t.Aside++
		return
	}
	t.zero -= step + t.usual
	switch {
	case r.form.clock != Elapsed && step >= 3000 && step <= 4200 && r.smooth(w):
		r.problems.say("clock-back", w.line, fmt.Sprintf("In line %s the clock goes back by about an hour, to %s, while the readings go on: it was put back.", grouped(w.line), w.text()),
			"Nothing to do for the change to winter time; times here go on.")
	case r.form.clock != Elapsed && math.Abs(step+t.usual-43200) <= max(5, 2*t.usual) && r.smooth(w):
		r.problems.say("clock-set", w.line, fmt.Sprintf("In line %s the clock goes back by twelve hours, to %s, while the readings go on; times here go on.", grouped(w.line), w.text()),
			"A clock of twelve hours with no am or pm would explain it.")
	case r.smooth(w):
		r.problems.say("clock-set", w.line, fmt.Sprintf("In line %s the clock goes back by %s, to %s, and stays so; times here go on.", grouped(w.line), lasting(step), w.text()),
			"A clock that was set during the cycle would explain it.")
	default:
		r.problems.grave("order", w.line, fmt.Sprintf("In line %s the clock goes back by %s, to %s, and the temperature is another; times here go on.", grouped(w.line), lasting(step), w.text()),
			"Look whether the file holds two cycles, or parts in the wrong order.")
	}
	r.useRow(w, at)
}

// anew says that a second table begins, and stops judging.
func (r *reader) anew(line int) {
	r.problems.grave("second-table", line, fmt.Sprintf("In line %s the table starts anew; only what stands before is judged.", grouped(line)),
		"Put the second cycle into a file of its own.")
	r.state, r.quick.on = over, false
}
