package record

import (
	"context"
	"fmt"
	"os"
	"path"
	"reflect"
	"slices"
	"strings"

	"footing/internal/workbook"
)

// ExportFormats are the formats in which records can be written.
var ExportFormats = []string{"csv", "json", "jsonl", "yaml", bookFormat}

const (
	bookFormat = "xlsx"
	bookFile   = "records.xlsx"
)

// Exported is what was written.
type Exported struct {
	Kinds      []ExportedKind // practice and rules first
	Refused    []string       // files that cannot be read, copied byte for byte, by their new names
	Books      []string       // workbooks that hold more than records, copied byte for byte, by their new names
	Traces     int            // data-logger files copied byte for byte
	TraceBytes int64
	Layout     bool      // traces/layout.yaml was copied
	Comments   []string  // YAML files with comments, which no other file has
	Missing    []NotRead // record files that could be neither read nor copied, and why
	Left       []NotRead // what else was not copied, and why
}

// ExportedKind is what was written of one kind. Rows is always Written + SetAside.
type ExportedKind struct {
	Kind                    string
	Rows, Written, SetAside int
	AsTyped                 int      // rows that the format cannot hold, in files of JSON Lines
	AsItWas                 bool     // a single document that the format cannot hold, copied byte for byte
	Files                   []string // with accepted rows
	Aside                   []string // with rows set aside
}

// kept is what a reading keeps for Export.
type kept struct {
	sheets []*sheet // by name of file; nil for a file refused
	plans  map[string]*plan
	target reflect.Type
}

// exporter is one run of Export.
type exporter struct {
	ctx    context.Context
	in     *Intake
	root   *os.Root
	format string
	done   Exported
	tables []workbook.Table
	names  map[string]bool        // of files written, in lower case
	order  map[string][]wroteRows // by kind
}

// rowRef is an accepted row.
type rowRef struct {
	sheet *sheet
	index int
}

// wroteRows are the rows of one file that was written.
type wroteRows struct {
	file string
	rows []rowRef
}

// wrote notes that a row stands in a file.
func (x *exporter) wrote(kind, file string, ref rowRef) {
	list := x.order[kind]
	if n := len(list); n == 0 || list[n-1].file != file {
		list = append(list, wroteRows{file: file})
	}
	at := &list[len(list)-1]
	at.rows = append(at.rows, ref)
	x.order[kind] = list
}

// Export writes all that was read into dir, an empty folder, in a format of
// ExportFormats, then reads it again and compares: the error says what would not be
// the same, or what could not be written. Fill must have been told to Keep, and the rows
// that it gave must be as they were.
func (in *Intake) Export(ctx context.Context, dir, format string) (*Exported, error) {
	if in.kept == nil {
		return nil, fmt.Errorf("records: nothing was kept to export")
	}
	if !slices.Contains(ExportFormats, format) {
		return nil, fmt.Errorf("records: there is no format %q", format)
	}
	root, err := os.OpenRoot(dir)
	if err != nil {
		return nil, err
	}
	defer root.Close()
	x := &exporter{ctx: ctx, in: in, root: root, format: format, names: map[string]bool{}, order: map[string][]wroteRows{}}
	if err := x.all(); err != nil {
		return nil, err
	}
	if err := x.compare(dir); err != nil {
		return nil, err
	}
	return &x.done, nil
}

// all writes everything.
func (x *exporter) all() error {
	if x.format == bookFormat {
		x.free(bookFile)
	}
	byKind := map[string][]*sheet{}
	for _, s := range x.in.kept.sheets {
		if s != nil {
			byKind[s.plan.kind.Name] = append(byKind[s.plan.kind.Name], s)
		}
	}
	for _, p := range x.plans() {
		sheets := byKind[p.kind.Name]
		if len(sheets) == 0 {
			continue
		}
		k := ExportedKind{Kind: p.kind.Name}
		for _, s := range sheets {
			k.Rows, k.Written, k.SetAside = k.Rows+s.file.Rows, k.Written+s.file.Accepted, k.SetAside+s.file.SetAside
		}
		write := x.kind
		if p.kind.Single {
			write = x.single
		}
		if err := write(&k, sheets); err != nil {
			return err
		}
		x.done.Kinds = append(x.done.Kinds, k)
	}
	if len(x.tables) > 0 {
		if err := x.create(bookFile, func(w *outFile) error { return workbook.Write(w, x.tables) }); err != nil {
			return err
		}
	}
	x.tables = nil
	return x.copies()
}

// plans gives those of the target, in its order.
func (x *exporter) plans() []*plan {
	var list []*plan
	for _, p := range x.in.kept.plans {
		list = append(list, p)
	}
	slices.SortFunc(list, func(a, b *plan) int { return a.slot - b.slot })
	return list
}

// compare reads what was written and holds it against what was to be written.
func (x *exporter) compare(dir string) error {
	target := reflect.New(x.in.kept.target)
	again, err := Fill(x.ctx, dir, target.Interface(), Options{Keep: true})
	if err != nil {
		return err
	}
	read := map[string][]*sheet{}
	for _, s := range again.kept.sheets {
		if s != nil {
			read[s.plan.kind.Name] = append(read[s.plan.kind.Name], s)
		}
	}
	for _, k := range x.done.Kinds {
		if err := x.compareKind(k, read[k.Kind]); err != nil {
			return err
		}
	}
	return nil
}

func (x *exporter) compareKind(k ExportedKind, sheets []*sheet) error {
	slices.SortStableFunc(x.order[k.Kind], func(a, b wroteRows) int { return strings.Compare(a.file, b.file) }) // as they are read
	var want []rowRef
	for _, w := range x.order[k.Kind] {
		want = append(want, w.rows...)
	}
	aside := 0
	for _, s := range sheets {
		aside += s.file.SetAside
		for i := range s.file.Accepted {
			if len(want) == 0 {
				return fmt.Errorf("%s would have more rows than were read", k.Kind)
			}
			from := want[0]
			if f := from.differs(rowRef{s, i}); f != "" {
				return fmt.Errorf("%s row %d, %s: what is typed there would not be read as the same again", from.sheet.src.name, from.sheet.rowOf(from.index).number, f)
			}
			want = want[1:]
		}
	}
	switch {
	case len(want) > 0:
		return fmt.Errorf("%s row %d would not be read again", want[0].sheet.src.name, want[0].sheet.rowOf(want[0].index).number)
	case aside != k.SetAside:
		return fmt.Errorf("of %s, %d rows are set aside, and %d would be", k.Kind, k.SetAside, aside)
	}
	return nil
}

// differs gives the field in which two rows are not the same, or "".
func (r rowRef) differs(other rowRef) string {
	for _, c := range r.sheet.plan.cols {
		if !c.same(r.field(c), other.field(c)) {
			return c.field.Name
		}
	}
	return ""
}

// free makes a name of a file that is not used yet, also where letters differ in case only.
func (x *exporter) free(name string) string {
	ext := path.Ext(name)
	base, free := strings.TrimSuffix(name, ext), name
	for n := 2; x.names[strings.ToLower(free)]; n++ {
		free = fmt.Sprintf("%s-%d%s", base, n, ext)
	}
	x.names[strings.ToLower(free)] = true
	return free
}
