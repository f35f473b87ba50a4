package trace

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"footing/internal/quantity"
	"footing/internal/steam"
)

func splitLines(s string) []string { return strings.Split(s, "\n") }

// TestColumns: which columns are read, in what unit, and which are told as not judged.
func TestColumns(t *testing.T) {
	practice := Options{Temperature: quantity.Fahrenheit, Pressure: quantity.Psi, Reference: quantity.Gauge}
	for _, c := range []struct {
		name, text string
		opt        Options
		columns    string
		celsius    float64 // of the last reading
		kPa        float64
		causes     string
	}{
		{name: "headings with units", text: "Time,T [°C],P [kPa abs]\n0,20,101\n1,21,102\n", columns: "time|temperature °C|pressure kPa absolute", celsius: 21, kPa: 102},
		{name: "units below", text: "Time,T,P\n[s],[°C],[bar]\n0,20,1.01\n1,21,1.02\n", columns: "time|temperature °C|pressure bar", celsius: 21, kPa: 102},
		{name: "sensors told by the units below", text: "Time;Sensor 1;Sensor 2;Ch 3\ns;°C;bar abs;°C\n0;20;1;30\n1;22;1.02;21\n", columns: "time|temperature °C|pressure bar absolute|temperature °C", celsius: 21, kPa: 102},
		{name: "units of the practice", opt: practice, text: "Time,T,P\n0,212,1\n1,248,10\n", columns: "time|temperature °F|pressure psi gauge", celsius: 120, kPa: 68.94757},
		{name: "units of the heading before those of the practice", opt: practice, text: "Time,T [°C],P [bar]\n0,20,1\n1,21,1.02\n", columns: "time|temperature °C|pressure bar", celsius: 21, kPa: 102},
		{name: "units of the header", text: "Temperature unit: °F\nPressure unit: psi gauge\nTime,T,P\n0,212,1\n1,248,10\n", columns: "time|temperature °F|pressure psi gauge", celsius: 120, kPa: 68.94757},
		{name: "jacket and set point", text: "Time;Set temp [°C];Temp [°C];Jacket [°C];Jacket P [bar abs];P [bar abs]\n0;134;20;90;2;1\n1;134;21;91;2;1.02\n",
			columns: "time|temperature °C (set point)|temperature °C|temperature °C (jacket)|pressure bar absolute (jacket)|pressure bar absolute", celsius: 21, kPa: 102},
		{name: "two pressures", text: "Time;Temp [°C];P1 [bar abs];Chamber P [bar abs]\n0;20;9;1\n1;21;9;1.02\n",
			columns: "time|temperature °C|pressure bar absolute (another pressure column is read)|pressure bar absolute", celsius: 21, kPa: 102},
		{name: "two pressures, none of the chamber", text: "Time;Temp [°C];P1 [bar abs];P2 [bar abs]\n0;20;1;9\n1;21;1.02;9\n",
			columns: "time|temperature °C|pressure bar absolute|pressure bar absolute (another pressure column is read)", celsius: 21, kPa: 102},
		{name: "one of two temperatures without a unit", text: "Time;Temp 1 [°C];Temp 2\n0;20;70\n1;21;71\n", columns: "time|temperature °C|temperature (no unit is known for it)", celsius: 21, kPa: math.NaN()},
		{name: "a time that no heading names", text: ";Temp [°C];P [bar abs]\n14:05:00;20;1\n14:05:01;21;1.02\n", columns: "time|temperature °C|pressure bar absolute", celsius: 21, kPa: 102},
		{name: "columns nobody needs", text: "No;Time;F0;Temp [°C];Door\n1;14:05:00;0;20;shut\n2;14:05:01;0;21;\"shut; locked\"\n", columns: "other|time|other|temperature °C|other", celsius: 21, kPa: math.NaN()},
		{name: "elapsed beside a clock", text: "Elapsed [s],Time,T [°C]\n0,14:05:00,20\n1,14:05:01,21\n", columns: "other|time|temperature °C", celsius: 21, kPa: math.NaN()},
		{name: "the coldest of three", text: "Time,T1 [°C],T2 [°C],T3 [°C]\n0,20,21,22\n1,23,21,22\n", columns: "time|temperature °C|temperature °C|temperature °C", celsius: 21, kPa: math.NaN()},
	} {
		t.Run(c.name, func(t *testing.T) {
			tr, err := Read(strings.NewReader(c.text), c.opt)
			require.NoError(t, err)
			require.Empty(t, tr.Unusable)
			require.Equal(t, c.causes, causes(tr))
			var list []string
			for _, col := range tr.Columns {
				s := []string{"other", "time", "date", "temperature", "pressure", "phase"}[col.Role]
				for _, more := range []string{col.Unit.String(), col.Ref.String()} {
					if more != "" {
						s += " " + more
					}
				}
				if col.Ignored != "" {
					s += " (" + col.Ignored + ")"
				}
				list = append(list, s)
			}
			require.Equal(t, c.columns, strings.Join(list, "|"))
			require.InDelta(t, c.celsius, tr.Cycle.LastTemperature, 1e-9)
			if math.IsNaN(c.kPa) {
				require.True(t, math.IsNaN(tr.Cycle.MostPressure))
			} else {
				require.InDelta(t, c.kPa, tr.Cycle.MostPressure, 1e-5)
			}
		})
	}
}

