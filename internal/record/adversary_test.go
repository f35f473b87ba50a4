package record

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

const someone = "name: A\nregulator: B\n"

// A row that is too long costs only itself, not the rows parsed with it.
func TestATooLongYAMLRowCostsOnlyItself(t *testing.T) {
	good := "- {id: L%, started: 2026-03-02}\n"
	text := strings.Repeat(good, 5) + "- {id: LX, started: 2026-03-02, note: \"" + strings.Repeat("x", 1<<20) + "\"}\n" + good
	rec, in := fill(t, map[string]string{"practice.yaml": someone, "loads.yaml": text})
	require.Len(t, rec.Loads, 6)
	require.Equal(t, 7, in.Files[0].Rows)
	require.Equal(t, 6, problemOf(t, in, "too-long").Places[0].Row)
}

func problemOf(t *testing.T, in *Intake, cause string) Problem {
	t.Helper()
	for _, p := range in.Problems {
		if p.Cause == cause {
			return p
		}
	}
	t.Fatalf("no problem %q in %+v", cause, in.Problems)
	return Problem{}
}

// A name with millions of points must not be followed to its end.
func TestADeepNameInPairsIsDropped(t *testing.T) {
	rec, in := fill(t, map[string]string{"practice.csv": "name,value\nname,A\nregulator,B\nunits." + strings.Repeat("a.", 1<<20) + ",x\n"})
	require.Equal(t, "A", rec.Profile.Name)
	problemOf(t, in, "too-deep")
}

// Two names for one field in some row do not silence the second name in the others.
func TestASecondNameForAFieldIsReadOrTold(t *testing.T) {
	for file, text := range map[string]string{
		"loads.json": `[{"started":"2026-03-01","note":"x","remarks":"q"},{"started":"2026-03-02","remarks":"kept"},{"remarks":"told","started":"2026-03-03","note":"x"}]`,
		"loads.yaml": "- {started: 2026-03-01, note: x, remarks: q}\n- {started: 2026-03-02, remarks: kept}\n- {remarks: told, started: 2026-03-03, note: x}\n",
	} {
		rec, in := fill(t, map[string]string{"practice.yaml": someone, file: text})
		require.Len(t, rec.Loads, 3, file)
		require.Equal(t, "kept", rec.Loads[1].Note, file)
		require.Equal(t, "x", rec.Loads[2].Note, file)
		require.Len(t, problemOf(t, in, "repeated-heading").Places, 2, file)
	}
}

// What a pair of name and value cannot hold is told, and the first of two holds.
func TestPairsLoseNothingUnsaid(t *testing.T) {
	rec, in := fill(t, map[string]string{"practice.csv": "name,value\nname,My practice, East\nregulator,B\nunits.temperature,°C\nunits.temperature,°F\n"})
	require.Equal(t, "My practice", rec.Profile.Name)
	require.Equal(t, "°C", rec.Profile.Units.Temperature)
	problemOf(t, in, "more-cells")
	problemOf(t, in, "repeated-heading")
}

// A second row in practice, even a broken one, leaves how dates and times are written.
func TestASecondPracticeRowDoesNotSteer(t *testing.T) {
	_, one := fill(t, map[string]string{"practice.csv": "name,dates,time_zone\n,dmy,Europe/Berlin\n"})
	_, two := fill(t, map[string]string{"practice.csv": "name,dates,time_zone\n,dmy,Europe/Berlin\n,,EE\n"})
	require.Equal(t, one.Order, two.Order)
	require.Equal(t, "Europe/Berlin", two.Zone.String())
}

// Ids behind a folder that is a link may exist: they are never "no such id".
func TestALinkedFolderVeilsItsIDs(t *testing.T) {
	dir := folderOf(t, map[string]string{"practice.yaml": someone})
	require.NoError(t, os.Symlink(t.TempDir(), filepath.Join(dir, "loads")))
	var rec testRecords
	in, err := Fill(t.Context(), dir, &rec, Options{})
	require.NoError(t, err)
	require.Equal(t, IDSetAside, in.StateOf("loads", "L1"))
}
