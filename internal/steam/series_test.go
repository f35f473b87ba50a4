package steam

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

var nan = math.NaN()

// every makes readings a step apart, of one sensor, without pressure.
func every(step float64, temperatures ...float64) (all []reading) {
	for i, c := range temperatures {
		all = append(all, reading{float64(i) * step, c, c, nan})
	}
	return all
}

// pressed makes readings a second apart at a temperature.
func pressed(celsius float64, pressures ...float64) (all []reading) {
	for i, p := range pressures {
		all = append(all, reading{float64(i), celsius, celsius, p})
	}
	return all
}

func TestLevelAtJustUnderJustOver(t *testing.T) {
	set := Setting{Levels: []float64{134}, Below: 0.05, Above: 0.5}
	for _, c := range []struct {
		top         float64
		reached     bool
		least, most float64
	}{
		{133.94, false, 0, 0},
		{133.95, false, 0, 40},
		{133.99, false, 0, 40},
		{134, true, 0, 40},
		{134.49, true, 0, 40},
		{134.5, true, 20, 40},
		{134.51, true, 20, 40},
	} {
		h := summed(set, every(10, 20, 120, c.top, c.top, c.top, 120, 20)).Holds[0]
		assert.Equal(t, c.reached, h.Reached, "%g", c.top)
		assert.Equal(t, c.least, h.Least, "%g", c.top)
		assert.Equal(t, c.most, h.Most, "%g", c.top)
		assert.False(t, h.OpenStart || h.OpenEnd)
	}
	f := math.Nextafter(134, 0) // as units turned into another may leave it
	assert.True(t, summed(set, every(10, 20, f, 20)).Holds[0].Reached, "and nothing is lost by it")
}

func TestLongestRunIsToldByEachMeasure(t *testing.T) {
	set := Setting{Levels: []float64{134}, Below: 0.1, Above: 1}
	// Longest as written: the first, which is never surely there. Longest by Least: the second.
	all := every(1, 20, 134.2, 134.2, 134.2, 134.2, 134.2, 134.2, 20, 136, 136, 136, 20)
	h := summed(set, all).Holds[0]
	assert.InDelta(t, 0.998, h.From, 0.001)
	assert.InDelta(t, 6.002, h.Until, 0.001)
	assert.Equal(t, 2.0, h.Least)
	assert.Equal(t, 7.0, h.Most)
	assert.Equal(t, 134.2, h.Highest)
}

func TestOpenAtTheEnds(t *testing.T) {
	set := Setting{Levels: []float64{121, 134}}
	c := summed(set, every(1, 122, 135, 135, 122))
	assert.True(t, c.Holds[0].OpenStart)
	assert.True(t, c.Holds[0].OpenEnd)
	assert.Equal(t, 3.0, c.Holds[0].Most, "what is not in the record is not counted")
	assert.Zero(t, c.Holds[0].After.Rest)
	assert.False(t, c.Holds[1].OpenStart)
	assert.False(t, c.Holds[1].OpenEnd)
}

func TestResolutionWidens(t *testing.T) {
	set := Setting{Levels: []float64{134}, Resolution: 60}
	h := summed(set, every(60, 20, 135, 135, 135, 20)).Holds[0]
	assert.Equal(t, 60.0, h.Least)
	assert.Equal(t, 300.0, h.Most)
	h = summed(set, every(60, 20, 135, 20)).Holds[0]
	assert.Zero(t, h.Least)
	h = summed(set, every(60, 20, 30, 20)).Holds[0]
	assert.Zero(t, h.Most, "never near it")
}

