package cli

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"syscall"

	"golang.org/x/term"

	"footing/internal/quantity"
	"footing/internal/report"
	"footing/internal/result"
)

const (
	auditFile    = "audit.json"
	markdownFile = "report.md"
	pageFile     = "report.html"
)

// outFolder is where the reports go: the folder named, or a new one beside the
// records'. It is never inside the records' folder.
func outFolder(folder, named string, asOf quantity.Day) (string, error) {
	if named == "" {
		base := folder + "-audit-" + asOf.String()
		if filepath.Dir(folder) == folder {
			return "", problem("the records' folder has nothing beside it, so the reports need a place", "name one with --out DIR")
		}
		for n, out := 1, base; ; out = fmt.Sprintf("%s-%d", base, n) {
			if _, err := os.Lstat(out); errors.Is(err, os.ErrNotExist) {
				return out, nil
			} else if err != nil {
				return "", problem(fmt.Sprintf("%s cannot be looked at: %v", out, reason(err)), "name another place with --out DIR")
			}
			n++
		}
	}
	out, err := filepath.Abs(named)
	if err != nil {
		return "", err
	}
	if inside(out, folder) {
		return "", problem("the reports cannot go into the folder of records, which is only read", "name a place outside it with --out DIR")
	}
	return out, free(out)
}

// inside reports whether path lies in folder, or is it, also by way of links.
func inside(path, folder string) bool {
	real := func(p string) string {
		rest := ""
		for {
			if r, err := filepath.EvalSymlinks(p); err == nil {
				return filepath.Join(r, rest)
			}
			if filepath.Dir(p) == p {
				return filepath.Join(p, rest)
			}
			rest = filepath.Join(filepath.Base(p), rest)
			p = filepath.Dir(p)
		}
	}
	rel, err := filepath.Rel(real(folder), real(path))
	return err == nil && rel != ".." && !strings.HasPrefix(rel, ".."+string(filepath.Separator))
}

// free refuses a folder that holds anything but an earlier audit's reports.
func free(out string) error {
	entries, err := os.ReadDir(out)
	if errors.Is(err, os.ErrNotExist) {
		return nil
	}
	if err != nil {
		return problem(fmt.Sprintf("%s cannot take the reports: %v", out, reason(err)), "name a new folder with --out DIR")
	}
	for _, e := range entries {
		if n := e.Name(); n != auditFile && n != markdownFile && n != pageFile {
			return problem(fmt.Sprintf("%s already holds other files, such as %s", out, n), "name a new folder with --out DIR; nothing there was touched")
		}
	}
	return nil
}

// deliver writes the reports, all or none, and sums them up on the terminal.
func (a *app) deliver(ctx context.Context, out string, r *result.Result) error {
	var doc bytes.Buffer
	if err := result.Write(&doc, r); err != nil {
		return err
	}
	markdown := report.Markdown(r)
	page, err := report.HTML(r)
	if err != nil {
		return err
	}
	if ctx.Err() != nil {
		return ctx.Err()
	}
	files := []file{{auditFile, doc.Bytes()}, {markdownFile, markdown}, {pageFile, page}}
	if err := writeFolder(ctx, out, files); err != nil {
		return err
	}
	a.sum(r, filepath.Join(out, pageFile))
	return nil
}

type file struct {
	name string
	data []byte
}

// writeFolder makes out with the files in it, whole or not at all: they are
// written beside it under another name, which then becomes out's.
func writeFolder(ctx context.Context, out string, files []file) (err error) {
	failed := func(err error) error {
		next := "check that you may write there, or name another place with --out DIR"
		if errors.Is(err, syscall.ENOSPC) {
			next = "make room on the disk, or name a place on another with --out DIR"
		}
		return problem(fmt.Sprintf("the reports could not be written to %s: %v; nothing was left there", out, reason(err)), next)
	}
	if err := os.MkdirAll(filepath.Dir(out), 0o755); err != nil {
		return failed(err)
	}
	partial, err := os.MkdirTemp(filepath.Dir(out), "."+filepath.Base(out)+"-partial-")
	if err != nil {
		return failed(err)
	}
	defer os.RemoveAll(partial)
	if err := os.Chmod(partial, 0o755); err != nil {
		return failed(err)
	}
	for _, f := range files {
		if err := writeSynced(filepath.Join(partial, f.name), f.data); err != nil {
			return failed(err)
		}
	}
	if ctx.Err() != nil {
		return ctx.Err()
	}
	if err := replace(partial, out); err != nil {
		return failed(err)
	}
	return nil
}

// replace gives the finished folder its name; an earlier audit there steps aside until that is done.
func replace(partial, out string) error {
	if _, err := os.Lstat(out); errors.Is(err, os.ErrNotExist) {
		return os.Rename(partial, out)
	}
	old := partial + "-old"
	if err := os.Rename(out, old); err != nil {
		return err
	}
	if err := os.Rename(partial, out); err != nil {
		return errors.Join(err, os.Rename(old, out))
	}
	return os.RemoveAll(old)
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

// sum prints the summary: 80 columns, or the terminal's if it is narrower, in
// colour only on a terminal and never with NO_COLOR.
func (a *app) sum(r *result.Result, page string) {
	opt := report.SummaryOptions{Width: 80, ReportPath: page}
	if f, ok := a.out.(*os.File); ok && term.IsTerminal(int(f.Fd())) {
		opt.Color = os.Getenv("NO_COLOR") == "" && os.Getenv("TERM") != "dumb"
		if w, _, err := term.GetSize(int(f.Fd())); err == nil && w < opt.Width && w > 0 {
			opt.Width = w
		}
	}
	var b bytes.Buffer
	report.Summary(&b, r, opt)
	_, _ = io.Copy(a.out, &b)
}