// TestPressureCounts: gauge, absolute or unsaid, with and without the altitude.
func TestPressureCounts(t *testing.T) {
	air, err := steam.Atmosphere(1500)
	require.NoError(t, err)
	for _, c := range []struct {
		heading  string
		known    bool
		absolute bool
		air      float64
		first    float64
	}{
		{"P [kPa abs]", true, true, air, 101},
		{"P [kPa abs]", false, true, math.NaN(), 101},
		{"P [kPa gauge]", true, true, air, 101 + air},
		{"P [kPa gauge]", false, false, 0, 101},
		{"P [kPa]", true, false, math.NaN(), 101},
		{"P [kPa]", false, false, math.NaN(), 101},
	} {
		asked := 0
		tr, err := Read(strings.NewReader("sterilizer,S1\ncounter,7\nprogram,P134\ndate,2026-03-03\nTime,T [°C],"+c.heading+"\n14:05:00,20.5,101\n14:05:10,20.5,101\n14:05:20,20.5,101\n"), Options{Points: 6, Look: func(h *Header) Look {
			asked++
			require.Equal(t, "S1", h.Sterilizer)
			require.Equal(t, int64(7), h.Counter)
			require.Equal(t, "P134", h.Program)
			require.Equal(t, OfDay, h.Clock)
			require.Equal(t, 10.0, h.Interval)
			require.Equal(t, 0.05, math.Round(h.TemperatureHalf()*1e9)/1e9)
			require.Equal(t, 0.5, h.PressureHalf())
			require.Equal(t, "2026-03-03 14:05:00", h.Start.String())
			return Look{Setting: steam.Setting{Levels: []float64{121}, Below: 0.7, Above: 0.3}, Altitude: 1500, AltitudeKnown: c.known}
		}})
		require.NoError(t, err)
		require.Equal(t, 1, asked)
		s := tr.Cycle.Setting
		require.Equal(t, []float64{0.7, 0.3}, []float64{s.Below, s.Above})
		require.Equal(t, c.absolute, s.Absolute, c.heading)
		require.Equal(t, fmt.Sprint(c.air), fmt.Sprint(s.Air))
		require.InDelta(t, c.first, tr.Cycle.MostPressure, 1e-9)
		require.InDelta(t, c.first, tr.Points[0].Pressure, 1e-9)
	}
}

