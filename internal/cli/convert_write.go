package cli

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
)

// writeInto lets write fill a new folder, and gives it the name out when it is whole. Where
// out is there already, and empty, what was written is moved into it, so that it stays
// the same folder for whoever stands in it, or reached it by a link.
func writeInto(ctx context.Context, out, what string, write func(dir string) error) error {
	err := fillAside(ctx, out, write, func(whole, out, _ string) error { return moveAll(whole, out) })
	switch {
	case err == nil:
		return nil
	case ctx.Err() != nil:
		return ctx.Err()
	case isFull(err):
		return problem(fmt.Sprintf("%s could not be written to %s: %v; nothing was left there", what, out, reason(err)), "make room on the disk, or name a place on another with --out DIR")
	}
	var path *os.PathError
	var link *os.LinkError
	if errors.As(err, &path) || errors.As(err, &link) {
		return problem(fmt.Sprintf("%s could not be written to %s: %v; nothing was left there", what, out, reason(err)), "check that you may write there, or name another place with --out DIR")
	}
	return problem(fmt.Sprintf("%s could not be written to %s without a loss: %v; nothing was left there", what, out, err), "write them in another format, such as --to json")
}

// moveAll moves all that is in one folder into another, or nothing.
func moveAll(from, to string) error {
	entries, err := os.ReadDir(from)
	if err != nil {
		return err
	}
	for i, e := range entries {
		if err := os.Rename(filepath.Join(from, e.Name()), filepath.Join(to, e.Name())); err != nil {
			for _, moved := range entries[:i] {
				err = errors.Join(err, os.Rename(filepath.Join(to, moved.Name()), filepath.Join(from, moved.Name())))
			}
			return err
		}
	}
	return nil
}
