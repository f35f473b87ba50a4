package record

import (
	"context"
	"errors"
	"io/fs"
	"slices"
	"sync/atomic"

	"footing/internal/workbook"
	"footing/schemas"
)

// book is a workbook at the top of the folder.
type book struct {
	entry *entry
	sum   string
	tabs  []*tab
	held  atomic.Int64 // bytes of text that its tables hold
	over  atomic.Bool  // which are too many
	left  atomic.Int32 // tabs that are not read yet
}

// tab is one sheet of a workbook.
type tab struct {
	name          string
	hidden        bool
	merged        []workbook.Range
	hiddenColumns []workbook.Range
	rows          func(context.Context, func(*workbook.Row) error) error
	unstored      func() int
	from1904      bool // its count of days; see workbook.Sheet
	notes         bool // notes are attached to its cells
}

// mostHeld is how much text the tables of one workbook may hold; tests change it.
// A sheet of 100,000 loads holds about 10 MiB.
var mostHeld int64 = 128 << 20

var errTooMuch = errors.New("the tables of the workbook hold too much text")

func newTab(s *workbook.Sheet) *tab {
	return &tab{name: s.Name, hidden: s.Hidden, merged: s.Merged, hiddenColumns: s.HiddenColumns, rows: s.Rows, unstored: func() int { return s.Unstored }, from1904: s.From1904(), notes: s.Notes}
}

// workbook lists a workbook at the top of the folder.
func (f *folder) workbook(name string, d fs.DirEntry, info fs.FileInfo) {
	switch {
	case d.Type()&fs.ModeSymlink != 0:
		f.refuseBook(name, refuse("link", "it is a link, and links are not followed").do("put a copy of the file in the folder"))
	case !d.Type().IsRegular():
		f.skip(name, "it is no plain file")
	case info.Size() > f.most:
		f.refuseBook(name, refuse("too-large", "it has "+bytesWords(info.Size())+", and workbooks of more than "+bytesWords(f.most)+" are not read").
			do("split it into several workbooks"))
	default:
		f.books = append(f.books, &book{entry: &entry{name: name, info: info}})
	}
}

// refuseBook lists a workbook that cannot be read. Rows of any kind may stand in it.
func (f *folder) refuseBook(name string, r *refusal) {
	f.refuse(name, nil, r)
	f.refused[len(f.refused)-1].Any = true
}

// books opens the workbooks, and settles what becomes of each of their sheets.
func (r *reading) books() error {
	var tasks []task
	for _, b := range r.folder.books {
		tasks = append(tasks, task{b.entry.info.Size(), func() error { return r.openBook(b) }})
	}
	r.run(tasks)
	if r.failed != nil || r.ctx.Err() != nil {
		return errors.Join(r.failed, r.ctx.Err())
	}
	r.sameBooks()
	for _, b := range r.folder.books {
		taken := len(r.slots)
		for _, t := range b.tabs {
			if err := r.settleTab(b, t); err != nil {
				return err
			}
		}
		if b.left.Store(int32(len(r.slots) - taken)); len(r.slots) == taken {
			r.progress(b.entry.info.Size())
		}
	}
	return nil
}

// openBook opens one workbook.
func (r *reading) openBook(b *book) error {
	data, sum, err := r.folder.read(r.ctx, b.entry, func(int64) {})
	if err == nil {
		b.sum = sum
		var opened *workbook.Book
		if opened, err = workbook.Open(data); err == nil {
			for _, s := range opened.Sheets {
				b.tabs = append(b.tabs, newTab(s))
			}
			r.remarks(b, opened.Remarks)
			return nil
		}
	}
	return r.refusedBook(b, err)
}

// remarks tells what a workbook holds besides its sheets.
func (r *reading) remarks(b *book, remarks []string) {
	r.mu.Lock()
	defer r.mu.Unlock()
	for _, words := range remarks {
		r.folder.refused = append(r.folder.refused, Problem{File: b.entry.name, Cause: "besides", Effect: Noted, Places: []Place{{File: b.entry.name}}, Values: []string{""}, Sentence: b.entry.name + ": " + words})
	}
}

