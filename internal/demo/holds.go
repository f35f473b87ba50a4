package demo

import (
	"bytes"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// Holds reports whether dir holds the demo practice as it was written, nothing
// more and nothing changed. Names that begin with a full stop, as file managers
// leave them, do not count: no audit reads them.
func Holds(dir string) bool {
	same := true
	ours := 0
	err := fs.WalkDir(FS(), ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		ours++
		want, err := fs.ReadFile(FS(), name)
		if err != nil {
			return err
		}
		have, err := os.ReadFile(filepath.Join(dir, filepath.FromSlash(name)))
		same = same && err == nil && bytes.Equal(want, have)
		return nil
	})
	theirs := 0
	walked := filepath.WalkDir(dir, func(_ string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() && !strings.HasPrefix(d.Name(), ".") {
			theirs++
		}
		return err
	})
	return err == nil && walked == nil && same && ours == theirs
}
