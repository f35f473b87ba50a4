package trace

import (
	"path"
	"strings"

	"footing/internal/quantity"
	"footing/schemas"
)

// Layouts is traces/layout.yaml: what the columns of files mean whose headings do not say it.
type Layouts struct {
	Entries int // that can be used
	LeftOut int // entries with a mistake
	list    []layout
}

// layout is one entry.
type layout struct {
	number     int    // in the file, from 1
	files      string // a pattern in small letters; "" where not said
	sterilizer string // folded; "" where not said
	skip       int    // lines before the headings; -1 where not said
	delimiter  byte   // 0 where not said
	decimal    byte   // ',' or '.', 0 where not said
	order      quantity.DateOrder
	hasOrder   bool
	columns    []layoutColumn
}

// layoutColumn is one column that an entry names.
type layoutColumn struct {
	role    Role
	heading string
	index   int // from 1; 0 where by heading
	unit    quantity.Unit
	ref     quantity.Reference
}

// ParseLayouts reads traces/layout.yaml: a list of entries, judged by
// schemas/trace-layout.json. An entry with a mistake, an unknown name too, is left out
// and told in a Problem with its line. A text of more than 1 MiB is not read.
func ParseLayouts(text []byte) (*Layouts, []Problem) {
	l := &Layouts{}
	root, problem := layoutList(text)
	if problem != nil {
		return l, []Problem{*problem}
	}
	told := layoutFaults{}
	for i, n := range root {
		if isBlank(n) {
			continue
		}
		told.number, told.before = i+1, len(told.found)
		if e, ok := told.entry(n); ok {
			l.list = append(l.list, e)
			l.Entries++
		} else {
			l.LeftOut++
		}
	}
	return l, told.problems()
}

// find gives the first entry that fits a file, by its path below traces/ and by the
// sterilizer of its load, "" where not known, both without regard to case; nil where
// none fits.
func (l *Layouts) find(name, sterilizer string) *layout {
	if l == nil {
		return nil
	}
	name, sterilizer = strings.ToLower(name), schemas.Fold(sterilizer)
	for i := range l.list {
		if e := &l.list[i]; e.fits(name, sterilizer) {
			return e
		}
	}
	return nil
}

func (e *layout) fits(name, sterilizer string) bool {
	if e.sterilizer != "" && e.sterilizer != sterilizer {
		return false
	}
	if e.files == "" {
		return true
	}
	whole, _ := path.Match(e.files, name)
	alone, _ := path.Match(e.files, path.Base(name))
	return whole || alone
}
