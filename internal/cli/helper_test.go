package cli

import (
	"bytes"
	"context"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"footing/internal/result"
)

// said is one call of the program, and what came of it.
type said struct {
	status   int
	out, err string
}

// call runs the command line in this process, on 24 November 2026.
func call(ctx context.Context, args ...string) said {
	var out, errOut bytes.Buffer
	status := run(ctx, args, nil, &out, &errOut, dayNow)
	return said{status, out.String(), errOut.String()}
}

func dayNow() time.Time { return time.Date(2026, time.November, 24, 12, 0, 0, 0, time.Local) }

// full is a disk that is full.
type full struct{}

func (full) Write([]byte) (int, error) { return 0, syscall.ENOSPC }

const practiceOfTest = "name: Heron Lane Foot Care\nregulator: Council of the test\n"

// put writes files below dir, which it makes.
func put(t testing.TB, dir string, files map[string]string) string {
	t.Helper()
	require.NoError(t, os.MkdirAll(dir, 0o755))
	for name, text := range files {
		require.NoError(t, os.MkdirAll(filepath.Dir(filepath.Join(dir, name)), 0o755))
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644))
	}
	return dir
}

// loads is a folder of records with one cycle that was too short, and one that was not.
func loads(t testing.TB, dir string) string {
	return put(t, dir, map[string]string{
		"practice.yaml":   practiceOfTest,
		"sterilizers.csv": "id,method,air_removal\nS1,steam,gravity\n",
		"loads.csv": "id,started,ended,sterilizer,temperature,exposure,wrapped,released by,decision\n" +
			"L1,2026-11-02 09:00,2026-11-02 10:10,S1,121 °C,30 min,yes,P-01,released\nL2,2026-11-03 09:00,2026-11-03 09:40,S1,121 °C,3 min,yes,P-01,released\n",
	})
}

// tree is every file below dir with its bytes; a folder has none.
func tree(t testing.TB, dir string) map[string]string {
	t.Helper()
	all := map[string]string{}
	require.NoError(t, filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil || path == dir {
			return err
		}
		name, err := filepath.Rel(dir, path)
		all[name] = "a folder"
		if err == nil && d.Type().IsRegular() {
			var data []byte
			data, err = os.ReadFile(path)
			all[name] = string(data)
		}
		return err
	}))
	return all
}

// audited reads the audit.json that stands in a folder.
func audited(t testing.TB, out string) *result.Result {
	t.Helper()
	f, err := os.Open(filepath.Join(out, auditFile))
	require.NoError(t, err)
	defer f.Close()
	r, err := result.Read(f)
	require.NoError(t, err)
	return r
}
