package report

import (
	"math"
	"slices"
	"strings"
	"testing"

	"footing/internal/result"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestPenWritesLittle(t *testing.T) {
	var p pen
	p.move(66, 100.04)
	p.line(66.5, 99.8)
	p.line(66.5, 99.8) // does not move
	p.line(70, 99.8)
	p.dot(71, 0.26)
	p.line(72, 0)
	require.Equal(t, "M66 100l.5-.2 3.5 0M71 .3h0l1-.3", p.String())
	require.Equal(t, "0", px(-0.04).String())
	require.Equal(t, "-.5", px(-0.5).String())
	require.Equal(t, "578", px(578).String())
}

// What a path draws is what was asked for, to a tenth, however long: steps do not drift.
func TestPathsDoNotDrift(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		place := rapid.Float64Range(0, 720)
		var p pen
		var want [][2]float64
		for i := range rapid.IntRange(1, 60).Draw(t, "n") {
			x, y := place.Draw(t, "x"), place.Draw(t, "y")
			if i == 0 {
				p.move(x, y)
			} else {
				p.line(x, y)
			}
			at := [2]float64{math.Round(x*10) / 10, math.Round(y*10) / 10}
			if len(want) == 0 || want[len(want)-1] != at {
				want = append(want, at)
			}
		}
		require.Equal(t, want, points(t, p.String()))
	})
}

func plot() *panel {
	return &panel{top: 0, high: 100, from: 0, until: 512, least: 0, most: 100}
}

// A panel of one unit a second, so that places can be read off: x = 66 + s, y = 100 - value.
func TestUnknownReadingsAreLeftOpen(t *testing.T) {
	nan := math.NaN()
	for name, c := range map[string]struct {
		time, value []float64
		want        string
	}{
		"a gap":              {[]float64{0, 10, 20, 30, 40}, []float64{50, 60, nan, 70, 60}, "M66 50l10-10M96 30l10 10"},
		"one alone":          {[]float64{0, 10, 20}, []float64{nan, 60, nan}, "M76 40h0"},
		"unknown time":       {[]float64{0, nan, 20, 30}, []float64{50, 60, 70, 70}, "M66 50h0M86 30l10 0"},
		"nothing":            {[]float64{0, 10}, []float64{nan, nan}, ""},
		"out at the top":     {[]float64{0, 10, 20}, []float64{50, 150, 50}, "M66 50l5-50M81 0l5 50"},
		"out and alone":      {[]float64{0, 10, 20}, []float64{nan, 150, nan}, ""},
		"wholly out":         {[]float64{0, 10}, []float64{150, 160}, ""},
		"through, both ends": {[]float64{0, 10}, []float64{-50, 150}, "M68.5 100l5-100"},
	} {
		require.Equal(t, c.want, plot().trail(c.time, c.value), name)
	}
}

// What is cut lies in the panel and on the line that was cut.
func TestCutsLieOnTheLine(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := plot()
		v := rapid.Float64Range(-600, 1200)
		x0, y0, x1, y1 := v.Draw(t, "x0"), v.Draw(t, "y0"), v.Draw(t, "x1"), v.Draw(t, "y1")
		a, b, c, d, ok := n.cut(x0, y0, x1, y1)
		if !ok {
			for i := range 101 { // no place of it lies well inside
				s := float64(i) / 100
				x, y := x0+s*(x1-x0), y0+s*(y1-y0)
				require.False(t, x > 1e-6 && x < 512-1e-6 && y > 1e-6 && y < 100-1e-6)
			}
			return
		}
		for _, p := range [][2]float64{{a, b}, {c, d}} {
			require.True(t, p[0] >= -1e-6 && p[0] <= 512+1e-6 && p[1] >= -1e-6 && p[1] <= 100+1e-6, p)
			require.InDelta(t, 0, (p[0]-x0)*(y1-y0)-(p[1]-y0)*(x1-x0), 1e-3)
		}
	})
}

func TestAxes(t *testing.T) {
	for _, c := range []struct {
		low, high, least float64
		most             int
		want             []string
	}{
		{21.3, 135.2, 10, 8, []string{"20", "40", "60", "80", "100", "120", "140"}},
		{134, 134, 10, 8, []string{"128", "130", "132", "134", "136", "138", "140"}},
		{0, 0, 10, 4, []string{"−5", "0", "5"}},
		{-93, 212, 10, 4, []string{"−100", "0", "100", "200", "300"}},
		{130.9, 137.2, 4, 6, []string{"130", "132", "134", "136", "138"}},
		{133.1, 134.2, 1, 6, []string{"133.0", "133.2", "133.4", "133.6", "133.8", "134.0", "134.2"}},
		{math.Inf(1), math.Inf(-1), 10, 8, []string{"0", "2", "4", "6", "8", "10"}},
	} {
		_, _, ticks, step := axis(c.low, c.high, c.least, c.most)
		var got []string
		for _, v := range ticks {
			got = append(got, tickText(v, step))
		}
		require.Equal(t, c.want, got, c)
	}
}

