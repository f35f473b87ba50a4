package audit

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"footing/internal/quantity"
	"footing/internal/result"
	"footing/internal/steam"
	"footing/internal/trace"
)

// shownTrace is a cycle that begins at 100 s on its own clock, with two sensors and a pressure.
func shownTrace(ref quantity.Reference, absolute bool) *trace.Trace {
	nan := math.NaN()
	t := &trace.Trace{Name: "2026/S1-00398.csv", Readings: 5}
	t.Columns = []trace.Column{{Role: trace.Time}, {Role: trace.Temperature, Unit: quantity.Celsius}, {Role: trace.Temperature, Unit: quantity.Celsius},
		{Role: trace.Temperature, Unit: quantity.Celsius, Ignored: "jacket"}, {Role: trace.Pressure, Unit: quantity.Bar, Ref: ref}}
	t.Header.Sterilizer = "S1"
	t.Start, _ = quantity.ParseMoment("2026-03-02 09:00", quantity.ISO, nil)
	t.Points = []trace.Point{point(100, 24, 24.5, 101.3), point(110, 134, 134.4, 304.1), point(120, 134.5, 135, nan), point(130, nan, math.Inf(1), math.Inf(-1))}
	t.Phases = []trace.Phase{{Name: "heat", From: 100, Until: 110}, {Name: "hold", From: 110, Until: nan}}
	t.Cycle = steam.Cycle{Setting: steam.Setting{Absolute: absolute}, Readings: 2801, From: 100, Until: 2900, Interval: 1, Air: 97.19,
		Lowest: 24, Highest: 134.5, Warmest: 135, LeastPressure: 19.84, MostPressure: 311.2, PulseCount: 4, Lethality: 1704,
		Pulses: []steam.Pulse{{Lowest: 20.04, Peak: 180}, {Lowest: 19.84, Peak: 179.5}, {Lowest: 20.1, Peak: 310}, {Lowest: 30, Peak: 101}},
		Holds: []steam.Hold{{Level: 134, Reached: true, From: 110, Until: 400.4, Least: 288.9, Most: 291.2, Lowest: 134, Highest: 134.52, Mean: 134.26, Warmest: 135, Spread: 0.51,
			MeanPressure: 308, LeastPressure: 304.1, MostPressure: 311.2, Apart: 0.31, ApartLeast: -0.04, ApartMost: 0.52, Pulses: 3, Lethality: 1600,
			After: steam.After{Vented: 520, Vacuum: 1200, VacuumEnded: true, Rest: 2499.6}}}}
	return t
}

func point(at, coldest, warmest, pressure float64) trace.Point {
	return trace.Point{At: at, Coldest: coldest, Warmest: warmest, Pressure: pressure}
}

// beside is what stands beside a figure; "" where it is not shown.
func beside(x result.Exhibit, what string) string {
	for _, r := range x.Rows {
		if r[0] == what {
			return r[1]
		}
	}
	return ""
}

func TestShowTraceDraws(t *testing.T) {
	x := ShowTrace(shownTrace(quantity.Absolute, true), nil, math.NaN())
	assert.Equal(t, "trace", x.Kind)
	assert.Equal(t, []string{"Figure", "Value"}, x.Columns)
	c := x.Chart
	assert.Equal(t, "2026-03-02 09:00", c.Start)
	assert.Equal(t, result.Series{0, 10, 20, 30}, c.Time, "from the first reading")
	require.Len(t, c.Saturation, 4)
	assert.InDelta(t, 100, c.Saturation[0], 0.05, "steam boils at 100 °C under 101.3 kPa: any steam table")
	assert.InDelta(t, 134, c.Saturation[1], 0.05, "134 °C and 3.04 bar: the pair in EN 285")
	assert.True(t, math.IsNaN(c.Saturation[2]), "no pressure, no steam")
	assert.Nil(t, c.Set)
	assert.Nil(t, c.Hold)
	assert.Equal(t, []result.ChartPhase{{Name: "heat", Stretch: result.Stretch{From: 0, Until: 10}}}, c.Phases, "a phase whose end is not known is not drawn")

	tr := shownTrace(quantity.Absolute, true)
	c = ShowTrace(tr, &tr.Cycle.Holds[0], 137).Chart
	assert.Equal(t, &result.Hold{Stretch: result.Stretch{From: 10, Until: 300.4}, Least: 288.9, Most: 291.2}, c.Hold)
	assert.Equal(t, 134.0, *c.Set)
	assert.Equal(t, 137.0, *c.Band)
	tr.Cycle.Holds[0].Reached = false
	assert.Nil(t, ShowTrace(tr, &tr.Cycle.Holds[0], math.Inf(1)).Chart.Hold)
	assert.Nil(t, ShowTrace(tr, &tr.Cycle.Holds[0], math.Inf(1)).Chart.Band)
}

