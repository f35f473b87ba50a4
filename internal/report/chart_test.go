package report

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"footing/internal/result"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// seen is what a chart holds, as a reader of its XML finds it.
type seen struct {
	root  xml.StartElement
	texts []string
	words map[string]string // of title and desc, by element
	paths []string
}

// checkChart parses a chart and fails on what is no well-formed XML, any number that
// is not finite, anything drawn outside, any element that could fetch or run.
func checkChart(t require.TestingT, svg []byte) *seen {
	s := &seen{words: map[string]string{}}
	d := xml.NewDecoder(bytes.NewReader(svg))
	var wide, high float64
	var open []string
	for {
		token, err := d.Token()
		if err == io.EOF {
			break
		}
		require.NoError(t, err, "%s", svg)
		switch e := token.(type) {
		case xml.StartElement:
			if len(open) == 0 {
				s.root = e.Copy()
				require.Equal(t, "http://www.w3.org/2000/svg", e.Name.Space)
				wide, high = size(t, e)
			}
			open = append(open, e.Name.Local)
			require.Contains(t, []string{"svg", "title", "desc", "rect", "path", "text"}, e.Name.Local)
			within(t, e, wide, high)
			for _, a := range e.Attr {
				if a.Name.Local == "d" {
					s.paths = append(s.paths, a.Value)
				}
			}
			if e.Name.Local == "text" {
				s.texts = append(s.texts, "")
			}
		case xml.EndElement:
			open = open[:len(open)-1]
		case xml.CharData:
			switch at := open[len(open)-1:]; {
			case len(at) == 0:
			case at[0] == "text":
				s.texts[len(s.texts)-1] += string(e)
			default:
				s.words[at[0]] += string(e)
			}
		}
	}
	require.Empty(t, open)
	return s
}

func size(t require.TestingT, e xml.StartElement) (wide, high float64) {
	at := map[string]string{}
	for _, a := range e.Attr {
		at[a.Name.Local] = a.Value
	}
	require.Equal(t, "0 0 "+at["width"]+" "+at["height"], at["viewBox"])
	require.Equal(t, "img", at["role"])
	require.Regexp(t, `^\S+-title \S+-desc$`, at["aria-labelledby"])
	wide, errWide := strconv.ParseFloat(at["width"], 64)
	high, errHigh := strconv.ParseFloat(at["height"], 64)
	require.NoError(t, errWide)
	require.NoError(t, errHigh)
	return wide, high
}

var step = regexp.MustCompile(`[Mlh]|-?[0-9]*\.?[0-9]+`)

// within fails on a number that is none or lies outside.
func within(t require.TestingT, e xml.StartElement, wide, high float64) {
	at := map[string]float64{}
	for _, a := range e.Attr {
		switch name := a.Name.Local; name {
		case "x", "y", "width", "height", "stroke-width", "font-size":
			v, err := strconv.ParseFloat(a.Value, 64)
			require.NoError(t, err, "%s of %s", name, e.Name.Local)
			require.False(t, math.IsNaN(v) || math.IsInf(v, 0))
			require.GreaterOrEqual(t, v, 0.0, "%s of %s", name, e.Name.Local)
			at[name] = v
		case "d":
			for _, p := range points(t, a.Value) {
				require.True(t, p[0] >= 0 && p[0] <= wide && p[1] >= 0 && p[1] <= high, "%v in %s", p, a.Value)
			}
		case "transform":
			require.Regexp(t, `^rotate\(-90 [0-9.]+ [0-9.]+\)$`, a.Value)
		}
	}
	require.LessOrEqual(t, at["x"]+at["width"], wide+0.11)
	require.LessOrEqual(t, at["y"]+at["height"], high+0.11)
}

