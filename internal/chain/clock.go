package chain

import (
	"footing/internal/practice"
	"footing/internal/quantity"
)

// Clock compares times that were read off different clocks: the sterilizer's, the
// wall's, a telephone's.
type Clock struct {
	Tolerance quantity.Quantity // a span; how far two of them may differ
}

// seconds is the tolerance in seconds; 0 where none is written.
func (c Clock) seconds() int64 {
	if !c.Tolerance.Written() {
		return 0
	}
	return int64(c.Tolerance.In(quantity.Second))
}

// Before says whether a came before b on another clock: Yes, if it did by more than
// the clocks may differ; No, if surely at the same time or later by more than that;
// Unsure otherwise, or where either is not written. A bare date covers its whole day.
// Where either has no clock, the earlier of two days came before: people know what day
// it is.
func (c Clock) Before(a, b quantity.Moment) quantity.Tri {
	if !a.Written() || !b.Written() {
		return quantity.Unsure
	}
	off := c.seconds()
	if !a.HasClock() || !b.HasClock() {
		off = 0
	}
	switch {
	case a.Last()+off < b.First():
		return quantity.Yes
	case a.First() > b.Last()+off:
		return quantity.No
	}
	return quantity.Unsure
}

// Span is a half-open stretch of time: from its first moment up to, and without,
// its end. An end not written leaves it open.
type Span struct{ From, Until quantity.Moment }

// Overlap says whether two spans share time: Yes, if by more than the clocks may differ.
func (c Clock) Overlap(a, b Span) quantity.Tri {
	if !a.From.Written() || !b.From.Written() {
		return quantity.Unsure
	}
	before := func(x, y Span) quantity.Tri { // whether x is over by the time that y begins
		if !x.Until.Written() {
			return quantity.Unsure
		}
		switch off := c.seconds(); {
		case x.Until.Last() <= y.From.First():
			return quantity.Yes
		case x.Until.First() > y.From.Last()+off:
			return quantity.No
		}
		return quantity.Unsure
	}
	ab, ba := before(a, b), before(b, a)
	switch {
	case ab == quantity.Yes || ba == quantity.Yes:
		return quantity.No
	case ab == quantity.No && ba == quantity.No:
		return quantity.Yes
	}
	return quantity.Unsure
}

// Cycle is the time that a load took, as written; its end is open where none is.
func Cycle(l *practice.Load) Span { return Span{l.Started, l.Ended} }
