// Package demo holds the records of an invented practice: a practitioner, a
// student, a clinic and a bag for home visits, from 3 August to 24 November 2026,
// with data-logger files of six of its loads. Much in them is right; some of it is
// wrong on purpose, in each of the ways that an audit looks for.
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
// them or none: they are put together under another name first. A folder that is
// there already stays the same folder. The error says what stood in the way.
func Write(dir string) error {
	list, err := os.ReadDir(dir)
	there := err == nil
	switch {
	case len(list) > 0:
		return fmt.Errorf("%s is not empty: name a new folder for the demo", dir)
	case !there && !errors.Is(err, fs.ErrNotExist):
		return wrote(dir, err)
	}
	if dir, err = filepath.Abs(dir); err != nil {
		return err
	}
	place := filepath.Dir(dir)
	if there {
		place = dir
	} else if err := os.MkdirAll(place, 0o755); err != nil {
		return wrote(dir, err)
	}
	aside, err := os.MkdirTemp(place, ".demo-*")
	if err != nil {
		return wrote(dir, err)
	}
	defer os.RemoveAll(aside)
	// Made within the private one, so that who may read it is for the system's settings to say.
	whole := filepath.Join(aside, "whole")
	if err := errors.Join(os.Mkdir(whole, 0o755), os.CopyFS(whole, FS())); err != nil {
		return wrote(dir, err)
	}
	if there {
		return wrote(dir, moveAll(whole, dir))
	}
	return wrote(dir, os.Rename(whole, dir))
}

// wrote says that the records could not be written to dir, without Go's words for it.
func wrote(dir string, err error) error {
	if err == nil {
		return nil
	}
	var path *fs.PathError
	var link *os.LinkError
	switch {
	case errors.As(err, &path):
		err = path.Err
	case errors.As(err, &link):
		err = link.Err
	}
	return fmt.Errorf("the demo could not be written to %s: %w", dir, err)
}

// moveAll moves what is in one folder to another; where one thing cannot be moved, none stays.
func moveAll(from, to string) error {
	list, err := os.ReadDir(from)
	if err != nil {
		return err
	}
	for i, e := range list {
		if err := os.Rename(filepath.Join(from, e.Name()), filepath.Join(to, e.Name())); err != nil {
			for _, moved := range list[:i] {
				err = errors.Join(err, os.RemoveAll(filepath.Join(to, moved.Name())))
			}
			return err
		}
	}
	return nil
}