// points are the places that a path goes through; a path is the letters M, l and h
// and plain numbers, and nothing else.
func points(t require.TestingT, d string) (out [][2]float64) {
	require.Empty(t, strings.Trim(step.ReplaceAllString(d, ""), " "), d)
	var x, y float64
	letter := ""
	tokens := step.FindAllString(d, -1)
	for i := 0; i < len(tokens); {
		if strings.Contains("Mlh", tokens[i]) {
			letter = tokens[i]
			i++
			continue
		}
		v, err := strconv.ParseFloat(tokens[i], 64)
		require.NoError(t, err, d)
		if letter == "h" {
			require.Zero(t, v)
			i++
			continue
		}
		w, err := strconv.ParseFloat(tokens[i+1], 64)
		require.NoError(t, err, d)
		if letter == "M" {
			x, y = 0, 0
		}
		x, y = x+v, y+w
		out = append(out, [2]float64{math.Round(x*10) / 10, math.Round(y*10) / 10})
		i += 2
	}
	return out
}

func charted(t require.TestingT, c *result.Chart) *seen {
	svg, err := Chart(&result.Exhibit{Chart: c})
	require.NoError(t, err)
	return checkChart(t, svg)
}

// On a page of many each chart has ids of its own, and no second line of whose it is.
func TestChartWithinAPage(t *testing.T) {
	x := drawnSample(10)[0]
	alone, err := Chart(&x)
	require.NoError(t, err)
	within, err := ChartWithin(&x, "chart-7")
	require.NoError(t, err)
	require.Contains(t, string(within), `aria-labelledby="chart-7-title chart-7-desc"`)
	require.NotContains(t, string(within), `"chart-title"`)
	require.NotContains(t, checkChart(t, within).texts, heading(x.Chart))
	require.Contains(t, checkChart(t, alone).texts, heading(x.Chart))
	_, err = ChartWithin(&result.Exhibit{}, "a")
	require.Error(t, err)
}

func TestChartSaysWhatItShows(t *testing.T) {
	x := drawnSample(2)
	s := charted(t, x[0].Chart)
	require.Equal(t, "Temperature and pressure over time: sterilizer S1 · load 401 · 8 Nov 2026 16:05 · traces/c401.csv", s.words["title"])
	for _, part := range []string{"The set temperature is 134 °C, its band reaches to 137 °C.", "longest unbroken time at it is 3 min 1", "kPa absolute.",
		"During the hold it lay ", "Phases as the file names them: warm-up, vacuum 1, steam 1"} {
		require.Contains(t, s.words["desc"], part)
	}
	for _, text := range []string{"held 3 min 12 s (3 min 10 s to 3 min 14 s)", "set 134 °C", "band to 137 °C", "coldest sensor", "warmest sensor", "saturated steam", "at this pressure",
		"pressure", "kPa absolute", "°C", "minutes from the first reading", "The hold, enlarged", "vacuum drying", "phases", "140", "15"} {
		require.Contains(t, s.texts, text)
	}
	s = charted(t, x[1].Chart)
	for _, text := range []string{"kPa gauge", "the air outside", "temperature", "−100"} {
		require.Contains(t, s.texts, text)
	}
	require.NotContains(t, s.texts, "warmest sensor")
	require.NotContains(t, s.texts, "phases")
}

func TestChartNeedsOne(t *testing.T) {
	_, err := Chart(&result.Exhibit{})
	require.ErrorContains(t, err, "no chart")
}

func ptr(v float64) *float64 { return &v }

