package steam

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

// coolAfter reads every second, cooler than the level, then after each of some times.
func coolAfter(times ...float64) Cycle {
	var list []reading
	at := 0.0
	for _, d := range append(slices.Repeat([]float64{1}, 100), times...) {
		at += d
		list = append(list, reading{at, 90, 90, math.NaN()})
	}
	return summed(Setting{Levels: []float64{134}}, list)
}

// In two times without readings, one soon after the other, anything may have been, as
// in any gap: that a hold of ten minutes was none is not to be told from them.
func TestMostOfTwoLongTimes(t *testing.T) {
	ones := slices.Repeat([]float64{1}, 100)
	for name, c := range map[string]struct {
		times []float64
		gaps  int
		most  float64
	}{
		"one gap":                           {append([]float64{600}, ones...), 1, 600},
		"two":                               {append([]float64{600, 500}, ones...), 2, 600},
		"two, the second longer":            {append([]float64{500, 600}, ones...), 2, 600},
		"two at the end":                    {[]float64{600, 500}, 0, 600},
		"a slower pace":                     {[]float64{60, 60, 60, 60, 60, 60}, 0, 0},
		"times longer than a pace on trial": {append([]float64{12, 12, 70, 40}, ones...), 4, 70},
	} {
		got := coolAfter(c.times...)
		assert.Equal(t, c.gaps, got.Gaps, name)
		assert.Equal(t, c.most, got.Holds[0].Most, name)
	}
}

// Two stretches of a cycle are missing, however near to each other: the truth lies
// between Least and Most.
func TestBoundsOfTwoLongTimes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, level := plateaued(t)
		all := c.read(0, 1)
		at := rapid.IntRange(20, len(all)-2).Draw(t, "from")
		list := slices.Clone(all[:at])
		for range 2 {
			at = min(at+rapid.IntRange(15, 200).Draw(t, "missing"), len(all)-1)
			until := min(at+rapid.IntRange(1, 4).Draw(t, "read"), len(all))
			list = append(list, all[at:until]...)
			if at = until; at == len(all) {
				break
			}
		}
		list = append(list, all[at:]...)
		h := summed(Setting{Levels: []float64{level}}, list).Holds[0]
		from, until := c.hold(level)
		assert.LessOrEqual(t, h.Least, until-from+1e-6, "least")
		if long := until - from; long >= gapLeast && !h.OpenEnd {
			assert.GreaterOrEqual(t, h.Most, long-1e-6, "most")
		}
	})
}

// A pressure of which nobody says from where it counts may be that of the air.
func TestBegunAwayOfUnsaidPressure(t *testing.T) {
	for _, c := range []struct {
		first float64
		away  bool
	}{{0, false}, {19, false}, {20, true}, {59.9, true}, {60, false}, {101.3, false}, {110, false}, {110.1, true}, {200, true}, {-20, true}} {
		unsaid := summed(Setting{Air: math.NaN()}, []reading{{0, 20, 20, c.first}})
		assert.Equal(t, c.away, unsaid.BegunAway, "%g kPa", c.first)
		gauge := summed(Setting{}, []reading{{0, 20, 20, c.first}})
		assert.Equal(t, math.Abs(c.first) >= 20, gauge.BegunAway, "%g kPa gauge", c.first)
	}
}
