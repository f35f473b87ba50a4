package checks

import (
	"fmt"
	"strings"

	"footing/internal/practice"
	"footing/internal/quantity"
	"footing/internal/steam"
)

// tracesLogLow is the least that the temperature in the log may have been before it
// was rounded.
func tracesLogLow(l *practice.Load) quantity.Quantity {
	return quantity.Exact(l.Temperature.Low(quantity.Celsius), quantity.Celsius)
}

// set is the hold that the log speaks of, and its temperature in words: that of the
// program named, or the one in the log where it is cooler. Nil where it cannot be told.
func (c *tracesLogCase) set() (h *steam.Hold, at string) {
	g, l := c.t.Program, c.l
	switch {
	case g != nil && (!l.Temperature.Written() || g.Temperature.In(quantity.Celsius) <= l.Temperature.In(quantity.Celsius)):
		return tracesHold(c.t, g.Temperature.In(quantity.Celsius)), g.Temperature.String()
	case l.Temperature.Written():
		low := tracesLogLow(l).In(quantity.Celsius)
		return tracesHold(c.t, low), fmt.Sprintf("%.5g °C", low)
	}
	return nil, ""
}

// values compares what log and file say of the cycle itself.
func (c *tracesLogCase) values() {
	if h, _ := c.set(); h != nil && h.Most == 0 && c.t.By == "start" {
		c.cold = true
		return
	}
	c.hold()
	c.pressure()
}

// hold compares the hold and the temperature in the log with those in the file.
func (c *tracesLogCase) hold() {
	h, at := c.set()
	if h == nil || c.partial(h) {
		return
	}
	l := c.l
	if !l.Exposure.Written() {
		c.warm()
		return
	}
	c.compared = true
	seen := tracesBetween(h.Least, h.Most) + " at " + at
	var as *steam.Hold // as hot as the log says, which may be hotter than the program
	if l.Temperature.Written() {
		as = tracesHold(c.t, tracesLogLow(l).In(quantity.Celsius))
	}
	switch {
	case h.Most < l.Exposure.Low(quantity.Second):
		c.differ("hold", "exposure", "the log has a hold of "+l.Exposure.String()+"; by the file "+tracesLogHeld(c.t, h, at),
			tracesLogLess, seen, cyclesSeconds(l.Exposure)-h.Most)
	case as != nil && as.Most < l.Exposure.Low(quantity.Second) && tracesLogLow(l).In(quantity.Celsius)-h.Lowest > tracesError(c.Examination, c.t):
		c.differ("temperature", "temperature", fmt.Sprintf("the log has %s as the lowest of the hold, and the file shows %s in it", l.Temperature, tracesLogWarmth(h)),
			tracesLogLess, tracesLogWarmth(h)+" in the hold", l.Temperature.In(quantity.Celsius)-h.Lowest)
	default:
		c.more(h, at, seen)
	}
}

// tracesLogHeld says as a clause how long the load was held.
func tracesLogHeld(t *practice.Traced, h *steam.Hold, at string) string {
	held := tracesHeld(t, h, at)
	if strings.HasPrefix(held, "held") {
		return "it was " + held
	}
	return held
}

// tracesLogWarmth writes the temperatures of a hold.
func tracesLogWarmth(h *steam.Hold) string {
	return tracesLogFromTo(fmt.Sprintf("%.1f", h.Lowest), fmt.Sprintf("%.1f", h.Highest)) + " °C"
}

func tracesLogFromTo(low, high string) string {
	if low == high {
		return low
	}
	return low + " to " + high
}

const tracesLogLess = "a value written from habit or misread, a sensor that is off, or the file of another cycle would explain it"

// partial reports whether the file may not have the whole of the hold, or not that of
// the chamber.
func (c *tracesLogCase) partial(h *steam.Hold) bool {
	if tracesCut(c.t, h) || c.t.Cycle.LastTemperature == c.t.Cycle.Highest {
		return true
	}
	return !h.Reached && tracesDisagree(c.Examination, c.t, h.Level)
}

// warm compares a temperature that stands in the log without a time.
func (c *tracesLogCase) warm() {
	l := c.l
	if !l.Temperature.Written() {
		return
	}
	c.compared = true
	if low := l.Temperature.Low(quantity.Celsius); low > c.t.Cycle.Highest+tracesError(c.Examination, c.t) {
		c.differ("temperature", "temperature", fmt.Sprintf("the log has %s, and the hottest reading%s of the file is %.1f °C", l.Temperature, tracesColdest(c.t), c.t.Cycle.Highest),
			tracesLogLess, fmt.Sprintf("up to %.1f °C", c.t.Cycle.Highest), l.Temperature.In(quantity.Celsius)-c.t.Cycle.Highest)
	}
}

// more tells of a hold that was longer in the file than in the log, where the
// log's value is not the one that the program sets.
func (c *tracesLogCase) more(h *steam.Hold, at string, seen string) {
	l, g := c.l, c.t.Program
	longer, ok := c.Criterion("traces.longer", nil)
	if g == nil || !ok || l.Exposure.In(quantity.Second) == g.Exposure.In(quantity.Second) {
		return
	}
	if by := h.Least - l.Exposure.High(quantity.Second); by > cyclesSeconds(longer.Quantity()) {
		c.remark("longer than written", "exposure", "the log has a hold of "+l.Exposure.String()+"; by the file "+tracesLogHeld(c.t, h, at),
			"a value misread or mistyped would explain it; if the file is the load's, it was held longer than the log says", seen, by,
			"Look at the printout or the display's history of the cycle: how long was it held?",
			"If the log has it wrong, write what was seen as a new row with today's date, and say so in its note.")
	}
}
