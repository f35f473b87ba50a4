package steam

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestGapsAndPace(t *testing.T) {
	for name, c := range map[string]struct {
		after    []float64 // intervals after twenty of 1 s
		gaps     int
		longest  float64
		interval float64
	}{
		"none":                               {[]float64{1, 1, 1}, 0, 0, 1},
		"10 s":                               {[]float64{10, 1, 1}, 0, 0, 1},
		"10.1 s":                             {[]float64{10.1, 1, 1}, 1, 10.1, 1},
		"at the very end":                    {[]float64{1, 300}, 1, 300, 1},
		"two":                                {[]float64{300, 1, 1, 40, 1}, 2, 300, 1},
		"slower from here":                   {[]float64{60, 60, 60, 60}, 0, 0, 1},
		"slower for most of it":              {repeat(60, 50), 0, 0, 60},
		"slower from the minute on":          {[]float64{12, 60, 60, 60, 60, 60, 60}, 0, 0, 1},
		"slower after a gap":                 {[]float64{500, 60, 60, 60, 60, 60}, 1, 500, 1},
		"a gap while slower":                 {[]float64{60, 60, 60, 60, 60, 60, 60, 400, 60, 60}, 1, 400, 1},
		"slower and back":                    {[]float64{60, 60, 60, 1, 1, 1, 1, 1, 1, 1, 61, 1}, 1, 61, 1},
		"two gaps, one soon after the other": {[]float64{60, 40, 1, 1, 1}, 2, 60, 1},
		"a little slower":                    {[]float64{4, 4, 4, 4, 4, 4, 19, 4}, 0, 0, 1},
		"many readings at one time":          {[]float64{0, 0, 0, 0, 0, 0, 0, 0, 1, 60, 1}, 1, 60, 1},
		"quicker":                            {append([]float64{1}, repeat(0.1, 40)...), 0, 0, 0.1},
		"a pause before the same":            {[]float64{20, 0, 1}, 1, 20, 1},
		"a gap, and one more at end":         {[]float64{30, 1, 30}, 2, 30, 1},
	} {
		at, all := 0.0, every(1, 20)
		for _, d := range append(repeat(1, 20), c.after...) {
			at += d
			all = append(all, reading{at, 20 + at/100, 20 + at/100, nan})
		}
		got := summed(Setting{}, all)
		assert.Equal(t, c.gaps, got.Gaps, name)
		assert.InDelta(t, c.longest, got.LongestGap, 1e-9, name)
		assert.InDelta(t, c.interval, got.Interval, 1e-9, name)
		assert.Equal(t, len(all), got.Readings, name)
	}
	// The clock shows minutes, the readings are ten seconds apart.
	var all []reading
	for i := range 100 {
		all = append(all, reading{math.Floor(float64(i)/6) * 60, 20, 20, nan})
	}
	got := summed(Setting{}, all)
	assert.Equal(t, 60.0, got.Interval)
	assert.Zero(t, got.Gaps)
	// The first ones all at one time.
	got = summed(Setting{}, append(make([]reading, 30), every(1, repeat(20, 20)...)...))
	assert.Equal(t, 1.0, got.Interval)
	assert.Zero(t, got.Gaps)
}

func repeat(v float64, n int) []float64 {
	list := make([]float64, n)
	for i := range list {
		list[i] = v
	}
	return list
}

// A gap breaks what surely was, and joins what may have been.
func TestHoldOverAGap(t *testing.T) {
	all := every(1, append(append(repeat(20, 20), repeat(135, 100)...), repeat(135, 50)...)...)
	all = append(all, reading{170, 20, 20, nan}, reading{171, 20, 20, nan})
	for i := 120; i < len(all); i++ {
		all[i].at += 40
	}
	h := summed(Setting{Levels: []float64{134}}, all).Holds[0]
	assert.Equal(t, 1, h.Gaps)
	assert.Equal(t, 99.0, h.Least)
	assert.Equal(t, 191.0, h.Most)
	assert.InDelta(t, 189+1.0/115+1.0/115, h.Seconds(), 1e-6)
	// Between two readings below, a gap may hold anything.
	all = every(1, repeat(20, 30)...)
	for i := 20; i < 30; i++ {
		all[i].at += 600
	}
	h = summed(Setting{Levels: []float64{134}}, all).Holds[0]
	assert.False(t, h.Reached)
	assert.Zero(t, h.Least)
	assert.Equal(t, 601.0, h.Most)
}

