package checks

import (
	"encoding/csv"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"footing/internal/audit"
)

// The baseline's list is what the CDC's page on packaging says that a label shows at a
// minimum; the date of expiry, which it asks for "if applicable", is not in it.
func TestPacksLabelBaseline(t *testing.T) {
	file, err := os.Open("../testdata/reference/packs.csv")
	require.NoError(t, err)
	defer file.Close()
	r := csv.NewReader(file)
	r.Comment = '#'
	rows, err := r.ReadAll()
	require.NoError(t, err)
	var want []string
	for _, row := range rows[1:] {
		if row[2] == "yes" {
			want = append(want, row[1])
		}
	}
	criteria, err := Criteria()
	require.NoError(t, err)
	var got []string
	for _, c := range criteria.Values("packs.label") {
		if c.Set == audit.Baseline {
			got = c.Items()
		}
	}
	assert.Equal(t, want, got)
}
