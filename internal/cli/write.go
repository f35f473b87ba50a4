package cli

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"syscall"
)

type file struct {
	name string
	data []byte
}

// writeFolder makes out with the files in it, whole or not at all: they are written
// under another name first. A new folder is made beside out and takes its name. In
// one that is there already the files change places with the earlier ones, so that
// it stays the same folder for whoever stands in it, or reached it by a link.
func writeFolder(ctx context.Context, out string, files []file) error {
	return writeFor(ctx, out, files, false)
}

// writeOwn is writeFolder for a new folder that only the owner's account may look into,
// from the first moment on.
func writeOwn(ctx context.Context, out string, files []file) error {
	return writeFor(ctx, out, files, true)
}

func writeFor(ctx context.Context, out string, files []file, own bool) error {
	if err := writeAside(ctx, out, files, own); err != nil {
		if ctx.Err() != nil {
			return ctx.Err()
		}
		next := "check that you may write there, or name another place with --out DIR"
		if isFull(err) {
			next = "make room on the disk, or name a place on another with --out DIR"
		}
		return problem(fmt.Sprintf("the reports could not be written to %s: %v; nothing was left there", out, reason(err)), next)
	}
	return nil
}

// isFull reports whether a disk, or the part of it that one may use, is full.
func isFull(err error) bool {
	const windowsDiskFull = syscall.Errno(112) // ERROR_DISK_FULL, which is no ENOSPC to Go
	return errors.Is(err, syscall.ENOSPC) || errors.Is(err, syscall.EDQUOT) || runtime.GOOS == "windows" && errors.Is(err, windowsDiskFull)
}

func writeAside(ctx context.Context, out string, files []file, own bool) error {
	return fillAside(ctx, out, func(dir string) error {
		for _, f := range files {
			if err := writeSynced(filepath.Join(dir, f.name), f.data); err != nil {
				return err
			}
			if own { // while it lies where nobody else can look
				if err := errors.Join(os.Chmod(filepath.Join(dir, f.name), 0o600), os.Chmod(dir, 0o700)); err != nil {
					return err
				}
			}
		}
		return nil
	}, func(whole, out, aside string) error {
		earlier := filepath.Join(aside, "earlier")
		if err := os.Mkdir(earlier, 0o755); err != nil {
			return err
		}
		return exchange(whole, out, earlier, files)
	})
}

// fillAside lets fill write into a new folder under another name, which then takes the
// name out. Where out is there already, move brings what is in it to its place; it may
// lay things into aside, which is thrown away.
func fillAside(ctx context.Context, out string, fill func(dir string) error, move func(whole, out, aside string) error) error {
	place := filepath.Dir(out)
	_, err := os.Stat(out)
	there := err == nil
	if there {
		place = out
	} else if err := os.MkdirAll(place, 0o755); err != nil {
		return err
	}
	aside, err := os.MkdirTemp(place, ".footing-*")
	if err != nil {
		return err
	}
	defer os.RemoveAll(aside)
	// Made within the private one, so that who may read it is for the system's settings to say.
	whole := filepath.Join(aside, "whole")
	if err := os.Mkdir(whole, 0o755); err != nil {
		return err
	}
	if err := fill(whole); err != nil {
		return err
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	if there {
		return move(whole, out, aside)
	}
	return os.Rename(whole, out)
}

// exchange moves the files to their places and those that stand there out of the
// way; where one cannot be moved, all go back to where they were.
func exchange(from, to, earlier string, files []file) error {
	for i, f := range files {
		at := filepath.Join(to, f.name)
		if err := os.Rename(at, filepath.Join(earlier, f.name)); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return errors.Join(err, putBack(to, earlier, files[:i]))
		}
		if err := os.Rename(filepath.Join(from, f.name), at); err != nil {
			return errors.Join(err, putBack(to, earlier, files[:i+1]))
		}
	}
	return nil
}

// putBack undoes what exchange did to some files.
func putBack(to, earlier string, files []file) (failed error) {
	for _, f := range files {
		at, old := filepath.Join(to, f.name), filepath.Join(earlier, f.name)
		if _, err := os.Lstat(old); err == nil {
			failed = errors.Join(failed, os.Rename(old, at))
		} else if err := os.Remove(at); err != nil && !errors.Is(err, fs.ErrNotExist) {
			failed = errors.Join(failed, err)
		}
	}
	return failed
}

func writeSynced(path string, data []byte) error {
	f, err := os.OpenFile(path, os.O_CREATE|os.O_WRONLY|os.O_EXCL, 0o644)
	if err != nil {
		return err
	}
	if _, err := f.Write(data); err != nil {
		f.Close()
		return err
	}
	if err := f.Sync(); err != nil {
		f.Close()
		return err
	}
	return f.Close()
}
