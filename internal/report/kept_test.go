package report

import (
	"strings"
	"testing"

	"footing/internal/result"

	"github.com/stretchr/testify/require"
)

// What may be asked for is named with its rows and files, and what is not typed is no
// failure.
func TestKept(t *testing.T) {
	r := thin()
	in := sectionOf(t, Markdown(r), titleKept)
	require.Contains(t, in, "| The sterilizer's log | 64 | loads.csv |")
	require.Contains(t, in, "| Spore tests and other tests | 13 | tests.csv |")
	require.Contains(t, in, "Nothing is typed of: service and maintenance, packs and their labels,")
	require.NotRegexp(t, "(?i)missing|not done|fail", in)
	r.Intake = append(r.Intake, result.File{File: "a.csv", Kind: "loads", Accepted: 1}, result.File{File: "b.csv", Kind: "loads", Accepted: 1}, result.File{File: "c.csv", Kind: "loads", Accepted: 1},
		result.File{File: "d.csv", Kind: "policies", Rows: 2})
	in = sectionOf(t, Markdown(r), titleKept)
	require.Contains(t, in, "| The sterilizer's log | 67 | a.csv, b.csv, c.csv, 1 more file |")
	require.Contains(t, in, "written policies", "rows that are set aside are none that can be shown")
	r.AskedFor = []result.AskedFor{{Topic: "the sterilizer log", State: result.AskedFound}}
	require.NotContains(t, string(Markdown(r)), "## "+titleKept, "an audit for an inspection lists it in full instead")
}

// Gear beside who needs it: what is gone and needed stands out, what cannot be told is no alarm.
func TestGearTable(t *testing.T) {
	in := sectionOf(t, Markdown(full()), titleGear)
	require.Contains(t, in, "| car bag | Gloves | M | P1 (without latex) | yes, but without latex: cannot be told | 2 boxes | 20 Nov 2026 |")
	require.Contains(t, in, "| **none left** | 0 | 24 Nov 2026 |")
	require.NotContains(t, in, "Ada Vale", "an id that reads like a name")
	require.Contains(t, in, "| clinic | Gowns | L | nobody who is typed | cannot be told: no row of stock there speaks of gowns of that size |  |  |")
	require.False(t, strings.Contains(string(Markdown(thin())), titleGear))
}
