package record

import (
	"slices"

	"footing/internal/workbook"
)

// emit gives a row to the tables that are open.
func (l *layout) emit(line *gridLine) error {
	if r, ok := l.wide(line); ok {
		l.notes.add(noteSection, line.number, r.FirstColumn, trim(line.cells[0].Text))
		return nil
	}
	if l.side(line) {
		return nil
	}
	if line.given {
		l.notes.add(noteMerged, line.number, 0, "")
	}
	size := 0 // counted before: one row of texts that many cells share may be more than can be held
	for i := range line.cells {
		size += len(line.cells[i].Text)
	}
	if err := l.budget(size); err != nil {
		return err
	}
	grown := 0
	for i := 0; i < len(l.open); i++ {
		t := l.open[i]
		if n := l.below(t, line); n != nil {
			l.open[i] = n
			continue
		}
		was := len(t.text)
		t.add(line)
		grown += len(t.text) - was
	}
	l.strays(line)
	return l.budget(grown - size)
}

// wide is true for a row that is one cell merged over several columns.
func (l *layout) wide(line *gridLine) (workbook.Range, bool) {
	if len(line.cells) != 1 || len(line.across) != 1 {
		return workbook.Range{}, false
	}
	r := line.across[0]
	return r, r.FirstColumn == line.cells[0].Column && (r.LastColumn-r.FirstColumn >= 2 || len(l.open) == 1 && r.LastColumn >= l.open[0].lastColumn)
}

// beside are the cells of a row that stand outside all open tables.
func (l *layout) beside(line *gridLine) (cells []workbook.Cell) {
	for _, c := range line.cells {
		if !slices.ContainsFunc(l.open, func(t *gridTable) bool { return t.firstColumn <= c.Column && c.Column <= t.lastColumn }) {
			cells = append(cells, c)
		}
	}
	return cells
}

// side begins a table beside those that are open where headings stand there.
func (l *layout) side(line *gridLine) bool {
	last := line.cells[len(line.cells)-1].Column
	if l.weary() || slices.ContainsFunc(l.open, func(t *gridTable) bool { return last <= t.lastColumn }) {
		return false
	}
	part := gridLine{number: line.number, cells: l.beside(line)}
	if len(part.cells) == 0 || !aboutHeadings(part.cells) {
		return false
	}
	if h := single(&part); !l.heading(&h, line) {
		return false
	}
	rest := gridLine{number: line.number, hidden: line.hidden}
	for _, c := range line.cells {
		if slices.ContainsFunc(l.open, func(t *gridTable) bool { return t.firstColumn <= c.Column && c.Column <= t.lastColumn }) {
			rest.cells = append(rest.cells, c)
		}
	}
	for _, o := range l.open {
		o.add(&rest)
	}
	l.strays(&rest)
	t := l.newTable(single(&part), false)
	l.tables, l.open = append(l.tables, t), append(l.open, t)
	return true
}

// below gives the table that takes the place of one of several side by side, where
// headings stand under it; else nil.
func (l *layout) below(t *gridTable, line *gridLine) *gridTable {
	if len(l.open) < 2 || l.weary() {
		return nil
	}
	part := gridLine{number: line.number}
	for _, c := range line.cells {
		if t.firstColumn <= c.Column && c.Column <= t.lastColumn {
			part.cells = append(part.cells, c)
		}
	}
	if len(part.cells) == 0 || !aboutHeadings(part.cells) || t.keepable(&part) {
		return nil
	}
	if h := single(&part); !l.heading(&h, line) {
		return nil
	}
	n := l.newTable(single(&part), false)
	n.last = line.number
	l.tables = append(l.tables, n)
	return n
}

// strays counts the cells that stand under no heading.
func (l *layout) strays(line *gridLine) {
	for i := range line.cells {
		c := &line.cells[i]
		if !l.under(c.Column) && !(c.Kind == workbook.Text && trim(c.Text) == "") {
			l.notes.stray(c.Column, line.number, c.Text)
		}
	}
}

// under is true for a column that has a heading.
func (l *layout) under(column int) bool {
	for _, t := range l.open {
		if _, found := slices.BinarySearchFunc(t.columns, column, func(c gridColumn, at int) int { return c.at - at }); found {
			return true
		}
	}
	return false
}
