package trace

import (
	"math"
	"slices"

	"footing/internal/quantity"
)

// form is how times are written in this file, decided once from its first lines.
//
// A heading's words come first (elapsed, seconds, clock, mm:ss). Without them: plain
// numbers are elapsed seconds; a date, or am or pm, makes a time of day. Three parts
// are elapsed where they begin at 0:00:00 and no line above has a date (or one has
// another start time), or go past 23; else a time of day. Two parts are minutes and
// seconds where the first goes past 23, or where they begin in the first minute of
// 0:00 and do not stand still; else hours and minutes.
type form struct {
	clock  Clock
	order  quantity.DateOrder
	each   float64 // s in one of a plain number
	two    float64 // what a time in two parts is multiplied by: 1 for minutes and seconds, 60 for hours and minutes
	guess  bool    // two parts, and nothing but their course told which
	column bool    // the date has its own column
	plain  bool    // times are plain numbers
}

// sampled is the time of one line of the sample.
type sampled struct {
	stamp
	text string       // as written
	day  quantity.Day // of the date's own column
}

// decideClock settles how times are written.
func decideClock(h *heading, list []sampled, f *facts, o quantity.DateOrder) form {
	w := form{clock: h.clock, order: o, each: 1, two: h.two}
	switch {
	case h.milli:
		w.each = 0.001
	case h.each != 0:
		w.each = quantity.Exact(1, h.each).In(quantity.Second)
	}
	numbers, dated, past, half, broken, still, steps := 0, false, false, false, false, 0, make([]float64, 0, len(list))
	for i, s := range list {
		if s.parts == 1 {
			numbers++
		}
		dated = dated || s.dated
		w.column = w.column || s.day != 0
		past, half, broken = past || s.first > 23, half || s.half, broken || s.broken
		if i > 0 {
			step := s.seconds - list[i-1].seconds
			steps = append(steps, step)
			if step == 0 {
				still++
			}
		}
	}
	start := list[0]
	begins := start.seconds >= 0 && start.seconds <= max(0, usual(steps)) && start.first == 0
	parts := start.parts
	switch {
	case numbers*2 > len(list):
		w.clock, w.column, w.plain = Elapsed, false, true
		return w
	case dated || w.column:
		w.clock = Dated
	case half || w.clock == Dated:
		w.clock = OfDay
	}
	if parts == 2 && w.two == 0 {
		switch {
		case dated || w.column || half || w.clock == OfDay:
			w.two = 60
		case past || broken:
			w.two = 1
		case h.each == quantity.Hour:
			w.two = 60
		case h.each == quantity.Second, h.each == quantity.Minute:
			w.two = 1
		default:
			w.guess = true
			w.two = 60
			if start.first == 0 && still*4 < len(list) && clockOf(f.start) != start.seconds*60 {
				w.two = 1
			}
		}
	}
	if w.two == 0 {
		w.two = 60
	}
	if w.clock == 0 || w.clock == Elapsed && dated {
		w.clock = decideKind(parts, w.two, past, begins, start, f)
	}
	return w
}

// decideKind settles elapsed or time of day where no word and no date does.
func decideKind(parts int, two float64, past, begins bool, start sampled, f *facts) Clock {
	switch {
	case start.dated:
		return Dated
	case parts == 2 && two == 1, past:
		return Elapsed
	case begins && (f.date == "" && f.start == "" || clockOf(f.start) >= 0 && clockOf(f.start) != start.seconds):
		return Elapsed
	}
	return OfDay
}

// clockOf is the time of day in a header's start, in seconds; -1 for none.
func clockOf(s string) float64 {
	if s == "" {
		return -1
	}
	t, ok := readStamp([]byte(s), quantity.DMY)
	switch {
	case !ok || t.parts == 1:
		return -1
	case t.dated:
		return math.Mod(t.seconds, 86400)
	case t.parts == 2:
		return t.seconds * 60
	}
	return t.seconds
}

// usual is the middle one of the steps above nought; 0 for none.
func usual(steps []float64) float64 {
	up := make([]float64, 0, len(steps))
	for _, s := range steps {
		if s > 0 {
			up = append(up, s)
		}
	}
	if len(up) == 0 {
		return 0
	}
	slices.Sort(up)
	return up[len(up)/2]
}

// seconds turns a stamp into seconds: since 1970, of the day, or elapsed. daily says
// that the day is not written with it.
func (w *form) seconds(s stamp, day quantity.Day) (at float64, daily, ok bool) {
	at = s.seconds
	switch {
	case s.parts == 1:
		return at * w.each, false, w.clock == Elapsed
	case s.parts == 2 && !s.dated:
		at *= w.two
	}
	switch w.clock {
	case Elapsed:
		return at, false, true
	case OfDay:
		if s.dated {
			at = math.Mod(at, 86400)
		}
		return at, true, at < 86400
	}
	if s.dated {
		return at, false, true
	}
	if at >= 86400 {
		return at, true, false
	}
	if day != 0 {
		return at + float64(day-unixEpoch)*86400, false, true
	}
	return at, true, true
}

const unixEpoch quantity.Day = 719163 // 1970-01-01