// Ticks are multiples of 1, 2 or 5 times a power of ten, not too many, and hold the range.
func TestAxesAreRound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64Range(-200, 2_000)
		low, high := v.Draw(t, "low"), v.Draw(t, "high")
		if low > high {
			low, high = high, low
		}
		most := rapid.IntRange(4, 8).Draw(t, "most")
		from, until, ticks, step := axis(low, high, 4, most)
		require.True(t, from <= low+1e-6 && until >= high-1e-6 && from < until)
		require.True(t, len(ticks) >= 2 && len(ticks) <= most+1, "%v", ticks)
		ten := math.Pow(10, math.Floor(math.Log10(step*1.0001)))
		require.True(t, slices.ContainsFunc([]float64{1, 2, 5}, func(m float64) bool { return math.Abs(step/ten-m) < 1e-6 }), step)
		for _, tick := range ticks {
			require.InDelta(t, math.Round(tick/step), tick/step, 1e-6)
		}
	})
}

func TestTimeIsCountedInRoundSteps(t *testing.T) {
	for span, want := range map[float64]clock{
		60: {60, "minutes", 0.1}, 300: {60, "minutes", 0.5}, 720: {60, "minutes", 1}, 721: {60, "minutes", 2}, 26 * 60: {60, "minutes", 5},
		60 * 60: {60, "minutes", 5}, 3 * 3600: {60, "minutes", 15}, 36000: {60, "minutes", 60}, 36001: {3600, "hours", 1}, 30 * 3600: {3600, "hours", 5},
	} {
		require.Equal(t, want, clockOf(span, span, 12), span)
	}
	require.Equal(t, clock{3600, "hours", 0.1}, clockOf(3600, 40000, 12), "a part of a long chart counts as the whole does")
}

// Labels keep a line's height between them, whatever lines they name.
func TestLabelsDoNotTouch(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := &picture{}
		n := &panel{top: 40, high: rapid.SampledFrom([]float64{pressHigh, nearHigh, heatHigh}).Draw(t, "high"), until: 1, most: 1}
		lines := 0
		for range rapid.IntRange(0, 5).Draw(t, "n") {
			l := tag{y: rapid.Float64Range(40, 40+n.high).Draw(t, "y"), lines: []string{"a"}, tied: rapid.Bool().Draw(t, "tied")}
			if rapid.Bool().Draw(t, "two") && n.high > pressHigh {
				l.lines = append(l.lines, "b")
			}
			if lines += len(l.lines); lines > 6 {
				break
			}
			n.tags = append(n.tags, l)
		}
		p.name(n)
		for i, w := range p.Texts {
			require.True(t, float64(w.Y) >= 40-6 && float64(w.Y) <= 40+n.high+8+4)
			if i > 0 {
				require.GreaterOrEqual(t, float64(w.Y-p.Texts[i-1].Y), lineHigh-1e-6)
			}
		}
	})
}

func TestPhasesAreJoinedAndCut(t *testing.T) {
	at := func(name string, from, until float64) result.ChartPhase {
		return result.ChartPhase{Name: name, Stretch: result.Stretch{From: from, Until: until}}
	}
	got := phasesOf([]result.ChartPhase{at("up", -5, 10), at("up", 10, 20), at("hold", 15, 40), at("", 40, 50), at("hold", 50, 60), at("end", 60, 60), at("dry", 60, 500)}, stretch{0, 100})
	require.Equal(t, []phase{{"up", stretch{0, 20}}, {"hold", stretch{20, 40}}, {"hold", stretch{50, 60}}, {"dry", stretch{60, 100}}}, got)
}

// A file with many phases names what has room and counts the rest.
func TestManyPhasesAreCounted(t *testing.T) {
	c := &result.Chart{Time: result.Series{0, 400}, Temperature: result.Series{20, 30}}
	for i := range 80 {
		c.Phases = append(c.Phases, result.ChartPhase{Name: "phase of the cycle " + itoa(i+1), Stretch: result.Stretch{From: float64(5 * i), Until: float64(5*i + 5)}})
	}
	texts := charted(t, c).texts
	key := slices.IndexFunc(texts, func(s string) bool { return strings.HasPrefix(s, "Phases: 1 phase of the cycle 1") })
	require.GreaterOrEqual(t, key, 0)
	require.Len(t, texts[key:], mostKeyLines)
	named := strings.Count(strings.Join(texts[key:], " "), "phase of the cycle")
	require.Contains(t, texts[len(texts)-1], "and "+itoa(80-named)+" more")
	require.Contains(t, charted(t, c).words["desc"], "phase of the cycle 20, 60 more.")
}

func TestLasted(t *testing.T) {
	for s, want := range map[float64]string{0: "0 s", 0.44: "0.4 s", 9.94: "9.9 s", 9.96: "9 s", 59.9: "59 s", 60: "1 min", 239.9: "3 min 59 s", 239.9999999: "4 min", 290: "4 min 50 s", 3599.6: "59 min 59 s", 3600: "1 h", 7385: "2 h 3 min 5 s", 108000: "30 h"} {
		require.Equal(t, want, lasted(s), s)
	}
}

func TestBegan(t *testing.T) {
	for start, want := range map[string]string{"2026-11-07T08:44:00": "7 Nov 2026 08:44", "2026-11-07 08:44:10": "7 Nov 2026 08:44:10", "2026-11-07 08:00": "7 Nov 2026 08:00", "2026-11-07": "7 Nov 2026", "": ""} {
		require.Equal(t, want, began(start))
	}
}
