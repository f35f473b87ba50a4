package record

import (
	"encoding/json"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"slices"
	"strings"

	"footing/schemas"
)

// folder is a folder of records. Every file is opened within its root, so that neither
// a link nor a name can lead out of it.
type folder struct {
	root    *os.Root
	plans   map[string]*plan
	most    int64
	records []*entry
	books   []*book
	traces  []*entry
	layout  *entry // of data-logger files
	notRead []NotRead
	refused []Problem
}

const tracesFolder = "traces"

// list finds the files of the folder; the error says that it cannot be read at all.
func (f *folder) list() error {
	entries, err := fs.ReadDir(f.root.FS(), ".")
	if err != nil {
		return fmt.Errorf("the folder cannot be listed: %w", plainError(err))
	}
	for _, d := range entries {
		name := d.Name()
		switch {
		case hidden(name):
		case d.IsDir() && schemas.Fold(name) == tracesFolder:
			f.walk(name, nil, f.trace)
		case d.IsDir():
			f.subfolder(name)
		default:
			f.file(name, d, strings.TrimSuffix(name, path.Ext(name)))
		}
	}
	byName := func(a, b *entry) int { return strings.Compare(a.name, b.name) }
	slices.SortFunc(f.records, byName)
	slices.SortFunc(f.traces, byName)
	slices.SortFunc(f.books, func(a, b *book) int { return byName(a.entry, b.entry) })
	return nil
}

// hidden is true for names that are no records, and for the file by which a spreadsheet
// program marks that a workbook is open.
func hidden(name string) bool {
	return strings.HasPrefix(name, ".") || strings.HasPrefix(name, "_") || strings.HasPrefix(name, "~$")
}

// subfolder lists a folder of one kind; any other is not looked into.
func (f *folder) subfolder(name string) {
	if f.isReport(name) {
		f.skip(name, "holds the reports of an earlier audit")
		return
	}
	kind, ok := schemas.Match(name)
	if !ok {
		f.skip(name, "a folder is looked into only if it is named after a kind of record, or traces")
		return
	}
	f.walk(name, kind, func(file string, d fs.DirEntry) { f.file(file, d, name) })
}

// walk visits the files below a folder of a kind, or of traces. It goes into no links.
func (f *folder) walk(top string, kind *schemas.Kind, visit func(name string, d fs.DirEntry)) {
	err := fs.WalkDir(f.root.FS(), top, func(name string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			f.refuse(name, kind, cannotRead(err))
			return fs.SkipDir
		case name != top && hidden(d.Name()):
			if d.IsDir() {
				return fs.SkipDir
			}
			return nil
		case d.IsDir() && name != top && f.isReport(name):
			f.skip(name, "holds the reports of an earlier audit")
			return fs.SkipDir
		case !d.IsDir():
			visit(name, d)
		}
		return nil
	})
	if err != nil {
		f.refuse(top, kind, cannotRead(err))
	}
}

// isReport is true for a folder that holds an audit.json of ours.
func (f *folder) isReport(name string) bool {
	at := path.Join(name, "audit.json")
	if info, err := f.root.Lstat(at); err != nil || !info.Mode().IsRegular() {
		return false
	}
	return f.isOurs(at)
}

// isOurs reads the first lines of a JSON file for a format of ours.
func (f *folder) isOurs(name string) bool {
	file, err := f.root.Open(name)
	if err != nil {
		return false
	}
	defer file.Close()
	d := json.NewDecoder(io.LimitReader(file, 1<<16))
	if t, err := d.Token(); err != nil || t != json.Delim('{') {
		return false
	}
	for d.More() {
		key, err := d.Token()
		if err != nil {
			return false
		}
		if key == "format" {
			value, err := d.Token()
			word, ok := value.(string)
			return err == nil && ok && strings.HasPrefix(word, "footing")
		}
		var other json.RawMessage
		if d.Decode(&other) != nil {
			return false
		}
	}
	return false
}
