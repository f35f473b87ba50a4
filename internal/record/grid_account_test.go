package record

import (
	"context"
	"maps"
	"reflect"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"footing/internal/workbook"
)

// Nothing in a sheet is lost without a word: each cell stands in a row of a table, in its
// headings, in a block of cells that is told as left out, or is counted among what is told.
func TestGridLosesNothing(t *testing.T) {
	_, plans, err := bind(reflect.New(allKinds()).Interface())
	if err != nil {
		t.Fatal(err)
	}
	rapid.Check(t, func(rt *rapid.T) {
		var rows []workbook.Row
		headings := [][]string{{"date", "cycle", "temp"}, {"date", "kind", "result"}, {"client", "date", "person"}, {"name", "council", "dates"}}
		number := 0
		for range rapid.IntRange(0, 30).Draw(rt, "rows") {
			number += rapid.SampledFrom([]int{1, 1, 1, 2}).Draw(rt, "step")
			row := workbook.Row{Number: number}
			for column, width := 0, rapid.IntRange(1, 12).Draw(rt, "width"); column < width; column++ {
				switch rapid.IntRange(0, 6).Draw(rt, "what") {
				case 0, 1:
				case 2:
					for _, text := range rapid.SampledFrom(headings).Draw(rt, "headings") {
						row.Cells = append(row.Cells, workbook.Cell{Column: column, Text: text})
						column++
					}
				default:
					row.Cells = append(row.Cells, drawCell(rt, column))
				}
			}
			if len(row.Cells) > 0 {
				rows = append(rows, row)
			}
		}
		own := plans[rapid.SampledFrom([]string{"loads", "tests", "packs", "practice"}).Draw(rt, "kind")]
		if err := own.compile(); err != nil {
			rt.Fatal(err)
		}
		l := &layout{file: "a.xlsx", own: own, plans: plans, budget: func(int) error { return nil }, tab: &tab{name: "loads", unstored: func() int { return 0 },
			rows: func(_ context.Context, yield func(*workbook.Row) error) error {
				for i := range rows {
					if err := yield(&rows[i]); err != nil {
						return err
					}
				}
				return nil
			}}}
		if err := l.read(context.Background()); err != nil {
			rt.Fatal(err)
		}
		if len(l.tables) == 0 {
			return // the sheet is refused as a whole
		}
		left, rowsTold := map[int]int{}, 0 // left: cells of a column that nothing tells of, but a row that is told as a whole
		for column, n := range l.notes.astray {
			left[column] = -n.count
		}
		for _, n := range l.notes.said {
			rowsTold += n.count
		}
		var unread [][]int
		for _, row := range rows {
			var columns []int
			for _, c := range row.Cells {
				if trim(c.Text) != "" && !l.accounts(row.Number, c.Column) {
					columns = append(columns, c.Column)
					left[c.Column]++
				}
			}
			if columns != nil {
				unread = append(unread, columns)
			}
		}
		if !coveredBy(rowsTold, unread, left) {
			rt.Fatalf("of %d rows that hold something unread %d are told of, which leaves %v", len(unread), rowsTold, left)
		}
	})
}

// coveredBy reports whether some of the rows, as many as are told, hold all cells that are left.
func coveredBy(told int, unread [][]int, left map[int]int) bool {
	for column, n := range left {
		if n <= 0 {
			continue
		}
		for i, columns := range unread {
			if told == 0 || !slices.Contains(columns, column) {
				continue
			}
			after := maps.Clone(left)
			for _, c := range columns {
				after[c]--
			}
			if coveredBy(told-1, slices.Delete(slices.Clone(unread), i, i+1), after) {
				return true
			}
		}
		return false
	}
	return true
}

// accounts is true for a cell of a table, of its headings, or of a block that is told.
func (l *layout) accounts(row, column int) bool {
	if r := l.notes.upTo; r.FirstRow <= row && row <= r.LastRow && r.FirstColumn <= column && column <= r.LastColumn {
		return true
	}
	for _, t := range l.tables {
		if t.plan == nil && t.first <= row && row <= t.lastRow && t.firstColumn <= column && column <= t.lastColumn {
			return true
		}
		under := false
		for _, c := range t.columns {
			under = under || c.at == column
		}
		if !under {
			continue
		}
		if !t.pairs && t.first <= row && row <= t.heading.row {
			return true
		}
		for _, r := range t.rows {
			if int(r.number) == row {
				return true
			}
		}
	}
	return false
}
