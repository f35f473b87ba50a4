package cli

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// unwritable is a folder in which this user can make nothing: one without leave,
// or for a user who needs none, one that the system keeps for itself.
func unwritable(t *testing.T) string {
	t.Helper()
	shut := put(t, filepath.Join(t.TempDir(), "shut"), nil)
	require.NoError(t, os.Chmod(shut, 0o555))
	t.Cleanup(func() { _ = os.Chmod(shut, 0o755) })
	for _, dir := range []string{shut, "/proc", "/System", `C:\Windows\System32\config`} {
		if made, err := os.MkdirTemp(dir, "footing-*"); err != nil {
			if _, err := os.Stat(dir); err == nil {
				return dir
			}
		} else {
			require.NoError(t, os.Remove(made))
		}
	}
	t.Fatal("everything here can be written to")
	return ""
}

func TestAPlaceThatCannotBeWrittenTo(t *testing.T) {
	base := t.TempDir()
	records := loads(t, filepath.Join(base, "records"))
	before := tree(t, base)
	shut := unwritable(t)
	for _, args := range [][]string{{"audit", records, "--out", filepath.Join(shut, "out")}, {"demo", filepath.Join(shut, "demo")}} {
		got := call(t.Context(), args...)
		assert.Equal(t, CouldNot, got.status, args)
		assert.Contains(t, got.err, "could not be written to "+shut)
		assert.Contains(t, got.err, "\nnext: ")
		assert.NotContains(t, got.err, ".footing-", "no word of how it is done")
		assert.Empty(t, got.out)
	}
	assert.Equal(t, before, tree(t, base))
}

// A disk with room for one report and not for two: a new one is not begun, and an
// earlier one stays whole.
func TestADiskThatIsFull(t *testing.T) {
	base := t.TempDir()
	records := loads(t, filepath.Join(base, "records"))
	out := filepath.Join(base, "out")
	require.Equal(t, Findings, call(t.Context(), "audit", records, "--out", out).status)
	size := 0
	for _, text := range tree(t, out) {
		size += len(text)
	}
	disk := put(t, filepath.Join(base, "disk"), nil)
	if !mountDisk(t, disk, size+size/2) {
		t.Log("this user may mount no disk here; the place that cannot be written to stands for it")
		TestAPlaceThatCannotBeWrittenTo(t)
		return
	}
	first := filepath.Join(disk, "first")
	require.Equal(t, Findings, call(t.Context(), "audit", records, "--out", first).status)
	before := tree(t, disk)
	for _, place := range []string{first, filepath.Join(disk, "second")} {
		got := call(t.Context(), "audit", records, "--out", place)
		assert.Equal(t, CouldNot, got.status)
		assert.Contains(t, got.err, "the reports could not be written to "+place)
		assert.Contains(t, got.err, "next: make room on the disk")
		assert.Empty(t, got.out)
		assert.Equal(t, before, tree(t, disk))
	}
	assert.Equal(t, Done, call(t.Context(), "render", filepath.Join(first, auditFile), "--out", filepath.Join(base, "again")).status)
}

// What cannot be printed was not done, unless it stands in a report.
func TestWhatCannotBePrinted(t *testing.T) {
	base := t.TempDir()
	records := loads(t, filepath.Join(base, "records"))
	for _, c := range []struct {
		args   []string
		status int
	}{{[]string{"checks"}, CouldNot}, {[]string{"version"}, CouldNot}, {[]string{"--help"}, CouldNot}, {[]string{"audit", records}, Findings}} {
		var errOut strings.Builder
		assert.Equal(t, c.status, run(t.Context(), c.args, nil, full{}, &errOut, dayNow), c.args)
		assert.Contains(t, errOut.String(), "footing: what was asked could not be printed: no space left on device\nnext: ")
	}
	isReport(t, records+"-audit-"+dayOfTest)
}
