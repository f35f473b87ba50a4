package dev

import (
	"context"
	"fmt"
	"strconv"
	"testing"

	"footing/checks"
	"footing/internal/audit"
	"footing/internal/demo"
	"footing/internal/result"

	"github.com/stretchr/testify/require"
)

func audited(t *testing.T, dir string) *result.Result {
	t.Helper()
	criteria, err := checks.Criteria()
	require.NoError(t, err)
	r, err := audit.Run(context.Background(), read(t, dir), checks.All(), criteria, audit.Options{})
	require.NoError(t, err)
	for _, c := range r.Checks {
		require.NotEqual(t, "broken", c.Outcome, "%s: %s", c.ID, c.Reason)
	}
	return r
}

// TestDemoFaultsAreFound: each fault of the table is found at its row and field with
// its grade, and nothing is found that the table does not have.
func TestDemoFaultsAreFound(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, demo.Write(dir))
	r := audited(t, dir)
	planned := map[string]bool{}
	for _, f := range csvRows(t, samples+"/demo-faults.csv")[1:] {
		row, err := strconv.Atoi(f[1])
		require.NoError(t, err)
		found := false
		for i := range r.Findings {
			for _, e := range r.Findings[i].Evidence {
				if r.Findings[i].Check == f[3] && r.Findings[i].Grade == f[4] && e.File == f[0] && e.Row == row && e.Field == f[2] {
					found, planned[r.Findings[i].Fingerprint] = true, true
				}
			}
		}
		require.True(t, found, "not found: %v", f)
	}
	for _, f := range r.Findings {
		require.True(t, planned[f.Fingerprint], "found, but not planted: %s %s %s", f.Grade, f.Check, f.Summary)
	}
}

// TestStrangerFaultsAreFound: each fault at its line and character in each format,
// no other falls short, and every format says the same.
func TestStrangerFaultsAreFound(t *testing.T) {
	said := map[string][]string{}
	for i, format := range []string{"csv", "json", "jsonl", "yaml"} {
		r := audited(t, samples+"/stranger-"+format)
		table := csvRows(t, samples+"/stranger-faults.csv")[1:]
		for _, f := range table {
			found := false
			for _, x := range r.Findings {
				for _, e := range x.Evidence {
					found = found || x.Check == f[3] && x.Grade == f[4] && e.File == f[0]+"."+format && e.Field == f[2] &&
						strconv.Itoa(e.Row) == f[1] && fmt.Sprintf("%d:%d", e.Line, e.Column) == f[5+i]
				}
			}
			require.True(t, found, "%s: not found: %v", format, f)
		}
		require.Len(t, nonconformities(r), len(table), format)
		for _, x := range r.Findings {
			said[format] = append(said[format], x.Fingerprint+" "+x.Grade+" "+x.Summary)
		}
		require.Equal(t, said["csv"], said[format], format)
	}
}

// TestThinFolder: nothing critical or major for what was merely not typed; made
// complete, nothing above an observation.
func TestThinFolder(t *testing.T) {
	for _, f := range audited(t, samples+"/thin").Findings {
		require.NotContains(t, []string{result.Critical, result.Major}, f.Grade, f.Summary)
	}
	require.Empty(t, nonconformities(audited(t, samples+"/thin-clean")))
}

func nonconformities(r *result.Result) (list []string) {
	for _, f := range r.Findings {
		if f.Grade != result.Observation {
			list = append(list, f.Grade+" "+f.Check+" "+f.Summary)
		}
	}
	return list
}

// TestMadePracticeConforms: a clean practice of any size and seed has no
// nonconformity; planted faults of each family are found.
func TestMadePracticeConforms(t *testing.T) {
	for _, plan := range []Plan{{Seed: 21, Days: 500, Clean: true}, {Seed: 22, Days: 40, VisitsPerDay: 40, Clean: true}, {Seed: 23, Days: 200, VisitsPerDay: 0.4, Clean: true}} {
		dir := t.TempDir()
		require.NoError(t, Generate(dir, plan))
		require.Empty(t, nonconformities(audited(t, dir)), "%+v", plan)
	}
	dir := t.TempDir()
	require.NoError(t, Generate(dir, Plan{Seed: 24, Days: 500}))
	found := map[string]bool{}
	for _, f := range audited(t, dir).Findings {
		found[f.Check] = true
	}
	for _, family := range []string{"cycles/program", "packs/date", "clients/screen-complete", "scope/instruments", "gear/sizes"} {
		require.True(t, found[family], family)
	}
}
