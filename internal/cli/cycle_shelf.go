package cli

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"unicode"
)

// cyclePage is the page of all files in the folder of --out.
const cyclePage = "cycle.html"

// shelf takes charts one after the other into a folder beside the one they are for,
// which gets them all at the end, or none: so that thousands need no memory.
type shelf struct {
	out, aside string
	files      []file // names alone
	used       map[string]bool
}

// newShelf looks whether the folder can be made: it holds nothing yet, and is in
// none of the folders that are read.
func newShelf(named string, read []loggerFile) (*shelf, error) {
	out, err := filepath.Abs(named)
	if err != nil {
		return nil, err
	}
	for _, f := range read {
		if f.folder == "" {
			continue
		}
		if folder, err := filepath.Abs(f.folder); err == nil && inside(out, folder) {
			return nil, problem("the charts cannot go into a folder of data-logger files, which is only read", "name a place outside it with --out DIR")
		}
	}
	entries, err := os.ReadDir(out)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		if _, err := os.Lstat(out); err == nil {
			return nil, problem(plain(out)+" is a link that leads nowhere", "name a new folder with --out DIR")
		}
	case err != nil:
		return nil, problem(fmt.Sprintf("%s cannot take the charts: %v", plain(out), reason(err)), "name a new folder with --out DIR")
	}
	for _, e := range entries {
		if !strings.HasPrefix(e.Name(), ".") {
			return nil, problem(fmt.Sprintf("%s already holds other files, such as %s", plain(out), plain(e.Name())), "name a new folder with --out DIR; nothing there was touched")
		}
	}
	return &shelf{out: out, used: map[string]bool{cyclePage: true}}, nil
}

// chart takes a chart and returns the name of its file.
func (s *shelf) chart(of string, svg []byte) (string, error) {
	name := s.name(of)
	return name, s.put(name, svg)
}

// name is a file's name for the chart of a data-logger file: that one's, without
// folders and its ending, once.
func (s *shelf) name(of string) string {
	base := strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) || strings.ContainsRune("-_.", r) {
			return r
		}
		return '-'
	}, strings.TrimSuffix(of, filepath.Ext(of)))
	base = strings.Trim(base, ".-")
	if base == "" {
		base = "trace"
	}
	if runes := []rune(base); len(runes) > 60 {
		base = string(runes[len(runes)-60:])
	}
	name := base + ".svg"
	for n := 2; s.used[strings.ToLower(name)]; n++ {
		name = fmt.Sprintf("%s-%d.svg", base, n)
	}
	s.used[strings.ToLower(name)] = true
	return name
}

// put writes a file aside.
func (s *shelf) put(name string, data []byte) error {
	if err := s.ready(); err != nil {
		return s.failed(err)
	}
	if err := writeSynced(filepath.Join(s.aside, "whole", name), data); err != nil {
		return s.failed(err)
	}
	s.files = append(s.files, file{name: name})
	return nil
}

func (s *shelf) failed(err error) error {
	next := "check that you may write there, or name another place with --out DIR"
	if isFull(err) {
		next = "make room on the disk, or name a place on another with --out DIR"
	}
	return problem(fmt.Sprintf("the charts could not be written to %s: %v; nothing was left there", plain(s.out), reason(err)), next)
}

// ready makes the folder aside with the first file.
func (s *shelf) ready() (err error) {
	if s.aside != "" {
		return nil
	}
	place := filepath.Dir(s.out)
	if s.there() {
		place = s.out
	} else if err := os.MkdirAll(place, 0o755); err != nil {
		return err
	}
	if s.aside, err = os.MkdirTemp(place, ".footing-*"); err != nil {
		return err
	}
	return errors.Join(os.Mkdir(filepath.Join(s.aside, "whole"), 0o755), os.Mkdir(filepath.Join(s.aside, "earlier"), 0o755))
}

func (s *shelf) there() bool {
	_, err := os.Stat(s.out)
	return err == nil
}

// finish brings the files to their place.
func (s *shelf) finish(ctx context.Context) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	whole := filepath.Join(s.aside, "whole")
	var err error
	if s.there() {
		err = exchange(whole, s.out, filepath.Join(s.aside, "earlier"), s.files)
	} else {
		err = os.Rename(whole, s.out)
	}
	if err != nil {
		return s.failed(err)
	}
	return nil
}

// leave clears away what was not finished.
func (s *shelf) leave() {
	if s.aside != "" {
		_ = os.RemoveAll(s.aside)
	}
}
