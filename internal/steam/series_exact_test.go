package steam

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// corner is where a made-up cycle turns; between two it is a straight line.
type corner struct{ at, celsius float64 }

// truth is a cycle of which everything is known by hand.
type truth []corner

func (c truth) celsius(at float64) float64 {
	for i := 1; i < len(c); i++ {
		if at <= c[i].at {
			a, b := c[i-1], c[i]
			return a.celsius + (b.celsius-a.celsius)*(at-a.at)/(b.at-a.at)
		}
	}
	return c[len(c)-1].celsius
}

// read takes a reading at each step, from a first one on.
func (c truth) read(first, step float64) (all []reading) {
	for i := 0; first+float64(i)*step <= c[len(c)-1].at; i++ {
		at := first + float64(i)*step
		v := c.celsius(at)
		all = append(all, reading{at, v, v, math.NaN()})
	}
	return all
}

// lethality is the closed form by hand, over the lines between the corners: of a ramp
// z/(ln 10) · (L1−L0) over its slope, of a plateau its rate times its time.
func (c truth) lethality(s Scale) (sum float64) {
	l := func(celsius float64) float64 { return math.Pow(10, (celsius-s.Reference)/s.Z) }
	for i := 1; i < len(c); i++ {
		a, b := c[i-1], c[i]
		if a.celsius == b.celsius {
			sum += l(a.celsius) * (b.at - a.at)
		} else {
			slope := (b.celsius - a.celsius) / (b.at - a.at)
			sum += s.Z / math.Ln10 * (l(b.celsius) - l(a.celsius)) / slope
		}
	}
	return sum
}

// hold is the time at or above a level, for a cycle that goes up once and down once.
func (c truth) hold(level float64) (from, until float64) {
	for i := 1; i < len(c); i++ {
		a, b := c[i-1], c[i]
		at := a.at + (b.at-a.at)*(level-a.celsius)/(b.celsius-a.celsius)
		if a.celsius < level && b.celsius >= level {
			from = at
		}
		if a.celsius >= level && b.celsius < level {
			until = at
		}
	}
	return from, until
}

// Made-up cycles whose corners lie on readings: what is told is what is true, at 1, 10
// and 60 s, to the last figures.
func TestExactCycles(t *testing.T) {
	for name, c := range map[string]truth{
		"121 for 15 min": {{0, 20}, {1200, 121}, {2100, 121}, {3000, 60}},
		"134 for 5 min":  {{0, 25}, {600, 135}, {900, 135}, {1200, 80}, {2400, 60}},
		"two ramps up":   {{0, 20}, {300, 100}, {900, 100}, {1200, 136}, {1380, 134.5}, {1440, 70}},
		"only a peak":    {{0, 20}, {600, 134}, {1200, 20}},
	} {
		for _, step := range []float64{1, 10, 60} {
			for _, scale := range []Scale{F0, FH} {
				set := Setting{Levels: []float64{110, 121, 134}, Scale: scale}
				got := summed(set, c.read(0, step))
				assert.InEpsilon(t, c.lethality(scale), got.Lethality, 1e-10, "%s, %s, every %g s", name, scale.Name, step)
				for _, h := range got.Holds {
					from, until := c.hold(h.Level)
					if from == 0 {
						assert.False(t, h.Reached)
						continue
					}
					require.True(t, h.Reached, "%s %g", name, h.Level)
					assert.InDelta(t, from, h.From, 1e-6, "%s %g every %g s", name, h.Level, step)
					assert.InDelta(t, until, h.Until, 1e-6, "%s %g every %g s", name, h.Level, step)
					cut := truth{{from, h.Level}}
					for _, k := range c {
						if k.at > from && k.at < until {
							cut = append(cut, k)
						}
					}
					cut = append(cut, corner{until, h.Level})
					if until-from > 1 {
						assert.InEpsilon(t, cut.lethality(scale), h.Lethality, 1e-9, "%s %g every %g s", name, h.Level, step)
					}
				}
				assert.Zero(t, got.Gaps)
				assert.Equal(t, step, got.Interval)
			}
		}
	}
}

// plateaued draws a cycle up, along and down again, and what is surely so of it.
func plateaued(t *rapid.T) (c truth, level float64) {
	level = rapid.SampledFrom([]float64{121, 134}).Draw(t, "level")
	up := rapid.Float64Range(60, 1500).Draw(t, "heating")
	along := rapid.Float64Range(0, 1500).Draw(t, "plateau")
	down := rapid.Float64Range(60, 1500).Draw(t, "cooling")
	top := level + rapid.Float64Range(0.01, 3).Draw(t, "over")
	return truth{{0, 20}, {up, top}, {up + along + 1, top}, {up + along + 1 + down, 20}}, level
}

