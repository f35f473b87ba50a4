package report

import (
	"math"

	"footing/internal/result"
)

// What can be drawn: times in s, °C, and kPa. A value beyond is none that a
// sterilizer gives, most often a sensor's way to say that it has failed, and would
// press all others flat.
var (
	drawnTimes     = [2]float64{-1e9, 1e9}
	drawnHeat      = [2]float64{-100, 600}
	drawnPressures = [2]float64{-200, 2_000}
)

// readings are the series of a chart with one value a point, NaN where not known;
// beyond says that some are left out since they cannot be drawn.
type readings struct {
	time, coldest, warmest, pressure, steam []float64
	beyond                                  bool
}

func readingsOf(c *result.Chart) *readings {
	n := len(c.Time)
	r := &readings{}
	fitted := func(s result.Series, within [2]float64) []float64 {
		out := make([]float64, n)
		for i := range out {
			out[i] = math.NaN()
			if i >= len(s) || math.IsNaN(s[i]) {
				continue
			}
			if s[i] < within[0] || s[i] > within[1] {
				r.beyond = true
				continue
			}
			out[i] = s[i]
		}
		return out
	}
	r.time, r.pressure = fitted(c.Time, drawnTimes), fitted(c.Pressure, drawnPressures)
	r.coldest, r.warmest, r.steam = fitted(c.Temperature, drawnHeat), fitted(c.Warmest, drawnHeat), fitted(c.Saturation, drawnHeat)
	return r
}

// reach is the least and greatest known value; low > high where there is none.
func reach(series ...[]float64) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, s := range series {
		for _, v := range s {
			if !math.IsNaN(v) {
				low, high = min(low, v), max(high, v)
			}
		}
	}
	return low, high
}

func anyKnown(s []float64) bool {
	low, high := reach(s)
	return low <= high
}

// marks are what a chart is set against: a finite set temperature, the top of its
// band above it, and a hold that lies in the time of the chart.
type marks struct {
	set, band *float64
	hold      *result.Hold
}

func marksOf(c *result.Chart, from, until float64) (m marks) {
	if c.Set != nil && *c.Set >= drawnHeat[0] && *c.Set <= drawnHeat[1] {
		m.set = c.Set
	}
	if m.set != nil && c.Band != nil && *c.Band > *m.set && *c.Band <= drawnHeat[1] {
		m.band = c.Band
	}
	if h := c.Hold; h != nil && h.From >= from && h.Until <= until && h.From < h.Until {
		m.hold = h
	}
	return m
}
