package cli

import (
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"

	"footing/internal/audit"
	"footing/internal/workbook"
	"footing/schemas"
)

// evening is the sheets of a first evening; practice has a file of its own.
var evening = slices.DeleteFunc(audit.FirstEvening(), func(kind string) bool { return kind == "practice" })

const (
	practiceFile = "practice.yaml"
	bookFile     = "records.xlsx"
)

// newPlace is the folder that takes the files, and what it has already.
type newPlace struct {
	folder   string
	practice string            // the name of the practice file that is there
	books    []string          // workbooks that are there
	sheets   map[string]bool   // kinds that have a sheet in one of them
	first    map[string]string // workbook and sheet of each such kind, as it is named there
}

// lookAt sees what a folder has; one that is not there has nothing.
func lookAt(name string) (*newPlace, error) {
	name = unquoted(name, runtime.GOOS)
	if name == "" {
		return nil, problem("the folder's name is empty", "footing new FOLDER; a full stop means the folder that you are in")
	}
	folder, err := filepath.Abs(name)
	if err != nil {
		return nil, err
	}
	at := &newPlace{folder: folder, sheets: map[string]bool{}, first: map[string]string{}}
	entries, err := os.ReadDir(folder)
	if errors.Is(err, fs.ErrNotExist) {
		if _, err := os.Lstat(folder); err == nil {
			return nil, problem(name+" is a link that leads nowhere", "name a new folder")
		}
		return at, nil
	}
	if info, statErr := os.Stat(folder); statErr == nil && !info.IsDir() {
		return nil, problem(name+" is a file; new makes a folder", "name a folder that is not there yet")
	}
	if err != nil {
		return nil, problem(fmt.Sprintf("%s cannot be read: %v", name, reason(err)), "check that you may open it, or name another folder")
	}
	for _, e := range entries {
		at.see(e.Name())
	}
	return at, nil
}

// see takes note of a file of the folder.
func (at *newPlace) see(name string) {
	if strings.HasPrefix(name, ".") || strings.HasPrefix(name, "_") || strings.HasPrefix(name, "~$") {
		return
	}
	ext := strings.ToLower(filepath.Ext(name))
	kind, known := schemas.Match(strings.TrimSuffix(name, filepath.Ext(name)))
	switch {
	case ext == ".xlsx":
		at.books = append(at.books, name)
		at.seeSheets(name)
	case known && kind.Name == "practice" && slices.Contains([]string{".yaml", ".yml", ".json", ".csv", ".jsonl"}, ext):
		at.practice = name
	}
}

// seeSheets takes note of the kinds that a workbook has a sheet for. Of one that cannot
// be read nothing is known, and its sheets may be made again.
func (at *newPlace) seeSheets(name string) {
	data, err := os.ReadFile(filepath.Join(at.folder, name))
	if err != nil {
		return
	}
	book, err := workbook.Open(data)
	if err != nil {
		return
	}
	for _, s := range book.Sheets {
		if k, ok := schemas.Match(s.Name); ok {
			at.sheets[k.Name] = true
			at.first[k.Name] = cmp.Or(at.first[k.Name], plain(name)+sheetMark+plain(s.Name))
			if k.Name == "practice" {
				at.practice = name
			}
		}
	}
}

// wherein names the sheets that kinds asked for have already.
func (at *newPlace) wherein(kinds []string) string {
	var found []string
	for _, k := range kinds {
		if where := k + " is " + at.first[k]; at.first[k] != "" && !slices.Contains(found, where) {
			found = append(found, where)
		}
	}
	if len(found) == 0 {
		return ""
	}
	return ": " + strings.Join(found, "; ")
}

// others are kinds that many go on with and that have no sheet yet, two at most.
func (at *newPlace) others(p *newPlan) (kinds []string) {
	for _, k := range []string{"visits", "packs", "screens", "policies", "equipment", "trips"} {
		if len(kinds) < 2 && !at.sheets[k] && !slices.Contains(p.kinds, k) {
			kinds = append(kinds, k)
		}
	}
	return kinds
}

// freeBook is the name of the workbook to write: one that is not there.
func (at *newPlace) freeBook() string {
	for n, name := 1, bookFile; ; name = fmt.Sprintf("records-%d.xlsx", n) {
		if _, err := os.Lstat(filepath.Join(at.folder, name)); errors.Is(err, fs.ErrNotExist) {
			return name
		}
		n++
	}
}

// newPlan is which sheets are made, and why those that the last audit missed.
type newPlan struct {
	kinds []string
	why   []string
}

// plan is the sheets of the first evening where no workbook of records is there, and
// those asked for; none that a workbook there has.
func (at *newPlace) plan(with []string, all bool) *newPlan {
	p := &newPlan{}
	if len(at.sheets) == 0 && !slices.Contains(at.books, bookFile) {
		p.add(at, evening...)
	}
	p.add(at, with...)
	if all {
		p.add(at, rowKinds()...)
	}
	return p
}

// add takes kinds that are neither there nor planned, and says which it took.
func (p *newPlan) add(at *newPlace, kinds ...string) (taken []string) {
	for _, k := range kinds {
		if !at.sheets[k] && !slices.Contains(p.kinds, k) {
			p.kinds = append(p.kinds, k)
			taken = append(taken, k)
		}
	}
	return taken
}

// rowKinds are the kinds that have rows, and so a sheet.
func rowKinds() (names []string) {
	for _, name := range schemas.Kinds() {
		if k, _ := schemas.Lookup(name); !k.Single {
			names = append(names, name)
		}
	}
	return names
}

// nearKind is the kind one of whose names is nearest to a word.
func nearKind(word string) string {
	best, away := "", 0
	for _, name := range rowKinds() {
		k, _ := schemas.Lookup(name)
		for _, other := range append([]string{name}, k.Synonyms...) {
			if n := apart(schemas.Fold(word), schemas.Fold(other)); best == "" || n < away {
				best, away = name, n
			}
		}
	}
	return cmp.Or(best, "loads")
}
