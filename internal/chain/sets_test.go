package chain

import (
	"context"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"footing/internal/practice"
	"footing/internal/quantity"
	"footing/internal/record"
)

func listOf(items ...string) quantity.List { return quantity.List{Items: items, Written: true} }

// How people write what a load held: common practice of log books, no source.
func TestSetsOf(t *testing.T) {
	for _, c := range []struct {
		written string
		want    []SetCount
		ok      bool
	}{
		{"nail x 6", []SetCount{{"nail", 6}}, true},
		{"nail × 6", []SetCount{{"nail", 6}}, true},
		{"nail×6", []SetCount{{"nail", 6}}, true},
		{"nail x6", []SetCount{{"nail", 6}}, true},
		{"Nail  X 6", []SetCount{{"nail", 6}}, true},
		{"nail * 6", []SetCount{{"nail", 6}}, true},
		{"nail: 6", []SetCount{{"nail", 6}}, true},
		{"nail = 6", []SetCount{{"nail", 6}}, true},
		{"nail (6)", []SetCount{{"nail", 6}}, true},
		{"nail (x6)", []SetCount{{"nail", 6}}, true},
		{"6 nail", []SetCount{{"nail", 6}}, true},
		{"6 x nail", []SetCount{{"nail", 6}}, true},
		{"6× nail", []SetCount{{"nail", 6}}, true},
		{"nail", []SetCount{{"nail", 1}}, true},
		{"nail x 0", []SetCount{{"nail", 0}}, true},
		{"corn and callus x 2", []SetCount{{"corn and callus", 2}}, true},
		{"box x 2", []SetCount{{"box", 2}}, true},
		{"flex", []SetCount{{"flex", 1}}, true},
		{"nail x 6;curette x 2", []SetCount{{"nail", 6}, {"curette", 2}}, true},
		{"nail x 6;NAIL;2 nail", []SetCount{{"nail", 9}}, true},
		// Read in two ways, or in none: not counted.
		{"kit 2", nil, false},
		{"nailx6", nil, false},
		{"set 1 x 6", nil, false},
		{"6 nail x 2", nil, false},
		{"6", nil, false},
		{"6 2", nil, false},
		{"x 6", nil, false},
		{"nail x", nil, false},
		{"nail ×", nil, false},
		{"nail x 2.5", nil, false},
		{"nail x -1", nil, false},
		{"nail x 1234567890", nil, false},
		{"nail x 6;kit 2", nil, false},
	} {
		t.Run(c.written, func(t *testing.T) {
			got, ok := SetsOf(&practice.Load{Sets: listOf(strings.Split(c.written, ";")...)})
			assert.Equal(t, c.ok, ok)
			assert.Equal(t, c.want, got)
		})
	}
	got, ok := SetsOf(&practice.Load{})
	assert.False(t, ok, "not written is not none")
	assert.Empty(t, got)
	got, ok = SetsOf(&practice.Load{Sets: listOf()})
	assert.True(t, ok, "none is written")
	assert.Empty(t, got)
}

func TestMadeBy(t *testing.T) {
	p := balanceFolder(t, map[string]string{
		"loads.csv": "id,started,packs_made,sets\n" +
			"counted,2026-03-02,8,nail x 6\nsets,2026-03-03,,nail x 6|curette x 2\nrows,2026-03-04,,\nopen,2026-03-05,,kit 2\nnothing,2026-03-06,,\nnone,2026-03-07,,none\ntwice,2026-03-08,,\ntwice,2026-03-09,,\n",
		"packs.csv": "id,load\nK-1,rows\nK-2,rows\nK-3,open\nK-4,counted\nK-5,twice\n",
	})
	type made struct {
		n   int
		how Making
	}
	got := map[string]made{}
	for i := range p.Loads {
		n, how := MadeBy(p, &p.Loads[i])
		got[p.Loads[i].ID] = made{n, how}
	}
	assert.Equal(t, map[string]made{"counted": {8, MadeCounted}, "sets": {8, MadeSets}, "rows": {2, MadeRows}, "open": {1, MadeRows},
		"nothing": {0, MadeUnknown}, "none": {0, MadeSets}, "twice": {0, MadeUnknown}}, got)
}

// Whatever is typed: no number is below nought, no set without a name, and writing
// what was read in our own words is read the same.
func FuzzSetsOf(f *testing.F) {
	for _, s := range []string{"nail x 6", "6 nail", "nail", "kit 2", "nail (x6)", "×", "x", "6", "ſ x 2", "İ: 3", "nail x 6 x 2"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, entry string) {
		sets, ok := SetsOf(&practice.Load{Sets: listOf(entry)})
		if !ok {
			require.Empty(t, sets)
			return
		}
		require.Len(t, sets, 1)
		require.NotEmpty(t, sets[0].Set)
		require.GreaterOrEqual(t, sets[0].Count, 0.0)
		again, ok := SetsOf(&practice.Load{Sets: listOf(sets[0].Set + " x " + strconv.Itoa(int(sets[0].Count)))})
		require.True(t, ok)
		require.Equal(t, sets, again)
	})
}

// balanceFolder reads a folder of these files, as it stood on 24 Nov 2026.
func balanceFolder(t testing.TB, files map[string]string) *practice.Practice {
	t.Helper()
	dir := t.TempDir()
	if _, own := files["practice.yaml"]; !own {
		require.NoError(t, os.WriteFile(filepath.Join(dir, "practice.yaml"), []byte("name: Practice of the case\nregulator: Council of the case\n"), 0o600))
	}
	for name, text := range files {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600))
	}
	p, err := practice.Read(context.Background(), dir, quantity.NewDay(2026, time.November, 24), record.Options{})
	require.NoError(t, err)
	return p
}
