package record

import (
	"context"
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
		left, rowsLost, rowsTold := map[int]int{}, 0, 0
		for column, n := range l.notes.astray {
			left[column] = n.count
		}
		for _, n := range l.notes.said {
			rowsTold += n.count
		}
		for _, row := range rows {
			var unread []int
			for _, c := range row.Cells {
				if trim(c.Text) != "" && !l.accounts(row.Number, c.Column) {
					unread = append(unread, c.Column)
				}
			}
			if slices.ContainsFunc(unread, func(column int) bool { return left[column] == 0 }) {
				rowsLost++
				continue
			}
			for _, column := range unread {
				left[column]--
			}
		}
		if rowsLost > rowsTold {
			rt.Fatalf("%d rows hold something that is lost, %d are told of", rowsLost, rowsTold)
		}
	})
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
