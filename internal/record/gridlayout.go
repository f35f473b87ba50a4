package record

import (
	"context"
	"errors"
	"slices"

	"footing/internal/workbook"
	"footing/schemas"
)

// layout finds the tables in one sheet of a workbook as its rows go by, and makes of each
// a text that is read as a file is. It holds few rows at a time.
type layout struct {
	file   string
	tab    *tab
	own    *plan // of the kind that the sheet is named after
	plans  map[string]*plan
	set    settings
	budget func(bytes int) error

	merges  *merges
	queue   []gridLine // not yet looked at; once begun, at most two
	spent   gridLine
	begun   bool
	main    int // the row in which the headings are looked for first
	passed  int // rows up to this one are done with: the lower of two rows of headings
	titles  []titleCell
	open    []*gridTable // side by side
	tables  []*gridTable // all, in the order met
	notes   sheetNotes
	tried   int // rows that looked like headings
	before  int // the row before the one at hand
	lastRow int // the one at hand
}

// titleCell is a row of few words, which may be the title of a table below it.
type titleCell struct {
	row, column int
	text        string
}

// lookRows is among how many rows the headings are looked for.
const lookRows = 50

var errEnough = errors.New("enough rows were looked at")

// read takes in the whole sheet.
func (l *layout) read(ctx context.Context) error {
	l.merges = newMerges(l.tab.merged)
	if err := l.tab.rows(ctx, l.row); err != nil {
		return err
	}
	if !l.begun {
		l.begin()
	}
	for i := range l.queue {
		if err := l.take(&l.queue[i], after(l.queue, i)); err != nil {
			return err
		}
	}
	l.queue = nil
	return nil
}

func after(queue []gridLine, i int) *gridLine {
	if i+1 < len(queue) {
		return &queue[i+1]
	}
	return nil
}

// row takes in one row. What is done with it waits for the next one.
func (l *layout) row(r *workbook.Row) error {
	line := l.merges.line(r, l.spent)
	if l.spent = line; len(line.cells) == 0 {
		return nil
	}
	if l.merges.over {
		return errMerged
	}
	l.queue, l.spent = append(l.queue, line), gridLine{}
	if !l.begun {
		if len(l.queue) < lookRows {
			return nil
		}
		l.begin()
	}
	for len(l.queue) > 1 {
		if err := l.take(&l.queue[0], &l.queue[1]); err != nil {
			return err
		}
		l.spent = l.queue[0]
		l.queue = append(l.queue[:0], l.queue[1:]...)
	}
	return nil
}

// begin finds where the headings are among the first rows: in the row, or two rows, with
// most that are known, of those alike the first.
func (l *layout) begin() {
	l.begun = true
	if l.own.kind.Single && l.inPairs() {
		return
	}
	most := 0
	for i := range l.queue {
		line, next := &l.queue[i], after(l.queue, i)
		for _, h := range []heading{single(line), pairOf(line, next, l.own.kind)} {
			if n := h.fits(l.own.kind).known; n > most {
				most, l.main = n, line.number
			}
		}
	}
}

// pairOf is the heading that a row makes with the next one; nothing if they make none.
func pairOf(line, next *gridLine, kind *schemas.Kind) heading {
	if h, merged := double(line, next, kind); merged {
		return h
	}
	return heading{}
}

// take settles what one row is.
func (l *layout) take(line, next *gridLine) error {
	l.before, l.lastRow = l.lastRow, line.number
	if line.number <= l.passed {
		return nil
	}
	if line.hidden {
		l.notes.hiddenRow(line.number)
	}
	if len(l.open) == 1 && l.open[0].pairs {
		return l.takePair(l.open[0], line)
	}
	if l.repeats(line) {
		l.notes.add(noteRepeated, line.number, line.cells[0].Column, "")
		return nil
	}
	if line.number == l.main && len(l.open) == 0 || !l.own.kind.Single && l.mayHead(line) {
		if l.heads(line, next) {
			return nil
		}
	}
	defer l.remember(line)
	if len(l.open) == 0 {
		l.notes.above(line)
		return nil
	}
	return l.emit(line)
}

// repeats is true for headings that stand again, as at the top of a page.
func (l *layout) repeats(line *gridLine) bool {
	if len(l.open) == 0 || line.cells[0].Kind != workbook.Text {
		return false
	}
	same := 0
	for i := range line.cells {
		c := &line.cells[i]
		if h := l.headingAt(c.Column); h == nil || c.Kind != workbook.Text || !h.says(c.Text) {
			return false
		}
		same++
	}
	return same > 1 || len(l.open) == 1 && len(l.open[0].columns) == 1
}

// headingAt is the heading over a column of the open tables; nil if there is none.
func (l *layout) headingAt(column int) *headCell {
	for _, t := range l.open {
		if i, found := slices.BinarySearchFunc(t.cells, column, func(c headCell, at int) int { return c.column - at }); found {
			return &t.cells[i]
		}
	}
	return nil
}

// remember keeps words that may be the title of what follows.
func (l *layout) remember(line *gridLine) {
	l.titles = slices.DeleteFunc(l.titles, func(t titleCell) bool { return t.row < line.number-3 })
	if len(line.cells) <= 3 && wordsOnly(line.cells, 1) {
		for _, c := range line.cells {
			l.titles = append(l.titles, titleCell{line.number, c.Column, c.Text})
		}
	}
}
