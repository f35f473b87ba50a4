package cli

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"footing/internal/quantity"
	"footing/internal/steam"
	"footing/internal/trace"
)

func asked(t *testing.T, o cycleFlags) *question {
	t.Helper()
	if o.method == "" {
		o.method = "steam"
	}
	q, err := o.question()
	require.NoError(t, err)
	return q
}

// At the time asked, just under it and just over it; and what hangs on less than
// the readings leave open is told as that.
func TestVerdict(t *testing.T) {
	q := asked(t, cycleFlags{hold: "3 min"})
	for _, c := range []struct {
		least, most float64
		open        bool
		word, why   string
	}{
		{180, 190, false, met, "held for 3 min at least; 3 min was asked"},
		{179.99999999, 180, false, met, "held for 3 min at least; 3 min was asked"},
		{180.1, 190, false, met, "held for 3 min 0.1 s at least; 3 min was asked"},
		{179.9, 180, false, notToTell, "held for 2 min 59.9 s to 3 min, and 3 min was asked; it hangs on less than 0.1 s, which is what the readings' distance, the sensor and the last digit leave open"},
		{170, 180, false, notToTell, "held for 2 min 50 s to 3 min, and 3 min was asked; it hangs on less than 10 s, which is what the readings' distance, the sensor and the last digit leave open"},
		{0, 200, false, notToTell, "held for 0 s to 3 min 20 s, and 3 min was asked; it hangs on less than 3 min 20 s, which is what the readings' distance, the sensor and the last digit leave open"},
		{170, 179.9, false, notMet, "held for 2 min 59.9 s at most; 3 min was asked"},
		{170, 179.9, true, notToTell, "held for 2 min 59.9 s in the file, which ends at temperature; 3 min was asked"},
		{0, 0, false, notMet, "never at 134 °C or above; 3 min was asked"},
	} {
		word, why := q.verdict(&steam.Hold{Level: 134, Reached: true, Least: c.least, Most: c.most, OpenEnd: c.open})
		assert.Equal(t, c.word, word, c)
		assert.Equal(t, c.why, why)
	}
	_, why := q.verdict(&steam.Hold{Level: 134, Reached: true, Least: 100, Most: 200, Gaps: 1})
	assert.Equal(t, "held for 1 min 40 s to 3 min 20 s, and 3 min was asked; it hangs on less than 1 min 40 s, which is what a gap in the readings leaves open", why)
	word, _ := q.verdict(nil)
	assert.Equal(t, notToTell, word)
}

func TestFine(t *testing.T) {
	for seconds, words := range map[float64]string{0: "0 s", 0.4: "0.4 s", 59.96: "59.9 s", 60: "1 min", 60.5: "1 min 0.5 s", 179.64: "2 min 59.6 s", 3600.7: "1 h 0.7 s", 3725.2: "1 h 2 min 5.2 s"} {
		assert.Equal(t, words, fine(seconds), seconds)
	}
}

func TestClock(t *testing.T) {
	for _, c := range []struct {
		least, most float64
		words       string
	}{{0, 0, "none"}, {0, 12.5, "0:00–0:13"}, {288, 292, "4:48–4:52"}, {287.99999999, 292.00000001, "4:48–4:52"}, {3599.9, 3600.1, "59:59–60:01"}} {
		assert.Equal(t, c.words, clock(&steam.Cycle{}, &steam.Hold{Least: c.least, Most: c.most}))
	}
	whole := &steam.Cycle{From: 0, Until: 600}
	for _, h := range []steam.Hold{{From: 0, Until: 290}, {From: 300, Until: 600}, {From: 0, Until: 600}} {
		h.Reached, h.Least, h.Most = true, 288, 292
		assert.Equal(t, "4:48–", clock(whole, &h), h)
	}
	assert.Equal(t, "4:48–4:52", clock(whole, &steam.Hold{Reached: true, From: 0.1, Until: 599.9, Least: 288, Most: 292, OpenEnd: true}))
}

// Without a set temperature the hottest of the usual ones is taken at which a table
// would be met, even where a hotter one was touched.
func TestPlateau(t *testing.T) {
	q := asked(t, cycleFlags{})
	require.NotEmpty(t, q.usual)
	holds := func(most map[float64]float64) *steam.Cycle {
		c := &steam.Cycle{}
		for _, u := range q.usual {
			m, reached := most[u.celsius]
			c.Holds = append(c.Holds, steam.Hold{Level: u.celsius, Reached: reached, Most: m})
		}
		return c
	}
	for _, c := range []struct {
		most  map[float64]float64
		level float64
		says  string
	}{
		{map[float64]float64{121: 900, 134: 179}, 121, "121 °C, concluded: the hottest of the usual ones"},
		{map[float64]float64{121: 900, 134: 180}, 134, "at which it was held for the shortest time that a table asks there, 3 min"},
		{map[float64]float64{121: 100, 126: 20}, 126, "that was reached; at none was it held for as long"},
	} {
		h, how := q.plateau(holds(c.most))
		require.NotNil(t, h)
		assert.Equal(t, c.level, h.Level)
		assert.Contains(t, how, c.says)
	}
	h, how := q.plateau(holds(nil))
	assert.Nil(t, h)
	assert.Contains(t, how, "was reached; --set says another")
	h, how = asked(t, cycleFlags{method: "washer"}).plateau(&steam.Cycle{})
	assert.Nil(t, h)
	assert.Equal(t, "not known; --set says which it was", how)
	_, how = asked(t, cycleFlags{set: "250 °F"}).plateau(&steam.Cycle{Holds: []steam.Hold{{Level: 121.1}}})
	assert.Equal(t, "250 °F (121.1 °C)", how)
}

