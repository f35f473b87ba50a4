package checks

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"footing/internal/practice"
	"footing/internal/quantity"
)

// What published texts print together, and how far apart it lies. The
// temperatures of saturated steam were computed once with IAPWS R7-97(2012),
// equation 31, by another program than this one, and ISO 2533 for the air.
func TestCyclesPressureGap(t *testing.T) {
	for _, c := range []struct {
		temperature, pressure, altitude string
		steam                           float64 // °C
		source                          string
	}{
		{"134 °C", "27 psi gauge", "0 m", 132.08, "Podiatry Review, May-June 2014, p. 21: 1.92 K below"},
		{"132 °C", "30 psi gauge", "0 m", 134.44, "chart of the Journal of the American Dental Association, December 1991: 2.44 K above"},
		{"134 °C", "28.5 psi gauge", "0 m", 133.28, "computed"},
		{"121 °C", "106 kPa gauge", "0 m", 121.35, "consensus of 1991, IPPF Medical Bulletin 25(5)"},
		{"121 °C", "15 psi gauge", "0 m", 120.95, "common practice, no source"},
		{"121 °C", "15 psi gauge", "1000 m", 119.14, "computed: what the same gauge reading means higher up"},
		{"121 °C", "15 psi gauge", "2000 m", 117.41, "computed"},
		{"121 °C", "1.15 bar gauge", "0 m", 122.71, "MDA DB2002(06), approximate pressures, from memory"},
		{"126 °C", "1.5 bar gauge", "0 m", 127.59, "MDA DB2002(06), approximate pressures, from memory"},
		{"134 °C", "2.2 bar gauge", "0 m", 135.9, "Spirax Sarco, dry saturated steam tables TI-GCM-01, to a tenth"},
		{"121 °C", "205.04 kPa absolute", "", 121.00, "computed"},
		{"134 °C", "304.20 kPa absolute", "", 134.00, "computed"},
		{"134 °C", "224.70 kPa gauge", "2000 m", 134.00, "computed"},
		{"134 °C", "229.52 kPa gauge", "2500 m", 134.00, "computed"},
	} {
		l := &practice.Load{Temperature: cyclesParse(t, c.temperature, quantity.Temperature), Pressure: cyclesParse(t, c.pressure, quantity.Pressure)}
		p := &practice.Practice{}
		if c.altitude != "" {
			p.Profile.Altitude = cyclesParse(t, c.altitude, quantity.Length)
		}
		d, why, _ := cyclesPressureGap(p, l, &practice.Sterilizer{})
		require.Empty(t, why, "%s with %s", c.temperature, c.pressure)
		assert.InDelta(t, c.steam, d.steam, 0.06, "%s at %s: %s", c.pressure, c.altitude, c.source)
		assert.InDelta(t, math.Abs(c.steam-d.written), d.far(), 0.06, "%s with %s", c.temperature, c.pressure)
	}
}

// The rounding of "132 °C" and "30 psi" together is 0.5 K and about 0.4 K
// (30 ± 0.5 psi gauge is 134.05 to 134.82 °C, computed).
func TestCyclesPressureRounding(t *testing.T) {
	l := &practice.Load{Temperature: cyclesParse(t, "132 °C", quantity.Temperature), Pressure: cyclesParse(t, "30 psi gauge", quantity.Pressure)}
	p := &practice.Practice{}
	p.Profile.Altitude = cyclesParse(t, "0 m", quantity.Length)
	d, _, _ := cyclesPressureGap(p, l, &practice.Sterilizer{})
	assert.InDelta(t, 0.89, d.rounding, 0.02)
	d, _, _ = cyclesPressureGap(p, l, &practice.Sterilizer{SensorTolerance: cyclesParse(t, "1 K", quantity.Difference)})
	assert.InDelta(t, 1.89, d.rounding, 0.02)
}

func cyclesParse(t *testing.T, text string, d quantity.Dimension) quantity.Quantity {
	t.Helper()
	q, err := quantity.Parse(text, d, quantity.Fallback{})
	require.NoError(t, err)
	return q
}
