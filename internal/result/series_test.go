package result

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestSeriesAsText(t *testing.T) {
	for text, s := range map[string]Series{
		"": {}, "0": {0}, "0 1.5 ? 3": {0, 1.5, math.NaN(), 3}, "?": {math.NaN()}, "-0.5 134.125": {-0.5, 134.125},
		"1000000000000000000000": {1e21},
	} {
		b, err := s.MarshalText()
		require.NoError(t, err)
		require.Equal(t, text, string(b))
		var back Series
		require.NoError(t, back.UnmarshalText(b))
		same(t, s, back)
	}
	for v, want := range map[float64]string{-0.0004: "0", 0.0005: "0.001", 0.00049: "0", 1.0 / 3: "0.333", -2.0005: "-2.001", 134.4: "134.4"} {
		b, err := Series{v}.MarshalText()
		require.NoError(t, err)
		require.Equal(t, want, string(b))
	}
}

func TestSeriesRefusesWhatIsNoNumber(t *testing.T) {
	for _, v := range []float64{math.Inf(1), math.Inf(-1)} {
		_, err := Series{1, v}.MarshalText()
		require.Error(t, err)
	}
	for _, text := range []string{"x", "1,5", "nan", "inf", "1 -inf", "??"} {
		var s Series
		require.ErrorContains(t, s.UnmarshalText([]byte(text)), "is no number of a chart", text)
	}
}

// Thousandths survive the trip to the last digit, and twice is as good as once.
func TestSeriesSurvivesTheTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := Series{}
		for _, n := range rapid.SliceOf(rapid.Int64Range(-1e12, 1e12)).Draw(t, "thousandths") {
			if n%7 == 0 {
				want = append(want, math.NaN())
				continue
			}
			want = append(want, float64(n)/1000)
		}
		once, err := want.MarshalText()
		require.NoError(t, err)
		var back Series
		require.NoError(t, back.UnmarshalText(once))
		same(t, want, back)
		twice, err := back.MarshalText()
		require.NoError(t, err)
		require.Equal(t, string(once), string(twice))
	})
}

// Any number lies within half a thousandth of what is read back.
func TestSeriesIsNearToWhatItWas(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64Range(-1e15, 1e15).Draw(t, "v")
		b, err := Series{v}.MarshalText()
		require.NoError(t, err)
		var back Series
		require.NoError(t, back.UnmarshalText(b))
		require.InDelta(t, v, back[0], 0.0005+math.Abs(v)*1e-15)
	})
}

func same(t require.TestingT, want, got Series) {
	require.Len(t, got, len(want))
	for i := range want {
		if want[i] != got[i] && !(math.IsNaN(want[i]) && math.IsNaN(got[i])) {
			t.Errorf("number %d: %v became %v", i+1, want[i], got[i])
		}
	}
}

func TestChartSurvivesTheTrip(t *testing.T) {
	r := whole()
	back, err := Read(bytes.NewReader(written(t, r)))
	require.NoError(t, err)
	require.Nil(t, back.Exhibits[0].Chart, "a table has none")
	want, got := r.Exhibits[1].Chart, back.Exhibits[1].Chart
	for _, pair := range [][2]Series{{want.Time, got.Time}, {want.Temperature, got.Temperature}, {want.Warmest, got.Warmest},
		{want.Pressure, got.Pressure}, {want.Saturation, got.Saturation}} {
		same(t, pair[0], pair[1])
	}
	require.Equal(t, []*float64{want.Set, want.Band}, []*float64{got.Set, got.Band})
	require.Equal(t, want.Hold, got.Hold)
	require.Equal(t, want.Phases, got.Phases)
	require.Equal(t, r.Traces, back.Traces)
	require.Equal(t, 2, back.Undrawn)
}

// A chart without a set temperature, a hold or a pressure says so by null and "".
func TestBareChartSurvivesTheTrip(t *testing.T) {
	r := whole()
	r.Exhibits[1].Chart = &Chart{}
	text := written(t, r)
	require.Contains(t, string(text), `"hold": null`)
	require.Contains(t, string(text), `"pressure": ""`)
	back, err := Read(bytes.NewReader(text))
	require.NoError(t, err)
	require.Equal(t, &Chart{Findings: []string{}, Time: Series{}, Temperature: Series{}, Warmest: Series{}, Pressure: Series{}, Saturation: Series{}, Phases: []ChartPhase{}}, back.Exhibits[1].Chart)
}

func TestReadRefusesASeriesThatIsNone(t *testing.T) {
	good := string(written(t, whole()))
	for _, bad := range []string{"0 x 20", "0  20", "0 1e3 20", "0 NaN 20", " 0", "0 .5"} {
		text := strings.Replace(good, `"time": "0 10.5 20"`, `"time": "`+bad+`"`, 1)
		require.NotEqual(t, good, text)
		_, err := Read(strings.NewReader(text))
		require.ErrorContains(t, err, "exhibits, number 2, chart, time, line ", bad)
	}
}

// Twenty-four charts of a thousand points, as much as an audit draws, take a line a
// series: under a megabyte and few lines.
func TestManyChartsStaySmall(t *testing.T) {
	r := whole()
	r.Exhibits, r.Lookback, r.Trail, r.Days, r.Gaps, r.Months = nil, nil, nil, nil, nil, nil
	r.Since, r.Bundle, r.AskedFor, r.Gear, r.Declarations = nil, nil, nil, nil, nil
	var c Chart
	for i := range 1000 {
		v := math.Sin(float64(i))
		c.Time, c.Temperature, c.Warmest = append(c.Time, float64(2*i)), append(c.Temperature, 134.2+v/3), append(c.Warmest, 134.5+v/3)
		c.Pressure, c.Saturation = append(c.Pressure, 304+v), append(c.Saturation, 133.9+v/7)
	}
	for range 24 {
		r.Exhibits = append(r.Exhibits, Exhibit{Kind: Drawn, Chart: &c})
	}
	text := written(t, r)
	require.Less(t, len(text), 1_000_000)
	require.Less(t, bytes.Count(text, []byte("\n")), 24*40+len(whole().Findings)*100)
	_, err := Read(bytes.NewReader(text))
	require.NoError(t, err)
}
