package workbook

import (
	"bytes"
	"context"
	"fmt"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"
	"pgregory.net/rapid"
)

// anyCell draws a cell in the ways in which the reader gives them.
func anyCell(t *rapid.T) Cell {
	day := func() string {
		return time.Date(1900, 3, 1, 0, 0, 0, 0, time.UTC).AddDate(0, 0, rapid.IntRange(0, 90_000).Draw(t, "day")).Format("2006-01-02")
	}
	clock := func() string {
		s := fmt.Sprintf("%02d:%02d", rapid.IntRange(0, 23).Draw(t, "hour"), rapid.IntRange(0, 59).Draw(t, "minute"))
		if n := rapid.IntRange(0, 59).Draw(t, "second"); n > 0 && rapid.Bool().Draw(t, "with seconds") {
			s += fmt.Sprintf(":%02d", n)
		}
		return s
	}
	switch rapid.IntRange(0, 5).Draw(t, "kind") {
	case 0:
		return Cell{Kind: Day, Text: day()}
	case 1:
		return Cell{Kind: Moment, Text: day() + " " + clock()}
	case 2:
		return Cell{Kind: Clock, Text: clock()}
	case 3:
		return Cell{Kind: Number, Text: rapid.SampledFrom([]string{"0", "121", "134.3", "0.1", "1234567.25", "123456789012345", "-2.5"}).Draw(t, "number")}
	case 4:
		return Cell{Kind: Text, Text: rapid.SampledFrom([]string{"=1+1", "007", "1-2", "+3", "@a", "1/2", "TRUE", "2026-03-31", "_x0041_", "_x005F_", "a\x00\x01b", "x\r\ny", "\uFDD0", "'quoted", "#N/A"}).Draw(t, "odd text")}
	}
	return Cell{Kind: Text, Text: rapid.StringN(1, 40, -1).Draw(t, "text")}
}

func anyTables(t *rapid.T) (tables []Table) {
	for i := range rapid.IntRange(1, 3).Draw(t, "sheets") {
		table := Table{Name: fmt.Sprintf("sheet %d", i), Fixed: rapid.IntRange(0, 1).Draw(t, "fixed"), Room: rapid.SampledFrom([]int{0, 3, FillPage}).Draw(t, "room")}
		if rapid.Bool().Draw(t, "titled") {
			table.Title, table.About = "Title", []string{"about it"}
		}
		wide := rapid.IntRange(1, 5).Draw(t, "columns")
		for c := range wide {
			table.Columns = append(table.Columns, Column{Heading: fmt.Sprintf("h%d", c), Note: rapid.SampledFrom([]string{"", "a note"}).Draw(t, "note"), Kind: rapid.SampledFrom([]Kind{Text, Number, Day, Moment, Clock, YesNo}).Draw(t, "column kind")})
		}
		for range rapid.IntRange(0, 4).Draw(t, "rows") {
			var row []Cell
			for c := range wide {
				if rapid.Bool().Draw(t, "filled") {
					cell := anyCell(t)
					cell.Column = c
					row = append(row, cell)
				}
			}
			table.Rows = append(table.Rows, row)
		}
		tables = append(tables, table)
	}
	return tables
}

// What is written comes back, through the library that wrote it: texts letter by
// letter, and everything else as the number that stands for it.
func TestWrittenCellsComeBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tables := anyTables(t)
		f, data := written(t, tables...)
		defer f.Close()
		var again bytes.Buffer
		require.NoError(t, Write(&again, tables))
		require.True(t, bytes.Equal(data, again.Bytes()), "the same tables give the same bytes")
		for _, table := range tables {
			for i, row := range table.Rows {
				for _, c := range row {
					at := Name(c.Column, table.top()+i+1)
					got, err := f.GetCellValue(table.Name, at, excelize.Options{RawCellValue: true})
					require.NoError(t, err)
					switch v, _ := c.value(); v := v.(type) {
					case string:
						require.Equal(t, c.Text, got, "%s %s %+v", table.Name, at, c)
					default:
						// The library gives 15 digits: a thousandth of a second is 1.2e-8 of a day.
						n, err := strconv.ParseFloat(got, 64)
						require.NoError(t, err)
						require.InDelta(t, v, n, 1e-8, "%s %s %+v", table.Name, at, c)
					}
				}
			}
		}
	})
}

// What is written comes back through our own reader: each cell with its kind and text.
func TestWrittenCellsAreRead(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tables := anyTables(t)
		f, data := written(t, tables...)
		f.Close()
		book, err := Open(data)
		require.NoError(t, err)
		for i, table := range tables {
			require.Equal(t, table.Name, book.Sheets[i].Name)
			require.False(t, book.Sheets[i].Hidden)
			got := map[int][]Cell{}
			require.NoError(t, book.Sheets[i].Rows(context.Background(), func(r *Row) error {
				got[r.Number] = append([]Cell(nil), r.Cells...)
				return nil
			}))
			for n, row := range table.Rows {
				require.Equal(t, readBack(row), readBack(got[table.top()+n+1]), "row %d", table.top()+n+1)
			}
			for number := range got {
				require.LessOrEqual(t, number, table.top()+len(table.Rows), "an empty row is no row")
			}
		}
	})
}

// readBack leaves out cells in which nothing but blanks stands, takes what is stored
// as text for text, and ends lines in one way.
func readBack(row []Cell) (kept []Cell) {
	for _, c := range row {
		if v, _ := c.value(); v == marked(c.Text) {
			c.Kind = Text
		}
		c.Text = strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(c.Text)
		if strings.TrimSpace(c.Text) != "" {
			kept = append(kept, c)
		}
	}
	return kept
}
