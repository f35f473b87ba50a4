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
	pairs                   bool     // name and value
	from1904                bool     // the sheet's count of days
	titles                  []string // just above it, the nearest first

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
		c := gridColumn{at: t.cells[i].column, part: l.part, from1904: t.from1904}
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
	held, words, typed, formula, idle, dated, first := 0, 0, 0, true, true, false, ""
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
		if c.part != whole && cell.Kind == workbook.Moment {
			cell = t.partOf(c, cell, line)
		}
		if held++; held == 1 {
			first = cell.Text
		}
		if cell.Kind == workbook.Text {
			if words++; !cell.Formula {
				typed++
			}
		}
		formula = formula && cell.Formula
		dated = dated || !cell.Formula && (cell.Kind == workbook.Day || cell.Kind == workbook.Moment)
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
	}{{held == 1, oneCell}, {held == 2, twoCells}, {words == held, allWords}, {formula, formulas}, {idle, unticked}, {gap, afterGap}, {typed == 1 && !dated && totals(first), totalWord}} {
		if is.yes {
			m |= is.mark
		}
	}
	t.rows = append(t.rows, gridRow{uint32(line.number), m})
}

// partOf takes from a moment what its column is for: the day where its clock says only
// that none was typed, and the clock where its day is that of the row, or none at all.
func (t *gridTable) partOf(c *gridColumn, cell *workbook.Cell, line *gridLine) *workbook.Cell {
	day, clock, _ := strings.Cut(cell.Text, " ")
	part := *cell
	switch {
	case c.part == dayPart && clock == "00:00":
		part.Kind, part.Text = workbook.Day, day
	case c.part == clockPart && (day < firstDay || day == t.dayOf(c.field, line)):
		part.Kind, part.Text = workbook.Clock, clock
	}
	return &part
}

// dayOf is the day of a row under the heading that goes with that of a clock.
func (t *gridTable) dayOf(f *schemas.Field, line *gridLine) string {
	for _, c := range t.columns {
		if c.field == f && c.part == dayPart {
			if i, there := slices.BinarySearchFunc(line.cells, c.at, byColumn); there {
				day, _, _ := strings.Cut(line.cells[i].Text, " ")
				return day
			}
		}
	}
	return ""
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
