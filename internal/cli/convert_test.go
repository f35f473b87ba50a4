package cli

import (
	"context"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Wherever converting is called off, nothing is left and the folder that was there stays empty.
func TestConvertCalledOff(t *testing.T) {
	base := t.TempDir()
	records := loads(t, filepath.Join(base, "records"))
	put(t, records, map[string]string{"traces/a.csv": loggerText(3)})
	empty := filepath.Join(base, "empty")
	require.NoError(t, os.Mkdir(empty, 0o755))
	before := tree(t, base)
	for _, out := range []string{filepath.Join(base, "new"), empty} {
		for _, format := range []string{"json", "xlsx"} {
			stopped := 0
			for ; ; stopped++ {
				got := call(stopAfter(stopped), "convert", records, "--to", format, "--out", out)
				if got.status != CouldNot {
					require.Equal(t, Done, got.status, got.err)
					break
				}
				require.Equal(t, before, tree(t, base), "stopped at look %d", stopped)
				require.NoDirExists(t, filepath.Join(base, "new"))
			}
			assert.Greater(t, stopped, 5, "too few points at which to stop were tried")
			require.NoError(t, os.RemoveAll(out))
			if out == empty {
				require.NoError(t, os.Mkdir(empty, 0o755))
			}
			require.Equal(t, before, tree(t, base))
		}
	}
}

// What cannot be moved to its place goes back, and the folder is as it was.
func TestMoveAllOrNothing(t *testing.T) {
	base := t.TempDir()
	from := put(t, filepath.Join(base, "from"), map[string]string{"a.csv": "a", "b/c.csv": "c", "d.csv": "d"})
	to := put(t, filepath.Join(base, "to"), map[string]string{"b/kept.txt": "kept"})
	before := tree(t, base)
	require.Error(t, moveAll(from, to))
	assert.Equal(t, before, tree(t, base))
}

func TestConvertNeedsRoomBesideTheRecords(t *testing.T) {
	base := t.TempDir()
	records := loads(t, filepath.Join(base, "records"))
	file := filepath.Join(put(t, base, map[string]string{"letter.txt": "x"}), "letter.txt")
	got := call(context.Background(), "convert", records, "--to", "csv", "--out", filepath.Join(file, "in"))
	assert.Equal(t, CouldNot, got.status)
	assert.Contains(t, got.err, "next: ")
}