// Data that gives little or nothing to draw, or more than a sensor can, give a chart too.
func TestOddCharts(t *testing.T) {
	nan := math.NaN()
	long := &result.Chart{Set: ptr(134)}
	for s := 0.0; s <= 30*3600; s += 120 {
		long.Time, long.Temperature = append(long.Time, s), append(long.Temperature, 20+math.Mod(s/700, 120))
	}
	for name, c := range map[string]*result.Chart{
		"nothing":        {},
		"one point":      {Time: result.Series{0}, Temperature: result.Series{20}},
		"one instant":    {Time: result.Series{5, 5, 5}, Temperature: result.Series{20, 30, 40}},
		"all equal":      {Time: result.Series{0, 10, 20}, Temperature: result.Series{134, 134, 134}, Pressure: result.Series{304, 304, 304}, Set: ptr(134), Band: ptr(137), Hold: &result.Hold{Stretch: result.Stretch{From: 0, Until: 20}}},
		"all nought":     {Time: result.Series{0, 10}, Temperature: result.Series{0, 0}, Pressure: result.Series{0, 0}, PressureFrom: "gauge"},
		"nothing known":  {Time: result.Series{0, nan, 20}, Temperature: result.Series{nan, nan, nan}, Warmest: result.Series{nan}, Pressure: result.Series{nan, nan, nan}, Saturation: result.Series{nan}},
		"no time known":  {Time: result.Series{nan, nan}, Temperature: result.Series{20, 30}},
		"short series":   {Time: result.Series{0, 10, 20}, Temperature: result.Series{20}, Pressure: result.Series{100, 200, 300, 400}},
		"deep vacuum":    {Time: result.Series{0, 10, 20}, Temperature: result.Series{20, 60, 134}, Pressure: result.Series{-99, -101.3, -80}, PressureFrom: "gauge"},
		"mad numbers":    {Time: result.Series{0, 1e300, 20}, Temperature: result.Series{-1e300, 1e6, 134}, Pressure: result.Series{1e9, -1e9, 300}, Set: ptr(1e300), Band: ptr(-1e300)},
		"band below":     {Time: result.Series{0, 60}, Temperature: result.Series{20, 134}, Set: ptr(134), Band: ptr(121)},
		"hold elsewhere": {Time: result.Series{0, 60}, Temperature: result.Series{20, 134}, Set: ptr(134), Hold: &result.Hold{Stretch: result.Stretch{From: -500, Until: 900}}},
		"hold backwards": {Time: result.Series{0, 60}, Temperature: result.Series{20, 134}, Set: ptr(134), Hold: &result.Hold{Stretch: result.Stretch{From: 50, Until: 10}}},
		"hold unknown":   {Time: result.Series{0, 60}, Temperature: result.Series{20, 134}, Set: ptr(nan), Hold: &result.Hold{Stretch: result.Stretch{From: nan, Until: nan}}},
		"long":           long,
		"times backward": {Time: result.Series{60, 0, 30}, Temperature: result.Series{20, 134, 50}},
		"phases": {Time: result.Series{0, 60}, Temperature: result.Series{20, 134}, Phases: []result.ChartPhase{{Name: "a", Stretch: result.Stretch{From: nan, Until: 9}},
			{Name: "b", Stretch: result.Stretch{From: math.Inf(-1), Until: math.Inf(1)}}, {Name: "c", Stretch: result.Stretch{From: 70, Until: 10}}}},
	} {
		require.NotPanics(t, func() { charted(t, c) }, name)
	}
	failed := &result.Chart{Time: result.Series{0, 10, 20, 30}, Temperature: result.Series{20, 999.9, 40, 60}}
	require.Contains(t, charted(t, failed).texts, leftOut)
	require.Contains(t, charted(t, failed).words["desc"], "20 to 60 °C. "+leftOut)
	require.NotContains(t, charted(t, long).texts, leftOut)
	require.Contains(t, charted(t, &result.Chart{}).texts, "no temperature that can be drawn")
	require.Contains(t, charted(t, long).texts, "hours from the first reading")
}