// dried is a hold from 10 to 20 s with what follows, a reading each second: a pressure
// or NaN for each second after the hold.
func dried(hold float64, after ...float64) (all []reading) {
	for i := range 21 + len(after) {
		r := reading{float64(i), 60, 60, 101.3}
		switch {
		case i >= 10 && i <= 20:
			r.cold, r.press = 135, hold
		case i > 20:
			r.cold, r.press = 110, after[i-21]
		}
		r.warm = r.cold
		all = append(all, r)
	}
	return all
}

func TestAfter(t *testing.T) {
	absolute := Setting{Levels: []float64{134}, Absolute: true, Air: 101.325}
	for name, c := range map[string]struct {
		set    Setting
		all    []reading
		vented float64
		vacuum float64
		ended  bool
	}{
		"vented, no vacuum":          {absolute, dried(313, 200, 100, 100), 21 + (200-106.325)/100, 0, false},
		"never vented":               {absolute, dried(313, 200, 150, 107), nan, 0, false},
		"in heavier air":             {absolute, dried(313, 200, 106.3, 106.3), 21 + (200-106.325)/93.7, 0, false},
		"vacuum, its end not seen":   {absolute, dried(313, 100, 81.325, 60, 60), 20 + (313-106.325)/213, 2, false},
		"just above":                 {absolute, dried(313, 100, 81.4, 81.4, 81.4), 20 + (313-106.325)/213, 0, false},
		"vacuum, its end seen":       {absolute, dried(313, 100, 81.325, 81.325, 100), 20 + (313-106.325)/213, 1, true},
		"two pulls":                  {absolute, dried(313, 101.325, 61.325, 101.325, 61.325, 61.325), 20 + (313-106.325)/(313-101.325), 2.5, false},
		"air by the first reading":   {Setting{Levels: []float64{134}, Absolute: true}, dried(313, 106.4, 106.2), 21.5, 0, false},
		"air not known, NaN":         {Setting{Levels: []float64{134}, Absolute: true, Air: nan}, dried(313, 106.4, 106.2), 21.5, 0, false},
		"gauge":                      {Setting{Levels: []float64{134}}, dried(213, 6, 4, -20, -40), 21.5, 1, false},
		"gauge, NaN":                 {Setting{Levels: []float64{134}, Air: nan}, dried(213, 6, 4, -20, -40), 21.5, 1, false},
		"a pressure that lacks":      {absolute, dried(313, nan, 113, nan, 93), 22 + 2*(113-106.325)/20, 0, false},
		"open all the time":          {absolute, dried(101, 101, 101), 20.04, 0, false},
		"nothing after it":           {absolute, dried(313), nan, 0, false},
		"high up, air as it is":      {Setting{Levels: []float64{134}, Absolute: true, Air: 84.6}, dried(313, 89.7, 89.5), 21.5, 0, false},
		"high up, taken for the sea": {Setting{Levels: []float64{134}, Absolute: true, Air: 101.325}, dried(313, 106.4, 106.25), 21.5, 0, false},
	} {
		got := summed(c.set, c.all)
		h := got.Holds[0]
		if math.IsNaN(c.vented) {
			assert.True(t, math.IsNaN(h.After.Vented), name)
		} else {
			assert.InDelta(t, c.vented, h.After.Vented, 1e-6, name)
		}
		assert.InDelta(t, c.vacuum, h.After.Vacuum, 1e-6, name)
		assert.Equal(t, c.ended, h.After.VacuumEnded, name)
		assert.InDelta(t, got.Until-h.Until, h.After.Rest, 1e-9, name)
	}
}

