package steam

import "math"

// bands counts for how long a value lay between neighbouring limits.
type bands struct {
	limits    []float64 // rising; at a limit counts as above it
	seconds   []float64 // below the first limit, between it and the second, …: one more than limits
	in        int       // the band of the value before
	low, high float64   // its ends
}

func newBands(limits []float64) bands {
	b := bands{limits: limits, seconds: make([]float64, len(limits)+1)}
	b.enter(0)
	return b
}

// add counts a straight line from one value to another. Both are finite.
func (b *bands) add(from, to, seconds float64) {
	if from >= b.low && from < b.high && to >= b.low && to < b.high {
		b.seconds[b.in] += seconds
		return
	}
	b.split(from, to, seconds)
}

func (b *bands) split(from, to, seconds float64) {
	b.find(from)
	per, left, at := seconds/(to-from), seconds, from
	reach := func(limit float64) {
		part := min(left, (limit-at)*per)
		b.seconds[b.in] += part
		left, at = left-part, limit
	}
	for to >= b.high {
		reach(b.high)
		b.enter(b.in + 1)
	}
	for to < b.low {
		reach(b.low)
		b.enter(b.in - 1)
	}
	b.seconds[b.in] += left
}

func (b *bands) find(v float64) {
	for v >= b.high {
		b.enter(b.in + 1)
	}
	for v < b.low {
		b.enter(b.in - 1)
	}
}

func (b *bands) enter(i int) {
	b.in, b.low, b.high = i, math.Inf(-1), math.Inf(1)
	if i > 0 {
		b.low = b.limits[i-1]
	}
	if i < len(b.limits) {
		b.high = b.limits[i]
	}
}

// above and below are the seconds on either side of a limit, by its place.
func (b *bands) above(i int) float64 { return sum(b.seconds[i+1:]) }
func (b *bands) below(i int) float64 { return sum(b.seconds[:i+1]) }

func sum(list []float64) (s float64) {
	for _, v := range list {
		s += v
	}
	return s
}