func TestPulses(t *testing.T) {
	for name, c := range map[string]struct {
		kPa  []float64
		want []Pulse
	}{
		"a fall and rise of 20":                  {[]float64{101, 81, 101}, []Pulse{{1, 81, 101}}},
		"just under":                             {[]float64{101, 81.1, 101.1}, nil},
		"a fall of 20, a rise of less":           {[]float64{101, 60, 79.9}, nil},
		"a rise alone":                           {[]float64{101, 200, 304}, nil},
		"three by a pump":                        {[]float64{101, 20, 180, 20, 180, 20, 304}, []Pulse{{1, 20, 180}, {3, 20, 180}, {5, 20, 304}}},
		"two by steam":                           {[]float64{101, 200, 130, 200, 130, 304}, []Pulse{{2, 130, 200}, {4, 130, 304}}},
		"noise on the way":                       {[]float64{101, 60, 70, 52, 20, 35, 30, 90, 75, 180}, []Pulse{{4, 20, 180}}},
		"gauge":                                  {[]float64{0, -80, 80, -80, 203}, []Pulse{{1, -80, 80}, {3, -80, 203}}},
		"begun in a vacuum":                      {[]float64{-80, 0, 80, 203}, nil},
		"the last rise goes on":                  {[]float64{101, 20, 41, 60}, []Pulse{{1, 20, 60}}},
		"a pressure that lacks now and then":     {[]float64{nan, 101, nan, 20, nan, 180, nan}, []Pulse{{3, 20, 180}}},
		"no pressure":                            {[]float64{nan, nan}, nil},
		"down by steps of 10, up by steps of 10": {[]float64{101, 91, 81, 71, 81, 91, 101, 91}, []Pulse{{3, 71, 101}}},
	} {
		got := summed(Setting{}, pressed(90, c.kPa...))
		assert.Equal(t, len(c.want), got.PulseCount, name)
		assert.Equal(t, c.want, append([]Pulse(nil), got.Pulses...), name)
	}
	var many []float64
	for range 40 {
		many = append(many, 20, 60, 180)
	}
	got := summed(Setting{}, pressed(90, many...))
	assert.Equal(t, 39, got.PulseCount)
	require.Len(t, got.Pulses, 32)
	assert.Equal(t, Pulse{96, 20, 180}, got.Pulses[31])
}

// Those that ended before the hold, the last rise among them; not those of drying.
func TestPulsesBeforeTheHold(t *testing.T) {
	var all []reading
	for _, v := range [][2]float64{{60, 101}, {60, 20}, {110, 180}, {70, 20}, {110, 180}, {70, 20}, {135, 304}, {135, 304}, {110, 10}, {90, 101}} {
		all = append(all, reading{float64(60 * len(all)), v[0], v[0], v[1]})
	}
	c := summed(Setting{Levels: []float64{105, 134}, Absolute: true}, all)
	assert.Equal(t, 4, c.PulseCount)
	assert.Equal(t, 3, c.Holds[1].Pulses, "the rise into the hold is seen only in its first reading")
	assert.Equal(t, 3, c.Holds[0].Pulses)
}

func TestFlatAndJump(t *testing.T) {
	all := every(2, 20, 30, 30, 30, 50, 50, 50, 50, 41)
	for i := range all {
		all[i].press = 100 + float64(i*i)
	}
	all[5].press = nan
	c := summed(Setting{}, all)
	assert.Equal(t, 6.0, c.Flat)
	assert.Equal(t, 8.0, c.FlatFrom)
	assert.Equal(t, 49.0-16, c.FlatPressure)
	assert.Equal(t, 20.0, c.Jump)
	assert.Equal(t, 8.0, c.JumpAt)
	assert.Equal(t, 2.0, c.JumpOver)
	c = summed(Setting{}, every(1, 20, 21, 22))
	assert.Zero(t, c.Flat)
	assert.True(t, math.IsNaN(c.FlatPressure))
	// To the end, and without pressure.
	c = summed(Setting{}, every(1, 20, 21, 21, 21))
	assert.Equal(t, 2.0, c.Flat)
	assert.True(t, math.IsNaN(c.FlatPressure))
	// What changed, or did not, in a gap is not known.
	long := every(1, 20, 20, 20, 20, 20, 20)
	long = append(long, reading{100, 90, 90, nan}, reading{101, 91, 91, nan}, reading{201, 91, 91, nan}, reading{202, 91, 91, nan})
	c = summed(Setting{}, long)
	assert.Equal(t, 2, c.Gaps)
	assert.Equal(t, 1.0, c.Jump)
	assert.Equal(t, 5.0, c.Flat)
}

