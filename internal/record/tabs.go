package record

import (
	"errors"
	"strings"
	"unsafe"

	"footing/internal/workbook"
	"footing/schemas"
)

// slot is a file of records, or a sheet of a workbook, in the order of what is read.
type slot struct {
	name   string
	plan   *plan
	entry  *entry // of a file; nil for a sheet
	book   *book
	tab    *tab
	sheets []*sheet
}

// file is the name of the slot's file.
func (s *slot) file() string {
	if s.book != nil {
		return s.book.entry.name
	}
	return s.name
}

func (s *slot) weight() int64 {
	if s.book != nil {
		return s.book.entry.info.Size() / int64(max(1, s.book.left.Load()))
	}
	return s.entry.info.Size()
}

// read reads the slot's rows.
func (r *reading) read(s *slot) error {
	if s.entry != nil {
		got, err := r.record(s.entry)
		if got != nil {
			s.sheets = []*sheet{got}
		}
		return err
	}
	err := r.readTab(s)
	if size := s.book.entry.info.Size(); err == nil {
		n := int64(s.book.left.Load())
		r.progress(size / n)
	}
	return err
}

// readTab reads the tables of one sheet of a workbook.
func (r *reading) readTab(s *slot) error {
	if err := s.plan.compile(); err != nil {
		return err
	}
	l := &layout{file: s.file(), tab: s.tab, own: s.plan, plans: r.folder.plans, set: r.set, budget: s.book.budget}
	if err := l.read(r.ctx); err != nil {
		if errors.Is(err, errTooMuch) {
			return nil // the whole workbook is refused when all are done
		}
		return r.refusedTab(s.name, s.plan.kind, err)
	}
	first := true
	for _, t := range l.tables {
		if t.plan == nil {
			if err := r.leftOut(l, t); err != nil {
				return err
			}
			continue
		}
		name := s.name
		if t.plan != s.plan || !first {
			name += ", table at " + workbook.Name(t.firstColumn, t.heading.first)
		}
		first = first && t.plan != s.plan
		sheet, err := r.table(l, t, name, s.book.sum)
		if err != nil {
			if err := r.refusedTab(name, t.plan.kind, err); err != nil {
				return err
			}
			continue
		}
		s.sheets = append(s.sheets, sheet)
	}
	if len(l.tables) == 0 {
		return r.noTable(s, l)
	}
	r.tellTab(s, l)
	return nil
}

// budget counts what the tables of a workbook hold.
func (b *book) budget(bytes int) error {
	if b.held.Add(int64(bytes)) > mostHeld {
		b.over.Store(true)
	}
	if b.over.Load() {
		return errTooMuch
	}
	return nil
}

// table reads the rows of one table.
func (r *reading) table(l *layout, t *gridTable, name, sum string) (*sheet, error) {
	src := &source{name: name, plan: t.plan, format: formatCSV, text: unsafe.String(unsafe.SliceData(t.text), len(t.text)),
		grid: &grid{file: l.file, sheet: l.tab.name, titles: t.titles, head: t.heading.row, pairs: t.pairs, rows: t.rows, odd: t.odd}}
	for _, c := range t.columns {
		src.grid.columns = append(src.grid.columns, c.at)
	}
	s, err := r.rows(src, File{Name: name, SHA256: sum, Kind: t.plan.kind.Name, Encoding: encodingWorkbook})
	if err != nil {
		return nil, err
	}
	if t.pairs {
		s.told = append(s.told, t.failedPairs(name)...)
	}
	s.close()
	return s, nil
}

// tellTab gives what was met in a sheet besides its tables to the first of them.
func (r *reading) tellTab(s *slot, l *layout) {
	if len(s.sheets) == 0 {
		return
	}
	at := s.sheets[0]
	at.told = append(at.told, l.told(at.src.name, at.plan.kind.Name)...)
	if n := s.tab.unstored(); n > 0 {
		todo := "open the workbook in a spreadsheet program, save it, and run again"
		words := timesWords(n, "formula") + map[bool]string{true: " holds", false: " hold"}[n == 1] + " no result, so that what should stand there is not known"
		at.told = append(at.told, Problem{File: at.src.name, Kind: s.plan.kind.Name, Cause: "no-result", Effect: Dropped, Todo: todo, Values: []string{""},
			Places: []Place{{File: l.file, Sheet: l.tab.name}}, Sentence: at.src.name + ": " + words + "; " + todo + "; until then " + map[bool]string{true: "it counts", false: "they count"}[n == 1] + " as not written"})
	}
}