func TestPhases(t *testing.T) {
	var b strings.Builder
	b.WriteString("Time;T [°C];Phase\n0;20;Heat\n10;21;Heat\n20;22;Hold\n30;22;\n40;21; Dry \n50;20;Dry\n")
	tr, err := Read(strings.NewReader(b.String()), Options{})
	require.NoError(t, err)
	require.Equal(t, []Phase{{"Heat", 0, 20}, {"Hold", 20, 40}, {"Dry", 40, 50}}, tr.Phases)

	b.Reset()
	b.WriteString("Time;Step;T [°C]\n")
	for i := range 200 {
		fmt.Fprintf(&b, "%d;%d;20\n", i, i)
	}
	tr, err = Read(strings.NewReader(b.String()), Options{})
	require.NoError(t, err)
	require.Len(t, tr.Phases, mostPhases)
	require.Equal(t, 200, tr.Readings)
	require.Equal(t, "phases:66", causes(tr))
}

// TestLayouts: what traces/layout.yaml says of a file is used for it, and said.
func TestLayouts(t *testing.T) {
	const entries = `
- files: "zeit*.csv"
  time: Zeit
  temperature: {column: Kammer, unit: °C}
  pressure: {column: Druck, unit: bar, from: absolute}
- files: "bare*.csv"
  time: 1
  temperature: [{column: 2, unit: °F}, {column: 3, unit: °F}]
  pressure: {column: 4, unit: psi, from: gauge}
- files: "skip*.csv"
  skip: 2
  delimiter: semicolon
  decimal: comma
  date_order: mdy
- sterilizer: S9
  temperature: {column: T9, unit: °C}
`
	layouts, problems := ParseLayouts([]byte(entries))
	require.Empty(t, problems)
	for _, c := range []struct {
		name, text, sterilizer string
		layout, start, causes  string
		readings               int
		celsius                float64
		unusable               string
	}{
		{name: "zeit1.csv", text: "Kopf\nZeit;Kammer;Mantel;Druck\n0;20;90;1\n1;21;90;1,5\n", layout: "entry 1", readings: 2, celsius: 21},
		{name: "zeit2.csv", text: "Time,Temp [°C]\n0,20\n1,21\n", readings: 2, celsius: 21, causes: "layout:0"},
		{name: "bare1.csv", text: "0,212,213,1\n1,248,250,2\n", layout: "entry 2", readings: 2, celsius: 120},
		{name: "bare2.csv", text: "Zeit,A,B,C\n0,212,213,1\n1,248,250,2\n", layout: "entry 2", readings: 2, celsius: 120},
		{name: "skip1.csv", text: "Time;Temp\n1;2\nTime;Temp, °C;P, kPa abs\n03/04/2026 14:05:00;20,5;1,013\n03/04/2026 14:05:01;21,5;1,013\n", layout: "entry 3", readings: 2, celsius: 21.5, start: "2026-03-04 14:05:00"},
		{name: "x.csv", sterilizer: "s9", text: "Time,T9\n0,20\n1,21\n", layout: "entry 4", readings: 2, celsius: 21},
		{name: "x.csv", text: "sterilizer,S9\nTime,T9\n0,20\n1,21\n", layout: "entry 4", readings: 2, celsius: 21},
		{name: "x.csv", text: "Time,T9\n0,20\n1,21\n", unusable: "no unit"},
	} {
		tr, err := Read(strings.NewReader(c.text), Options{Name: c.name, Layouts: layouts, Sterilizer: c.sterilizer})
		require.NoError(t, err)
		require.NoError(t, counted(tr, []byte(c.text)))
		if c.unusable != "" {
			require.Contains(t, tr.Unusable, c.unusable)
			continue
		}
		require.Empty(t, tr.Unusable, c.name)
		require.Equal(t, c.layout, tr.Layout, c.name)
		require.Equal(t, c.causes, causes(tr), c.name)
		require.Equal(t, c.readings, tr.Readings)
		require.InDelta(t, c.celsius, tr.Cycle.LastTemperature, 1e-9)
		require.Equal(t, c.start, tr.Start.String())
	}
}
