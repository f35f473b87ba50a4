package cli

import (
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"footing/schemas"
)

// place is what is watched.
type place struct {
	folder string // of the records
	rules  string // a rules file named with --rules; "" for none
}

// stamp is the folder at one moment, by the names of its files.
type stamp map[string]fs.FileInfo

func (s stamp) same(other stamp) bool {
	if len(s) != len(other) {
		return false
	}
	for name, a := range s {
		b, there := other[name]
		switch {
		case !there, a.IsDir() != b.IsDir():
			return false
		case a.IsDir(): // what is in it has names of its own
		case a.Size() != b.Size(), !a.ModTime().Equal(b.ModTime()), a.Mode() != b.Mode(), !os.SameFile(a, b):
			return false
		}
	}
	return true
}

// stamp looks at every file that an audit would read. What cannot be looked at is left out.
func (p place) stamp() stamp {
	s := stamp{}
	p.walk(func(path string, d fs.DirEntry) {
		if info, err := d.Info(); err == nil {
			s[path] = info
		}
	})
	if p.rules != "" {
		if info, err := os.Stat(p.rules); err == nil {
			s[p.rules] = info
		}
	}
	return s
}

// folders are those whose files an audit would read, and that of the rules file.
func (p place) folders() []string {
	all := []string{p.folder}
	p.walk(func(path string, d fs.DirEntry) {
		if d.IsDir() && holds(p.rel(path)) {
			all = append(all, path)
		}
	})
	if p.rules != "" {
		all = append(all, filepath.Dir(p.rules)) // an editor puts a new file in the place of the old one
	}
	return all
}

func (p place) rel(path string) string {
	rel, _ := filepath.Rel(p.folder, path)
	return rel
}

// walk shows everything in the folder that may hold records. It follows no links, as the
// reading does not.
func (p place) walk(visit func(path string, d fs.DirEntry)) {
	root := p.folder + string(filepath.Separator) // the folder named may be a link itself
	_ = filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if path == root {
			return err
		}
		switch {
		case d == nil, err != nil:
			return nil
		case !matters(p.rel(path)):
			if d.IsDir() {
				return fs.SkipDir
			}
			return nil
		}
		visit(path, d)
		if d.IsDir() && !holds(p.rel(path)) {
			return fs.SkipDir
		}
		return nil
	})
}

// holds reports whether a folder within the records' is looked into.
func holds(rel string) bool {
	top := first(rel)
	_, kind := schemas.Match(top)
	return kind || schemas.Fold(top) == traceFolder
}

const traceFolder = "traces"

func first(rel string) string {
	top, _, _ := strings.Cut(filepath.ToSlash(rel), "/")
	return top
}

// matters reports whether a name within the folder of records may be read: not what is hidden,
// nor what a program writes beside an open file and takes away again. Beside data-logger
// files everything that is not hidden is read.
func matters(rel string) bool {
	parts := strings.Split(filepath.ToSlash(rel), "/")
	for _, part := range parts {
		if strings.HasPrefix(part, ".") || strings.HasPrefix(part, "_") {
			return false
		}
	}
	return schemas.Fold(parts[0]) == traceFolder || !passing(parts[len(parts)-1])
}

// passing reports whether a name is that of a lock, a backup or a half of a file, as
// spreadsheet programs and editors make them.
func passing(name string) bool {
	for _, lead := range []string{"~$", "~", "#"} {
		if strings.HasPrefix(name, lead) {
			return true
		}
	}
	for _, end := range []string{"~", "#", ".tmp", ".swp", ".part", ".crdownload"} {
		if strings.HasSuffix(strings.ToLower(name), end) {
			return true
		}
	}
	return false
}

func gone(path string) bool {
	_, err := os.Stat(path)
	return err != nil
}
