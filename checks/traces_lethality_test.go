package checks

import (
	"context"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"footing/internal/audit"
	"footing/internal/result"
)

// tracesAudit puts one check to a folder of a steam sterilizer S1 with these files.
func tracesAudit(t *testing.T, id string, files map[string]string) *result.Result {
	t.Helper()
	criteria, err := Criteria()
	require.NoError(t, err)
	if files["sterilizers.csv"] == "" {
		files["sterilizers.csv"] = "id,method,air_removal\nS1,steam,gravity\n"
	}
	r, err := audit.Run(context.Background(), openCase(t, id, files).practice, battery(t, id), criteria, audit.Options{Workers: 1})
	require.NoError(t, err)
	require.Zero(t, r.Counts.Broken)
	return r
}

// What so many minutes at one temperature are worth, z 10 K: computed with another
// program, as published tables of lethal rates have it.
func TestTracesLethalityFigures(t *testing.T) {
	for _, c := range []struct {
		celsius, minutes float64
		rules            string
		f0               float64
		source           string
	}{
		{121, 20, "", 19.54, "20 min at 121 °C counted from 121.1 °C"},
		{132, 4, "", 49.21, "CDC 2008, table 7: 4 min at 132 °C, counted from 121.1 °C"},
		{126, 10, "", 30.90, "10 min at 126 °C"},
		{134, 18, "", 351.0, "18 min at 134 °C"},
		{134, 3, "criteria:\n  - {criterion: traces.reference, value: 121.0 °C, source: our report}\n", 59.86, "3 min at 134 °C counted from 121.0 °C"},
	} {
		files := map[string]string{"traces/a.csv": flatLog(c.celsius, c.minutes*60)}
		if c.rules != "" {
			files["rules.yaml"] = c.rules
		}
		r := tracesAudit(t, "traces/lethality", files)
		require.NotEmpty(t, r.Figures)
		least := r.Figures[0]
		assert.Contains(t, least.Name, "F0 of the hold (reference 121.")
		assert.Equal(t, "min", least.Unit)
		assert.InEpsilon(t, c.f0, least.Value, 0.001, "%s", c.source)
	}
}

// flatLog is a file that climbs within a second, holds and falls within a second,
// so that its hold is known exactly.
func flatLog(celsius, seconds float64) string {
	header := "sterilizer,S1\ndate,2026-03-02\n" + honestColumns
	var b strings.Builder
	b.WriteString(header)
	row := func(at, c float64) {
		b.WriteString(logRow(at, c))
	}
	row(0, 25)
	row(9, 30)
	for at := 10.0; at <= 10+seconds; at += 10 {
		row(at, celsius)
	}
	row(11+seconds, 30)
	row(21+seconds, 25)
	return b.String()
}

func TestTracesLethalityExhibit(t *testing.T) {
	r := tracesAudit(t, "traces/lethality", map[string]string{
		"programs.csv": "id,sterilizer,name,temperature,exposure\nU,S1,wrapped,134 °C,3.5 min\n",
		"loads.csv":    "id,started,trace,program,decision\nL-1,2026-03-02 09:00,b.csv,U,released\n",
		"traces/a.csv": flatLog(134, 600), "traces/b.csv": flatLog(134, 210), "traces/c.csv": flatLog(121, 1200),
	})
	var table *result.Exhibit
	for i := range r.Exhibits {
		if r.Exhibits[i].Chart == nil {
			table = &r.Exhibits[i]
		}
	}
	require.NotNil(t, table)
	assert.Contains(t, table.Title, "a second opinion, and never a ground for release")
	require.Len(t, table.Rows, 3)
	assert.Equal(t, []string{"c.csv", "none found", "19.5"}, table.Rows[0][:3], "lowest first")
	assert.Equal(t, "b.csv", table.Rows[1][0])
	assert.Equal(t, "L-1", table.Rows[1][1])
	assert.Equal(t, "68.2 (3.5 min at 134 °C)", table.Rows[1][4])
	assert.Equal(t, "a.csv", table.Rows[2][0])
	require.Len(t, r.Figures, 1)
	f := r.Figures[0]
	assert.Equal(t, "F0 of the hold (reference 121.1 °C), the middle one of 3 files", f.Name)
	assert.InDelta(t, 68.18, f.Value, 0.1)
	assert.InDelta(t, 19.54, *f.Low, 0.01)
	assert.InDelta(t, 194.8, *f.High, 0.3)
}

// A failed spore test beside perfect files: never graded above an observation, and
// what to do stands once, under monitoring/spore-failed.
func TestTracesLethalitySporeSteps(t *testing.T) {
	r := tracesAudit(t, "traces/lethality", map[string]string{
		"tests.csv":    "kind,run_at,control,result\nspore,2026-03-02,growth,fail\n",
		"traces/a.csv": flatLog(134.5, 1200),
	})
	require.Len(t, r.Findings, 1)
	f := r.Findings[0]
	assert.Equal(t, result.Observation, f.Grade)
	assert.Contains(t, f.Summary, "does not overrule a spore test")
	assert.Contains(t, f.Steps[0], "monitoring/spore-failed")
	assert.Contains(t, f.Verify, "Repeated tests that passed")
	assert.False(t, r.Conclusion.Stop)
}

// Two failures of one day are told apart: a pass lies after one of them.
func TestTracesLethalitySporesOfADay(t *testing.T) {
	r := tracesAudit(t, "traces/lethality", map[string]string{"traces/a.csv": flatLog(134.5, 1200),
		"tests.csv": "kind,run_at,control,result\nspore,2026-03-02 09:00,growth,fail\nspore,2026-03-02 10:00,growth,pass\nspore,2026-03-02 11:00,growth,fail\n"})
	require.Len(t, r.Findings, 2)
	assert.False(t, r.Conclusion.Stop, "monitoring/spore-failed says stop, with files or without")
	assert.Contains(t, r.Findings[0].Steps[0], "monitoring/spore-failed")
	assert.Contains(t, r.Findings[0].Summary, "passed since")
	assert.NotContains(t, r.Findings[1].Summary, "passed since")
}

// The file of a leak test that is written is no short hold beside a failed spore test.
func TestTracesLethalitySporesLeakTest(t *testing.T) {
	r := tracesAudit(t, "traces/lethality", map[string]string{"traces/a.csv": flatLog(80, 600),
		"loads.csv": "id,started,decision\nL-1,2026-03-02 09:06,released\n",
		"tests.csv": "kind,run_at,control,result\nleak,2026-03-02 09:00,,pass\nspore,2026-03-02,growth,fail\n"})
	require.Len(t, r.Findings, 1)
	assert.Contains(t, r.Findings[0].Summary, "no data-logger file of its time is here")
}
