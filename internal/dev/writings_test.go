package dev

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"footing/internal/steam"
)

// writing is one way in which a data logger may write the same cycle down.
type writing struct {
	name      string
	every     int    // seconds between readings
	heading   string // of the table; its first mark is the delimiter
	delimiter string
	comma     bool // the decimal mark
	clock     func(start time.Time, second int) string
	celsius   func(float64) float64
	kPa       func(absolute, air float64) float64
	digits    int     // after the point, of pressures
	twice     bool    // a second sensor, which shows a little more
	phases    bool    // named in a last column
	altitude  float64 // m
	start     string  // of the load
}

const (
	kPaPerPsi = 6.894757293168361
	kPaPerBar = 100.0
)

func ofDay(start time.Time, s int) string {
	return start.Add(time.Duration(s) * time.Second).Format("15:04:05")
}
func dated(start time.Time, s int) string {
	return start.Add(time.Duration(s) * time.Second).Format("2006-01-02 15:04:05")
}
func seconds(_ time.Time, s int) string   { return fmt.Sprint(s) }
func stopwatch(_ time.Time, s int) string { return fmt.Sprintf("%02d:%02d", s/60, s%60) }
func hours(_ time.Time, s int) string {
	return fmt.Sprintf("%d:%02d:%02d", s/3600, s/60%60, s%60)
}

func asRead(c float64) float64         { return c }
func fahrenheit(c float64) float64     { return c*9/5 + 32 }
func absolute(p, _ float64) float64    { return p }
func gaugePsi(p, air float64) float64  { return (p - air) / kPaPerPsi }
func gaugeBar(p, air float64) float64  { return (p - air) / kPaPerBar }
func gaugeMbar(p, air float64) float64 { return (p - air) / kPaPerBar * 1000 }
func gaugeKPa(p, air float64) float64  { return p - air }

// The first is the one that all others are held to.
var writings = []writing{
	{name: "absolute", heading: "time,temperature [°C],pressure [kPa absolute]"},
	{name: "ten seconds", every: 10, heading: "time,temperature [°C],pressure [kPa absolute]"},
	{name: "fahrenheit psi", heading: "time,temperature [°F],pressure [psi gauge]", celsius: fahrenheit, kPa: gaugePsi},
	{name: "bar decimal comma", heading: "time;temperature [°C];pressure [bar gauge]", comma: true, kPa: gaugeBar, digits: 3},
	{name: "tab mbar", heading: "time\ttemperature [°C]\tpressure [mbar gauge]", kPa: gaugeMbar, digits: 1},
	{name: "elapsed", heading: "elapsed [s],temperature [°C],pressure [kPa absolute]", clock: seconds},
	{name: "stop watch", heading: "time [mm:ss],temperature [°C],pressure [kPa absolute]", clock: stopwatch},
	{name: "hours", heading: "time [hh:mm:ss],temperature [°C],pressure [kPa absolute]", clock: hours},
	{name: "day and time", heading: "time,temperature [°C],pressure [kPa absolute]", clock: dated},
	{name: "midnight", heading: "time,temperature [°C],pressure [kPa absolute]", start: "2026-11-10 23:40"},
	{name: "midnight dated", heading: "time,temperature [°C],pressure [kPa absolute]", clock: dated, start: "2026-11-10 23:40"},
	{name: "two sensors", heading: "time,temperature 1 [°C],temperature 2 [°C],pressure [kPa absolute]", twice: true},
	{name: "phases", heading: "time,temperature [°C],pressure [kPa absolute],phase", phases: true},
	{name: "sea gauge", heading: "time,temperature [°C],pressure [kPa gauge]", kPa: gaugeKPa},
	{name: "high gauge", heading: "time,temperature [°C],pressure [kPa gauge]", kPa: gaugeKPa, altitude: 1500},
	{name: "high psi ten seconds", every: 10, heading: "time,temperature [°F],pressure [psi gauge]", celsius: fahrenheit, kPa: gaugePsi, altitude: 1500},
	{name: "kelvin", heading: "time,temperature [K],pressure [kPa absolute]", celsius: func(c float64) float64 { return c + 273.15 }},
	{name: "high absolute", heading: "time,temperature [°C],pressure [kPa absolute]", altitude: 1500},
}