// refusedBook lists a workbook that cannot be read.
func (r *reading) refusedBook(b *book, err error) error {
	if done := r.ctx.Err(); done != nil {
		return done
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	r.folder.refuseBook(b.entry.name, asRefusal(err))
	return nil
}

// asRefusal gives the words of an error for the person who typed the file.
func asRefusal(err error) *refusal {
	var words *refusal
	var book *workbook.Refusal
	switch {
	case errors.As(err, &words):
		return words
	case errors.As(err, &book):
		return refuse(book.Cause, "it "+book.Says).do(book.Todo)
	}
	return refuse("unreadable", err.Error())
}

// settleTab finds the kind of a sheet by its name.
func (r *reading) settleTab(b *book, t *tab) error {
	f, name := r.folder, sheetName(b.entry.name, t.name)
	if hidden(t.name) {
		return nil
	}
	kind, known := schemas.Match(t.name)
	switch {
	case !known:
		return r.unknownTab(b, t, name)
	case f.plans[kind.Name] == nil:
		f.skip(name, "rows of "+kind.Name+" are not used here")
	case kind.Name == "rules" && r.opt.Rules != "":
		f.skip(name, "another rules file was named for this audit")
	case kind.Single && r.taken(kind):
		f.refuse(name, kind, refuse("second", "there is another file or sheet for "+kind.Name+", and only one can hold").do("keep one of the two"))
	default:
		r.slots = append(r.slots, &slot{plan: f.plans[kind.Name], book: b, tab: t, name: name})
	}
	return nil
}

// taken is true if there is a file or sheet of a single kind already.
func (r *reading) taken(kind *schemas.Kind) bool {
	for _, s := range r.slots {
		if s.plan.kind == kind {
			return true
		}
	}
	return false
}

// sheetName is how a sheet of a workbook is spoken of.
func sheetName(file, sheet string) string { return file + ", sheet " + sheet }

// unknownTab lists a sheet whose name is no kind. Where its headings are surely those of
// one, rows of that kind stand there unread.
func (r *reading) unknownTab(b *book, t *tab, name string) error {
	f, what := r.folder, "its name is no kind of record"
	if t.hidden {
		what = "it is hidden, and its name is no kind of record"
	}
	kinds, empty, err := looks(r.ctx, t, t.name, bareName(b.entry.name))
	kinds = slices.DeleteFunc(kinds, func(k *schemas.Kind) bool { return f.plans[k.Name] == nil })
	switch {
	case err != nil:
		return err
	case empty:
	case slices.Contains(kinds, named(b)) && kindNamed(t.name) == nil && !t.hidden: // loads.xlsx, Sheet1
		r.slots = append(r.slots, &slot{plan: f.plans[named(b).Name], book: b, tab: t, name: name})
	case slices.Contains(kinds, datedKind(t.name)) && !t.hidden: // loads June 2026
		r.slots = append(r.slots, &slot{plan: f.plans[datedKind(t.name).Name], book: b, tab: t, name: name})
	case len(kinds) == 1 || len(kinds) == 2:
		like, as := kinds[0].Name, kinds[0].Name
		if len(kinds) == 2 {
			like, as = like+" or "+kinds[1].Name, "after the one that it holds"
		}
		says := refuse("sheet-name", what+", and its headings look like "+like).
			do("name the sheet " + as + " (where there is one of that name already, put it into a workbook of its own), or begin its name with _ if it is no record")
		f.skip(name, says.Error())
		for _, kind := range kinds {
			f.lacks(name, kind, says)
		}
	default:
		f.skip(name, what+"; "+tabHint(t.name))
	}
	return nil
}

// named is the kind that a workbook is named after; nil if it is none.
func named(b *book) *schemas.Kind {
	kind, _ := schemas.Match(bareName(b.entry.name))
	return kind
}

// looks reads the first rows of a sheet for headings that are surely those of a kind, or
// of any of several.
func looks(ctx context.Context, t *tab, called ...string) (kinds []*schemas.Kind, empty bool, err error) {
	rows, most, m := 0, 2, newMerges(t.merged)
	err = t.rows(ctx, func(row *workbook.Row) error {
		if rows++; rows > lookRows {
			return errEnough
		}
		line := m.line(row, gridLine{})
		if !wordsOnly(line.cells, 3) {
			return nil
		}
		h := single(&line)
		h.called = called
		kinds, most = h.among(kinds, most)
		return nil
	})
	if done := ctx.Err(); done != nil {
		return nil, false, done
	}
	return kinds, rows == 0 && err == nil, nil
}

// among gives the kinds that headings are surely those of, where they name more fields
// than most; else the kinds that others gave.
func (h *heading) among(kinds []*schemas.Kind, most int) ([]*schemas.Kind, int) {
	for _, name := range schemas.Kinds() {
		kind, _ := schemas.Lookup(name)
		f := h.fits(kind)
		if kind.Single || !f.needed || f.known < 3 || 2*f.known <= len(h.cells) {
			continue
		}
		if f.known > most {
			kinds, most = nil, f.known
		}
		if f.known == most && !slices.Contains(kinds, kind) {
			kinds = append(kinds, kind)
		}
	}
	return kinds, most
}
