package trace

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"footing/internal/steam"
)

// heated is a cycle of one reading a second: warm, hot for two minutes, cool.
func heated(head string, line func(i int, celsius float64) string) string {
	var b strings.Builder
	b.WriteString(head + "\n")
	for i := range 300 {
		celsius := 134.5
		if i < 100 || i >= 220 {
			celsius = 21.5 + float64(min(i, 319-i))
		}
		b.WriteString(line(i, celsius) + "\n")
	}
	return b.String()
}

func look134(*Header) Look {
	return Look{Setting: steam.Setting{Levels: []float64{134}, Below: 0.5, Above: 0.5}}
}

func readMisled(t *testing.T, text string) *Trace {
	tr, err := Read(strings.NewReader(text), Options{Name: "x.csv", Look: look134})
	require.NoError(t, err)
	require.NoError(t, counted(tr, []byte(text)))
	return tr
}

// TestMisleadingFiles: files that would be judged wrongly, and cannot be judged, say why.
func TestMisleadingFiles(t *testing.T) {
	clock := func(i int) string { return fmt.Sprintf("14:%02d:%02d", i/60, i%60) }
	turned := func(text string) string {
		lines := strings.Split(strings.TrimSpace(text), "\n")
		for i, j := 1, len(lines)-1; i < j; i, j = i+1, j-1 {
			lines[i], lines[j] = lines[j], lines[i]
		}
		return strings.Join(lines, "\n") + "\n"
	}
	one := func(i int, c float64) string { return fmt.Sprintf("%s,%.1f", clock(i), c) }
	stirred := func(i int, _ float64) string { // blocks of ten lines, each earlier than the last
		at := 290 - i/10*10 + i%10
		return fmt.Sprintf("%s,%.1f", clock(at), 20+float64(i/10*37%110))
	}
	for _, c := range []struct{ name, text, says string }{
		{"tenths of a degree", heated("Time,T [°C]", func(i int, c float64) string { return fmt.Sprintf("%s,%.0f", clock(i), c*10) }),
			"go up to 1,345 °C in many steps, which no sensor of a sterilizer shows. Export degrees"},
		{"newest first", turned(heated("Time,T [°C]", one)), "The times run backwards from line 2 on"},
		{"newest first, with days", turned(heated("Time,T [°C]", func(i int, c float64) string { return "2026-03-03 " + one(i, c) })), "The times run backwards from line 2 on"},
		{"no order", heated("Time,T [°C]", stirred), "The lines are in no order of time"},
		{"a sensor in the room", heated("Time,T1 [°C],T2 [°C]", func(i int, c float64) string { return fmt.Sprintf("%s,%.1f,%.1f", clock(i), c, 21.3+float64(i%3)) }),
			"The sensor in column 3, “T2 [°C]”, or another, is never above 23.3 °C while the warmest reaches 134.5 °C"},
		{"a sensor in the room, °F", heated("Time,T1 [°F],T2 [°F]", func(i int, c float64) string { return fmt.Sprintf("%s,%.1f,70.0", clock(i), c*1.8+32) }),
			"The sensor in column 3, “T2 [°F]”, or another, is never above 21.1 °C while the warmest reaches 134.5 °C"},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.Contains(t, readMisled(t, c.text).Unusable, c.says)
		})
	}
}

// TestOneDeadSensor: what one of several sensors shows when it is broken does not
// count; the others decide.
func TestOneDeadSensor(t *testing.T) {
	for dead, causes := range map[string]string{"0.0": "beyond", "0": "beyond", "-0.0": "beyond", "850.0": "beyond", "-99.9": "beyond", "": "blank", "---": "blank"} {
		t.Run(dead, func(t *testing.T) {
			tr := readMisled(t, heated("Time [s],T1 [°C],T2 [°C]", func(i int, c float64) string {
				if i < 150 {
					return fmt.Sprintf("%d,%.1f,%.1f", i, c, c)
				}
				return fmt.Sprintf("%d,%.1f,%s", i, c, dead)
			}))
			require.Empty(t, tr.Unusable)
			require.Equal(t, 300, tr.Readings)
			require.Equal(t, 134.5, tr.Cycle.Holds[0].Lowest)
			require.InDelta(t, 119, tr.Cycle.Holds[0].Least, 1e-9)
			require.Len(t, tr.Problems, 1)
			require.Equal(t, causes, tr.Problems[0].Cause)
		})
	}
}