func (w writing) filled() writing {
	if w.every == 0 {
		w.every = 1
	}
	if w.clock == nil {
		w.clock = ofDay
	}
	if w.celsius == nil {
		w.celsius = asRead
	}
	if w.kPa == nil {
		w.kPa = absolute
	}
	if w.digits == 0 {
		w.digits = 2
	}
	if w.start == "" {
		w.start = "2026-11-10 09:12"
	}
	w.delimiter = string(w.heading[strings.IndexAny(w.heading, ",;\t")])
	return w
}

// folder writes the practice of one cycle: its load, its program, its trace.
func (w writing) folder(t *testing.T, c *cycle) string {
	t.Helper()
	w = w.filled()
	start, err := time.Parse("2006-01-02 15:04", w.start)
	require.NoError(t, err)
	air, err := steam.Atmosphere(w.altitude)
	require.NoError(t, err)
	c.start, c.air = start, air
	ended := start.Add(c.length() + time.Minute)
	dir := t.TempDir()
	put := func(name, text string) {
		path := filepath.Join(dir, name)
		require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o755))
		require.NoError(t, os.WriteFile(path, []byte(text), 0o644))
	}
	put("practice.yaml", fmt.Sprintf("name: Dulse Street Foot Care\nregulator: Council for Foot Care of Marrow Bay\nrule_set: cdc-2008\naltitude: %g m\n", w.altitude))
	put("sterilizers.csv", "id,method,air_removal,logger\nS1,steam,dynamic,yes\n")
	put("programs.csv", "id,sterilizer,name,temperature,exposure,drying,pulses,suits\nP134,S1,wrapped 134,134 °C,4 min,20 min,3,wrapped\n")
	put("loads.csv", "id,started,ended,sterilizer,counter,program,temperature,exposure,drying,wrapped,trace,released_by,released_at,decision\n"+
		fmt.Sprintf("L-1,%s,%s,S1,1201,P134,134.5 °C,4.2 min,20 min,yes,one.csv,P-01,%s,released\n", moment(start), moment(ended), moment(ended.Add(5*time.Minute))))
	put("traces/one.csv", w.text(c, start))
	return dir
}

func (w writing) text(c *cycle, start time.Time) string {
	var b strings.Builder
	fmt.Fprintf(&b, "sterilizer%sS1\ncounter%s1201\n", w.delimiter, w.delimiter)
	if w.filled().clock(start, 0) == ofDay(start, 0) {
		fmt.Fprintf(&b, "date%s%s\n", w.delimiter, day(start))
	}
	b.WriteString(w.heading + "\n")
	number := func(x float64, digits int) string {
		s := fmt.Sprintf("%.*f", digits, x)
		if w.comma {
			s = strings.Replace(s, ".", ",", 1)
		}
		return s
	}
	c.readings(func(second int, celsius, kPa float64) {
		if second%w.every != 0 {
			return
		}
		cells := []string{w.clock(start, second), number(w.celsius(celsius), 2)}
		if w.twice {
			cells = append(cells, number(w.celsius(celsius+0.15), 2))
		}
		cells = append(cells, number(w.kPa(kPa, c.air), w.digits))
		if w.phases {
			cells = append(cells, c.phase(second))
		}
		b.WriteString(strings.Join(cells, w.delimiter) + "\n")
	})
	return b.String()
}

// phase names the stretch of the cycle in which a second lies.
func (c *cycle) phase(second int) string {
	switch {
	case second < c.preheat:
		return "heating"
	case second < c.held()-c.rise:
		return "air removal"
	case second < c.held():
		return "heating"
	case second < c.held()+len(c.plateau):
		return "sterilizing"
	case second < c.ventedAt():
		return "exhaust"
	case second < c.ventedAt()+c.dried:
		return "drying"
	}
	return "airing"
}

// steady is a cycle with a hold of so many seconds at 134.9 °C.
func steady(hold int) *cycle {
	c := newCycle(5, 1, time.Time{}, "S1", 1201)
	c.plateau = make([]float64, hold)
	for i := range c.plateau {
		c.plateau[i] = 134.9 + 0.05*float64(i%5)
	}
	return c
}