// No line is drawn over a time in which nothing was recorded.
func TestShowTraceLeavesGapsOpen(t *testing.T) {
	nan := math.NaN()
	times := func(tr *trace.Trace) []float64 { return ShowTrace(tr, nil, nan).Chart.Time }
	tr := shownTrace(quantity.Absolute, true)
	tr.Points = nil
	for _, at := range []float64{100, 110, 120, 220, 230, 281, 291, 341, 351} {
		tr.Points = append(tr.Points, point(at, 134, 134, 304))
	}
	c := &tr.Cycle
	c.Readings, c.Interval, c.From, c.Until = len(tr.Points), 10, 100, 351
	assert.Equal(t, []float64{0, 10, 20, 120, 130, 181, 191, 241, 251}, times(tr), "what the record does not count as a gap is none")
	c.Gaps = 1
	assert.Equal(t, []float64{0, 10, 20, 70, 120, 130, 181, 191, 241, 251}, times(tr), "the longest")
	c.Gaps = 3
	assert.Equal(t, []float64{0, 10, 20, 70, 120, 130, 155.5, 181, 191, 241, 251}, times(tr), "five times the usual is none yet")
	chart := ShowTrace(tr, nil, nan).Chart
	for _, s := range []result.Series{chart.Temperature, chart.Warmest, chart.Pressure, chart.Saturation} {
		require.Len(t, s, len(chart.Time))
		assert.True(t, math.IsNaN(s[3]))
	}
	c.Readings = 100
	assert.Len(t, times(tr), 9, "of a thinned record only what is longer than thinning leaves")
	c.Until = 190
	assert.Len(t, times(tr), 10)
}

// Whatever the times, no point is lost or moved, and none is added but for a gap.
func TestShowTraceKeepsEveryPoint(t *testing.T) {
	odd := rapid.OneOf(rapid.Float64Range(0, 1e4), rapid.SampledFrom([]float64{math.NaN(), math.Inf(1), math.Inf(-1), math.MaxFloat64}))
	rapid.Check(t, func(t *rapid.T) {
		tr := shownTrace(quantity.Absolute, true)
		tr.Points = nil
		for range rapid.IntRange(0, 30).Draw(t, "points") {
			tr.Points = append(tr.Points, point(odd.Draw(t, "at"), 20, 20, 100))
		}
		c := &tr.Cycle
		c.Gaps, c.Interval, c.Readings = rapid.IntRange(0, 5).Draw(t, "gaps"), odd.Draw(t, "interval"), rapid.IntRange(0, 60).Draw(t, "readings")
		var kept []trace.Point
		added := 0
		for _, p := range opened(tr) {
			if math.IsNaN(p.Coldest) {
				added++
				continue
			}
			kept = append(kept, p)
		}
		require.LessOrEqual(t, added, c.Gaps)
		require.Len(t, kept, len(tr.Points))
		for i := range kept {
			require.Equal(t, math.Float64bits(tr.Points[i].At), math.Float64bits(kept[i].At))
		}
	})
}

// A hold whose bounds are not known is not drawn.
func TestShowTraceHoldWithoutBounds(t *testing.T) {
	tr := shownTrace(quantity.Absolute, true)
	tr.Cycle.Holds[0].Most = math.Inf(1)
	assert.Nil(t, ShowTrace(tr, &tr.Cycle.Holds[0], math.NaN()).Chart.Hold)
}

