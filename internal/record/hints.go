package record

import (
	"errors"
	"io/fs"
	"strings"
	"unicode"

	"footing/schemas"
)

// otherFile says what to do with a file that is no record file; inside is true for one
// in a folder of its kind.
func otherFile(ext string, kind *schemas.Kind, inside bool) string {
	as := "the kind of record it holds, such as loads.csv"
	if kind != nil {
		as = "its kind: " + kind.Name + ".csv"
	}
	switch ext {
	case "xlsx":
		return "workbooks are read only at the top of the folder; move it there, with each sheet named after the kind of record it holds"
	case "xls", "xlsb", "xlsm", "xltx", "ods", "fods", "numbers":
		const todo = "; open it in a spreadsheet program and save it as .xlsx"
		return map[string]string{"xls": "old workbooks", "xlsm": "workbooks with macros"}[ext] + map[bool]string{true: "workbooks that end in ." + ext}[ext != "xls" && ext != "xlsm"] +
			" are not read" + todo + map[bool]string{true: " at the top of the folder"}[inside]
	case "pdf":
		return "PDF files are not read; type its rows into a csv named after " + as
	case "tsv", "txt":
		return "its ending is not one that is read; if it holds records, rename it to end in .csv, named after " + as
	case "doc", "docx", "odt", "rtf":
		return "documents are not read; type its rows into a csv named after " + as
	}
	return "it is no csv, json, jsonl, yaml or xlsx file"
}

// tabHint helps with the name of a sheet that is no kind.
func tabHint(name string) string {
	if kind := kindNamed(name); kind != nil {
		return "if it holds " + kind.Name + ", name it " + kind.Name + " (where there is one already, put it into a workbook of its own)"
	}
	if near := nearest(schemas.Kinds(), name); near != "" {
		return "did you mean " + near + "?"
	}
	return "name it after the kind it holds, such as loads"
}

// kindNamed is the kind that the first words of a name mean: "Spore tests 2026".
func kindNamed(name string) *schemas.Kind {
	words := strings.FieldsFunc(name, func(r rune) bool { return strings.ContainsRune(" -_.0123456789()/:,", r) })
	for n := min(len(words), 6); n > 0; n-- {
		if kind, ok := schemas.Match(strings.Join(words[:n], " ")); ok {
			return kind
		}
	}
	return nil
}

// datedKind is the kind of which a sheet holds a month, a week or a year by its name:
// "loads June", "Spore tests (2026)", "2025 loads"; nil if it is none.
func datedKind(name string) *schemas.Kind {
	words := strings.FieldsFunc(name, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
	for n := 1; n < len(words); n++ {
		before, after := strings.Join(words[:n], " "), strings.Join(words[n:], " ")
		if kind, ok := schemas.Match(before); ok && monthWords(after) {
			return kind
		}
		if kind, ok := schemas.Match(after); ok && monthWords(before) {
			return kind
		}
	}
	return nil
}

// nameHint helps with the name of a file that is no kind.
func nameHint(name, ext string) string {
	words := strings.FieldsFunc(name, func(r rune) bool { return strings.ContainsRune(" -_.0123456789()", r) })
	for n := len(words); n > 0; n-- {
		if kind, ok := schemas.Match(strings.Join(words[:n], " ")); ok {
			return "if it holds " + kind.Name + ", put it in a folder named " + kind.Name + ", or rename it " + kind.Name + "." + ext
		}
	}
	if near := nearest(schemas.Kinds(), name); near != "" {
		return "did you mean " + near + "." + ext + "?"
	}
	return "name it after the kind it holds, such as loads." + ext
}

// plainError takes the path out of an error of the operating system.
func plainError(err error) error {
	var wrong *fs.PathError
	if errors.As(err, &wrong) {
		return wrong.Err
	}
	return err
}
