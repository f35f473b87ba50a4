package dev

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"footing/internal/result"
)

// tracesOf is what the checks of data-logger files found.
func tracesOf(r *result.Result) (list []result.Finding) {
	for _, f := range r.Findings {
		if strings.HasPrefix(f.Check, "traces/") {
			list = append(list, f)
		}
	}
	return list
}

// TestCleanTracesConform: in a practice with nothing planted every file finds its
// load by name, every check of data-logger files looks at all of them, and nothing
// is said of any, whatever the distance of readings.
func TestCleanTracesConform(t *testing.T) {
	for _, plan := range []Plan{
		{Seed: 41, Days: 120, Clean: true, Traces: true},
		{Seed: 42, Days: 60, Clean: true, Traces: true, SecondsBetweenReadings: 5, Format: "json"},
		{Seed: 43, Days: 30, VisitsPerDay: 90, Clean: true, Traces: true, SecondsBetweenReadings: 10, Format: "yaml"},
	} {
		dir := t.TempDir()
		require.NoError(t, Generate(dir, plan))
		r := audited(t, dir)
		require.Greater(t, len(r.Traces), 15)
		for _, x := range r.Traces {
			require.True(t, x.Judged && x.By == "name" && x.Aside == 0 && x.Lines == x.Heading+x.Readings, "%+v", x)
		}
		for _, c := range r.Checks {
			if strings.HasPrefix(c.ID, "traces/") {
				assert.Equal(t, result.Conforming, c.Outcome, "%s: %s", c.ID, c.Reason)
				assert.Zero(t, c.Counts.NotAssessed, "%s: %v", c.ID, c.Reasons)
			}
		}
		for _, f := range tracesOf(r) {
			assert.Fail(t, "nothing was planted", "%s %s: %s", f.Grade, f.Check, f.Summary)
		}
	}
}

// found says which check finds a fault that was planted, and how it grades it;
// miscounted and no-load are told by the pairing alone.
var found = map[string]struct{ check, grade string }{
	"hold-short":   {"traces/hold", result.Critical},
	"hold-hot":     {"traces/band", result.Major},
	"air":          {"traces/saturation", result.Major},
	"superheat":    {"traces/saturation", result.Major},
	"no-pulses":    {"traces/air-removal", result.Major},
	"drying-short": {"traces/drying", result.Minor},
	"copied":       {"traces/copied", result.Observation},
	"stuck":        {"traces/sensor", result.Observation},
	"torn":         {"traces/readable", result.Minor},
	"blank":        {"traces/readable", result.Observation},
	"gap":          {"traces/readable", result.Observation},
	"clock-ahead":  {"traces/log", result.Observation},
	"shifted":      {"traces/log", result.Minor},
	"misread":      {"traces/log", result.Observation},
}

// TestPlantedFlawsAreFound: each by its check with its grade at its file, and no
// nonconformity of a file in which nothing was planted.
func TestPlantedFlawsAreFound(t *testing.T) {
	dir := flawedPractice(t)
	planted, err := PlantedIn(dir)
	require.NoError(t, err)
	r := audited(t, dir)
	paired := map[string]result.Trace{}
	for _, x := range r.Traces {
		paired[x.File] = x
	}
	for _, p := range planted {
		file := "traces/" + p.Trace
		x := paired[file]
		assert.Equal(t, p.Load, x.Load, "%v: %+v", p, x)
		if p.Fault == "miscounted" {
			assert.Equal(t, "start", x.By, "%+v", x)
		}
		want, ok := found[p.Fault]
		if !ok {
			continue
		}
		assert.True(t, slices.ContainsFunc(r.Findings, func(f result.Finding) bool {
			return f.Check == want.check && f.Grade == want.grade && slices.ContainsFunc(f.Evidence, func(e result.Evidence) bool { return e.File == file })
		}), "%v: not found by %s as %s", p, want.check, want.grade)
	}
	for _, f := range tracesOf(r) {
		for _, e := range f.Evidence {
			if !strings.HasPrefix(e.File, "traces/") || f.Grade == result.Observation {
				continue
			}
			assert.True(t, slices.ContainsFunc(planted, func(p Planted) bool { return "traces/"+p.Trace == e.File }), "%s %s %s: nothing was planted: %s", f.Grade, f.Check, e.File, f.Summary)
		}
	}
}

// TestTracesAloneAreJudged: with no load typed, what the files show is judged all
// the same, and nothing of it is critical, since nobody knows that anything was used.
func TestTracesAloneAreJudged(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "alone")
	require.NoError(t, CyclesOnly(flawedPractice(t), dir))
	require.NoError(t, os.Remove(filepath.Join(dir, "loads.csv")))
	r := audited(t, dir)
	judged := 0
	for _, x := range r.Traces {
		if x.Judged {
			judged++
		}
		require.Empty(t, x.Load)
	}
	require.Equal(t, len(r.Traces), judged)
	require.NotEmpty(t, tracesOf(r))
	for _, f := range tracesOf(r) {
		assert.NotEqual(t, result.Critical, f.Grade, f.Summary)
	}
}
