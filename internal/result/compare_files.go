package result

import (
	"cmp"
	"slices"
	"strings"
)

// ofSheet stands between the name of a workbook and that of its sheet.
const ofSheet = ", sheet "

// Sheet gives the workbook that the file is a sheet of, and whether it is one.
func (f FilePair) Sheet() (book string, is bool) {
	book, _, is = strings.Cut(f.Name, ofSheet)
	return book, is
}

// files tells which were changed. Saving a workbook writes all its sheets anew, so of its
// sheets only those are named whose rows came or went; else the workbook stands for them.
func (c *Changes) files(before, after *Result) {
	a, b := states(before), states(after)
	names, books := map[string]bool{}, map[string]bool{}
	for name := range a {
		names[name] = true
	}
	for name := range b {
		names[name] = true
	}
	for name := range names {
		if book, _, is := strings.Cut(name, ofSheet); is {
			books[book] = true
		}
	}
	for name := range names {
		book, _, sheet := strings.Cut(name, ofSheet)
		if was, is := a[name], b[name]; !sheet && !books[book] && differ(was, is) {
			c.Files = append(c.Files, FilePair{name, was, is})
		}
	}
	for book := range books {
		c.Files = append(c.Files, ofBook(book, a, b)...)
	}
	slices.SortFunc(c.Files, func(x, y FilePair) int { return cmp.Compare(x.Name, y.Name) })
}

func differ(a, b *FileState) bool { return a == nil || b == nil || *a != *b }

// ofBook are the sheets of a workbook whose rows came or went, or the workbook where it was
// saved without that, came, went, or can or cannot be read now.
func ofBook(book string, a, b map[string]*FileState) (sheets []FilePair) {
	was, is := ofWhole(book, a), ofWhole(book, b)
	if !differ(was, is) {
		return nil
	}
	if was != nil && is != nil && was.Unread == "" && is.Unread == "" {
		for _, name := range sheetsOf(book, a, b) {
			x, y := a[name], b[name]
			if x == nil || y == nil || x.Rows != y.Rows || x.SetAside != y.SetAside || x.Unread != y.Unread {
				sheets = append(sheets, FilePair{name, x, y})
			}
		}
	}
	if len(sheets) == 0 {
		return []FilePair{{book, was, is}}
	}
	return sheets
}

func sheetsOf(book string, all ...map[string]*FileState) (names []string) {
	for _, states := range all {
		for name := range states {
			if strings.HasPrefix(name, book+ofSheet) && !slices.Contains(names, name) {
				names = append(names, name)
			}
		}
	}
	slices.Sort(names)
	return names
}

// ofWhole is a workbook with the rows of all its sheets; nil where it is not there.
func ofWhole(book string, states map[string]*FileState) *FileState {
	names := sheetsOf(book, states)
	if len(names) == 0 {
		return states[book]
	}
	sum := FileState{}
	for _, name := range names {
		s := states[name]
		sum.SHA256 = cmp.Or(sum.SHA256, s.SHA256)
		sum.Rows += s.Rows
		sum.SetAside += s.SetAside
	}
	return &sum
}

// states are the files of an audit by name. One file may hold several lists of records.
func states(r *Result) map[string]*FileState {
	out := map[string]*FileState{}
	for _, f := range r.Intake {
		s := out[f.File]
		if s == nil {
			s = &FileState{SHA256: f.SHA256}
			out[f.File] = s
		}
		s.Rows += f.Rows
		s.SetAside += f.SetAside
	}
	for _, t := range r.Traces {
		out[t.File] = &FileState{SHA256: t.SHA256, Trace: true}
	}
	for _, n := range r.NotRead {
		if out[n.File] == nil {
			out[n.File] = &FileState{Unread: n.Why}
		}
	}
	return out
}