// Whatever numbers and names stand in it, a chart is well-formed, finite and within itself.
func TestAnyChartIsWellFormed(t *testing.T) {
	number := rapid.OneOf(rapid.Float64Range(-50, 400), rapid.Float64(), rapid.Just(math.NaN()), rapid.Just(0.0), rapid.Just(134.0))
	series := rapid.Custom(func(t *rapid.T) result.Series { return rapid.SliceOfN(number, 0, 30).Draw(t, "values") })
	maybe := rapid.Ptr(number, true)
	rapid.Check(t, func(t *rapid.T) {
		c := &result.Chart{File: hostile().Draw(t, "file"), Load: hostile().Draw(t, "load"), Start: hostile().Draw(t, "start"), Sterilizer: hostile().Draw(t, "sterilizer"),
			PressureFrom: rapid.SampledFrom([]string{"", "absolute", "gauge", nasty}).Draw(t, "from"),
			Temperature:  series.Draw(t, "coldest"), Warmest: series.Draw(t, "warmest"), Pressure: series.Draw(t, "pressure"), Saturation: series.Draw(t, "steam"),
			Set: maybe.Draw(t, "set"), Band: maybe.Draw(t, "band")}
		at := 0.0
		for range 30 {
			at += rapid.Float64Range(0, 900).Draw(t, "step")
			c.Time = append(c.Time, at)
		}
		if rapid.Bool().Draw(t, "odd times") {
			c.Time = series.Draw(t, "times")
		}
		if rapid.Bool().Draw(t, "hold") {
			c.Hold = &result.Hold{Stretch: result.Stretch{From: number.Draw(t, "hold from"), Until: at * rapid.Float64Range(0, 1).Draw(t, "hold until")}}
		}
		for i := range rapid.IntRange(0, 40).Draw(t, "phases") {
			c.Phases = append(c.Phases, result.ChartPhase{Name: hostile().Draw(t, "phase"), Stretch: result.Stretch{From: float64(i) * at / 40, Until: number.Draw(t, "until") + float64(i)*at/40}})
		}
		charted(t, c)
	})
}

func TestHostileNamesAreTextOnAChart(t *testing.T) {
	for _, x := range drawnSample(10) {
		c := x.Chart
		c.File, c.Load, c.Sterilizer, c.Start = nasty, nasty, nasty, nasty
		for i := range c.Phases {
			c.Phases[i].Name = nasty
		}
		s := charted(t, c)
		require.Contains(t, s.words["title"], "<script>alert(1)</script>")
	}
	s := charted(t, &result.Chart{File: "\x00\x1b[31m\xff\ufffe</svg>]]>&amp;"})
	require.Contains(t, s.words["title"], "[31m\ufffd</svg>]]>&amp;")
}

func TestSameChartSameBytes(t *testing.T) {
	for _, x := range drawnSample(2) {
		first, err := Chart(&x)
		require.NoError(t, err)
		again, err := Chart(&x)
		require.NoError(t, err)
		require.Equal(t, string(first), string(again))
		require.NotContains(t, string(first), "<script")
		require.NotRegexp(t, `NaN|Inf|e\+`, string(first))
		require.NotRegexp(t, `[0-9]\.[0-9]{2}`, strings.Join(checkChart(t, first).paths, " "), "one decimal is enough")
	}
}

// Twenty-four charts of a thousand points, as many as an audit draws, stay a page
// that a mail takes.
func TestManyChartsStaySmall(t *testing.T) {
	r := full()
	r.Exhibits, r.Days, r.Due = nil, nil, nil
	for i := range 24 {
		x := drawnSample(1.61)[0]
		require.Greater(t, len(x.Chart.Time), 850)
		c := x.Chart
		for j := range c.Time { // noise, so that no step falls away
			c.Temperature[j] += 2 * math.Sin(float64(j*j))
			c.Pressure[j] += 9 * math.Sin(float64(j*j)/3)
		}
		x.ID = fmt.Sprintf("t%d", i)
		r.Exhibits = append(r.Exhibits, x)
	}
	page, err := HTML(r)
	require.NoError(t, err)
	require.Less(t, len(page), 2_500_000)
	checkPage(t, page)
	require.Equal(t, 24, strings.Count(string(page), "<svg "))
}