func TestPassedOver(t *testing.T) {
	s := NewSeries(Setting{Levels: []float64{50}})
	inf := math.Inf(1)
	bad := func(n int) {
		s.Add(nan, 60, 60, 1)
		s.Add(inf, 60, 60, 1)
		s.Add(1000, nan, 60, 1)
		s.Add(1000, -1e12, 60, 1)
		s.Add(-1, 60, 60, 1)
		assert.Equal(t, n, s.End().Ignored)
	}
	for i := range 20 {
		s.Add(float64(i), 60, 59, 1e12) // a warmest that is the colder one, and no pressure
		bad(5 * (i + 1))
	}
	s.Add(500, 60, inf, nan)
	bad(105)
	c := s.End()
	assert.Equal(t, 21, c.Readings)
	assert.Equal(t, 1, c.Gaps)
	assert.Equal(t, 60.0, c.Warmest)
	assert.Equal(t, 60.0, c.Holds[0].Warmest)
	assert.Zero(t, c.Holds[0].Spread)
	assert.True(t, math.IsNaN(c.LeastPressure) && math.IsNaN(c.Air))
	assert.Equal(t, 500.0, c.Until)
}

// A broken sensor's 850 °C leaves a number, and the hold its own.
func TestBrokenSensor(t *testing.T) {
	all := every(1, 20, 20, 850, 1e9, 20, 20, 130, 134.1, 134.1, 134.1, 130)
	c := summed(Setting{Levels: []float64{130, 134}}, all)
	assert.False(t, math.IsInf(c.Lethality, 0) || math.IsNaN(c.Lethality))
	got := summed(Setting{Levels: []float64{132}}, append(every(1, 20, 850, 20), reading{3, 120, 120, nan}, reading{4, 134, 134, nan}, reading{5, 134, 134, nan},
		reading{6, 134, 134, nan}, reading{7, 134, 134, nan}, reading{8, 134, 134, nan}, reading{9, 20, 20, nan}))
	assert.InDelta(t, 4+2./14+2./114, got.Holds[0].Seconds(), 1e-9)
	l := func(celsius float64) float64 { return math.Pow(10, (celsius-121.1)/10) }
	assert.InEpsilon(t, 4*l(134)+10/math.Ln10*(l(134)-l(132))*(1./14+1./114), got.Holds[0].Lethality, 1e-10)
}

func TestNothingAndOne(t *testing.T) {
	c := NewSeries(Setting{Levels: []float64{134}}).End()
	assert.Zero(t, c.Readings)
	assert.True(t, math.IsNaN(c.First) && math.IsNaN(c.Lowest) && math.IsNaN(c.LastTemperature))
	require.Len(t, c.Holds, 1)
	assert.True(t, math.IsNaN(c.Holds[0].Mean))
	c = summed(Setting{Levels: []float64{134}, Absolute: true}, []reading{{7, 135, 136, 313}})
	h := c.Holds[0]
	assert.True(t, h.Reached && h.OpenStart && h.OpenEnd)
	assert.Zero(t, h.Seconds())
	assert.Equal(t, []float64{135, 135, 135, 136, 1, 313}, []float64{h.Lowest, h.Highest, h.Mean, h.Warmest, h.Spread, h.MeanPressure})
	assert.InDelta(t, 0, h.Apart, 0.1)
	assert.Zero(t, c.Lethality)
	assert.Zero(t, c.Interval)
}

