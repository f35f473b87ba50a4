package checks

import (
	"encoding/csv"
	"fmt"
	"os"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"footing/internal/audit"
	"footing/internal/quantity"
	"footing/internal/result"
)

// The shipped limits of leak and air-removal tests are those that are published, and a
// leak at the published value passes in either unit, while a tenth more does not: the
// source of each stands beside it in the table.
func TestTestsAgainstPublishedValues(t *testing.T) {
	criteria, err := Criteria()
	require.NoError(t, err)
	file, err := os.Open("../testdata/reference/tests.csv")
	require.NoError(t, err)
	defer file.Close()
	table := csv.NewReader(file)
	table.Comment = '#'
	rows, err := table.ReadAll()
	require.NoError(t, err)
	require.Greater(t, len(rows), 1)
	for _, r := range rows[1:] {
		id, set, value, unit := r[1], r[2], r[4], r[5]
		published, err := strconv.ParseFloat(value, 64)
		require.NoError(t, err)
		if id == "monitoring.leak" {
			at, above := leakGrades(t, criteria, value+" "+unit), leakGrades(t, criteria, fmt.Sprintf("%.3f %s", published*1.1, unit))
			assert.Empty(t, at, "%s: %s %s", r[0], value, unit)
			assert.Equal(t, []string{result.Major}, above, "%s: a tenth more than %s %s", r[0], value, unit)
			continue
		}
		found := false
		for _, c := range criteria.Values(id) {
			if c.Set != set || c.When != nil && r[3] != "" && c.When["air_detector"] != r[3] {
				continue
			}
			span, limited := c.Limit()
			found = true
			assert.True(t, limited, r[0])
			assert.Equal(t, published, span.In(quantity.DayU), r[0])
		}
		assert.True(t, found, "%s: %s has no value under %s", r[0], id, set)
	}
}

// leakGrades are the grades of what is found of one leak test with a load after it.
func leakGrades(t *testing.T, criteria *audit.Criteria, rate string) (grades []string) {
	files := map[string]string{
		"practice.yaml":   defaultSelf + "coverage:\n  - {kind: tests, from: 2026-03-01, until: 2026-03-31, share: all}\n",
		"sterilizers.csv": "id,method,air_removal\nS1,steam,dynamic\n",
		"tests.csv":       "kind,run_at,leak_rate,result\nleak,2026-03-02 08:00," + rate + ",pass\n",
		"loads.csv":       "id,started,decision\nL-1,2026-03-02 09:00,released\n",
	}
	r := run(t, openCase(t, rate, files), battery(t, "monitoring/leak-rate"), criteria)
	for _, f := range r.Findings {
		grades = append(grades, f.Grade)
	}
	return grades
}
