// Package demo holds the records of an invented practice: a practitioner, a
// student, a clinic and a bag for home visits, from 3 August to 24 November 2026.
// Much in them is right; some of it is wrong on purpose, in each of the ways that
// an audit looks for.
package demo

import (
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

// AsOf is the day of the last records, and the day to audit them by.
const AsOf = "2026-11-24"

//go:embed practice
var files embed.FS

// FS gives the record folder itself.
func FS() fs.FS {
	f, err := fs.Sub(files, "practice")
	if err != nil {
		panic(err) // the name is a constant beside the embedded folder
	}
	return f
}

// Write copies the records into dir, which must be new or empty. It writes all of
// them or none: they are put together in a folder beside dir that takes its name at
// the end. The error says what stood in the way.
func Write(dir string) error {
	dir = filepath.Clean(dir)
	list, err := os.ReadDir(dir)
	switch {
	case err == nil && len(list) > 0:
		return fmt.Errorf("%s is not empty: name a new folder for the demo", dir)
	case err != nil && !errors.Is(err, fs.ErrNotExist):
		return err
	}
	empty := err == nil
	parent := filepath.Dir(dir)
	if err := os.MkdirAll(parent, 0o755); err != nil {
		return err
	}
	part, err := os.MkdirTemp(parent, ".demo-*")
	if err != nil {
		return err
	}
	err = fill(part)
	if err == nil && empty {
		err = os.Remove(dir) // some systems rename onto no folder, not even an empty one
	}
	if err == nil {
		err = os.Rename(part, dir)
	}
	if err != nil {
		return errors.Join(err, os.RemoveAll(part))
	}
	return nil
}

func fill(dir string) error {
	if err := os.Chmod(dir, 0o755); err != nil {
		return err
	}
	return os.CopyFS(dir, FS())
}
