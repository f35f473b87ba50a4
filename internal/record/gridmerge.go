package record

import (
	"cmp"
	"slices"
	"strconv"

	"footing/internal/workbook"
)

// gridLine is a row of a sheet, with what merged cells give to it.
type gridLine struct {
	number int
	hidden bool
	given  bool // cells merged with those of an earlier row gave it something
	cells  []workbook.Cell
	across []workbook.Range // merged cells that begin in it and go over several columns
}

// merges gives the value of cells merged downwards to every row that they cover.
type merges struct {
	list []workbook.Range // by first row
	next int
	down []downMerge // by column
	room []workbook.Cell
	over bool // more lie over one row than are followed
}

// downMerge is a block of merged cells over several rows that is not yet left.
type downMerge struct {
	workbook.Range
	cell workbook.Cell
}

// mostDown is how many blocks of cells merged downwards may lie over one row: each costs
// a cell in every row that it covers.
const mostDown = 200

var errMerged = refuse("merged", "it has a row that more than "+strconv.Itoa(mostDown)+" blocks of merged cells lie over").do("take the merging off in the spreadsheet program")

func newMerges(list []workbook.Range) *merges {
	list = slices.Clone(list)
	slices.SortStableFunc(list, func(a, b workbook.Range) int {
		return cmp.Or(cmp.Compare(a.FirstRow, b.FirstRow), cmp.Compare(a.FirstColumn, b.FirstColumn))
	})
	return &merges{list: list}
}

// line copies a row, which is used again for the next one, and fills it. old is a line
// that is no longer needed.
func (m *merges) line(row *workbook.Row, old gridLine) gridLine {
	l := gridLine{number: row.Number, hidden: row.Hidden, cells: old.cells[:0], across: old.across[:0]}
	for _, c := range row.Cells {
		if c.Kind != workbook.Text || trim(c.Text) != "" {
			l.cells = append(l.cells, c)
		}
	}
	m.down = slices.DeleteFunc(m.down, func(d downMerge) bool { return d.LastRow < row.Number })
	m.fill(&l)
	for ; m.next < len(m.list) && m.list[m.next].FirstRow <= row.Number; m.next++ {
		r := m.list[m.next]
		if r.FirstRow < row.Number { // the row in which it begins holds nothing
			continue
		}
		if r.LastColumn > r.FirstColumn {
			l.across = append(l.across, r)
		}
		if r.LastRow > r.FirstRow {
			m.follow(r, l.cells)
		}
	}
	return l
}

func byColumn(c workbook.Cell, column int) int { return cmp.Compare(c.Column, column) }

// follow notes a block of merged cells that begins in a row and goes on below it.
func (m *merges) follow(r workbook.Range, cells []workbook.Cell) {
	i, there := slices.BinarySearchFunc(cells, r.FirstColumn, byColumn)
	if !there {
		return
	}
	if m.over = m.over || len(m.down) >= mostDown; m.over {
		return
	}
	at, _ := slices.BinarySearchFunc(m.down, r.FirstColumn, func(d downMerge, column int) int { return cmp.Compare(d.FirstColumn, column) })
	m.down = slices.Insert(m.down, at, downMerge{r, cells[i]})
}

// fill gives a row the values of the blocks that lie over it, where it has none itself.
func (m *merges) fill(l *gridLine) {
	if len(m.down) == 0 {
		return
	}
	m.room = append(m.room[:0], l.cells...)
	own, cells := m.room, l.cells[:0]
	for _, d := range m.down {
		i, there := slices.BinarySearchFunc(own, d.FirstColumn, byColumn)
		cells, own = append(cells, own[:i]...), own[i:]
		if !there && (len(cells) == 0 || cells[len(cells)-1].Column != d.FirstColumn) {
			cells = append(cells, d.cell)
			l.given = true
		}
	}
	l.cells = append(cells, own...)
}
