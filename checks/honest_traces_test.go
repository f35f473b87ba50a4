package checks

import (
	"context"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"footing/internal/audit"
	"footing/internal/result"
	"footing/internal/steam"
)

// honestLeg is a straight line of a made-up cycle: so many seconds to a temperature in °C,
// with a pressure in kPa absolute at its end, or 0 for that of saturated steam.
type honestLeg struct{ seconds, celsius, kPa float64 }

// logged writes a cycle as a logger does: a reading every so many seconds from
// second first on, the pressure as gauge over an air of so many kPa, or absolute over 0.
func logged(header, began string, every, first, air float64, legs ...honestLeg) string {
	var b strings.Builder
	b.WriteString(header)
	at := honestSeconds(began)
	for t, total := first, legSeconds(legs); t <= total; t += every {
		celsius, kPa := legAt(legs, t)
		s := int(at + t)
		// A sensor flickers by a few hundredths, as a flat line would not.
		flicker := float64(s%7)/100 - 0.03
		fmt.Fprintf(&b, "%02d:%02d:%02d,%.2f,%.1f\n", s/3600, s/60%60, s%60, celsius+flicker, kPa-air)
	}
	return b.String()
}

func honestSeconds(clock string) float64 {
	var h, m int
	_, _ = fmt.Sscanf(clock, "%d:%d", &h, &m)
	return float64(h*3600 + m*60)
}

func legSeconds(legs []honestLeg) (sum float64) {
	for _, l := range legs {
		sum += l.seconds
	}
	return sum
}

func legAt(legs []honestLeg, t float64) (celsius, kPa float64) {
	before := legs[0]
	for _, l := range legs {
		if t <= l.seconds {
			share := 1.0
			if l.seconds > 0 {
				share = t / l.seconds
			}
			celsius = before.celsius + (l.celsius-before.celsius)*share
			if l.kPa == 0 {
				kPa, _ = steam.SaturationPressure(celsius)
				return celsius, kPa
			}
			from := before.kPa
			if from == 0 {
				from, _ = steam.SaturationPressure(before.celsius)
			}
			return celsius, from + (l.kPa-from)*share
		}
		t, before = t-l.seconds, l
	}
	return math.NaN(), math.NaN()
}

// gravityCycle holds at a temperature for so many seconds; a leak test stays cold.
func gravityCycle(celsius, hold float64) []honestLeg {
	return []honestLeg{{0, 25, 101.3}, {90, 99, 101.3}, {240, celsius, 0}, {hold, celsius, 0}, {60, 105, 0}, {60, 92, 101.3}}
}

func pumpedCycle(celsius, hold float64) []honestLeg {
	legs := []honestLeg{{0, 30, 101.3}, {60, 60, 101.3}}
	for range 3 {
		legs = append(legs, honestLeg{90, 62, 20}, honestLeg{90, 111, 150})
	}
	return append(legs, honestLeg{120, celsius, 0}, honestLeg{hold, celsius, 0}, honestLeg{60, 105, 0}, honestLeg{600, 90, 15}, honestLeg{60, 88, 101.3})
}

// highCycle is a pumped cycle at 1,800 m, whose drying takes 12 min from the end of the hold.
func highCycle() []honestLeg {
	legs := []honestLeg{{0, 30, 81.5}, {60, 60, 81.5}}
	for range 3 {
		legs = append(legs, honestLeg{90, 62, 20}, honestLeg{90, 111, 150})
	}
	return append(legs, honestLeg{120, 134.8, 0}, honestLeg{230, 134.8, 0}, honestLeg{80, 104, 81.5}, honestLeg{60, 95, 12}, honestLeg{560, 90, 10}, honestLeg{20, 88, 81.5}, honestLeg{60, 87, 81.5})
}

func leakTest() []honestLeg {
	return []honestLeg{{0, 30, 101.3}, {120, 32, 15}, {900, 31, 16}, {60, 31, 101.3}}
}

const honestColumns = "time,temperature [°C],pressure [kPa absolute]\n"

