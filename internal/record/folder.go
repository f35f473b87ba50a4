package record

import (
	"encoding/json"
	"errors"
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
	traces  []*entry
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
			f.walk(name, f.trace)
		case d.IsDir():
			f.subfolder(name)
		default:
			f.file(name, d, strings.TrimSuffix(name, path.Ext(name)))
		}
	}
	byName := func(a, b *entry) int { return strings.Compare(a.name, b.name) }
	slices.SortFunc(f.records, byName)
	slices.SortFunc(f.traces, byName)
	return nil
}

func hidden(name string) bool { return strings.HasPrefix(name, ".") || strings.HasPrefix(name, "_") }

// subfolder lists a folder of one kind; any other is not looked into.
func (f *folder) subfolder(name string) {
	if f.isReport(name) {
		f.skip(name, "holds the reports of an earlier audit")
		return
	}
	if _, ok := schemas.Match(name); !ok {
		f.skip(name, "a folder is looked into only if it is named after a kind of record, or traces")
		return
	}
	f.walk(name, func(file string, d fs.DirEntry) { f.file(file, d, name) })
}

// walk visits the files below a folder. It goes into no links.
func (f *folder) walk(top string, visit func(name string, d fs.DirEntry)) {
	err := fs.WalkDir(f.root.FS(), top, func(name string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			f.refuse(name, nil, cannotRead(err))
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
		f.refuse(top, nil, cannotRead(err))
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

// file settles what becomes of a file, whose kind is looked for in the name given.
func (f *folder) file(name string, d fs.DirEntry, kindName string) {
	ext := strings.ToLower(strings.TrimPrefix(path.Ext(name), "."))
	form, readable := formats[ext]
	kind, known := schemas.Match(kindName)
	info, err := d.Info()
	switch {
	case err != nil:
		f.refuse(name, kindIf(kind, readable && known), cannotRead(err))
	case d.Type()&fs.ModeSymlink != 0:
		f.refuse(name, kindIf(kind, readable && known), refuse("link", "it is a link, and links are not followed").do("put a copy of the file in the folder"))
	case !d.Type().IsRegular():
		f.skip(name, "it is no plain file")
	case name == "audit.json" && f.isOurs(name):
		f.skip(name, "the result of an earlier audit")
	case !readable:
		f.skip(name, otherFile(ext, kind))
	case !known:
		f.skip(name, "its name is no kind of record; "+nameHint(kindName, ext))
	case f.plans[kind.Name] == nil:
		f.skip(name, "rows of "+kind.Name+" are not used here")
	case info.Size() > f.most:
		f.refuse(name, kind, refuse("too-large", "it has "+bytesWords(info.Size())+", and record files of more than "+bytesWords(f.most)+" are not read").
			do("split it into several files in a folder named "+kind.Name))
	case kind.Single && slices.ContainsFunc(f.records, func(e *entry) bool { return e.plan.kind == kind }):
		f.refuse(name, kind, refuse("second", "there is another file for "+kind.Name+", and only one can hold").do("keep one of the two"))
	default:
		f.records = append(f.records, &entry{name: name, info: info, plan: f.plans[kind.Name], form: form})
	}
}

func kindIf(k *schemas.Kind, ok bool) *schemas.Kind {
	if ok {
		return k
	}
	return nil
}

// trace lists a data-logger file.
func (f *folder) trace(name string, d fs.DirEntry) {
	info, err := d.Info()
	switch base := strings.ToLower(path.Base(name)); {
	case err != nil:
		f.refuse(name, nil, cannotRead(err))
	case d.Type()&fs.ModeSymlink != 0:
		f.refuse(name, nil, refuse("link", "it is a link, and links are not followed").do("put a copy of the file in the folder"))
	case !d.Type().IsRegular():
		f.skip(name, "it is no plain file")
	case base == "layout.yaml" || base == "layout.yml":
		f.skip(name, "it describes the columns of data-logger files; this version lists data-logger files and does not read them")
	default:
		f.traces = append(f.traces, &entry{name: name, info: info})
	}
}

func (f *folder) skip(name, why string) { f.notRead = append(f.notRead, NotRead{name, why}) }

// refuse lists a file that should have been read and was not, or cannot be. Only a
// file of a kind is a problem too.
func (f *folder) refuse(name string, kind *schemas.Kind, r *refusal) {
	f.skip(name, r.Error())
	p := Problem{File: name, Cause: r.cause, Effect: FileRefused, Todo: r.todo, Places: []Place{{File: name}}, Sentence: name + ": " + r.Error()}
	if kind != nil {
		p.Kind = kind.Name
	}
	f.refused = append(f.refused, p)
}

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
