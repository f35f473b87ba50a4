package cli

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// stopAt is a context that is called off when it has been looked at so many times.
type stopAt struct {
	context.Context
	left atomic.Int64
}

func stopAfter(looks int) *stopAt {
	s := &stopAt{Context: context.Background()}
	s.left.Store(int64(looks))
	return s
}

func (s *stopAt) Err() error {
	if s.left.Add(-1) < 0 {
		return context.Canceled
	}
	return nil
}

func (s *stopAt) Done() <-chan struct{} {
	if s.Err() == nil {
		return nil
	}
	done := make(chan struct{})
	close(done)
	return done
}

// Wherever the work is called off, it ends with status 2 and leaves things as they were.
func TestCalledOffAtAnyPoint(t *testing.T) {
	base := t.TempDir()
	records := loads(t, filepath.Join(base, "records"))
	put(t, records, map[string]string{"traces/a.csv": loggerText(3), "traces/b.csv": loggerText(30)})
	earlier := filepath.Join(base, "earlier")
	require.Equal(t, Done, call(context.Background(), "audit", put(t, filepath.Join(base, "few"), map[string]string{"practice.yaml": practiceOfTest}), "--out", earlier).status)
	before := tree(t, base)
	for _, args := range [][]string{{records}, {"audit", records, "--out", earlier}, {"render", filepath.Join(earlier, auditFile), "--out", filepath.Join(base, "again")}} {
		stopped := 0
		for ; ; stopped++ {
			got := call(stopAfter(stopped), args...)
			if got.status != CouldNot {
				break
			}
			require.Contains(t, got.err, "footing: stopped before the end; no report was written\nnext: ", "%v at %d", args, stopped)
			require.Empty(t, got.out)
			require.Equal(t, before, tree(t, base), "%v at %d", args, stopped)
			require.Less(t, stopped, 10000)
		}
		assert.Greater(t, stopped, 1, "%v", args)
		before = tree(t, base)
	}
	assert.Contains(t, before, "records-audit-2026-11-24")
	assert.Contains(t, before[filepath.Join("earlier", pageFile)], "Heron Lane", "at last the audit took the place of the earlier one")
}

// The real program, told to stop with Ctrl-C while it reads a file that has no end in sight.
func TestCtrlC(t *testing.T) {
	if runtime.GOOS == "windows" {
		return // no process can send it to another there
	}
	base := t.TempDir()
	records := loads(t, filepath.Join(base, "records"))
	put(t, records, map[string]string{"traces/endless.csv": ""})
	endless := filepath.Join(records, "traces", "endless.csv")
	require.NoError(t, os.Truncate(endless, 1<<38))
	before := len(mustList(t, base))

	cmd := exec.Command("footing", "audit", records) // TestMain puts it where it is found
	var out, errOut bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &errOut
	require.NoError(t, cmd.Start())
	require.Eventually(t, func() bool { return reads(cmd.Process.Pid, endless) }, 30*time.Second, 20*time.Millisecond)
	require.NoError(t, cmd.Process.Signal(os.Interrupt))
	require.Error(t, cmd.Wait())
	assert.Equal(t, CouldNot, cmd.ProcessState.ExitCode())
	assert.Contains(t, errOut.String(), "footing: stopped before the end")
	assert.Empty(t, out.String())
	assert.Len(t, mustList(t, base), before)
}

func mustList(t *testing.T, dir string) []os.DirEntry {
	list, err := os.ReadDir(dir)
	require.NoError(t, err)
	return list
}

// reads reports whether a process has a file open; where that cannot be seen, a second must do.
func reads(pid int, path string) bool {
	open, err := filepath.Glob(fmt.Sprintf("/proc/%d/fd/*", pid))
	if err != nil || runtime.GOOS != "linux" {
		time.Sleep(time.Second)
		return true
	}
	for _, fd := range open {
		if at, err := os.Readlink(fd); err == nil && at == path {
			return true
		}
	}
	return false
}
