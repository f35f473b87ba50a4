package audit

import (
	"cmp"
	"math"
	"slices"

	"footing/internal/quantity"
	"footing/internal/result"
	"footing/internal/steam"
	"footing/internal/trace"
)

// ShowTrace is what a data-logger file shows: a chart, and beside it a table of
// what it did, in words with units. Hold is the one at the set temperature, nil
// where none is known; band is the top of its band in °C, NaN where there is none.
// Times count from the first reading. Load and findings are for the caller to add.
func ShowTrace(t *trace.Trace, hold *steam.Hold, band float64) result.Exhibit {
	c := &result.Chart{
		File: t.Name, Sterilizer: t.Header.Sterilizer, Start: t.Start.String(),
		Findings: []string{}, Phases: []result.ChartPhase{},
		Time: result.Series{}, Temperature: result.Series{}, Warmest: result.Series{}, Pressure: result.Series{}, Saturation: result.Series{},
		PressureFrom: pressureFrom(t),
	}
	drawPoints(c, t)
	if hold != nil {
		c.Set = known(hold.Level)
		c.Band = known(band)
		c.Hold = bounded(t, hold)
	}
	for _, p := range t.Phases {
		if s := since(t, p.From, p.Until); s != nil {
			c.Phases = append(c.Phases, result.ChartPhase{Name: p.Name, Stretch: *s})
		}
	}
	return result.Exhibit{Kind: "trace", Title: "Data-logger file " + t.Name, Columns: []string{"Figure", "Value"}, Rows: keyFigures(t, hold, band), Chart: c}
}

// bounded is a hold on the time of a chart; nil where it was not reached or is not known.
func bounded(t *trace.Trace, h *steam.Hold) *result.Hold {
	s := since(t, h.From, h.Until)
	if !h.Reached || s == nil || bad(h.Least) || bad(h.Most) {
		return nil
	}
	return &result.Hold{Stretch: *s, Least: h.Least, Most: h.Most}
}

func drawPoints(c *result.Chart, t *trace.Trace) {
	several, pressed := sensors(t) > 1, t.HasPressure()
	for _, p := range opened(t) {
		c.Time = append(c.Time, finite(p.At-t.Cycle.From))
		c.Temperature = append(c.Temperature, finite(p.Coldest))
		if several {
			c.Warmest = append(c.Warmest, finite(p.Warmest))
		}
		if !pressed {
			continue
		}
		c.Pressure = append(c.Pressure, finite(p.Pressure))
		if t.Cycle.Setting.Absolute {
			c.Saturation = append(c.Saturation, saturated(p.Pressure))
		}
	}
}

// opened are the points of a trace, with one in each gap of which nothing is known, so
// that no line is drawn over it. The record counts its gaps and does not say where they
// are: they are the longest ways between its points, where these are longer than
// thinning leaves. It keeps at most four readings of a bucket and at least one, so that
// two lie at most eight mean ways apart.
func opened(t *trace.Trace) []trace.Point {
	c, n := &t.Cycle, len(t.Points)
	least := 5 * c.Interval
	if n < c.Readings {
		least = max(least, 8*(c.Until-c.From)/float64(n))
	}
	away := func(i int) float64 { return t.Points[i].At - t.Points[i-1].At }
	var gaps []int
	for i := 1; i < n; i++ {
		if away(i) > least && !bad(away(i)) {
			gaps = append(gaps, i)
		}
	}
	slices.SortStableFunc(gaps, func(a, b int) int { return cmp.Compare(away(b), away(a)) })
	gaps = gaps[:min(len(gaps), c.Gaps)]
	slices.Sort(gaps)
	out := make([]trace.Point, 0, n+len(gaps))
	for i, p := range t.Points {
		if len(gaps) > 0 && gaps[0] == i {
			out = append(out, trace.Point{At: p.At - away(i)/2, Coldest: math.NaN(), Warmest: math.NaN(), Pressure: math.NaN()})
			gaps = gaps[1:]
		}
		out = append(out, p)
	}
	return out
}

// saturated is the temperature of saturated steam, NaN for a pressure at which there is none.
func saturated(kPa float64) float64 {
	celsius, err := steam.SaturationTemperature(kPa)
	if err != nil {
		return math.NaN()
	}
	return result.Rounded(celsius)
}

// pressureFrom is what the pressures of a cycle count from. Gauge readings have
// become absolute ones where the air outside was known.
func pressureFrom(t *trace.Trace) string {
	switch {
	case !t.HasPressure():
		return ""
	case t.Cycle.Setting.Absolute:
		return quantity.Absolute.String()
	}
	return t.PressureRef().String()
}

// sensors counts the temperature columns that are judged.
func sensors(t *trace.Trace) (n int) {
	for _, c := range t.Columns {
		if c.Role == trace.Temperature && c.Ignored == "" {
			n++
		}
	}
	return n
}

// since is a stretch of a cycle, counted from the first reading; nil where an end is not known.
func since(t *trace.Trace, from, until float64) *result.Stretch {
	s := &result.Stretch{From: from - t.Cycle.From, Until: until - t.Cycle.From}
	if bad(s.From) || bad(s.Until) {
		return nil
	}
	return s
}

func known(v float64) *float64 {
	if bad(v) {
		return nil
	}
	return &v
}

// bad says that a number is none, or one that no instrument gives and no chart can draw.
func bad(v float64) bool { return !(math.Abs(v) <= 1e12) }

// finite is a number as a chart keeps it, and NaN for what is none that can be drawn.
func finite(v float64) float64 {
	if bad(v) {
		return math.NaN()
	}
	return result.Rounded(v)
}