// Whatever numbers come, none is lost uncounted and nothing breaks.
func TestAnyNumbers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		number := rapid.OneOf(rapid.Float64(), rapid.Float64Range(-300, 1200), rapid.SampledFrom([]float64{nan, math.Inf(1), math.Inf(-1), 0, 134, math.MaxFloat64, -math.MaxFloat64}))
		s := NewSeries(drawnSetting(t))
		n := rapid.IntRange(0, 60).Draw(t, "readings")
		at := 0.0
		for range n {
			at += math.Abs(number.Draw(t, "later"))
			s.Add(at, number.Draw(t, "coldest"), number.Draw(t, "warmest"), number.Draw(t, "kPa"))
			if math.IsNaN(at) || math.IsInf(at, 0) {
				at = 1e9
			}
		}
		c := s.End()
		assert.Equal(t, n, c.Readings+c.Ignored)
		assert.Len(t, c.Holds, len(c.Setting.Levels))
	})
}

// Memory does not grow with readings.
func TestAddAllocatesNothing(t *testing.T) {
	all := made(2)
	all[900].press, all[1100].press = nan, nan
	s := NewSeries(watched())
	at := 0.0
	assert.Zero(t, testing.AllocsPerRun(5, func() {
		for i, r := range all {
			if at++; i == 1000 || i == 1500 {
				at += 100 // gaps
			}
			s.Add(at, r.cold, r.warm, r.press)
		}
	}))
	assert.Equal(t, 12, s.End().Gaps)
}

// With two sensors, the hold settles from when the warmest is at the level to when
// the coldest is; with one there is nothing to settle.
func TestEquilibration(t *testing.T) {
	warm := []reading{{0, 100, 110, 0}, {10, 120, 130, 0}, {20, 130, 138, 0}, {30, 134, 136, 0}, {40, 135, 136, 0}, {50, 133, 135, 0}, {60, 134, 135, 0}, {200, 135, 136, 0}, {210, 100, 101, 0}}
	h := summed(Setting{Levels: []float64{134}}, warm).Holds[0]
	assert.InDelta(t, 15, h.Equilibration, 1e-9, "the longest hold began after a dip: the coldest fell below at 45 s, and was back at 60 s")
	one := slices.Clone(warm)
	for i := range one {
		one[i].warm = one[i].cold
	}
	assert.Zero(t, summed(Setting{Levels: []float64{134}}, one).Holds[0].Equilibration)
	h = summed(Setting{Levels: []float64{134}}, append(warm[:5:5], reading{200, 135, 136, 0}, reading{210, 100, 101, 0})).Holds[0]
	assert.InDelta(t, 15, h.Equilibration, 1e-9, "the warmest at 15 s, the coldest at 30 s")
}

// A hold that a leap begins or ends: at, just under and just over 60 K and 10 s.
func TestLeapt(t *testing.T) {
	for _, c := range []struct {
		to, within float64
		leapt      bool
	}{{74, 10, true}, {74.1, 10, false}, {73.9, 10, true}, {74, 10.1, false}, {20, 1, true}} {
		list := []reading{{0, 100, 100, 0}, {10, 120, 120, 0}, {20, 134, 134, 0}, {30, 134, 134, 0}, {40, 134, 134, 0}, {40 + c.within, c.to, c.to, 0}, {60, 60, 60, 0}}
		assert.Equal(t, c.leapt, summed(Setting{Levels: []float64{134}}, list).Holds[0].Leapt, "%v", c)
	}
}

// Two times without readings, one soon after the other, are no slower pace: what the
// hold lasted at least does not span them. A logger that is slower for good is one.
func TestLeastBesideLongTimes(t *testing.T) {
	least := func(times ...float64) float64 {
		var list []reading
		at := 0.0
		add := func(by float64) { at += by; list = append(list, reading{at, 134.5, 134.5, math.NaN()}) }
		for range 100 {
			add(1)
		}
		for _, d := range times {
			add(d)
		}
		return summed(Setting{Levels: []float64{134}}, list).Holds[0].Least
	}
	ones := slices.Repeat([]float64{1}, 100)
	assert.Equal(t, 100.0, least(append([]float64{60, 40}, ones...)...), "the longer of what lies before and after both")
	assert.Equal(t, 199.0, least(ones...))
	assert.Equal(t, 240.0, least(60, 60, 60, 60, 60, 60, 60), "from the second of the long times on, when the pace has shown")
}
