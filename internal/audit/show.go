package audit

import (
	"math"

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
		if s := since(t, hold.From, hold.Until); hold.Reached && s != nil {
			c.Hold = s
		}
	}
	for _, p := range t.Phases {
		if s := since(t, p.From, p.Until); s != nil {
			c.Phases = append(c.Phases, result.ChartPhase{Name: p.Name, Stretch: *s})
		}
	}
	return result.Exhibit{Kind: "trace", Title: "Data-logger file " + t.Name, Columns: []string{"Figure", "Value"}, Rows: keyFigures(t, hold, band), Chart: c}
}

func drawPoints(c *result.Chart, t *trace.Trace) {
	several, pressed := sensors(t) > 1, t.HasPressure()
	for _, p := range t.Points {
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

// saturated is the temperature of saturated steam, NaN for a pressure at which there is none.
func saturated(kPa float64) float64 {
	celsius, err := steam.SaturationTemperature(kPa)
	if err != nil {
		return math.NaN()
	}
	return celsius
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

// finite turns what is no number that can be drawn into NaN.
func finite(v float64) float64 {
	if bad(v) {
		return math.NaN()
	}
	return v
}
