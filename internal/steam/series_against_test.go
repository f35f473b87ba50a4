package steam

import (
	"math"
	"reflect"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func summed(set Setting, all []reading) Cycle {
	s := NewSeries(set)
	for _, r := range all {
		s.Add(r.at, r.cold, r.warm, r.press)
	}
	return s.End()
}

// alike compares all numbers of two structs, each within a billionth.
func alike(t require.TestingT, want, got reflect.Value, path string) {
	switch want.Kind() {
	case reflect.Float64:
		w, g := want.Float(), got.Float()
		if math.IsNaN(w) && math.IsNaN(g) || w == g {
			return
		}
		assert.InDelta(t, w, g, 1e-7+1e-9*math.Abs(w), path)
	case reflect.Struct:
		for i := range want.NumField() {
			alike(t, want.Field(i), got.Field(i), path+"."+want.Type().Field(i).Name)
		}
	case reflect.Slice:
		require.Equal(t, want.Len(), got.Len(), path)
		for i := range want.Len() {
			alike(t, want.Index(i), got.Index(i), path)
		}
	default:
		assert.Equal(t, want.Interface(), got.Interface(), path)
	}
}

// drawn makes readings that go from one temperature to another, rest there and go on,
// with noise, gaps, several readings at one time, and pressures that lack or leap.
func drawn(t *rapid.T, set Setting) []reading {
	step := rapid.SampledFrom([]float64{0.5, 1, 10, 60}).Draw(t, "interval")
	round := rapid.SampledFrom([]float64{0, 0.1, 1}).Draw(t, "rounding")
	noise := rapid.SampledFrom([]float64{0, 0.05, 0.6}).Draw(t, "noise")
	pressed := rapid.SampledFrom([]int{0, 1, 5, 10}).Draw(t, "pressures in ten")
	near := []float64{20, 60, 90, 99.9, 100, 100.1, 110}
	for _, l := range set.Levels {
		near = append(near, l-set.Below-0.01, l-set.Below, l-0.01, l, l+0.01, l+set.Above, l+set.Above+0.01, l+3, l+4)
	}
	presses := []float64{-80, 5, 20, 79, 81.4, 95, 101.3, 105, 107, 140, 205, 304, 318}
	var all []reading
	at, c, p := 0.0, 20.0, 101.3
	gapped, steps, gaps := false, 0, 0
	for range rapid.IntRange(1, 8).Draw(t, "stretches") {
		c1 := rapid.SampledFrom(near).Draw(t, "to")
		p1 := rapid.SampledFrom(presses).Draw(t, "kPa")
		n := rapid.IntRange(1, 12).Draw(t, "readings")
		c0, p0 := c, p
		saturated := rapid.Bool().Draw(t, "saturated")
		for i := range n {
			share := min(1, 2*float64(i+1)/float64(n))
			c, p = c0+(c1-c0)*share, p0+(p1-p0)*share
			r := reading{at, c + noise*rapid.Float64Range(-1, 1).Draw(t, "noise"), 0, math.NaN()}
			if round > 0 {
				r.cold = math.Round(r.cold/round) * round
			}
			r.warm = r.cold + max(0, rapid.Float64Range(-1, 2).Draw(t, "spread"))
			if rapid.IntRange(0, 9).Draw(t, "pressed") < pressed {
				if r.press = p + rapid.Float64Range(-8, 8).Draw(t, "hunting"); saturated {
					r.press = saturationPressure(r.cold + zero + rapid.Float64Range(-4, 4).Draw(t, "apart"))
				}
			}
			all = append(all, r)
			switch kind := rapid.IntRange(0, 29).Draw(t, "next"); {
			case kind == 0 && !gapped && steps > gaps: // else the usual interval would change on the way
				gaps++
				at += rapid.Float64Range(6, 30).Draw(t, "gap") * max(step, 2)
				gapped = true
			case kind == 1:
			default:
				steps++
				at += step
				gapped = false
			}
		}
	}
	return all
}

func drawnSetting(t *rapid.T) Setting {
	s := Setting{
		Levels:   rapid.SampledFrom([][]float64{nil, {134}, {121, 134}, {80, 121, 126, 132, 134, 134.5}, {90, 100, 110}}).Draw(t, "levels"),
		Below:    rapid.SampledFrom([]float64{0, 0.05, 1}).Draw(t, "below"),
		Above:    rapid.SampledFrom([]float64{0, 0.5, 2}).Draw(t, "above"),
		Over:     rapid.SampledFrom([][]float64{nil, {3}, {3, 4}, {0, 13}}).Draw(t, "over"),
		Apart:    rapid.SampledFrom([][]float64{nil, {2}, {0.5, 2, 3}}).Draw(t, "apart"),
		Scale:    scale(t),
		Absolute: rapid.Bool().Draw(t, "absolute"),
	}
	if s.Absolute {
		s.Air = rapid.SampledFrom([]float64{0, math.NaN(), 101.325, 84.6}).Draw(t, "air")
	}
	s.Resolution = rapid.SampledFrom([]float64{0, 1, 60}).Draw(t, "resolution")
	return s
}

func TestAgainstSlow(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		set := drawnSetting(t)
		all := drawn(t, set)
		z := newSlow(set, all)
		want, got := z.cycle(), summed(set, all)
		want.Setting, got.Setting = Setting{}, Setting{}
		for i, l := range set.Levels {
			if _, tied := z.hold(l); tied {
				// Which of two equally long ones is told hangs on the last digit.
				assert.InDelta(t, want.Holds[i].Seconds(), got.Holds[i].Seconds(), 1e-6)
				a, b := want.Holds[i], got.Holds[i]
				want.Holds[i] = Hold{Level: a.Level, Reached: a.Reached, Least: a.Least, Most: a.Most, OpenStart: a.OpenStart, OpenEnd: a.OpenEnd}
				got.Holds[i] = Hold{Level: b.Level, Reached: b.Reached, Least: b.Least, Most: b.Most, OpenStart: b.OpenStart, OpenEnd: b.OpenEnd}
			}
			if h := &want.Holds[i]; h.Reached && h.Seconds() < 1e-3 {
				h.Mean = got.Holds[i].Mean // no figures left
			}
			if h := &want.Holds[i]; !h.Reached {
				assert.False(t, got.Holds[i].Reached)
				want.Holds[i] = got.Holds[i]
				want.Holds[i].Least, want.Holds[i].Most, want.Holds[i].OpenStart, want.Holds[i].OpenEnd = h.Least, h.Most, h.OpenStart, h.OpenEnd
			}
		}
		alike(t, reflect.ValueOf(want), reflect.ValueOf(got), "Cycle")
	})
}
