package dev

import (
	"context"
	"testing"

	"footing/internal/practice"
	"footing/internal/quantity"
	"footing/internal/record"

	"github.com/stretchr/testify/require"
)

func read(t *testing.T, dir string) *practice.Practice {
	t.Helper()
	p, err := practice.Read(context.Background(), dir, quantity.NewDay(2026, 11, 24), record.Options{})
	require.NoError(t, err)
	return p
}

// TestMadePracticesAreRead: every row of every format is accepted, under headings
// that are all known, and every format has the same rows.
func TestMadePracticesAreRead(t *testing.T) {
	counts := map[string]map[string]int{}
	for _, format := range []string{"csv", "json", "jsonl", "yaml", "mixed"} {
		dir := t.TempDir()
		require.NoError(t, Generate(dir, Plan{Seed: 9, Days: 120, Clean: true, Traces: true, SecondsBetweenReadings: 300, Format: format}))
		p := read(t, dir)
		require.Empty(t, p.Intake.Problems, format)
		require.Empty(t, p.Intake.NotRead, format)
		counts[format] = accepted(t, p)
		require.Equal(t, counts["csv"], counts[format], format)
		traces := 0
		for i := range p.Loads {
			if p.Loads[i].Trace != "" {
				traces++
			}
		}
		require.Equal(t, traces, len(p.Intake.Traces))
	}
	require.Greater(t, counts["csv"]["visits"], 500)
}

func accepted(t *testing.T, p *practice.Practice) map[string]int {
	t.Helper()
	n := map[string]int{}
	for _, f := range p.Intake.Files {
		require.Equal(t, f.Rows, f.Accepted, f.Name)
		for _, h := range f.Headings {
			require.NotEmpty(t, h.Field, "%s: %s", f.Name, h.Written)
		}
		n[f.Kind] += f.Accepted
	}
	return n
}

// TestSamplesAreRead: the sample practices are accepted whole, whatever their headings.
func TestSamplesAreRead(t *testing.T) {
	var first map[string]int
	for _, format := range []string{"csv", "json", "jsonl", "yaml"} {
		p := read(t, samples+"/stranger-"+format)
		require.Empty(t, p.Intake.Problems, format)
		n := accepted(t, p)
		if first == nil {
			first = n
		}
		require.Equal(t, first, n, format)
	}
	for _, name := range []string{"thin", "thin-clean"} {
		p := read(t, samples+"/"+name)
		require.Empty(t, p.Intake.Problems, name)
		require.Empty(t, p.Intake.NotRead, name)
		require.Greater(t, len(accepted(t, p)), 12, name)
	}
}

// TestDemoIsRead: of the demo, only what was misspelt on purpose is dropped.
func TestDemoIsRead(t *testing.T) {
	p := read(t, "../demo/practice")
	var found []string
	for _, x := range p.Intake.Problems {
		found = append(found, x.File+" "+x.Field+" "+x.Found)
	}
	require.Equal(t, []string{"packs.csv condition intcat", "trips.csv on 2026-10-O7", "visits.csv signed_on 2026-09-31"}, found)
	require.Empty(t, p.Intake.NotRead)
	require.Len(t, p.Visits, 138)
}
