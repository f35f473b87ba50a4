package record

import (
	"cmp"
	"slices"

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
	down []downMerge
}

// downMerge is a block of merged cells over several rows that is not yet left.
type downMerge struct {
	workbook.Range
	cell workbook.Cell
}

// mostDown is how many blocks of cells merged downwards are followed at once.
const mostDown = 1000

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
	for _, d := range m.down {
		i, there := slices.BinarySearchFunc(l.cells, d.FirstColumn, func(c workbook.Cell, column int) int { return cmp.Compare(c.Column, column) })
		if !there {
			l.cells = slices.Insert(l.cells, i, d.cell)
			l.given = true
		}
	}
	for ; m.next < len(m.list) && m.list[m.next].FirstRow <= row.Number; m.next++ {
		r := m.list[m.next]
		if r.FirstRow < row.Number { // the row in which it begins holds nothing
			continue
		}
		if r.LastColumn > r.FirstColumn {
			l.across = append(l.across, r)
		}
		if r.LastRow > r.FirstRow && len(m.down) < mostDown {
			if i := slices.IndexFunc(l.cells, func(c workbook.Cell) bool { return c.Column == r.FirstColumn }); i >= 0 {
				m.down = append(m.down, downMerge{r, l.cells[i]})
			}
		}
	}
	return l
}
