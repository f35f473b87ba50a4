package trace

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"

	"footing/internal/quantity"
	"footing/internal/steam"
)

// formFile is one and the same cycle in one way of writing it.
type formFile struct {
	name, text string
	clock      Clock
	digits     float64 // half of the last digit, K
}

const formReadings = 420 // 10 s apart: 70 minutes

// formCycle is made up: heating, a hold at 134.6 °C of four minutes, cooling; steam all the while.
func formCycle(i int) (celsius, kPa float64) {
	s := float64(i * 10)
	switch {
	case s < 900:
		celsius = 60 + 74.6*s/900
	case s < 1150:
		celsius = 134.6
	default:
		celsius = 134.6 - (s-1150)/50
	}
	kPa, _ = steam.SaturationPressure(celsius)
	return celsius, kPa
}

const formAltitude = 350.0

// formFiles writes the cycle in each form. Conversions are written out here by hand:
// °F = 1.8 °C + 32; 1 psi = 6.894757 kPa; 1 bar = 100 kPa; 1 mbar = 0.1 kPa.
func formFiles(readings int) []formFile {
	air, _ := steam.Atmosphere(formAltitude)
	comma := func(f string, v ...any) string { return strings.ReplaceAll(fmt.Sprintf(f, v...), ".", ",") }
	var list []formFile
	add := func(name string, clock Clock, half float64, head string, line func(i int, c, p float64) string) {
		var b strings.Builder
		b.WriteString(head)
		for i := range readings {
			c, p := formCycle(i)
			b.WriteString(line(i, c, p))
		}
		list = append(list, formFile{name: name, text: b.String(), clock: clock, digits: half})
	}
	hms := func(s int) string { return fmt.Sprintf("%02d:%02d:%02d", s/3600%24, s/60%60, s%60) }
	add("°C, kPa absolute, clock", OfDay, 0.0005, "date,2026-03-03\ntime,temperature [°C],pressure [kPa absolute]\n", func(i int, c, p float64) string {
		return fmt.Sprintf("%s,%.3f,%.3f\n", hms(50700+10*i), c, p)
	})
	add("°F, psi gauge, elapsed", Elapsed, 0.0005/1.8, "Elapsed (s);Temp. (deg F);Pressure, psig\r\n", func(i int, c, p float64) string {
		return fmt.Sprintf("%d;%.3f;%.4f\r\n", 10*i, 1.8*c+32, (p-air)/6.894757293168361)
	})
	add("decimal comma, mm:ss", Elapsed, 0.0005, "Cycle: 00341;Programme: P134\nTime [mm:ss];T1 [°C];P [bar abs]\n", func(i int, c, p float64) string {
		return comma("%02d:%02d;%.3f;%.5f\n", 10*i/60, 10*i%60, c, p/100)
	})
	add("decimal comma, quoted", OfDay, 0.0005, "\"Time\",\"Temp °C\",\"Chamber pressure kPa(a)\"\n", func(i int, c, p float64) string {
		return fmt.Sprintf("\"%s\",\"%s\",\"%s\"\n", hms(50700+10*i), comma("%.3f", c), comma("%.3f", p))
	})
	add("across midnight, tabs", OfDay, 0.0005, "Time\tT_degC\tP_kPa_abs\n", func(i int, c, p float64) string {
		return fmt.Sprintf("%s\t%.3f\t%.3f\n", hms((85000+10*i)%86400), c, p)
	})
	add("day and time in one, am and pm", Dated, 0.0005, "Timestamp|Temperature/°C|Pressure/bar gauge\n", func(i int, c, p float64) string {
		s := 40000 + 10*i
		half, h := "am", s/3600
		if h >= 12 {
			half = "pm"
		}
		return fmt.Sprintf("2026-03-03 %d:%02d:%02d %s|%.3f|%.5f\n", (h+11)%12+1, s/60%60, s%60, half, c, (p-air)/100)
	})
	add("day and time in two columns, units below", Dated, 0.0005, "Date;Time;Temp;Press\ndmy;hh:mm:ss;°C;mbar abs\n", func(i int, c, p float64) string {
		return fmt.Sprintf("31/12/2025;%s;%.3f;%.2f\n", hms(50700+10*i), c, p*10)
	})
	add("K, MPa absolute, minutes", Elapsed, 0.0005, "t/min,T/K,P/MPa abs\n", func(i int, c, p float64) string {
		return fmt.Sprintf("%.4f,%.3f,%.6f\n", float64(i)/6, c+273.15, p/1000)
	})
	add("hh:mm:ss from nought, spaces", Elapsed, 0.0005, "Elapsed time , Temp (C) , kPa(a)\n", func(i int, c, p float64) string {
		return fmt.Sprintf("%s , %.3f , %.3f\n", hms(10*i), c, p)
	})
	return list
}