// honestTraces are folders with data-logger files as an honest practice has them.
// How loggers and practices behave is common practice, no source.
var honestTraces = []struct {
	name, folder string
	traces       map[string]string
}{
	{"files off the logger's stick and no log: cycles, a leak test before the first, a warm-up and one that was broken off", `
-- sterilizers.csv --
id,method,air_removal,logger
S1,steam,dynamic,yes
-- programs.csv --
id,sterilizer,name,temperature,exposure,pulses
U,S1,wrapped,134 °C,3.5 min,3
`, map[string]string{
		"S1-0410.csv":   logged("date,2026-03-02\n"+honestColumns, "9:00", 10, 0, 0, pumpedCycle(134.9, 230)...),
		"S1-0411.csv":   logged("date,2026-03-02\n"+honestColumns, "11:00", 10, 0, 0, pumpedCycle(135.1, 225)...),
		"leak-0302.csv": logged("date,2026-03-02\n"+honestColumns, "8:00", 10, 0, 0, leakTest()...),
		"warm-up.csv":   logged("date,2026-03-02\n"+honestColumns, "8:20", 10, 0, 0, gravityCycle(134.6, 60)...),
		"broken.csv":    logged("date,2026-03-02\n"+honestColumns, "10:00", 10, 0, 0, gravityCycle(118, 10)...),
	}},
	{"a log on paper that names no program, a leak test ten minutes before, and a cycle begun again after it was broken off", `
-- practice.yaml --
name: Practice of the case
regulator: Council of the case
-- sterilizers.csv --
id,method,class
S1,steam,B
-- loads.csv --
started,temperature,exposure,wrapped,decision
2026-03-02 09:00,134 °C,4 min,yes,released
2026-03-03 09:04,134 °C,4 min,yes,released
2026-03-04 09:00,134 °C,4 min,no,released
`, map[string]string{
		"a.csv": logged("date,2026-03-02\n"+honestColumns, "8:51", 10, 0, 0, leakTest()...),
		"b.csv": logged("date,2026-03-02\n"+honestColumns, "9:03", 10, 0, 0, pumpedCycle(134.9, 250)...),
		"c.csv": logged("date,2026-03-03\n"+honestColumns, "8:58", 10, 0, 0, gravityCycle(110, 10)...),
		"d.csv": logged("date,2026-03-03\n"+honestColumns, "9:07", 10, 0, 0, pumpedCycle(134.9, 250)...),
		"e.csv": logged("date,2026-03-04\n"+honestColumns, "9:01", 10, 0, 0, gravityCycle(134.9, 250)...), // the quick cycle for bare items has no pulses
	}},
	{"a sensor a little under its program's number, a reading a minute, and a recorder that was switched on late", `
-- practice.yaml --
name: Practice of the case
regulator: Council of the case
rule_set: uk-practice
-- sterilizers.csv --
id,method,air_removal
S1,steam,dynamic
-- programs.csv --
id,sterilizer,name,temperature,exposure,pulses
U,S1,wrapped,134 °C,3.5 min,3
-- loads.csv --
id,started,counter,program,wrapped,decision
L-1,2026-03-02 09:00,1,U,yes,released
L-2,2026-03-03 09:00,2,U,yes,released
L-3,2026-03-04 09:00,3,U,yes,released
`, map[string]string{
		"1.csv": logged("counter,1\ndate,2026-03-02\n"+honestColumns, "9:00", 10, 0, 0, pumpedCycle(133.8, 230)...),
		"2.csv": logged("counter,2\ndate,2026-03-03\n"+honestColumns, "9:00", 60, 0, 0, pumpedCycle(134.9, 215)...),
		"3.csv": logged("counter,3\ndate,2026-03-04\n"+honestColumns, "9:00", 10, 640, 0, pumpedCycle(134.9, 230)...),
	}},
	{"a gauge's pressure in a column that says absolute, on a hill, and a program renamed since", `
-- practice.yaml --
name: Practice of the case
regulator: Council of the case
altitude: 650 m
-- sterilizers.csv --
id,method,air_removal
S1,steam,gravity
-- programs.csv --
id,sterilizer,name,temperature,exposure
G,S1,gentle,121 °C,30 min
-- loads.csv --
id,started,counter,program,wrapped,decision
L-1,2026-03-02 09:00,1,gentle,yes,released
L-2,2026-03-03 09:00,2,universal,yes,released
`, map[string]string{
		"1.csv": logged("counter,1\ndate,2026-03-02\n"+honestColumns, "9:00", 30, 0, 93.8, gravityCycle(121.6, 1830)...),
		"2.csv": logged("counter,2\ndate,2026-03-03\n"+honestColumns, "9:00", 30, 0, 93.8, gravityCycle(134.8, 930)...),
	}},
	{"a logger in winter time all year, loads an hour apart, and the second one broken off and rejected", `
-- practice.yaml --
name: Practice of the case
regulator: Council of the case
rule_set: uk-practice
-- sterilizers.csv --
id,method,air_removal
S1,steam,dynamic
-- programs.csv --
id,sterilizer,name,temperature,exposure,pulses
U,S1,wrapped,134 °C,3.5 min,3
-- loads.csv --
id,started,program,wrapped,decision
L-1,2026-06-02 08:05,U,yes,released
L-2,2026-06-02 09:05,U,yes,rejected
L-3,2026-06-02 10:05,U,yes,released
`, map[string]string{
		"1.csv": logged("date,2026-06-02\n"+honestColumns, "7:05", 10, 0, 0, pumpedCycle(134.9, 230)...),
		"2.csv": logged("date,2026-06-02\n"+honestColumns, "8:06", 10, 0, 0, gravityCycle(134.9, 40)...),
		"3.csv": logged("date,2026-06-02\n"+honestColumns, "9:05", 10, 0, 0, pumpedCycle(134.8, 225)...),
	}},
	{"a warm-up before the log's time of loading, the load's file after it, and the next day a written test with a counter of its own", `
-- practice.yaml --
name: Practice of the case
regulator: Council of the case
-- sterilizers.csv --
id,method,air_removal,sensor_tolerance
S1,steam,dynamic,0.1 K
-- programs.csv --
id,sterilizer,name,temperature,exposure,pulses
U,S1,wrapped,135 °C,3.5 min,3
-- tests.csv --
kind,run_at,counter,result
air-removal,2026-03-03 08:40,41,pass
-- loads.csv --
id,started,counter,program,wrapped,decision
L-1,2026-03-02 08:55,,U,yes,released
L-2,2026-03-03 09:00,42,U,yes,released
`, map[string]string{
		"w.csv": logged("date,2026-03-02\n"+honestColumns, "8:47", 10, 0, 0, gravityCycle(134.6, 60)...),
		"l.csv": logged("date,2026-03-02\n"+honestColumns, "9:07", 10, 0, 0, pumpedCycle(134.6, 230)...),
		"t.csv": logged("counter,41\ndate,2026-03-03\n"+honestColumns, "8:55", 10, 0, 0, gravityCycle(134.6, 90)...),
		"m.csv": logged("counter,42\ndate,2026-03-03\n"+honestColumns, "9:20", 10, 0, 0, pumpedCycle(134.6, 230)...),
	}},
	{"at 1,800 m with no altitude written, gauge in a column that says absolute, a quick program for bare items, and a drying that the display counts from the end of the hold", `
-- practice.yaml --
name: Practice of the case
regulator: Council of the case
-- sterilizers.csv --
id,method,air_removal
S1,steam,dynamic
-- programs.csv --
id,sterilizer,name,temperature,exposure,pulses
U,S1,wrapped,134 °C,3.5 min,3
Q,S1,quick,134 °C,3.5 min,
-- loads.csv --
id,started,trace,program,wrapped,decision,drying
L-1,2026-03-02 09:00,u.csv,U,yes,released,12 min
L-2,2026-03-03 09:00,q.csv,Q,no,released,
L-3,2026-03-04 09:00,r.csv,,,released,
`, map[string]string{
		"u.csv": logged("date,2026-03-02\n"+honestColumns, "9:00", 10, 0, 81.5, highCycle()...),
		"q.csv": logged("date,2026-03-03\n"+honestColumns, "9:01", 10, 0, 81.5, gravityCycle(134.7, 230)...),
		"r.csv": logged("date,2026-03-04\n"+honestColumns, "9:01", 10, 0, 81.5, gravityCycle(134.9, 230)...),
	}},
}