// TestNoughtIsATemperature: 0 °C counts where nothing hot stands beside it.
func TestNoughtIsATemperature(t *testing.T) {
	tr := readMisled(t, "Time [s],T1 [°C],T2 [°C]\n0,0.0,1.0\n1,0.0,9.9\n2,0.0,10.0\n3,1.0,1.0\n")
	require.Equal(t, []float64{0, 10}, []float64{tr.Cycle.Lowest, tr.Cycle.Highest})
	require.Equal(t, "beyond:4", causes(tr))
	require.Equal(t, 0.0, readMisled(t, "Time [s],T1 [°C]\n0,59.9\n1,0.0\n2,0.0\n").Cycle.Lowest)
	require.Equal(t, 60.0, readMisled(t, "Time [s],T1 [°C]\n0,60.0\n1,0.0\n2,0.0\n3,61.0\n").Cycle.Lowest)
}

// TestApartSensors: how far apart sensors must stay to be of two places.
func TestApartSensors(t *testing.T) {
	for _, c := range []struct {
		cool, hot float64
		unusable  bool
	}{{45, 90, true}, {45.1, 134, false}, {45, 89.9, false}, {20, 134, true}, {45, 134, true}} {
		tr := readMisled(t, fmt.Sprintf("Time [s],T1 [°C],T2 [°C]\n0,20.0,20.0\n1,%.1f,%.1f\n2,20.0,20.0\n", c.cool, c.hot))
		require.Equal(t, c.unusable, tr.Unusable != "", "%+v: %s", c, tr.Unusable)
	}
	// A sensor in a dense load that lags, and gets there, is one of the chamber.
	tr := readMisled(t, "Time [s],T1 [°C],T2 [°C]\n0,20.0,20.0\n1,134.0,20.0\n2,134.0,134.0\n3,134.0,134.0\n")
	require.Empty(t, tr.Unusable)
	require.True(t, tr.Cycle.Holds[0].Reached)
}

// TestWhatWouldExplainIt: the innocent cause that is told fits what was found.
func TestWhatWouldExplainIt(t *testing.T) {
	for _, c := range []struct{ name, text, says string }{
		{"thousands", "Time;T [°C];P [mbar abs]\n0;20,1;1.013\n1;20,1;1.013\n", "Export plain numbers"},
		{"a unit in the field", "Time,T1,T2 [°C]\n°,°C,°C\n0,20.1 °C,20.0\n1,20.1,20\n", "Export plain numbers"},
		{"a power of ten", "Time,T1 [°C],T2 [°C]\n0,2.1E1,20\n1,20,20\n", "Export plain numbers"},
		{"nothing", "Time,T1 [°C],T2 [°C]\n0,,20\n1,20,20\n", "sensor was connected"},
		{"a word", "Time,T1 [°C],T2 [°C]\n0,Err,20\n1,20,20\n", "sensor was connected"},
		{"a clock of twelve hours", "Time,T [°C]\n12:59:58,20.1\n12:59:59,20.1\n1:00:00,20.1\n1:00:01,20.1\n", "no am or pm"},
		{"a pressure unit that is not known", "Time,T [°C],Pressure (mmHg abs)\n0,20.1,760\n1,20.1,760\n", "has no unit that is known"},
	} {
		t.Run(c.name, func(t *testing.T) {
			tr := readMisled(t, c.text)
			require.Empty(t, tr.Unusable)
			require.NotEmpty(t, tr.Problems)
			require.Contains(t, tr.Problems[len(tr.Problems)-1].Sentence+" "+tr.Problems[len(tr.Problems)-1].Todo, c.says)
		})
	}
}

