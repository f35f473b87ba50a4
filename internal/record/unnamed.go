package record

import (
	"bytes"
	"errors"
	"io"

	"footing/schemas"
)

// unknownFile settles a file whose name is no kind. One of a month or a year of a kind is
// read where its headings surely fit; else its rows stand there unread, as do those under a
// name that is nearly one.
func (f *folder) unknownFile(e *entry, base, ext string) {
	kind, dated := likeKind(base)
	hint := nameHint(base, ext)
	if kind == nil || kind.Single || f.plans[kind.Name] == nil {
		f.skip(e.name, "its name is no kind of record; "+hint)
		return
	}
	sure := e.form == formatCSV && f.surely(e, kind)
	switch {
	case dated && sure && e.info.Size() <= f.most: // loads June 2026.csv
		e.plan = f.plans[kind.Name]
		f.records = append(f.records, e)
	case sure || dated:
		says := "its name is no kind of record"
		if sure {
			says += ", and its headings look like " + kind.Name
		}
		f.refuse(e.name, kind, refuse("file-name", says).do(hint+map[bool]string{true: " Rename it", false: ""}[hint[len(hint)-1] == '?']+", or begin its name with _ if it is no record"))
	default:
		f.skip(e.name, "its name is no kind of record; "+hint)
	}
}

// likeKind is the kind that a file's name begins with, or nearly is; dated is true where all
// the rest is a month, a week or a year.
func likeKind(name string) (kind *schemas.Kind, dated bool) {
	if kind = datedKind(name); kind != nil {
		return kind, true
	}
	if kind = kindNamed(name); kind == nil {
		kind, _ = schemas.Lookup(nearest(schemas.Kinds(), name))
	}
	return kind, false
}

// lookBytes is how much of a file is looked at for its headings.
const lookBytes = 64 << 10

// surely is true for a table whose headings are surely those of the kind.
func (f *folder) surely(e *entry, kind *schemas.Kind) bool {
	file, err := f.open(e)
	if err != nil {
		return false
	}
	defer file.Close()
	b := make([]byte, lookBytes)
	n, err := io.ReadFull(file, b)
	if err != nil && !errors.Is(err, io.ErrUnexpectedEOF) {
		return false // an empty one too
	}
	if b = b[:n]; n == lookBytes { // a character may be cut in two at the end
		b = b[:bytes.LastIndexByte(b, '\n')+1]
	}
	text, _, _, err := decode(b)
	if err != nil {
		return false
	}
	s := &sheet{plan: f.plans[kind.Name], src: &source{name: e.name, plan: f.plans[kind.Name], text: text}}
	c := s.openTable()
	if !c.filled() || c.wrong != nil {
		return false
	}
	h := heading{called: []string{bareName(e.name)}}
	for i, cell := range c.cells {
		if cell = trim(cell); cell != "" {
			h.cells = append(h.cells, headCell{column: i, text: cell})
		}
	}
	kinds, _ := h.among(nil, 2)
	for _, k := range kinds {
		if k == kind {
			return true
		}
	}
	return false
}