// Of an honest folder's data-logger files nothing is said above observation, and
// nothing in it is called critical or major.
func TestHonestTraces(t *testing.T) {
	criteria, err := Criteria()
	require.NoError(t, err)
	for _, h := range honestTraces {
		t.Run(h.name, func(t *testing.T) {
			files := map[string]string{}
			for _, f := range txtar.Parse([]byte(h.folder)).Files {
				files[f.Name] = string(f.Data)
			}
			for name, data := range h.traces {
				files["traces/"+name] = data
			}
			r, err := audit.Run(context.Background(), openCase(t, h.name, files).practice, All(), criteria, audit.Options{Workers: 1})
			require.NoError(t, err)
			require.Empty(t, r.NotRead)
			assert.Zero(t, r.Counts.Broken)
			require.Len(t, r.Traces, len(h.traces))
			for _, file := range r.Traces {
				assert.True(t, file.Judged, "%s: %s", file.File, file.Why)
			}
			for _, f := range r.Findings {
				ours := strings.HasPrefix(f.Check, "traces/") && f.Grade != result.Observation
				if ours || f.Grade == result.Critical || f.Grade == result.Major {
					t.Errorf("%s %s, %s %s: %s", f.Grade, f.Check, f.Subject.Kind, f.Subject.ID, f.Summary)
				}
			}
		})
	}
}
