package chain

import (
	"cmp"
	"math"
	"slices"

	"footing/internal/practice"
	"footing/internal/quantity"
)

// opening is the beginning of a window: what the evidence before an event shows. All
// loads of days before day are shown good; of the day itself those that were surely
// over, or that the evidence itself is.
type opening struct {
	day        quantity.Day
	own, other int64 // seconds: a load that began before is shown, by the same clock and by another
	ran        []*practice.Load
	best       *witness
}

// add takes in one more piece of evidence.
func (o *opening) add(w *witness) {
	if o.best == nil || w.day > o.day {
		*o = opening{day: w.day, own: math.MinInt64, other: math.MinInt64}
	}
	if w.day < o.day {
		return
	}
	if o.best == nil || rank(w, o.best) > 0 {
		o.best = w
	}
	if w.from.at.Written() && !w.first {
		if w.from.own {
			o.own = max(o.own, w.from.at.First())
		} else {
			o.other = max(o.other, w.from.at.First())
		}
	}
	o.ran = append(o.ran[:len(o.ran):len(o.ran)], w.ran...)
}

// rank compares evidence of one day: later is better, then the stronger kind.
func rank(a, b *witness) int {
	return cmp.Or(cmp.Compare(instant(a), instant(b)), cmp.Compare(a.proof.Kind, b.proof.Kind))
}

func instant(w *witness) int64 {
	if w.from.at.Written() && !w.first {
		return w.from.at.First()
	}
	return math.MinInt64
}

// and is what two openings show together.
func (o opening) and(p opening) opening {
	switch {
	case p.best == nil || o.best != nil && o.day > p.day:
		return o
	case o.best == nil || p.day > o.day:
		return p
	}
	if rank(p.best, o.best) > 0 {
		o.best = p.best
	}
	o.own, o.other = max(o.own, p.own), max(o.other, p.other)
	o.ran = slices.Concat(o.ran, p.ran)
	return o
}

// shows reports whether the evidence shows that a load was good.
func (h *History) shows(o *opening, l *practice.Load) bool {
	if o.best == nil {
		return false
	}
	if day := l.Started.Day(); day != o.day {
		return day < o.day
	}
	own := !h.unplaced[l] && l.Started.Last() < o.own
	return own || l.Started.Last()+h.terms.Clock.seconds() < max(o.own, o.other) || slices.Contains(o.ran, l)
}

// closing is the end of a window: what the evidence after an event shows.
type closing struct {
	day        quantity.Day
	own, other int64 // seconds: a load that began after is out, by the same clock and by another
	ran        []*practice.Load
	best       *witness
}

func (c *closing) add(w *witness) {
	c.ran = append(c.ran, w.ran...)
	day := w.until.at.Day()
	if c.best == nil || day < c.day {
		c.day, c.own, c.other, c.best = day, math.MaxInt64, math.MaxInt64, nil
	}
	if day > c.day {
		return
	}
	if c.best == nil || w.until.at.First() < c.best.until.at.First() {
		c.best = w
	}
	if w.until.own {
		c.own = min(c.own, w.until.at.Last())
	} else {
		c.other = min(c.other, w.until.at.Last())
	}
}

// clears reports whether the evidence shows that a load was good again.
func (h *History) clears(c *closing, l *practice.Load) bool {
	if c.best == nil {
		return false
	}
	if day := l.Started.Day(); day != c.day {
		return day > c.day || slices.Contains(c.ran, l)
	}
	own := !h.unplaced[l] && c.own < l.Started.First()
	return own || min(c.own, c.other) < l.Started.First()-h.terms.Clock.seconds() || slices.Contains(c.ran, l)
}
