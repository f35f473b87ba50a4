package checks

import (
	"context"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/quantity"
	"footing/internal/record"
	"footing/internal/result"
	"footing/internal/steam"
)

// loggerCycle writes the file of a made-up cycle at 134 °C, one reading in ten
// seconds: two pulses, a hold, exhaust and, where wanted, drying under vacuum. Its
// pressures are those of saturated steam while there is steam (the line is tested in
// internal/steam); each cycle has small movements of its own, by its number.
func loggerCycle(number, hold, drying int, clock func(second int) string) string {
	var b strings.Builder
	second := 0
	write := func(celsius, kPa float64) {
		wobble := math.Sin(float64((number*7919+second*31)%1009)) / 8
		fmt.Fprintf(&b, "%s,%.1f,%.1f\n", clock(second), celsius+wobble, kPa+2*wobble)
		second += 10
	}
	line := func(seconds int, t0, t1, p0, p1 float64) {
		for i := range seconds / 10 {
			part := float64(i) / float64(seconds/10)
			write(t0+(t1-t0)*part, p0+(p1-p0)*part)
		}
	}
	steamAt := func(celsius float64) float64 { p, _ := steam.SaturationPressure(celsius); return p }
	line(120, 24, 62, 101.3, 101.3)
	for range 2 {
		line(60, 62, 61, 101.3, 20)
		line(60, 61, 111, 20, 148)
		line(30, 111, 62, 148, 101.3)
	}
	for i := range 18 {
		t := 62 + (134.9-62)*float64(i)/18
		write(t, max(101.3, steamAt(t)))
	}
	for range hold / 10 {
		write(134.9, steamAt(134.9))
	}
	line(60, 134.9, 104, steamAt(134.9), 100)
	line(drying, 104, 90, 9, 8)
	if drying > 0 {
		line(60, 90, 84, 8, 101.3)
	}
	return b.String()
}

// loggerDay is a clock that shows day and time, a whole number of hours ahead.
func loggerDay(day, hour, minute int) func(int) string {
	return func(second int) string {
		at := hour*3600 + minute*60 + second
		return fmt.Sprintf("2026-%02d-%02d %02d:%02d:%02d", day/100, day%100, at/3600, at/60%60, at%60)
	}
}

const loggerHeading = "Time,Chamber temperature [°C],Chamber pressure [kPa absolute]\n"

// honestLogger are folders with data-logger files as honest practices have them.
// That loggers stop when the door is set ajar, that clocks are not set to summer
// time, that files are exported twice and that set values are typed from habit is
// common practice, no source.
func honestLogger() map[string]string {
	const sterilizer = "-- sterilizers.csv --\nid,method,class,logger\nS1,steam,B,yes\n-- programs.csv --\nid,sterilizer,temperature,exposure,drying,pulses,suits\nU,S1,134 °C,3.5 min,15 min,2,wrapped\n"
	file := func(name, text string) string { return "-- traces/" + name + " --\n" + loggerHeading + text }
	row := func(s string) string { return s + "\n" }
	folders := map[string]string{}

	folders["set values typed from habit, a clock never set to summer time, and a logger that stops with the hold"] = sterilizer +
		"-- loads.csv --\nid,started,program,counter,temperature,exposure,drying,wrapped,decision,trace\n" +
		row("L-1,2026-03-27 09:00,U,41,134 °C,3.5 min,15 min,yes,released,a.csv") + row("L-2,2026-03-30 09:00,U,42,134 °C,3.5 min,15 min,yes,released,b.csv") +
		row("L-3,2026-03-31 09:05,U,43,134 °C,3.5 min,15 min,yes,released,c.csv") + row("L-4,2026-04-01 09:00,U,44,134 °C,3.5 min,15 min,yes,released,d.csv") +
		file("a.csv", loggerCycle(1, 250, 0, loggerDay(327, 9, 1))) + file("b.csv", loggerCycle(2, 240, 0, loggerDay(330, 8, 2))) +
		file("c.csv", loggerCycle(3, 260, 0, loggerDay(331, 8, 1))) + file("d.csv", loggerCycle(4, 250, 0, loggerDay(401, 8, 3)))

	twice := loggerCycle(5, 250, 920, loggerDay(302, 9, 1))
	folders["one file exported twice, a warm-up with no row in the log, and a file of the office among them"] = sterilizer +
		"-- loads.csv --\nid,started,program,temperature,exposure,drying,wrapped,decision,trace\n" +
		row("L-1,2026-03-02 09:00,U,134.7 °C,4.1 min,15 min,yes,released,a.csv") + row("L-2,2026-03-03 09:00,U,134.6 °C,4.0 min,15 min,yes,released,b.csv") +
		file("a.csv", twice) + file("a (1).csv", twice) + file("b.csv", loggerCycle(6, 240, 910, loggerDay(303, 9, 0))) +
		file("warm-up.csv", loggerCycle(7, 60, 0, loggerDay(303, 7, 30))) + "-- traces/addresses.csv --\nfirm,street\nWater supply,Mill Lane 2\n"

	folders["whole degrees on a display that stands still, a log of bare dates and a gauge read at another moment"] = "-- practice.yaml --\nname: Practice of the case\nregulator: Council of the case\naltitude: 120 m\n" +
		"-- sterilizers.csv --\nid,method,air_removal\nG1,steam,gravity\n-- loads.csv --\nid,started,temperature,exposure,pressure,drying,wrapped,decision,trace\n" +
		row("L-1,2026-03-02,121 °C,30 min,15 psi gauge,30 min,yes,released,g1.csv") + row("L-2,2026-03-03,121 °C,30 min,15.5 psi gauge,30 min,yes,released,g2.csv") +
		"-- traces/g1.csv --\n" + loggerGravity(2, 31) + "-- traces/g2.csv --\n" + loggerGravity(3, 33)
	return folders
}