// TestUnitsAboveTheTable: a line that names the unit of the temperature reads like
// headings, and still tells it.
func TestUnitsAboveTheTable(t *testing.T) {
	for _, text := range []string{
		"Temperature unit;°C\nTime;Temperature\n0;20.1\n1;20.2\n", "Temperature unit;°C\nPressure unit;kPa absolute\n\nTime;Temperature;Pressure\n0;20.1;101\n1;20.2;101\n",
		"Temperature unit,°C\nDate,2026-03-03\nTime,Temperature\n0,20.1\n1,20.2\n",
	} {
		tr := readMisled(t, text)
		require.Empty(t, tr.Unusable, text)
		require.Equal(t, 20.2, tr.Cycle.Highest)
	}
}

// TestSetValueIsNoSensor: what a controller aims at is not measured.
func TestSetValueIsNoSensor(t *testing.T) {
	tr := readMisled(t, "Time,SV [°C],PV [°C]\n0,134.0,20.1\n1,134.0,20.2\n")
	require.Equal(t, []float64{20.1, 20.2, 20.2}, []float64{tr.Cycle.Lowest, tr.Cycle.Highest, tr.Cycle.Warmest})
}

// TestManyBeyondAreTold: a broken wire that shows one code is no scale of tenths.
func TestManyBeyondAreTold(t *testing.T) {
	var b strings.Builder
	b.WriteString("Time [s],T [°C]\n")
	for i := range 100 {
		b.WriteString(fmt.Sprintf("%d,%g\n", i, []float64{20.5, 850}[i/50]))
	}
	tr := readMisled(t, b.String())
	require.Empty(t, tr.Unusable)
	require.False(t, math.IsNaN(tr.Cycle.Highest))
	require.Equal(t, 50, tr.Aside)
}

// TestPointsThatPartThousands: a point in a pressure proves no decimal point where
// another number has a comma.
func TestPointsThatPartThousands(t *testing.T) {
	tr := readMisled(t, "Time;T [°C];P [mbar abs]\n0;20,1;1.013\n1;20,2;1.013\n")
	require.Equal(t, []float64{20.1, 20.2}, []float64{tr.Cycle.Lowest, tr.Cycle.Highest})
	require.True(t, tr.DecimalComma)
	tr = readMisled(t, "Time;T [°C];P [bar abs]\n0;20;1.013\n1;20;1.013\n") // and none speaks against it
	require.InDelta(t, 101.3, tr.Cycle.MostPressure, 1e-9)
}

// TestPagesOfAPrinter: form feeds between pages and the old mark at the end hide nothing.
func TestPagesOfAPrinter(t *testing.T) {
	tr := readMisled(t, "Time,T [°C]\n14:05:00,20.1\n\f14:05:01,20.2\n\fTime,T [°C]\n14:05:02,20.3\n\f\nTime,T [°C]\n16:05:00,20.3\n\x1a")
	require.Equal(t, []int{5, 3, 1}, []int{tr.Heading, tr.Readings, tr.Aside}, "%+v", tr.Problems)
	require.Equal(t, "second-table:8", causes(tr))
}

// TestWhyAndWhatToDoCanBeParted: at the first full stop with a blank, whatever a heading has.
func TestWhyAndWhatToDoCanBeParted(t *testing.T) {
	for _, text := range []string{"Time,Temp. inside\n0,20\n1,21\n", "Time,Temp. jacket\n0,20\n1,21\n", "Time,Temp. 1 [°C],Temp. 2 [°C]\n0,20,20\n1,20,134\n"} {
		why, todo, _ := strings.Cut(readMisled(t, text).Unusable, ". ")
		require.Contains(t, why, "Temp.\u00a0")
		require.Regexp(t, "^(Write|Name) .*[.]$", todo)
	}
}
