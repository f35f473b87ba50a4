package dev

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Ten years of visits, and one certificate's last day typed a year early: the
// hundreds of visits that it touches are one finding with their number.
func TestOneChangedCertificateIsOneFinding(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "made")
	plan := DefaultPlan()
	plan.Format, plan.Traces = "csv", false
	require.NoError(t, Generate(dir, plan))
	require.Empty(t, nonconformities(audited(t, dir)), "the made practice has no nonconformity before the change")

	path := filepath.Join(dir, "credentials.csv")
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	const before, after = "P-01,registration,2020-09-26,2021-09-25", "P-01,registration,2020-09-26,2020-10-25"
	require.Equal(t, 1, strings.Count(string(data), before))
	require.NoError(t, os.WriteFile(path, []byte(strings.Replace(string(data), before, after, 1)), 0o644))

	r := audited(t, dir)
	require.Len(t, nonconformities(r), 1)
	found := r.Findings
	assert.Equal(t, "people/registered", found[0].Check)
	assert.Equal(t, "P-01", found[0].Subject.ID)
	assert.Greater(t, found[0].Extent.N, 300)
	assert.Greater(t, found[0].Extent.Of, found[0].Extent.N)
	assert.GreaterOrEqual(t, len(found[0].Evidence), found[0].Extent.N, "every record stands in its evidence")
}
