package record

import (
	"errors"
	"io/fs"
	"strings"

	"footing/schemas"
)

// otherFile says what to do with a file that is no record file.
func otherFile(ext string, kind *schemas.Kind) string {
	as := "the kind of record it holds, such as loads.csv"
	if kind != nil {
		as = "its kind: " + kind.Name + ".csv"
	}
	switch ext {
	case "xlsx", "xls", "xlsm", "ods", "numbers":
		return "workbooks are not read; save each sheet as csv, named after " + as
	case "pdf":
		return "PDF files are not read; type its rows into a csv named after " + as
	case "tsv", "txt":
		return "its ending is not one that is read; if it holds records, rename it to end in .csv, named after " + as
	case "doc", "docx", "odt", "rtf":
		return "documents are not read; type its rows into a csv named after " + as
	}
	return "it is no csv, json, jsonl or yaml file"
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