func TestAirIsTaken(t *testing.T) {
	for _, c := range []struct{ given, first, want float64 }{
		{0, 84.6, 84.6}, {nan, 84.6, 84.6}, {0, 60, 60}, {0, 59.9, 101.325}, {0, 110, 110}, {0, 110.1, 101.325}, {90, 101, 90},
	} {
		got := summed(Setting{Absolute: true, Air: c.given}, pressed(20, nan, c.first, 70))
		assert.Equal(t, c.want, got.Air)
	}
	assert.Equal(t, 0.0, summed(Setting{}, pressed(20, 101)).Air)
	assert.Equal(t, -1.0, summed(Setting{Air: -1}, pressed(20, 101)).Air)
}

// Without pressure, water's boiling tells.
func TestVentedByTemperature(t *testing.T) {
	set := Setting{Levels: []float64{80, 134}}
	got := summed(set, every(10, 20, 135, 135, 110, 90, 60))
	assert.InDelta(t, 35, got.Holds[1].After.Vented, 1e-6)
	assert.Equal(t, got.Holds[0].Until, got.Holds[0].After.Vented, "a hold below 100 °C")
	got = summed(set, every(10, 20, 135, 135, 100))
	assert.InDelta(t, 30, got.Holds[1].After.Vented, 1e-6)
	got = summed(set, every(10, 20, 135, 135, 100.1))
	assert.True(t, math.IsNaN(got.Holds[1].After.Vented))
}

// The sign of Apart: air raises the pressure above that of the steam; superheat leaves
// the steam hotter than its pressure says. 2 K at 134 °C are about 18 kPa.
func TestApartSigns(t *testing.T) {
	set := Setting{Levels: []float64{134}, Absolute: true, Air: 101.325, Apart: []float64{2, 4}}
	for _, c := range []struct{ off, air, superheat float64 }{
		{0, 0, 0}, {1.99, 0, 0}, {2.01, 10, 0}, {-1.99, 0, 0}, {-2.01, 0, 10}, {3, 10, 0}, {-3, 0, 10},
	} {
		h := summed(set, dried(saturationPressure(135+zero+c.off), 101)).Holds[0]
		assert.InDelta(t, c.off, h.Apart, 1e-6)
		assert.InDelta(t, c.off, h.ApartLeast, 1e-6)
		assert.InDelta(t, c.off, h.ApartMost, 1e-6)
		assert.InDelta(t, c.air, h.Air[0], 1e-6, "%g", c.off)
		assert.InDelta(t, c.superheat, h.Superheat[0], 1e-6, "%g", c.off)
		assert.Zero(t, h.Air[1]+h.Superheat[1])
	}
	set.Absolute = false
	h := summed(set, dried(213, 0)).Holds[0]
	assert.True(t, math.IsNaN(h.Apart) && math.IsNaN(h.ApartLeast))
	assert.Equal(t, 213.0, h.MeanPressure)
	assert.Equal(t, []float64{0, 0}, h.Air)
}

// Hotter than a level and so much is hotter, not at it.
func TestOver(t *testing.T) {
	set := Setting{Levels: []float64{134}, Over: []float64{3, 4}}
	for _, c := range []struct{ top, three, four float64 }{{137, 0, 0}, {137.001, 10, 0}, {138, 10, 0}, {138.1, 10, 10}} {
		all := dried(nan, nan)
		for i := range all {
			if all[i].cold == 135 {
				all[i].warm = c.top
			}
		}
		h := summed(set, all).Holds[0]
		assert.InDelta(t, c.three, h.Over[0], 0.1, "%g", c.top)
		assert.InDelta(t, c.four, h.Over[1], 0.1, "%g", c.top)
		assert.Equal(t, c.top, h.Warmest)
		assert.InDelta(t, c.top-135, h.Spread, 1e-9)
	}
}
