package checks

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"

	"footing/internal/practice"
	"footing/internal/quantity"
	"footing/internal/steam"
	"footing/internal/trace"
)

// logRow is one reading of a made-up file; its pressure is that of saturated steam.
func logRow(at, celsius float64) string {
	kPa, _ := steam.SaturationPressure(celsius)
	s := 9*3600 + int(at)
	return fmt.Sprintf("%02d:%02d:%02d,%.2f,%.1f\n", s/3600, s/60%60, s%60, celsius, kPa)
}

func TestTracesBetween(t *testing.T) {
	assert.Equal(t, "2 min 40 s to 3 min", tracesBetween(160, 180))
	assert.Equal(t, "3 min", tracesBetween(180.1, 180.9))
}

// Four intervals for each pulse: at, just under and just over.
func TestTracesAirRemovalCoarse(t *testing.T) {
	program := &practice.Program{}
	program.Pulses.Written, program.Pulses.Value = true, 3
	for _, c := range []struct {
		interval, firstPulse, hold float64
		seen                       int
		coarse                     bool
	}{
		{10, 0, 120, 0, false}, {10, 0, 119, 0, true}, {10, 0, 121, 0, false},
		{60, 300, 1000, 2, true}, {60, 270, 1000, 2, false}, {1, 900, 912, 2, false}, {1, 901, 912, 2, true},
	} {
		tr := &practice.Traced{Trace: &trace.Trace{}, Program: program}
		tr.Cycle.Interval = c.interval
		h := &steam.Hold{From: c.hold, Pulses: c.seen}
		if c.seen > 0 {
			tr.Cycle.Pulses = []steam.Pulse{{At: c.firstPulse}}
		}
		assert.Equal(t, c.coarse, tracesAirRemovalCoarse(tr, h), "%+v", c)
	}
}

// 30 ± 0.5 psi gauge at the sea is steam of 134.05 to 134.82 °C (IAPWS R7-97(2012),
// equation 31, computed with another program): half of a last digit of 1 psi is worth
// about 0.39 K there. A digit of 1 °C adds 0.5 K, and a tolerance adds itself.
func TestTracesSaturationRounding(t *testing.T) {
	half, err := quantity.Parse("0.5 psi absolute", quantity.Pressure, quantity.Fallback{})
	assert.NoError(t, err)
	tr := &practice.Traced{Trace: &trace.Trace{}, Sterilizer: &practice.Sterilizer{}}
	tr.Columns = []trace.Column{{Role: trace.Temperature, Half: 0.5}, {Role: trace.Pressure, Half: half.In(quantity.KPa)}}
	assert.InDelta(t, 0.5+0.39, tracesSaturationRounding(tr, 134.44), 0.01)
	tr.Sterilizer.SensorTolerance = quantity.Quantity{Value: 1, Unit: quantity.KelvinD}
	assert.InDelta(t, 1.5+0.39, tracesSaturationRounding(tr, 134.44), 0.01)
}

// The seconds beyond a limit are those of the least watched distance that is not below it.
func TestTracesBeyond(t *testing.T) {
	watched, seconds := []float64{2, 3, 3.55}, []float64{90, 60, 30}
	assert.InDelta(t, 60, tracesBeyond(watched, seconds, 3), 0)
	assert.InDelta(t, 30, tracesBeyond(watched, seconds, 3.2), 0)
	assert.InDelta(t, 0, tracesBeyond(watched, seconds, 4), 0)
	assert.InDelta(t, 0, tracesBeyond(watched, nil, 2), 0)
}