// loggerGravity is a file of a gravity sterilizer that shows whole degrees and no
// pressure, a reading a minute, and ends when the door is set ajar.
func loggerGravity(day, hold int) string {
	var b strings.Builder
	b.WriteString("Date,Time,Temp °C\n")
	minute := 0
	write := func(celsius float64) {
		fmt.Fprintf(&b, "2026-03-%02d,%02d:%02d,%.0f\n", day, 14+minute/60, minute%60, celsius)
		minute++
	}
	for i := range 12 {
		write(24 + 8*float64(i))
	}
	for range hold + 1 {
		write(122)
	}
	for i := range 6 {
		write(118 - 4*float64(i))
	}
	return b.String()
}

// Nothing in an honest folder with data-logger files is called critical or major,
// and log and file are not said to differ.
func TestHonestLoggers(t *testing.T) {
	criteria, err := Criteria()
	require.NoError(t, err)
	for name, folder := range honestLogger() {
		t.Run(name, func(t *testing.T) {
			files := map[string]string{}
			for _, f := range txtar.Parse([]byte(folder)).Files {
				files[f.Name] = string(f.Data)
			}
			r, err := audit.Run(context.Background(), openCase(t, name, files).practice, All(), criteria, audit.Options{Workers: 1})
			require.NoError(t, err)
			assert.Zero(t, r.Counts.Broken)
			judged := 0
			for _, tr := range r.Traces {
				if tr.Judged {
					judged++
				}
			}
			require.Greater(t, judged, 1, "no file was read, so that nothing is shown by this")
			for _, f := range r.Findings {
				grave := f.Grade == result.Critical || f.Grade == result.Major
				if grave || f.Grade == result.Minor && f.Check != "traces/readable" && strings.HasPrefix(f.Check, "traces/") {
					t.Errorf("%s %s, %s %s: %s", f.Grade, f.Check, f.Subject.Kind, f.Subject.ID, f.Summary)
				}
			}
		})
	}
}