// noTable settles a sheet without headings: nothing is lost if it is empty.
func (r *reading) noTable(s *slot, l *layout) error {
	if l.lastRow == 0 {
		sheet, err := r.rows(&source{name: s.name, plan: s.plan, grid: &grid{file: l.file, sheet: l.tab.name}}, File{Name: s.name, SHA256: s.book.sum, Kind: s.plan.kind.Name, Encoding: encodingWorkbook})
		if err == nil {
			sheet.close()
			s.sheets = append(s.sheets, sheet)
		}
		return err
	}
	says := "none of its first rows (" + strings.Join(l.notes.words, ", ") + " …) holds headings of " + s.plan.kind.Name
	if l.loose() {
		return r.notRecords(s.name, headless(s.plan, says, giveHeadings))
	}
	return r.refusedTab(s.name, s.plan.kind, headless(s.plan, says, "let one row hold the headings, such as "))
}

const giveHeadings = "give its columns headings such as "

// headless refuses what holds no heading of its kind.
func headless(p *plan, says, todo string) *refusal {
	some := sheet{plan: p}
	return refuse("headings", says).do(todo + some.usualHeadings() + ", or begin its name with _ if it is no record")
}

// loose is true for a sheet that is known by another word for its kind alone, such as
// "to do": without one heading of the kind it may well be no record.
func (l *layout) loose() bool {
	return l.main == 0 && schemas.Fold(l.tab.name) != schemas.Fold(l.own.kind.Name)
}

// notRecords lists a sheet, or a table of one, that may be no record at all.
func (r *reading) notRecords(name string, says *refusal) error {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.folder.skip(name, says.Error())
	return nil
}

// leftOut tells of a table whose kind cannot be told. Rows of each kind that it may be of
// stand there unread.
func (r *reading) leftOut(l *layout, t *gridTable) error {
	name := sheetName(l.file, l.tab.name) + ", table at " + workbook.Name(t.firstColumn, t.heading.first)
	if t.unused {
		r.mu.Lock()
		defer r.mu.Unlock()
		r.folder.skip(name, "rows of "+t.doubt[0].Name+" are not used here")
		return nil
	}
	if t.lastRow <= t.heading.row {
		return nil // headings without a row under them
	}
	if l.loose() && len(t.doubt) == 1 && t.doubt[0] == l.own.kind {
		return r.notRecords(name, headless(l.own, "it holds no headings of "+l.own.kind.Name, giveHeadings))
	}
	var names []string
	for _, k := range t.doubt {
		names = append(names, k.Name)
	}
	says := refuse("second-table", "it is a table of its own (cells "+t.where()+"), and whether it holds "+orList(append(names, "something else"))+" cannot be told").
		do("put it on a sheet of its own, named after the kind that it holds, or write the name of the kind into a cell just above its headings")
	r.mu.Lock()
	defer r.mu.Unlock()
	r.folder.skip(name, says.Error())
	for _, k := range t.doubt {
		r.folder.lacks(name, k, says)
	}
	return nil
}

// refusedTab lists a sheet, or a table of one, that cannot be read.
func (r *reading) refusedTab(name string, kind *schemas.Kind, err error) error {
	if done := r.ctx.Err(); done != nil {
		return done
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	r.folder.refuse(name, kind, asRefusal(err))
	return nil
}

// tooMuch refuses the workbooks whose tables hold more than can be kept.
func (r *reading) tooMuch() {
	for _, b := range r.folder.books {
		if b.over.Load() {
			r.folder.refuseBook(b.entry.name, refuse("too-much", "its sheets hold more than "+bytesWords(mostHeld)+" of text").do("split it into several workbooks"))
		}
	}
	for _, s := range r.slots {
		if s.book != nil && s.book.over.Load() {
			s.sheets = nil
		}
	}
}
