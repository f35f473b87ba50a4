package dev

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// cycleKinds are the records that a data-logger file is judged by.
var cycleKinds = []string{"practice", "sites", "sterilizers", "programs", "loads", "traces"}

// CyclesOnly makes the new folder to hold what cycles are judged by, and nothing
// else: the practice, its sterilizers, programs and loads, and the data-logger
// files. The files are linked where the system can link them, else copied. The
// error says what could not be made.
func CyclesOnly(from, to string) error {
	return filepath.WalkDir(from, func(path string, e fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		name, err := filepath.Rel(from, path)
		if err != nil {
			return err
		}
		top, _, _ := strings.Cut(filepath.ToSlash(name), "/")
		wanted := name == "." || slices.Contains(cycleKinds, strings.TrimSuffix(top, filepath.Ext(top)))
		there := filepath.Join(to, name)
		switch {
		case e.IsDir() && !wanted:
			return filepath.SkipDir
		case e.IsDir():
			return os.MkdirAll(there, 0o755)
		case !wanted:
			return nil
		}
		if os.Link(path, there) == nil {
			return nil
		}
		return copied(path, there)
	})
}

func copied(from, to string) error {
	in, err := os.Open(from)
	if err != nil {
		return err
	}
	defer in.Close()
	out, err := os.Create(to)
	if err != nil {
		return err
	}
	_, err = io.Copy(out, in)
	if err = errors.Join(err, out.Close()); err != nil {
		return fmt.Errorf("%s: %w", to, err)
	}
	return nil
}
