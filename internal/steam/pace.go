package steam

import (
	"math"
	"slices"
)

// When a time between readings is a gap: longer than so many times the usual one, and
// than so many seconds. Our judgement.
const (
	gapTimes = 5.0
	gapLeast = 10.0
	oddOnes  = 5 // intervals of another length in a row that make a new usual one
	tried    = 3 // long ones in a row that show that a logger has become slower
)

// pace is the usual time between readings.
type pace struct {
	usual float64 // s; 0 while not known
	gap   float64 // s: what is longer may be a gap
	short float64 // s: between these it is about the usual one
	long  float64
	odd   int // intervals of another length in a row
	count int // intervals since the usual one was set

	longest      float64 // the usual one that held for most intervals
	longestCount int
}

// unknown is the pace before any reading.
func (p *pace) unknown() { p.gap, p.short = math.Inf(1), math.Inf(1) }

// learn takes the usual interval from the first ones.
func (p *pace) learn(first []reading) {
	all := make([]float64, 0, len(first))
	for i := 1; i < len(first); i++ {
		if d := first[i].at - first[i-1].at; d > 0 {
			all = append(all, d)
		}
	}
	slices.Sort(all)
	if len(all) > 0 {
		p.set(all[(len(all)-1)/2])
	}
}

func (p *pace) set(usual float64) {
	p.keep()
	p.usual, p.gap, p.odd, p.count = usual, max(gapTimes*usual, gapLeast)+grain, 0, 0
	p.short, p.long = usual/2, usual*2
}

// keep remembers the usual one if it held longer than any before.
func (p *pace) keep() {
	if p.longest == 0 || p.count > p.longestCount {
		p.longest, p.longestCount = p.usual, p.count
	}
}

// see takes an interval that is not a gap.
func (p *pace) see(d float64) {
	p.count++
	switch {
	case d == 0:
	case p.usual == 0:
		p.set(d)
	case d > p.short && d < p.long:
		p.odd = 0
	default:
		if p.odd++; p.odd == oddOnes {
			p.set(d)
		}
	}
}