// What the drawn pressure counts from: gauge readings have become absolute ones
// where the air outside was known.
func TestShowTracePressure(t *testing.T) {
	for _, c := range []struct {
		ref      quantity.Reference
		absolute bool
		from     string
		steam    int
		says     string
	}{
		{quantity.Absolute, true, "absolute", 4, "19.8 to 311.2 kPa absolute"},
		{quantity.Gauge, true, "absolute", 4, "19.8 to 311.2 kPa absolute; written as gauge, the air outside of 97.2 kPa added"},
		{quantity.Gauge, false, "gauge", 0, "19.8 to 311.2 kPa gauge; the altitude is not known, so it was not turned absolute"},
		{quantity.Unsaid, false, "", 0, "19.8 to 311.2 kPa"},
	} {
		tr := shownTrace(c.ref, c.absolute)
		x := ShowTrace(tr, &tr.Cycle.Holds[0], math.NaN())
		assert.Equal(t, c.from, x.Chart.PressureFrom)
		assert.Len(t, x.Chart.Saturation, c.steam)
		assert.Equal(t, c.says, beside(x, "Pressure"))
		assert.Equal(t, c.steam == 0, strings.HasPrefix(beside(x, "Against saturated steam"), "not known"))
	}
	tr := shownTrace(quantity.Absolute, true)
	tr.Columns = tr.Columns[:2]
	x := ShowTrace(tr, &tr.Cycle.Holds[0], math.NaN())
	assert.Empty(t, x.Chart.Pressure)
	assert.Empty(t, x.Chart.Warmest, "one sensor")
	assert.Empty(t, beside(x, "Pressure"))
	assert.Empty(t, beside(x, "Pulses before the hold"))
	assert.Contains(t, beside(x, "Venting"), "until the temperature was at 100 °C")
}

func TestShowTraceFigures(t *testing.T) {
	tr := shownTrace(quantity.Absolute, true)
	tr.Cycle.Gaps, tr.Cycle.LongestGap = 2, 80
	x := ShowTrace(tr, &tr.Cycle.Holds[0], 137)
	for what, says := range map[string]string{
		"First reading":           "2 Mar 2026 09:00",
		"Readings":                "2,801 over 46 min 40 s, one every 1 s; 2 temperature sensors",
		"Gaps":                    "2, the longest of 1 min 20 s",
		"Set temperature":         "134.0 °C, band up to 137.0 °C",
		"Longest unbroken hold":   "4 min 50 s (4 min 48 s to 4 min 52 s)",
		"Temperature in the hold": "lowest 134.0, mean 134.3, highest 134.5 °C; warmest sensor up to 135.0 °C",
		"Widest between sensors":  "0.5 K",
		"Heating":                 "10 s from the first reading to the hold",
		"Pressure in the hold":    "304.1 to 311.2 kPa absolute, mean 308.0",
		"Pulses before the hold":  "3, down to 20.0, 19.8 and 20.1 kPa absolute, up to 180.0 and 179.5 between them",
		"Venting":                 "1 min 59 s from the end of the hold until the pressure was back at that of the air",
		"Drying":                  "20 min under vacuum, to its end",
		"F0":                      "28.4 min over all readings, 26.7 min in the hold; reference 121.1 °C, z 10 K; a second opinion, and never a ground for release",
		"Against saturated steam": "+0.3 K (0.0 to +0.5 K), saturated steam of that pressure less the temperature measured; far above nought points to air, far below to superheat, either to a sensor",
	} {
		assert.Equal(t, says, beside(x, what), what)
	}
	x = ShowTrace(tr, nil, math.NaN())
	assert.Equal(t, "24.0 to 134.5 °C; warmest sensor up to 135.0 °C", beside(x, "Temperature"))
	assert.Equal(t, "4, down to 20.0, 19.8, 20.1 and 30.0 kPa absolute, up to 180.0, 179.5 and 310.0 between them", beside(x, "Pulses"))
	assert.Empty(t, beside(x, "Drying"))

	tr.Cycle.Setting.Scale = steam.A0
	tr.Cycle.Lethality = 3000.9
	x = ShowTrace(tr, nil, math.NaN())
	assert.Contains(t, beside(x, "A0"), "3,000 s over all readings; reference 80.0 °C")
	assert.Empty(t, beside(x, "Pulses"), "a washer has none")

	tr.Unusable = "no column of temperatures was found"
	tr.Start = quantity.Moment{}
	x = ShowTrace(tr, nil, math.NaN())
	assert.Equal(t, [][]string{{"First reading", "no date that could be read"}, {"Not judged", "no column of temperatures was found"}}, x.Rows)
}

