package report

import (
	"math"
	"strconv"
	"strings"
)

// axis widens a range to round ends and gives the round values in it, at most most
// apart evenly. least is the narrowest range, so that values that are all the same,
// or none at all, have an axis too.
func axis(low, high, least float64, most int) (from, until float64, ticks []float64, step float64) {
	if low > high {
		low, high = 0, least
	}
	if high-low < least {
		middle := (low + high) / 2
		low, high = middle-least/2, middle+least/2
	}
	step = round125((high - low) / float64(most))
	from, until = math.Floor(low/step)*step, math.Ceil(high/step)*step
	if (until-from)/step > float64(most)+0.5 { // rounding outwards took one too many
		step = round125(step * 1.01)
		from, until = math.Floor(low/step)*step, math.Ceil(high/step)*step
	}
	return from, until, between(from, until, step), step
}

// round125 is the least of 1, 2, 5, 10, 20 … that is not below v.
func round125(v float64) float64 {
	ten := math.Pow(10, math.Floor(math.Log10(v)))
	for _, m := range []float64{1, 2, 5} {
		if m*ten >= v*(1-1e-9) {
			return m * ten
		}
	}
	return 10 * ten
}

// between are the multiples of step in a range.
func between(from, until, step float64) (ticks []float64) {
	for i := math.Ceil(from/step - 1e-6); i*step <= until+step*1e-6; i++ {
		ticks = append(ticks, i*step+0) // no minus before nought
	}
	return ticks
}

// tickText writes a tick with the decimals that tell it from the next.
func tickText(v, step float64) string {
	decimals := max(0, int(math.Ceil(-math.Log10(step)-1e-9)))
	return strings.Replace(strconv.FormatFloat(v, 'f', decimals, 64), "-", "−", 1)
}

// clock is how a time axis counts: its unit in seconds, the unit's name, and the
// distance of its ticks in that unit.
type clock struct {
	unit float64
	name string
	step float64
}

// longestInMinutes is where a time axis counts hours: a chart of a day in minutes
// is not read at a glance.
const longestInMinutes = 10 * 60 * 60

// clockOf chooses the ticks for a stretch of time in s, at most most of them, on a
// chart that goes over whole s.
func clockOf(span, whole float64, most int) clock {
	c := clock{unit: 60, name: "minutes"}
	if whole > longestInMinutes {
		c = clock{unit: 3600, name: "hours"}
	}
	need := span / c.unit / float64(most)
	for _, step := range []float64{1, 2, 5, 10, 15, 20, 30, 60} {
		if need > 0.5 && step >= need {
			c.step = step
			return c
		}
	}
	c.step = round125(need)
	return c
}
