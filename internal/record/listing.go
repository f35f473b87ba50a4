package record

import (
	"io/fs"
	"path"
	"slices"
	"strings"

	"footing/schemas"
)

// file settles what becomes of a file, whose kind is looked for in the name given.
func (f *folder) file(name string, d fs.DirEntry, kindName string) {
	ext := strings.ToLower(strings.TrimPrefix(path.Ext(name), "."))
	form, readable := formats[ext]
	kind, known := schemas.Match(kindName)
	info, err := d.Info()
	switch {
	case err != nil:
		f.refuse(name, kindIf(kind, readable && known), cannotRead(err))
	case ext == "xlsx" && !strings.Contains(name, "/"):
		f.workbook(name, d, info)
	case d.Type()&fs.ModeSymlink != 0:
		f.refuse(name, kindIf(kind, known && (readable || ext == "")), refuse("link", "it is a link, and links are not followed").do("put a copy of the file in the folder"))
	case !d.Type().IsRegular():
		f.skip(name, "it is no plain file")
	case name == "audit.json" && f.isOurs(name):
		f.skip(name, "the result of an earlier audit")
	case !readable && spreadsheets[ext]:
		f.otherBook(name, kind, otherFile(ext, kind, strings.Contains(name, "/")))
	case !readable:
		f.skip(name, otherFile(ext, kind, strings.Contains(name, "/")))
	case !known:
		f.unknownFile(&entry{name: name, info: info, form: form}, kindName, ext)
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

// spreadsheets are the endings of workbooks, in which rows of any kind may stand.
var spreadsheets = map[string]bool{"xlsx": true, "xls": true, "xlsb": true, "xlsm": true, "xltx": true, "ods": true, "fods": true, "numbers": true}

// otherBook lists a workbook that is not read for its ending or its place.
func (f *folder) otherBook(name string, kind *schemas.Kind, why string) {
	says, todo, _ := strings.Cut(why, "; ")
	r := refuse("other-workbook", says).do(todo)
	if kind != nil {
		f.refuse(name, kind, r)
		return
	}
	f.refuseBook(name, r)
}

func kindIf(k *schemas.Kind, ok bool) *schemas.Kind {
	if ok {
		return k
	}
	return nil
}

// mostLayout is the largest layout of data-logger files that is read.
const mostLayout = 1 << 20

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
		switch {
		case strings.Count(name, "/") > 1:
			f.skip(name, "only layout.yaml directly in the folder traces is used; move it there")
		case f.layout != nil:
			f.skip(name, "there is another file for the layout of data-logger files, and only one can hold; keep one of the two")
		case info.Size() > mostLayout:
			f.refuse(name, nil, refuse("too-large", "it has "+bytesWords(info.Size())+", and a layout of more than "+bytesWords(mostLayout)+" is not read"))
		default:
			f.layout = &entry{name: name, info: info}
		}
	default:
		f.traces = append(f.traces, &entry{name: name, info: info})
	}
}

func (f *folder) skip(name, why string) { f.notRead = append(f.notRead, NotRead{name, why}) }

// refuse lists a file that should have been read and was not, or cannot be. Only a
// file of a kind is a problem too.
func (f *folder) refuse(name string, kind *schemas.Kind, r *refusal) {
	f.skip(name, r.Error())
	f.lacks(name, kind, r)
}

// lacks tells of a file that should have been read.
func (f *folder) lacks(name string, kind *schemas.Kind, r *refusal) {
	p := Problem{File: name, Cause: r.cause, Effect: FileRefused, Todo: r.todo, Places: []Place{{File: name}}, Sentence: name + ": " + r.Error()}
	if kind != nil {
		p.Kind = kind.Name
	}
	f.refused = append(f.refused, p)
}