// Whatever the interval, the phase, the noise, the rounding, the step of the clock, and
// the readings that are missing: the truth lies between Least and Most.
func TestHoldBoundsHoldTheTruth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, level := plateaued(t)
		step := rapid.SampledFrom([]float64{1, 10, 60}).Draw(t, "interval")
		noise := rapid.SampledFrom([]float64{0, 0.05, 0.5}).Draw(t, "noise")
		all := c.read(rapid.Float64Range(0, 1).Draw(t, "phase")*step, step)
		set := Setting{Levels: []float64{level}, Below: noise, Above: noise}
		unseen := step // a shorter hold may lie between two readings
		if clock := rapid.SampledFrom([]float64{0, 1, 60}).Draw(t, "clock"); clock > 0 {
			set.Resolution = clock
			for i := range all {
				all[i].at = math.Floor(all[i].at/clock) * clock
			}
		}
		if rapid.Bool().Draw(t, "readings missing") && len(all) > 30 {
			from := rapid.IntRange(1, len(all)-2).Draw(t, "from")
			until := min(from+rapid.IntRange(6, 200).Draw(t, "many"), len(all)-1)
			all = append(all[:from:from], all[until:]...)
			unseen = max(gapTimes*max(step, set.Resolution), gapLeast) // shorter is no gap
		}
		for i := range all {
			all[i].cold += noise * rapid.Float64Range(-1, 1).Draw(t, "noise")
			all[i].warm = all[i].cold
		}
		h := summed(set, all).Holds[0]
		from, until := c.hold(level)
		assert.LessOrEqual(t, h.Least, until-from+1e-6, "least")
		times := map[float64]bool{}
		for _, r := range all[:min(len(all), 16)] {
			times[r.at] = true
		}
		// With one or two intervals alone nobody can say which is a gap, and of what lies
		// before the first or after the last reading nobody knows.
		if until-from >= unseen && len(times) > 3 && !h.OpenStart && !h.OpenEnd {
			assert.GreaterOrEqual(t, h.Most, until-from-1e-6, "most")
		}
		if h.Reached {
			assert.LessOrEqual(t, h.Least, h.Seconds()+set.Resolution+1e-6)
			assert.GreaterOrEqual(t, h.Most, h.Seconds()-1e-6)
		}
	})
}

// What reading more seldom, noise and rounding cost lethality.
func TestLethalityOfSeldomReadings(t *testing.T) {
	c := truth{{0, 25}, {613, 134.6}, {894.5, 134.6}, {1207, 80}}
	want := c.lethality(F0)
	for _, k := range []struct{ step, within float64 }{{1, 0.001}, {10, 0.02}, {60, 0.15}} {
		got := summed(Setting{}, c.read(0.3, k.step)).Lethality
		assert.InEpsilon(t, want, got, k.within, "every %g s", k.step)
		assert.Less(t, got, want, "corners cut off on the high side: reads low, which is no danger")
	}
	all := c.read(0, 1)
	for i := range all {
		all[i].cold = math.Round(10*(all[i].cold+0.1*math.Sin(float64(i*i)))) / 10
	}
	assert.InEpsilon(t, want, summed(Setting{}, all).Lethality, 0.003, "noise of 0.1 K")
}

// Joining adds, and when a cycle began changes nothing.
func TestShiftAndJoin(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		set := drawnSetting(t)
		all := drawn(t, set)
		whole := summed(set, all)
		by := rapid.SampledFrom([]float64{-1024, 86400, 1 << 20}).Draw(t, "later")
		shifted := make([]reading, len(all))
		for i, r := range all {
			r.at += by
			shifted[i] = r
		}
		moved := summed(set, shifted)
		assert.InDelta(t, whole.Lethality, moved.Lethality, 1e-8*whole.Lethality+1e-300)
		assert.Equal(t, whole.Gaps, moved.Gaps)
		assert.Equal(t, whole.PulseCount, moved.PulseCount)
		for i := range whole.Holds {
			assert.InDelta(t, whole.Holds[i].Seconds(), moved.Holds[i].Seconds(), 1e-6)
			assert.InDelta(t, whole.Holds[i].Least, moved.Holds[i].Least, 1e-6)
			assert.InDelta(t, whole.Holds[i].Most, moved.Holds[i].Most, 1e-6)
		}
		cut := rapid.IntRange(0, len(all)-1).Draw(t, "cut")
		sum := summed(set, all[:cut+1]).Lethality + summed(set, all[cut:]).Lethality
		assert.InDelta(t, whole.Lethality, sum, 1e-9*sum+1e-300, "joining adds")
		hotter := make([]reading, len(all))
		for i, r := range all {
			r.cold, r.warm = r.cold+1, r.warm+1
			hotter[i] = r
		}
		warm := summed(set, hotter)
		assert.GreaterOrEqual(t, warm.Lethality*(1+1e-9), whole.Lethality, "hotter never lowers")
		for i := range whole.Holds {
			assert.GreaterOrEqual(t, warm.Holds[i].Least, whole.Holds[i].Least)
			assert.GreaterOrEqual(t, warm.Holds[i].Most+1e-9, whole.Holds[i].Most)
		}
	})
}
