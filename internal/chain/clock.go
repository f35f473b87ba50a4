package chain

import "footing/internal/quantity"

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
// Of two days the earlier one came before, whatever the clocks say: people know what
// day it is, and a time that is left out must not make an order surer.
func (c Clock) Before(a, b quantity.Moment) quantity.Tri {
	if !a.Written() || !b.Written() {
		return quantity.Unsure
	}
	switch off := c.seconds(); {
	case a.Day() < b.Day() || a.Last()+off < b.First():
		return quantity.Yes
	case a.Day() > b.Day() || a.First() > b.Last()+off:
		return quantity.No
	}
	return quantity.Unsure
}

// Span is a half-open stretch of time: from its first moment up to, and without,
// its end. An end not written leaves it open.
type Span struct{ From, Until quantity.Moment }