// TestSameCycleInEachForm: units, clocks and marks change nothing of what a cycle did.
func TestSameCycleInEachForm(t *testing.T) {
	look := func(*Header) Look {
		return Look{Setting: steam.Setting{Levels: []float64{121, 134}}, Altitude: formAltitude, AltitudeKnown: true}
	}
	var want steam.Cycle
	for i, f := range formFiles(formReadings) {
		for _, way := range encodings {
			t.Run(f.name+", "+way.name, func(t *testing.T) {
				o := Options{Name: "x.csv", Look: look, Order: quantity.DMY}
				tr, err := Read(strings.NewReader(way.write(f.text)), o)
				require.NoError(t, err)
				require.Empty(t, tr.Unusable)
				require.Empty(t, tr.Problems)
				require.Equal(t, formReadings, tr.Readings)
				require.Zero(t, tr.Aside)
				require.Equal(t, f.clock, tr.Clock)
				require.InDelta(t, 10, tr.Interval, 0.01)
				require.InDelta(t, f.digits, tr.TemperatureHalf(), 1e-9)
				require.True(t, tr.Cycle.Setting.Absolute)
				if i == 0 && way.name == "UTF-8" {
					want = tr.Cycle
				}
				sameCycle(t, &want, &tr.Cycle)
			})
		}
	}
}

func sameCycle(t *testing.T, want, got *steam.Cycle) {
	t.Helper()
	near := func(a, b, by float64, what string) {
		t.Helper()
		if math.IsNaN(a) && math.IsNaN(b) {
			return
		}
		require.InDelta(t, a, b, by, what)
	}
	require.Equal(t, want.Readings, got.Readings)
	require.Zero(t, got.From)
	near(want.Until, got.Until, 0.01, "until")
	near(want.Highest, got.Highest, 0.01, "highest")
	near(want.Lowest, got.Lowest, 0.01, "lowest")
	near(want.MostPressure, got.MostPressure, 0.05, "most pressure")
	near(want.LeastPressure, got.LeastPressure, 0.05, "least pressure")
	near(want.Lethality/want.Lethality, got.Lethality/want.Lethality, 0.005, "lethality")
	for i := range want.Holds {
		near(want.Holds[i].Seconds(), got.Holds[i].Seconds(), 0.5, "hold")
		near(want.Holds[i].Apart, got.Holds[i].Apart, 0.02, "apart")
	}
}

// encodings are how the same text can stand in a file.
var encodings = []struct {
	name  string
	write func(string) string
}{
	{"UTF-8", func(s string) string { return s }},
	{"UTF-8 with a mark", func(s string) string { return "\ufeff" + s }},
	{"Windows-1252", func(s string) string { return encode(charmap.Windows1252.NewEncoder().String(s)) }},
	{"UTF-16 little", func(s string) string {
		return encode(unicode.UTF16(unicode.LittleEndian, unicode.UseBOM).NewEncoder().String(s))
	}},
	{"UTF-16 big", func(s string) string {
		return encode(unicode.UTF16(unicode.BigEndian, unicode.UseBOM).NewEncoder().String(s))
	}},
	{"UTF-16 without a mark", func(s string) string {
		return encode(unicode.UTF16(unicode.LittleEndian, unicode.IgnoreBOM).NewEncoder().String(s))
	}},
	{"CR", func(s string) string { return strings.ReplaceAll(strings.ReplaceAll(s, "\r\n", "\n"), "\n", "\r") }},
	{"CRLF", func(s string) string { return strings.ReplaceAll(strings.ReplaceAll(s, "\r\n", "\n"), "\n", "\r\n") }},
	{"no end of the last line", func(s string) string { return strings.TrimRight(s, "\r\n") }},
}

func encode(s string, err error) string {
	if err != nil {
		panic(err)
	}
	return s
}
