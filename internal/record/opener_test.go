package record

import (
	"context"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// Files of several folders, in any order, also after one that cannot be opened.
func TestOpener(t *testing.T) {
	outside := t.TempDir()
	if err := os.WriteFile(filepath.Join(outside, "a.csv"), []byte("other"), 0o644); err != nil {
		t.Fatal(err)
	}
	dir := folderOf(t, map[string]string{"traces/a.csv": "top", "traces/x/a.csv": "x", "traces/x/b.csv": "xb", "traces/y/a.csv": "y", "traces/z/deep/a.csv": "z"})
	var rec testRecords
	in, err := Fill(context.Background(), dir, &rec, Options{})
	if err != nil {
		t.Fatal(err)
	}
	byName := map[string]Trace{}
	for _, f := range in.Traces {
		byName[f.Name] = f
	}
	o := in.Opener()
	read := func(name string) string {
		r, err := o.Open(byName[name])
		if err != nil {
			return "error: " + err.Error()
		}
		defer r.Close()
		text, err := io.ReadAll(r)
		if err != nil {
			return "error: " + err.Error()
		}
		return string(text)
	}
	check := func(name, want string) {
		t.Helper()
		if got := read(name); got != want && !(strings.HasPrefix(want, "error") && strings.HasPrefix(got, want)) {
			t.Errorf("%s: %q, want %q", name, got, want)
		}
	}
	for range 2 {
		for name, want := range map[string]string{"traces/a.csv": "top", "traces/x/a.csv": "x", "traces/x/b.csv": "xb", "traces/y/a.csv": "y", "traces/z/deep/a.csv": "z"} {
			check(name, want)
		}
		o.Close() // and it can go on
	}
	if err := os.RemoveAll(filepath.Join(dir, "traces", "y")); err != nil {
		t.Fatal(err)
	}
	check("traces/y/a.csv", "error: it was there when the folder was listed, and is gone")
	check("traces/x/b.csv", "xb")
	o.Close()
	if err := os.RemoveAll(filepath.Join(dir, "traces", "x")); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(outside, filepath.Join(dir, "traces", "x")); err != nil {
		t.Skip(err)
	}
	check("traces/x/a.csv", "error: ")
	check("traces/a.csv", "top")
}
