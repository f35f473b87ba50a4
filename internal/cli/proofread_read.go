package cli

import (
	"cmp"
	"fmt"
	"maps"
	"path"
	"slices"
	"strings"

	"footing/internal/practice"
	"footing/internal/record"
	"footing/schemas"
)

// likelier is the one kind whose headings a file has more of than of its own, where no
// row of it could be taken in and the headings that the kind needs are there; else "".
func likelier(f *record.File) string {
	if f.Rows == 0 || f.Accepted > 0 {
		return ""
	}
	best, most, several := "", 0, false
	for _, name := range schemas.Kinds() {
		kind, _ := schemas.Lookup(name)
		has := map[string]bool{}
		for _, h := range f.Headings {
			bare, _, _ := strings.Cut(h.Written, "[")
			if field, ok := kind.Match(bare); ok {
				has[field.Name] = true
			}
		}
		lacks := slices.ContainsFunc(kind.Required, func(field string) bool { return !has[field] })
		switch {
		case kind.Single, lacks && name != f.Kind, len(has) < most:
		case len(has) == most:
			several = true
		default:
			best, most, several = name, len(has), false
		}
	}
	if several || best == f.Kind {
		return ""
	}
	return best
}

// sheetMark stands between the name of a workbook and that of its sheet.
const sheetMark = ", sheet "

// read says what was read as what.
func (w *proof) read(p *practice.Practice) {
	w.heading("What was read")
	files := p.Intake.Files
	if len(files) == 0 {
		w.para("No file of records could be read.")
	}
	var asNamed []string
	var blank []*record.File
	for i := range files {
		f := &files[i]
		if f.Rows == 0 {
			blank = append(blank, f)
			continue
		}
		words := otherWords(f)
		if len(words) == 0 && f.SetAside == 0 && namedAfter(f) {
			asNamed = append(asNamed, plain(f.Name)+inBrackets(rowsIn(f)))
			continue
		}
		w.item(plain(f.Name) + ": " + cmp.Or(rowsIn(f), "the "+f.Kind+" file") + ".")
		if len(words) > 0 {
			w.under("Read as: " + strings.Join(words, ", ") + ".")
		}
		if kind := likelier(f); kind != "" {
			w.under(fmt.Sprintf("Its headings look like those of %s. If that is what it holds, name it %s.", kind, kind))
		}
	}
	if len(asNamed) > 0 {
		w.item("Named and headed as the program has it: " + strings.Join(asNamed, ", ") + ".")
	}
	if len(blank) > 0 {
		w.item("No rows yet: " + strings.Join(together(blank), "; ") + ".")
	}
	if n := len(p.Intake.Traces); n > 0 {
		w.item(fmt.Sprintf("traces: %s of a data logger; the audit opens them, this does not.", count(n, "file", "files")))
	}
	links := slices.SortedFunc(maps.Keys(p.Assumed), func(a, b practice.Link) int {
		return strings.Compare(a.Kind+" "+a.Field, b.Kind+" "+b.Field)
	})
	for _, l := range links {
		w.item(fmt.Sprintf("%s of %s: %s not written; read as the only one there is.", headingIn(p.Intake, l.Kind, "", l.Field), l.Kind, count(p.Assumed[l], "time", "times")))
	}
}

// together names files, with the sheets of a workbook in one.
func together(files []*record.File) (names []string) {
	for i := 0; i < len(files); {
		book, sheet, ok := strings.Cut(files[i].Name, sheetMark)
		sheets := []string{plain(sheet)}
		for i++; ok && i < len(files) && strings.HasPrefix(files[i].Name, book+sheetMark); i++ {
			sheets = append(sheets, plain(strings.TrimPrefix(files[i].Name, book+sheetMark)))
		}
		switch {
		case !ok:
			names = append(names, plain(book))
		case len(sheets) == 1:
			names = append(names, plain(book)+sheetMark+sheets[0])
		default:
			names = append(names, plain(book)+", sheets "+listed(sheets))
		}
	}
	return names
}

// rowsIn counts what was found in a file.
func rowsIn(f *record.File) string {
	kind, ok := schemas.Lookup(f.Kind)
	switch {
	case ok && kind.Single && f.SetAside > 0:
		return "it could not be read"
	case ok && kind.Single && namedAfter(f):
		return ""
	case ok && kind.Single:
		return "the " + f.Kind + " file"
	}
	words := count(f.Rows, "row", "rows")
	if !namedAfter(f) {
		words += " of " + f.Kind
	}
	if f.SetAside == 0 {
		return words
	}
	return fmt.Sprintf("%s: %s taken in, %s set aside", words, thousands(f.Accepted), thousands(f.SetAside))
}

// namedAfter reports whether a file, or a sheet of a workbook, has the name of its kind.
func namedAfter(f *record.File) bool {
	base, _, _ := strings.Cut(path.Base(f.Name), ".")
	if at := strings.LastIndex(f.Name, sheetMark); at >= 0 {
		base = f.Name[at+len(sheetMark):]
	}
	return schemas.Fold(base) == schemas.Fold(f.Kind)
}

// otherWords lists the headings that are not the name of the field they were taken for.
func otherWords(f *record.File) (words []string) {
	for _, h := range f.Headings {
		if h.Field == "" {
			continue
		}
		bare, _, _ := strings.Cut(h.Written, "[")
		bare, _, _ = strings.Cut(bare, "(")
		if bare, field := schemas.Fold(bare), schemas.Fold(h.Field); bare == field || bare == field+"date" || bare == field+"time" {
			continue // a day and its clock may stand in two columns
		}
		words = append(words, fmt.Sprintf("“%s” as %s", plain(h.Written), h.Field))
	}
	return words
}

func inBrackets(words string) string {
	if words == "" {
		return ""
	}
	return " (" + words + ")"
}

// notRead says which files were not read as records, and why; those that were refused
// as records stand with what is set aside.
func (w *proof) notRead(p *practice.Practice) {
	list := slices.DeleteFunc(slices.Clone(p.Intake.NotRead), func(n record.NotRead) bool {
		return slices.ContainsFunc(p.Intake.Problems, func(q record.Problem) bool { return q.File == n.Name && q.Effect == record.FileRefused })
	})
	if len(list) == 0 {
		return
	}
	w.heading("What was not read")
	w.some(len(list), func(i int) { w.item(stopped(plain(list[i].Name) + ": " + plain(list[i].Why))) })
}
