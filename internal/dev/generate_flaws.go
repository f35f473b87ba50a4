package dev

import (
	"fmt"
	"time"
)

// flaw is what is wrong with one trace; the zero flaw is nothing.
type flaw struct {
	apart   float64       // K by which pressure is that of hotter steam, in the hold
	still   bool          // no pulses
	stuck   stretch       // the sensor shows one value
	torn    stretch       // not written any more, the line before cut short
	lost    stretch       // not written
	blank   stretch       // written without a temperature
	ahead   time.Duration // of the clock
	counter int           // shown for the true one; 0 for none
}

// stretch is seconds of a trace, from one until before another; the zero stretch is none.
type stretch struct{ from, until int }

func (s stretch) holds(second int) bool { return second >= s.from && second < s.until }

// sensor passes readings on as a sensor shows them.
func (f *flaw) sensor(c *cycle, each func(second int, celsius, kPa float64)) func(second int, celsius, kPa float64) {
	if f.stuck == (stretch{}) {
		return each
	}
	shown := 0.0
	return func(second int, celsius, kPa float64) {
		if !f.stuck.holds(second) || second == f.stuck.from {
			shown = celsius
		}
		each(second, shown, kPa)
	}
}

// shown is the counter that the trace's header and name have.
func (c *cycle) shown() int {
	if c.flaw.counter != 0 {
		return c.flaw.counter
	}
	return c.counter
}

// held is the second at which the hold begins, ventedAt that at which drying begins.
func (c *cycle) held() int     { return c.preheat + c.pulse[0] + c.pulse[1] + c.pulse[2] + c.rise }
func (c *cycle) ventedAt() int { return c.held() + len(c.plateau) + c.exhaust }

// Counters that no load has.
const (
	miscounted = 500_000
	unlogged   = 700_000
)

// flaws are the kinds, planted in turn. Each changes the trace alone, not the log:
// what the log says is what a person wrote who saw nothing of it.
var flaws = []struct {
	name  string
	plant func(m *maker, c *cycle, r row)
}{
	{"hold-short", func(m *maker, c *cycle, r row) { c.plateau = c.plateau[:120] }},
	{"hold-hot", func(m *maker, c *cycle, r row) { c.heat(5) }},
	{"air", func(m *maker, c *cycle, r row) { c.flaw.apart = 4 }},
	{"superheat", func(m *maker, c *cycle, r row) { c.flaw.apart = -4 }},
	{"no-pulses", func(m *maker, c *cycle, r row) { c.flaw.still = true }},
	{"drying-short", func(m *maker, c *cycle, r row) { c.dried = 300 }},
	{"copied", func(m *maker, c *cycle, r row) {
		*c = *newCycle(m.plan.Seed, m.sound, c.start, c.sterilizer, c.counter)
	}},
	{"stuck", func(m *maker, c *cycle, r row) { c.flaw.stuck = stretch{c.held() + 30, c.seconds()} }},
	{"torn", func(m *maker, c *cycle, r row) { c.flaw.torn = stretch{c.ventedAt() + 300, c.seconds() + 1} }},
	{"blank", func(m *maker, c *cycle, r row) { c.flaw.blank = stretch{c.ventedAt() + 60, c.ventedAt() + 100} }},
	{"gap", func(m *maker, c *cycle, r row) { c.flaw.lost = stretch{c.held() - 400, c.held() - 250} }},
	{"clock-ahead", func(m *maker, c *cycle, r row) {
		m.aheadUntil = c.start.AddDate(0, 1, 0)
		c.flaw.ahead = time.Hour
	}},
	{"miscounted", func(m *maker, c *cycle, r row) {
		c.flaw.counter = miscounted + c.counter
		delete(r, "trace")
	}},
	{"no-load", func(m *maker, c *cycle, r row) { m.traces.add(m.extra(c)) }},
	{"shifted", func(m *maker, c *cycle, r row) { c.flaw.ahead = 25 * time.Minute }},
}

// heat raises the hold by so many K.
func (c *cycle) heat(by float64) {
	for i := range c.plateau {
		c.plateau[i] += by
	}
}

// extra is a run early that morning that no log has.
func (m *maker) extra(c *cycle) *cycle {
	early := time.Date(c.start.Year(), c.start.Month(), c.start.Day(), 5, 10, 0, 0, time.UTC)
	return newCycle(m.plan.Seed, unlogged+c.counter, early, c.sterilizer, unlogged+c.counter)
}

const flawEvery = 20 // one load in so many, where there are flaws

// trace writes the data-logger file of a load, with a flaw now and then where the
// practice is not clean. Misread says that the log has the hold wrong already.
func (m *maker) trace(c *cycle, number int, r row, misread bool) {
	r["trace"] = c.name()
	switch {
	case misread:
		m.note("misread", c.name(), r)
	case m.plan.Clean:
	case c.start.Before(m.aheadUntil):
		c.flaw.ahead = time.Hour
		m.note("clock-ahead", c.name(), r)
	case m.sound > 0 && m.flaws.IntN(flawEvery) == 0:
		f := flaws[m.turn%len(flaws)]
		m.turn++
		f.plant(m, c, r)
		if f.name == "no-load" {
			m.planted = append(m.planted, Planted{Fault: f.name, Trace: m.extra(c).name()})
		} else {
			m.note(f.name, c.name(), r)
		}
	default:
		m.sound = number
	}
	m.traces.add(c)
}

func (m *maker) note(fault, name string, r row) {
	m.planted = append(m.planted, Planted{Fault: fault, Trace: name, Load: fmt.Sprint(r["id"])})
}
