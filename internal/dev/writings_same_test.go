package dev

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"footing/checks"
	"footing/internal/audit"
	"footing/internal/result"
)

// verdicts is what the checks of data-logger files say, without where it stands and
// without the numbers, which a reading every ten seconds gives less finely.
func verdicts(r *result.Result) (list []string) {
	for _, c := range r.Checks {
		if strings.HasPrefix(c.ID, "traces/") {
			list = append(list, fmt.Sprintf("%s %s %+v", c.ID, c.Outcome, c.Counts))
		}
	}
	for _, f := range r.Findings {
		list = append(list, fmt.Sprintf("%s %s %s %d of %d", f.Check, f.Grade, f.Fingerprint, f.Extent.N, f.Extent.Of))
	}
	return list
}

func outcome(r *result.Result, id string) string {
	for _, c := range r.Checks {
		if c.ID == id {
			return c.Outcome
		}
	}
	return ""
}

// TestSameCycleAnyWriting: whatever the units, delimiter, decimal mark, clock,
// sensors, altitude and distance of readings, the verdicts are the same.
func TestSameCycleAnyWriting(t *testing.T) {
	for _, c := range []struct {
		name, hold string
		seconds    int
	}{{"held", result.Conforming, 262}, {"short", result.Nonconforming, 150}} {
		var want []string
		for i, w := range writings {
			r := audited(t, w.folder(t, steady(c.seconds)))
			got := verdicts(r)
			if i == 0 {
				want = got
				require.Equal(t, c.hold, outcome(r, "traces/hold"))
				for _, id := range []string{"traces/band", "traces/saturation", "traces/air-removal", "traces/drying", "traces/readable", "traces/sensor"} {
					require.Equal(t, result.Conforming, outcome(r, id), "%s: %s", c.name, id)
				}
			}
			assert.Equal(t, want, got, "%s, %s", c.name, w.name)
		}
	}
}

// measure is a unit with how a value is turned into it.
type measure struct {
	unit    string
	celsius func(float64) float64
	kPa     func(absolute, air float64) float64
}

// TestAnyMixOfWritings draws units, marks, clock, sensors, altitude and distance of
// readings each for itself.
func TestAnyMixOfWritings(t *testing.T) {
	temperatures := []measure{{unit: "°C", celsius: asRead}, {unit: "°F", celsius: fahrenheit}, {unit: "K", celsius: func(c float64) float64 { return c + 273.15 }}}
	pressures := []measure{{unit: "kPa absolute", kPa: absolute}, {unit: "kPa gauge", kPa: gaugeKPa}, {unit: "psi gauge", kPa: gaugePsi}, {unit: "bar gauge", kPa: gaugeBar},
		{unit: "mbar gauge", kPa: gaugeMbar}, {unit: "psi absolute", kPa: func(p, _ float64) float64 { return p / kPaPerPsi }}, {unit: "bar absolute", kPa: func(p, _ float64) float64 { return p / kPaPerBar }}}
	clocks := []struct {
		heading string
		write   func(time.Time, int) string
	}{{"time", ofDay}, {"time", dated}, {"elapsed [s]", seconds}, {"time [mm:ss]", stopwatch}, {"time [hh:mm:ss]", hours}}
	criteria, err := checks.Criteria()
	require.NoError(t, err)
	judged := func(w writing, hold int) []string {
		r, err := audit.Run(context.Background(), read(t, w.folder(t, steady(hold))), TraceChecks(), criteria, audit.Options{})
		require.NoError(t, err)
		return verdicts(r)
	}
	want := map[bool][]string{true: judged(writings[0], 262), false: judged(writings[0], 150)}
	rapid.Check(t, func(rt *rapid.T) {
		marks := rapid.SampledFrom([]string{",.", ";.", ";,", "\t.", "\t,"}).Draw(rt, "delimiter and decimal mark")
		temperature, pressure := rapid.SampledFrom(temperatures).Draw(rt, "temperature"), rapid.SampledFrom(pressures).Draw(rt, "pressure")
		clock := clocks[rapid.IntRange(0, len(clocks)-1).Draw(rt, "clock")]
		w := writing{comma: marks[1] == ',', celsius: temperature.celsius, kPa: pressure.kPa, digits: 3,
			every:    rapid.SampledFrom([]int{1, 2, 5, 10}).Draw(rt, "seconds between readings"),
			clock:    clock.write,
			twice:    rapid.Bool().Draw(rt, "two sensors"),
			phases:   rapid.Bool().Draw(rt, "phases"),
			altitude: float64(rapid.IntRange(0, 2500).Draw(rt, "m")),
			start:    rapid.SampledFrom([]string{"2026-11-10 09:12", "2026-11-10 23:40", "2026-11-10 23:59"}).Draw(rt, "start"),
		}
		names := []string{clock.heading, "temperature [" + temperature.unit + "]", "pressure [" + pressure.unit + "]"}
		if w.twice {
			names = slices.Insert(names, 1, "temperature 1 ["+temperature.unit+"]")
		}
		if w.phases {
			names = append(names, "phase")
		}
		w.heading = strings.Join(names, marks[:1])
		held := rapid.Bool().Draw(rt, "held")
		hold := rapid.IntRange(140, 155).Draw(rt, "seconds of a short hold")
		if held {
			hold = rapid.IntRange(262, 275).Draw(rt, "seconds of a hold")
		}
		if got := judged(w, hold); !slices.Equal(want[held], got) {
			rt.Fatalf("%+v\nwant %q\ngot  %q", w, want[held], got)
		}
	})
}