func TestShowAfterAHold(t *testing.T) {
	tr := shownTrace(quantity.Absolute, true)
	a := &tr.Cycle.Holds[0].After
	for _, c := range []struct {
		after           steam.After
		venting, drying string
	}{
		{steam.After{Vented: math.NaN(), Rest: 30}, "the file ends before the pressure was back at that of the air", "no vacuum seen; the file goes on for 30 s after the hold"},
		{steam.After{Vented: 460.4, Vacuum: 61, Rest: 200}, "1 min from the end of the hold until the pressure was back at that of the air", "1 min 1 s under vacuum; the file ends before the vacuum does"},
	} {
		*a = c.after
		x := ShowTrace(tr, &tr.Cycle.Holds[0], math.NaN())
		assert.Equal(t, c.venting, beside(x, "Venting"))
		assert.Equal(t, c.drying, beside(x, "Drying"))
	}
}

func TestLasted(t *testing.T) {
	for seconds, words := range map[float64]string{0: "0 s", 0.25: "0.3 s", 1: "1 s", 9.94: "9.9 s", 9.96: "9 s", 59.99: "59 s", 60: "1 min", 289.99999999: "4 min 50 s", 290.9: "4 min 50 s",
		3600: "1 h", 3723: "1 h 2 min 3 s", math.NaN(): "a time not known", math.Inf(1): "a time not known", -1: "a time not known"} {
		assert.Equal(t, words, Lasted(seconds), seconds)
	}
	for seconds, words := range map[float64]string{0: "0 s", 0.21: "0.3 s", 10: "10 s", 179.0001: "3 min", 180.0000001: "3 min", 180.1: "3 min 1 s"} {
		assert.Equal(t, words, AtMostLasted(seconds), seconds)
	}
}

func TestHeldFor(t *testing.T) {
	for _, c := range []struct {
		hold  steam.Hold
		words string
	}{
		{steam.Hold{}, "none"},
		{steam.Hold{Most: 12.1}, "none as written; 13 s at most, within what the sensor may be off"},
		{steam.Hold{Reached: true, From: 10, Until: 190, Least: 180, Most: 180}, "3 min"},
		{steam.Hold{Reached: true, From: 10, Until: 190, Least: 170, Most: 190}, "3 min (2 min 50 s to 3 min 10 s)"},
		{steam.Hold{Reached: true, From: 10, Until: 190, Least: 90, Most: 190, Gaps: 1}, "3 min (1 min 30 s to 3 min 10 s), with 1 gap in it"},
	} {
		assert.Equal(t, c.words, HeldFor(&c.hold))
	}
}

// Whatever a file holds, its exhibit can be written and read again, and has a value a point.
func TestShowTraceIsAlwaysWritten(t *testing.T) {
	odd := rapid.OneOf(rapid.Float64(), rapid.SampledFrom([]float64{math.NaN(), math.Inf(1), math.Inf(-1), 0, math.MaxFloat64}))
	rapid.Check(t, func(t *rapid.T) {
		tr := shownTrace(rapid.SampledFrom([]quantity.Reference{quantity.Unsaid, quantity.Gauge, quantity.Absolute}).Draw(t, "from"), rapid.Bool().Draw(t, "absolute"))
		tr.Points = nil
		for range rapid.IntRange(0, 5).Draw(t, "points") {
			tr.Points = append(tr.Points, trace.Point{At: odd.Draw(t, "at"), Coldest: odd.Draw(t, "cold"), Warmest: odd.Draw(t, "warm"), Pressure: odd.Draw(t, "kPa")})
		}
		h := &tr.Cycle.Holds[0]
		h.Level, h.From, h.Until, h.Least, h.Most, h.Apart, h.Lethality = odd.Draw(t, "level"), odd.Draw(t, "from s"), odd.Draw(t, "until"), odd.Draw(t, "least"), odd.Draw(t, "most"), odd.Draw(t, "apart"), odd.Draw(t, "F0")
		x := ShowTrace(tr, h, odd.Draw(t, "band"))
		text, err := json.Marshal(x)
		require.NoError(t, err)
		var back result.Exhibit
		require.NoError(t, json.Unmarshal(text, &back))
		for _, s := range []result.Series{back.Chart.Time, back.Chart.Temperature, back.Chart.Warmest, back.Chart.Pressure} {
			require.Len(t, s, len(tr.Points))
		}
		for _, r := range back.Rows {
			require.NotContains(t, r[1], "NaN")
			require.NotContains(t, r[1], "Inf")
		}
	})
}