// A file that goes away between the listing and the reading is told as one that
// could not be read, and nothing is judged of it.
func TestLoggerFileGone(t *testing.T) {
	criteria, err := Criteria()
	require.NoError(t, err)
	dir := t.TempDir()
	write := func(name, text string) {
		path := filepath.Join(dir, name)
		require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o755))
		require.NoError(t, os.WriteFile(path, []byte(text), 0o644))
	}
	write("practice.yaml", defaultSelf)
	write("sterilizers.csv", "id,method\nS1,steam\n")
	write("traces/a.csv", loggerHeading+loggerCycle(1, 250, 0, loggerDay(302, 9, 0)))
	write("traces/b.csv", loggerHeading+loggerCycle(2, 250, 0, loggerDay(303, 9, 0)))
	day, err := quantity.ParseDay(defaultAsOf, quantity.ISO)
	require.NoError(t, err)
	p, err := practice.Read(context.Background(), dir, day, record.Options{})
	require.NoError(t, err)
	require.NoError(t, os.Remove(filepath.Join(dir, "traces", "b.csv")))

	r, err := audit.Run(context.Background(), p, battery(t, "traces/readable"), criteria, audit.Options{Workers: 1})
	require.NoError(t, err)
	require.Len(t, r.Findings, 1)
	f := r.Findings[0]
	assert.Equal(t, result.Minor, f.Grade)
	assert.Equal(t, "unread", f.Matter)
	assert.Equal(t, 1, f.Extent.N)
	assert.Equal(t, 2, f.Extent.Of)
	assert.Equal(t, "traces/b.csv", f.Evidence[0].File)
	assert.NotContains(t, f.Summary, dir, "a path of the machine is nobody's business")

	for _, id := range []string{"traces/drying", "traces/sensor", "traces/copied"} {
		r, err := audit.Run(context.Background(), p, battery(t, id), criteria, audit.Options{Workers: 1})
		require.NoError(t, err)
		assert.Contains(t, r.Checks[0].Reasons, result.Reason{Text: "the data-logger file cannot be judged: see traces/readable", Count: 1}, id)
	}
}

// dryHeatPairs are published pairs of temperature and time in hot air, by who says so.
var dryHeatPairs = []struct {
	set, air, wrapped string
	celsius, minutes  float64
	source            string
}{
	{"cdc-2008", "static", "yes", 170, 60, "CDC Guideline for Disinfection and Sterilization 2008, dry-heat sterilizers; JADA December 1991"},
	{"cdc-2008", "static", "no", 160, 120, "CDC 2008, the same; JADA December 1991"},
	{"cdc-2008", "static", "yes", 150, 150, "CDC 2008, the same; JADA December 1991"},
	{"cdc-2008", "forced", "no", 190, 6, "JADA December 1991, rapid heat transfer, unwrapped"},
	{"cdc-2008", "forced", "yes", 190, 12, "JADA December 1991, rapid heat transfer, packaged"},
	{"uk-practice", "static", "yes", 160, 120, "European Pharmacopoeia 5.1.1, as reproduced"},
	{"uk-practice", "static", "yes", 180, 30, "HTM 2010, from memory"},
	{"common-practice", "static", "yes", 170, 60, "consensus of 1991, PubMed 12284649"},
	{"common-practice", "static", "yes", 180, 30, "common practice, no source"},
	{"common-practice", "static", "yes", 149, 150, "common practice, no source"},
	{"common-practice", "static", "yes", 141, 180, "common practice, no source"},
}

// Each published pair is enough under its rule set, and a twentieth less is not,
// whatever else is published: the pairs lie far apart in heat (by FH, z 20 K at
// 170 °C, from 15 min for 150 °C to 120 min for 190 °C wrapped), so that none can
// stand in for another and none is worked out of two.
func TestDryHeatPairsArePublished(t *testing.T) {
	criteria, err := Criteria()
	require.NoError(t, err)
	outcome := func(set, air, wrapped string, celsius, minutes float64) string {
		c := openCase(t, "pair", map[string]string{
			"practice.yaml":   defaultSelf + "rule_set: " + set + "\n",
			"sterilizers.csv": "id,method,air\nD1,dry-heat," + air + "\n",
			"loads.csv":       fmt.Sprintf("started,temperature,exposure,wrapped,decision\n2026-03-02 09:00,%g °C,%.2f min,%s,released\n", celsius, minutes, wrapped),
		})
		return run(t, c, battery(t, "cycles/dry-heat"), criteria).Checks[0].Outcome
	}
	least, most := math.Inf(1), 0.0
	for _, p := range dryHeatPairs {
		name := fmt.Sprintf("%s %s %g °C %g min (%s)", p.set, p.air, p.celsius, p.minutes, p.source)
		assert.Equal(t, result.Conforming, outcome(p.set, p.air, p.wrapped, p.celsius, p.minutes), name)
		assert.Equal(t, result.Nonconforming, outcome(p.set, p.air, p.wrapped, p.celsius, p.minutes*0.95), name)
		heat := steam.FH.Segment(p.celsius, p.celsius, 60*p.minutes)
		least, most = min(least, heat), max(most, heat)
	}
	assert.Greater(t, most, 5*least)
}
