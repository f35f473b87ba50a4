package steam

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestBothWaysAgree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := rapid.Float64Range(0, critical-zero).Draw(t, "°C")
		p, err := SaturationPressure(c)
		require.NoError(t, err)
		back, err := SaturationTemperature(p)
		require.NoError(t, err)
		// The release gives the two equations as one, solved both ways.
		assert.InDelta(t, c, back, 1e-6)
	})
}

func TestHotterIsHigher(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := rapid.Float64Range(0, 373).Draw(t, "°C")
		b := a + rapid.Float64Range(0.001, 0.9).Draw(t, "more")
		pa, err := SaturationPressure(a)
		require.NoError(t, err)
		pb, err := SaturationPressure(b)
		require.NoError(t, err)
		assert.Less(t, pa, pb)
		h := rapid.Float64Range(deepest, tropopause-1).Draw(t, "m")
		low, err := Atmosphere(h)
		require.NoError(t, err)
		high, err := Atmosphere(h + 1)
		require.NoError(t, err)
		assert.Less(t, high, low, "the air thins upwards")
	})
}

func TestRanges(t *testing.T) {
	for _, c := range []struct {
		f        func(float64) (float64, error)
		in, outs []float64
		words    string
	}{
		{SaturationPressure, []float64{0, 121, critical - zero}, []float64{-0.001, 373.95, math.NaN(), math.Inf(1)}, "°C lies outside 0 to 373.946 °C"},
		{SaturationTemperature, []float64{0.611213, 22064}, []float64{0.6112, 22065, 0, -101, math.NaN(), math.Inf(-1)}, "kPa lies outside 0.611213 to 22064 kPa"},
		{Atmosphere, []float64{-500, 0, 11000}, []float64{-501, 11001, math.NaN()}, "m lies outside -500 to 11000 m"},
	} {
		for _, v := range c.in {
			got, err := c.f(v)
			assert.NoError(t, err)
			assert.False(t, math.IsNaN(got))
		}
		for _, v := range c.outs {
			got, err := c.f(v)
			assert.Zero(t, got)
			assert.ErrorContains(t, err, c.words)
			var e *RangeError
			assert.ErrorAs(t, err, &e)
		}
	}
}

// The altitude given is taken as the geopotential one: what that costs, in the
// words of the documentation, against the height of a map.
func TestMapHeightCostsLittle(t *testing.T) {
	for _, c := range []struct{ z, most float64 }{{1000, 0.002}, {2000, 0.0065}, {3000, 0.013}} {
		cost := math.Abs(air(t, c.z) - air(t, radius*c.z/(radius+c.z)))
		assert.Less(t, cost, c.most)
		assert.Greater(t, cost, 0.0)
	}
}

func BenchmarkSaturationTemperature(b *testing.B) {
	for b.Loop() {
		if _, err := SaturationTemperature(205); err != nil {
			b.Fatal(err)
		}
	}
}
