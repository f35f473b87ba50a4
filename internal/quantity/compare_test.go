package quantity

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func must(t require.TestingT, s string, d Dimension) Quantity {
	if s == "" {
		return Quantity{}
	}
	q, err := Parse(s, d, Fallback{})
	require.NoError(t, err)
	return q
}

func TestAtLeastAndAtMost(t *testing.T) {
	for _, c := range []struct {
		d              Dimension
		q, limit, tol  string
		atLeast, atMos Tri
	}{
		{Temperature, "121 °C", "121 °C", "", Yes, Yes},
		{Temperature, "120 °C", "121 °C", "", No, Yes},
		{Temperature, "120.9 °C", "121 °C", "", No, Yes},
		{Temperature, "250 °F", "121.2 °C", "", Unsure, Yes},
		{Temperature, "250 °F", "121.0 °C", "", Yes, Unsure},
		{Temperature, "249.8 °F", "121 °C", "", Yes, Yes},
		{Temperature, "394.15 K", "121 °C", "", Yes, Yes},
		{Temperature, "121 °C", "121 °C", "0.5 K", Unsure, Unsure},
		{Temperature, "121.5 °C", "121 °C", "0.5 K", Yes, Unsure},
		{Temperature, "120 °C", "121 °C", "0.5 K", Unsure, Yes},
		{Temperature, "119 °C", "121 °C", "0.5 K", No, Yes},
		{Temperature, "122 °C", "121 °C", "0.9 °F", Yes, Unsure},
		{Span, "30 min", "30 min", "", Yes, Yes},
		{Span, "0.5 h", "30 min", "", Yes, Yes},
		{Span, "29 min", "30 min", "", No, Yes},
		{Span, "29 min 59 s", "30 min", "", No, Yes},
		{Span, "0.4 h", "26 min", "", Unsure, Yes},
		{Span, "2 h 30 min", "150 min", "", Yes, Yes},
		{Span, "1 year", "12 months", "", Yes, Yes},
		{Span, "1 year", "365 d", "", Unsure, Unsure},
		{Pressure, "15 psi gauge", "103 kPa gauge", "", Yes, Unsure},
		{Pressure, "15 psi gauge", "103 kPa absolute", "", Unsure, Unsure},
		{Pressure, "15 psi", "103 kPa gauge", "", Unsure, Unsure},
		{Pressure, "15 psi", "15 psi", "", Unsure, Unsure},
		{PressureRate, "1.3 mbar/min", "0.13 kPa/min", "", Yes, Yes},
		{PressureRate, "1.4 mbar/min", "0.13 kPa/min", "", Yes, No},
		{Length, "1150 ft", "350 m", "", Yes, No},
		{Percent, "75 %", "80 %", "", No, Yes},
		{Percent, "75 %", "80 %", "5 %", Unsure, Yes},
		{Plain, "3", "3", "", Yes, Yes},
		{Span, "", "30 min", "", Unsure, Unsure},
		{Span, "30 min", "", "", Unsure, Unsure},
	} {
		tol := c.d
		if c.d == Temperature {
			tol = Difference
		}
		q, limit, by := must(t, c.q, c.d), must(t, c.limit, c.d), must(t, c.tol, tol)
		assert.Equal(t, c.atLeast, q.AtLeast(limit, by), "%s at least %s ± %s", c.q, c.limit, c.tol)
		assert.Equal(t, c.atMos, q.AtMost(limit, by), "%s at most %s ± %s", c.q, c.limit, c.tol)
	}
	assert.Panics(t, func() { Exact(1, Minute).AtLeast(Exact(1, Celsius), Quantity{}) })
	assert.Equal(t, "unsure yes no", Unsure.String()+" "+Yes.String()+" "+No.String())
}

// Worth of a verdict for something that should be high.
func worth(t Tri) int { return [...]int{Unsure: 1, Yes: 2, No: 0}[t] }

// A higher value of the same precision is never judged worse by AtLeast, nor
// better by AtMost; nor is it when the limit is lowered.
func TestVerdictsAreMonotone(t *testing.T) {
	kinds := []struct {
		units []Unit
		tol   []Unit
	}{
		{[]Unit{Celsius, Fahrenheit, KelvinT}, []Unit{KelvinD, FahrenheitD}},
		{[]Unit{Second, Minute, Hour, DayU}, []Unit{Second, Minute}},
		{[]Unit{KPa, Bar, Psi, Mbar}, []Unit{KPa, Psi}},
	}
	rapid.Check(t, func(t *rapid.T) {
		k := rapid.SampledFrom(kinds).Draw(t, "kind")
		half := rapid.SampledFrom([]float64{0.5, 0.05, 0.005}).Draw(t, "half")
		unit := rapid.SampledFrom(k.units).Draw(t, "unit")
		step := 2 * half
		lo := rapid.IntRange(0, 400).Draw(t, "value")
		up := rapid.IntRange(0, 50).Draw(t, "more")
		limit := Quantity{Value: float64(rapid.IntRange(0, 4000).Draw(t, "limit")) / 10, Half: 0.05, Unit: rapid.SampledFrom(k.units).Draw(t, "limit unit"), Ref: Gauge}
		lower := limit
		lower.Value -= float64(rapid.IntRange(0, 100).Draw(t, "less")) / 10
		var tol Quantity
		if rapid.Bool().Draw(t, "tolerance written") {
			tol = Quantity{Value: rapid.Float64Range(0, 3).Draw(t, "tolerance"), Half: 0.05, Unit: rapid.SampledFrom(k.tol).Draw(t, "tolerance unit")}
		}
		a := Quantity{Value: float64(lo) * step, Half: half, Unit: unit, Ref: Gauge}
		b := Quantity{Value: float64(lo+up) * step, Half: half, Unit: unit, Ref: Gauge}
		if worth(b.AtLeast(limit, tol)) < worth(a.AtLeast(limit, tol)) {
			t.Fatalf("%v is judged worse than %v against %v", b, a, limit)
		}
		if worth(b.AtMost(limit, tol)) > worth(a.AtMost(limit, tol)) {
			t.Fatalf("%v is judged better than %v against at most %v", b, a, limit)
		}
		if worth(a.AtLeast(lower, tol)) < worth(a.AtLeast(limit, tol)) {
			t.Fatalf("%v is judged worse against the lower %v", a, lower)
		}
	})
}

// What is surely at least a limit is surely not below it.
func TestVerdictsAgreeWithBounds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q := Quantity{Value: float64(rapid.IntRange(1000, 1400).Draw(t, "v")) / 10, Half: rapid.SampledFrom([]float64{0.5, 0.05}).Draw(t, "half"), Unit: rapid.SampledFrom([]Unit{Celsius, KelvinT, Fahrenheit}).Draw(t, "unit")}
		limit := Exact(float64(rapid.IntRange(-200, 200).Draw(t, "limit")), Celsius)
		switch q.AtLeast(limit, Quantity{}) {
		case Yes:
			if q.In(Celsius) < limit.Value-1e-6 {
				t.Fatalf("%v is below %v", q, limit)
			}
		case No:
			if q.High(Celsius) >= limit.Value {
				t.Fatalf("%v can be %v", q, limit)
			}
		default:
			if q.In(Celsius) >= limit.Value || q.High(Celsius) < limit.Value-1e-6 {
				t.Fatalf("%v against %v is no doubt", q, limit)
			}
		}
	})
}