// What a file is watched for: the tolerance on both sides where it is given, else
// what the criterion grants, and half of the last digit.
func TestLook(t *testing.T) {
	h := &trace.Header{Columns: []trace.Column{{Role: trace.Temperature, Half: 0.05}}}
	l := asked(t, cycleFlags{set: "134 °C", tolerance: "0.9 °F", altitude: "1000 ft", reference: "250 °F"}).look(h)
	assert.Equal(t, []float64{134}, l.Levels)
	assert.InDelta(t, 0.5, l.Above, 1e-12)
	assert.InDelta(t, 0.55, l.Below, 1e-12)
	assert.True(t, l.AltitudeKnown)
	assert.InDelta(t, 304.8, l.Altitude, 1e-9)
	assert.Equal(t, "F0", l.Scale.Name)
	assert.InDelta(t, 121.111, l.Scale.Reference, 1e-3)
	l = asked(t, cycleFlags{method: "Dry-Heat"}).look(h)
	assert.Zero(t, l.Above)
	assert.InDelta(t, 0.55, l.Below, 1e-12, "traces.error grants 0.5 K")
	assert.False(t, l.AltitudeKnown)
	assert.Equal(t, steam.FH, l.Scale)
	assert.True(t, slices.IsSorted(l.Levels))
}

func TestTakenFor(t *testing.T) {
	altitude, err := quantity.Parse("350 m", quantity.Length, quantity.Fallback{})
	require.NoError(t, err)
	p := trace.Column{Role: trace.Pressure, Unit: quantity.Bar, Ref: quantity.Gauge}
	assert.Equal(t, "pressure in bar gauge, turned absolute at 350 m", taken(p, altitude))
	assert.Equal(t, "pressure in bar gauge, not turned absolute: --altitude says the height of the place", taken(p, quantity.Quantity{}))
	p.Ref = quantity.Absolute
	assert.Equal(t, "pressure in bar absolute", taken(p, altitude))
	p.Ref = quantity.Unsaid
	assert.Contains(t, taken(p, altitude), "gauge or absolute is not said")
	assert.Equal(t, "temperature in °F", taken(trace.Column{Role: trace.Temperature, Unit: quantity.Fahrenheit}, altitude))
	assert.Equal(t, "not judged (jacket)", taken(trace.Column{Role: trace.Temperature, Ignored: "jacket"}, altitude))
}

// Each chart gets a file of its own, also where names differ in folders or case alone.
func TestNamesOfCharts(t *testing.T) {
	s, err := newShelf(filepath.Join(t.TempDir(), "new"), nil)
	require.NoError(t, err)
	for _, c := range [][2]string{{"a.csv", "a.svg"}, {"A.csv", "A-2.svg"}, {"2026/S1 398.csv", "2026-S1-398.svg"}, {"../../x.csv", "x.svg"}, {".csv", "trace.svg"},
		{"Größe 漢.txt", "Größe-漢.svg"}, {"<b>&\".csv", "b.svg"}, {strings.Repeat("a", 90) + ".csv", strings.Repeat("a", 60) + ".svg"}} {
		assert.Equal(t, c[1], s.name(c[0]), c[0])
	}
}

// Of many files the page shows the tables of those to look at first.
func TestThePageKeepsThoseToLookAtFirst(t *testing.T) {
	s := &sitting{}
	for i := range 100 {
		told := told{name: fmt.Sprint(i), rows: [][]string{{"a", "b"}}, word: met}
		switch {
		case i%10 == 9:
			told.word = notMet
		case i == 70:
			told.word = notToTell
		case i == 71:
			told.grave = true
		}
		s.told = append(s.told, told)
		s.keep()
	}
	want := []int{0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 19, 29, 39, 49, 59, 69, 70, 71, 79, 89, 99}
	require.Len(t, want, sections)
	require.Equal(t, want, s.kept)
	for i := range s.told {
		assert.Equal(t, slices.Contains(want, i), s.told[i].rows != nil, i)
	}
}
