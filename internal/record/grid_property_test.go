package record

import (
	"cmp"
	"context"
	"reflect"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"footing/internal/workbook"
)

var gridWords = []string{"date", "cycle", "temp", "kind", "result", "lot no", "client", "Spore tests", "loads", "Total", "June 2026", "x", "a\tb", "a\nb", `"`, `a"b"`, "\r", "L 1", "L-1", "name", "value", "units.temperature", "coverage.1.kind", "council"}

func drawCell(rt *rapid.T, column int) workbook.Cell {
	kind := rapid.SampledFrom([]workbook.Kind{workbook.Text, workbook.Text, workbook.Text, workbook.Number, workbook.Day, workbook.Moment, workbook.Clock, workbook.Elapsed, workbook.YesNo, workbook.Fault}).Draw(rt, "kind")
	c := workbook.Cell{Column: column, Kind: kind, Formula: rapid.IntRange(0, 5).Draw(rt, "formula") == 0}
	c.Text = map[workbook.Kind]string{workbook.Number: rapid.SampledFrom([]string{"3", "46182.5", "-1", "1e300", "0.1"}).Draw(rt, "number"), workbook.Day: "2026-06-01", workbook.Moment: "2026-06-01 09:30",
		workbook.Clock: "09:30", workbook.Elapsed: "3 min 30 s", workbook.YesNo: "no", workbook.Fault: "#N/A"}[kind]
	if kind == workbook.Text {
		c.Text = rapid.SampledFrom(gridWords).Draw(rt, "text")
	}
	if kind == workbook.Number {
		c.Unit = rapid.SampledFrom([]string{"", "", "°C", "%", "\t\""}).Draw(rt, "unit")
	}
	return c
}

// Whatever stands in a sheet: the text of each table has a record for each row that it
// notes, with as many cells as columns, in order; and all that is told has its words.
func TestGridAnything(t *testing.T) {
	_, plans, err := bind(reflect.New(allKinds()).Interface())
	if err != nil {
		t.Fatal(err)
	}
	rapid.Check(t, func(rt *rapid.T) {
		var rows []workbook.Row
		number := 0
		for range rapid.IntRange(0, 80).Draw(rt, "rows") {
			number += rapid.SampledFrom([]int{1, 1, 1, 2, 900}).Draw(rt, "step")
			row := workbook.Row{Number: number, Hidden: rapid.IntRange(0, 9).Draw(rt, "hidden") == 0}
			for column := range rapid.IntRange(0, 9).Draw(rt, "width") {
				if rapid.IntRange(0, 3).Draw(rt, "there") > 0 {
					row.Cells = append(row.Cells, drawCell(rt, column))
				}
			}
			if rapid.IntRange(0, 20).Draw(rt, "far") == 0 {
				row.Cells = append(row.Cells, drawCell(rt, 16383))
			}
			rows = append(rows, row)
		}
		var merged []workbook.Range
		for range rapid.IntRange(0, 6).Draw(rt, "merges") {
			r := workbook.Range{FirstRow: rapid.IntRange(1, 40).Draw(rt, "first row"), FirstColumn: rapid.IntRange(0, 9).Draw(rt, "first column")}
			r.LastRow = r.FirstRow + rapid.SampledFrom([]int{0, 0, 1, 3, 1 << 20}).Draw(rt, "deep")
			r.LastColumn = r.FirstColumn + rapid.SampledFrom([]int{0, 0, 1, 3, 16383 - r.FirstColumn}).Draw(rt, "wide")
			merged = append(merged, r)
		}
		own := plans[rapid.SampledFrom([]string{"loads", "tests", "clients", "practice", "packs", "rules"}).Draw(rt, "kind")]
		if err := own.compile(); err != nil {
			rt.Fatal(err)
		}
		tab := &tab{name: "loads", merged: merged, hiddenColumns: []workbook.Range{{FirstColumn: 1, LastColumn: 16383}}, unstored: func() int { return 0 },
			rows: func(_ context.Context, yield func(*workbook.Row) error) error {
				var again workbook.Row
				for _, r := range rows {
					again = workbook.Row{Number: r.Number, Hidden: r.Hidden, Cells: append(again.Cells[:0], r.Cells...)}
					if err := yield(&again); err != nil {
						return err
					}
				}
				return nil
			}}
		l := &layout{file: "a.xlsx", tab: tab, own: own, plans: plans, budget: func(int) error { return nil }}
		if err := l.read(context.Background()); err != nil {
			rt.Fatal(err)
		}
		for _, at := range l.tables {
			if at.plan == nil {
				continue
			}
			c := scanner{text: string(at.text), comma: gridComma}
			records := 0
			for c.next() {
				if records++; c.wrong != nil || len(c.cells) != len(at.columns) {
					rt.Fatalf("record %d: %q has %d cells, not %d", records, c.cells, len(c.cells), len(at.columns))
				}
			}
			if !at.pairs {
				records--
			}
			if records != len(at.rows) {
				rt.Fatalf("%d records, %d rows in %q", records, len(at.rows), at.text)
			}
			if !slices.IsSortedFunc(at.rows, func(a, b gridRow) int { return cmp.Compare(a.number, b.number) }) {
				rt.Fatal("rows out of order")
			}
			src := &source{name: "a", plan: at.plan, text: string(at.text), grid: &grid{file: "a.xlsx", sheet: "loads", head: at.heading.row, pairs: at.pairs, rows: at.rows, odd: at.odd}}
			for _, c := range at.columns {
				src.grid.columns = append(src.grid.columns, c.at)
			}
			s := newSheet(context.Background(), src, settings{}, 1)
			if err := s.read(); err == nil {
				s.close()
				if s.file.Rows != s.file.Accepted+s.file.SetAside {
					rt.Fatalf("%+v", s.file)
				}
				for i := range s.file.Accepted {
					if row := s.rowOf(i); row.Place("").Row < 1 {
						rt.Fatalf("row %d has no place", i)
					}
				}
				for _, p := range append(s.told, l.told("a", "loads")...) {
					if p.Sentence == "" || len(p.Places) == 0 || len(p.Places) != len(p.Values) {
						rt.Fatalf("%+v", p)
					}
				}
			}
		}
	})
}
