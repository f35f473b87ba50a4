package checks

import (
	"fmt"
	"math"

	"footing/internal/practice"
	"footing/internal/quantity"
	"footing/internal/steam"
)

// pressure compares the pressure in the log with that in the hold, told in kelvin
// of the steam that belongs to each. The same value on every row is a set value or
// a mark on the gauge: it agrees as long as the file shows that much.
func (c *tracesLogCase) pressure() {
	h, _ := c.set()
	l := c.l
	if h == nil || !h.Reached || math.IsNaN(h.MeanPressure) || !l.Pressure.Written() || l.Pressure.Ref == quantity.Unsaid {
		return
	}
	apart, ok := tracesLogPressure(c.t, h, l.Pressure, c.air())
	if !ok {
		return
	}
	c.compared = true
	allowed := tracesError(c.Examination, c.t)
	if math.Abs(apart) <= allowed || c.habit && apart < 0 {
		return
	}
	found := fmt.Sprintf("the log has %s, and the file %s in the hold", l.Pressure, tracesLogRange(c.t, h))
	turned := l.Pressure
	turned.Ref = quantity.Gauge
	if l.Pressure.Ref == quantity.Gauge {
		turned.Ref = quantity.Absolute
	}
	if other, ok := tracesLogPressure(c.t, h, turned, c.air()); ok && math.Abs(other) <= allowed {
		c.remark("gauge or absolute", "pressure", found, "read as "+turned.Ref.String()+" pressure, the log's value would fit", tracesLogRange(c.t, h), 0,
			"Look into the maker's instructions or at the display: is the pressure gauge or absolute?", "Correct the heading of the column, or practice.units, and audit again.")
		return
	}
	c.differ("pressure", "pressure", found, "a value read at another moment or written from habit, a gauge that is off, or the file of another cycle would explain it", tracesLogRange(c.t, h), math.Abs(apart))
}

// air is the pressure of the air outside in kPa; NaN where no altitude is written.
func (c *tracesLogCase) air() float64 {
	if height, ok := c.P.AltitudeOf(c.t.Sterilizer); ok {
		if air, err := steam.Atmosphere(height.In(quantity.Metre)); err == nil {
			return air
		}
	}
	return math.NaN()
}

// tracesLogPressure is how far a pressure in the log lies from those in the hold
// beyond the rounding of both, as kelvin of saturated steam: above nought where it
// is greater than all of them, below where it is less. False where it cannot be told.
func tracesLogPressure(t *practice.Traced, h *steam.Hold, q quantity.Quantity, air float64) (apart float64, ok bool) {
	vacuum := t.Cycle.Setting.Absolute
	if !vacuum && t.PressureRef() == quantity.Unsaid {
		return 0, false
	}
	var shift, base float64
	if q.Ref == quantity.Gauge {
		shift = air
	}
	if !vacuum && t.PressureRef() == quantity.Gauge {
		base = air
		if q.Ref == quantity.Gauge && math.IsNaN(air) {
			// Both are gauge's: the air of the sea's height serves to tell kPa as kelvin.
			base, _ = steam.Atmosphere(0)
			shift = base
		}
	}
	low, high := q.Low(quantity.KPa)+shift, q.High(quantity.KPa)+shift
	least, most := h.LeastPressure-t.PressureHalf()+base, h.MostPressure+t.PressureHalf()+base
	switch {
	case low > most:
		return tracesLogSteam(most, low)
	case high < least:
		apart, ok = tracesLogSteam(high, least)
		return -apart, ok
	}
	return 0, !math.IsNaN(low + most)
}

// tracesLogSteam is how much hotter saturated steam is at the greater pressure.
func tracesLogSteam(less, more float64) (float64, bool) {
	cool, errCool := steam.SaturationTemperature(less)
	hot, errHot := steam.SaturationTemperature(more)
	return hot - cool, errCool == nil && errHot == nil
}

// tracesLogRange writes the pressures of a hold.
func tracesLogRange(t *practice.Traced, h *steam.Hold) string {
	ref := t.PressureRef().String()
	if t.Cycle.Setting.Absolute {
		ref = quantity.Absolute.String()
	}
	return tracesLogFromTo(fmt.Sprintf("%.0f", h.LeastPressure), fmt.Sprintf("%.0f", h.MostPressure)) + " kPa " + ref
}
