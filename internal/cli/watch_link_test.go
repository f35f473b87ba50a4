package cli

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A folder that is reached by a link is looked at as any other; an audit reads it too.
func TestWatchSeesBehindALinkToTheFolder(t *testing.T) {
	dir := t.TempDir()
	folder, link := filepath.Join(dir, "records"), filepath.Join(dir, "link")
	require.NoError(t, os.MkdirAll(filepath.Join(folder, "traces"), 0o755))
	require.NoError(t, os.WriteFile(filepath.Join(folder, "loads.csv"), []byte("id\n"), 0o644))
	if err := os.Symlink(folder, link); err != nil {
		t.Skipf("no links here: %v", err)
	}
	at := place{folder: link}
	before := at.stamp()
	assert.Contains(t, before, filepath.Join(link, "loads.csv"))
	assert.Contains(t, at.folders(), filepath.Join(link, "traces"))
	require.NoError(t, os.WriteFile(filepath.Join(folder, "loads.csv"), []byte("id\nL1\n"), 0o644))
	assert.False(t, at.stamp().same(before))
}
