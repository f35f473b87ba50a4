package record

import (
	"slices"
	"strings"

	"footing/internal/workbook"
	"footing/schemas"
)

// gridTable is one table of a sheet as its text is made.
type gridTable struct {
	heading
	file, tab               string
	plan                    *plan           // nil for one that is left out
	doubt                   []*schemas.Kind // then the kinds that it may be of
	unused                  bool            // it is left out since nobody asked for its kind
	columns                 []gridColumn
	byColumn                []*lane // by the kind's columns, to try values with
	firstColumn, lastColumn int
	lastRow                 int
	pairs                   bool // name and value

	text []byte
	rows []gridRow
	odd  []oddity
	last int // the row last met
}

// bare makes the columns of a table that is left out.
func (t *gridTable) bare() {
	t.plan = nil
	for _, c := range t.cells {
		t.columns = append(t.columns, gridColumn{at: c.column})
	}
}

// lanes finds what each column is for, and writes the headings.
func (t *gridTable) lanes(set settings) {
	s := &sheet{plan: t.plan, set: set, pairs: map[int]*pair{}, byColumn: make([]*lane, len(t.plan.cols))}
	s.beyond = &lane{sheet: s}
	var lanes []*lane
	for i, c := range t.cells {
		l := s.lane(c.text)
		l.cell = i
		lanes = append(lanes, l)
		if i > 0 {
			t.text = append(t.text, gridComma)
		}
		t.text = appendQuoted(t.text, c.text)
	}
	t.text = append(t.text, '\n')
	t.byColumn = s.byColumn
	for i, l := range lanes { // only now each heading's part is settled
		c := gridColumn{at: t.cells[i].column, part: l.part}
		if l.col != nil {
			c.field = l.col.field
		}
		t.columns = append(t.columns, c)
	}
}

// cover counts a row to a table that is left out, if it holds anything there.
func (t *gridTable) cover(line *gridLine) {
	for i := range line.cells {
		if c := line.cells[i].Column; t.firstColumn <= c && c <= t.lastColumn {
			t.lastRow = line.number
			return
		}
	}
}

// where is the block of cells that the table takes up.
func (t *gridTable) where() string {
	return workbook.Name(t.firstColumn, t.first) + ":" + workbook.Name(t.lastColumn, t.lastRow)
}

// add puts a row into the text of the table, if it holds anything there.
func (t *gridTable) add(line *gridLine) {
	if t.plan == nil {
		t.cover(line)
		return
	}
	from := len(t.text)
	held, words, typed, formula, idle, first := 0, 0, 0, true, true, ""
	i := 0
	for k := range t.columns {
		c := &t.columns[k]
		if k > 0 {
			t.text = append(t.text, gridComma)
		}
		for i < len(line.cells) && line.cells[i].Column < c.at {
			i++
		}
		if i == len(line.cells) || line.cells[i].Column != c.at {
			continue
		}
		cell := &line.cells[i]
		if held++; held == 1 {
			first = cell.Text
		}
		if cell.Kind == workbook.Text {
			if words++; !cell.Formula {
				typed++
			}
		}
		formula = formula && cell.Formula
		idle = idle && (cell.Formula || cell.Kind == workbook.YesNo && cell.Text == "no")
		was := len(t.text)
		var what strange
		if t.text, what = c.appendCell(t.text, cell); what != 0 {
			o := oddity{row: uint32(len(t.rows)), column: uint16(k), what: what, text: cell.Text}
			t.odd = append(t.odd, o)
		}
		if len(t.text) == was && len(t.columns) == 1 { // a line must not be empty
			t.text = append(t.text, '"', '"')
		}
	}
	gap := line.number > t.last+1
	t.last = line.number
	if held == 0 {
		t.text = t.text[:from]
		return
	}
	t.lastRow = line.number
	t.text = append(t.text, '\n')
	var m marks
	for _, is := range []struct {
		yes  bool
		mark marks
	}{{held == 1, oneCell}, {held == 2, twoCells}, {words == held, allWords}, {formula, formulas}, {idle, unticked}, {gap, afterGap}, {typed == 1 && totals(first), totalWord}} {
		if is.yes {
			m |= is.mark
		}
	}
	t.rows = append(t.rows, gridRow{uint32(line.number), m})
}

// totals is true for the words that stand before a total.
func totals(text string) bool {
	word, _, _ := strings.Cut(strings.ToLower(trim(text)), " ")
	switch strings.TrimRight(word, ":.=") {
	case "total", "totals", "sum", "subtotal", "sub-total", "average", "avg", "mean", "count", "grand", "minimum", "maximum", "min", "max":
		return true
	}
	return false
}

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
	return l.budget(grown)
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
		if c.Column < part.cells[0].Column {
			rest.cells = append(rest.cells, c)
		}
	}
	for _, o := range l.open {
		o.add(&rest)
	}
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
