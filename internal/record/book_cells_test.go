package record

import (
	"testing"

	"github.com/xuri/excelize/v2"
)

// formatted gives cells of the sheet loads a number format.
func formatted(t *testing.T, f *excelize.File, format string, cells ...string) {
	t.Helper()
	style, err := f.NewStyle(&excelize.Style{CustomNumFmt: &format})
	if err != nil {
		t.Fatal(err)
	}
	for _, at := range cells {
		if err := f.SetCellStyle("loads", at, at, style); err != nil {
			t.Fatal(err)
		}
	}
}

// Day and clock in two columns, lengths of time, and units that only the format shows.
func TestBookFormats(t *testing.T) {
	text := `
date|time|temp|hold time|drying|packs|batch
d:2026-06-01|n:0.5625|n:134|n:0.00243055555555556|n:0.0208333333333333|n:8|n:7
d:2026-06-02||n:134|n:3.5|n:0.00243055555555556||n:8
d:2026-06-03|n:0.604166666666667|||n:0.145833333333333|n:9|n:9
`
	rec, in := fill(t, map[string]string{"a.xlsx": bookOf(t, []sheetText{{"loads", text}}, func(f *excelize.File) {
		formatted(t, f, "hh:mm", "B2")
		formatted(t, f, "[h]:mm", "B4", "E2")
		formatted(t, f, "mm:ss", "D2")
		formatted(t, f, `0" °C"`, "C2", "C3")
		formatted(t, f, `0.0" min"`, "D3")
		formatted(t, f, "hh:mm:ss", "E3")
		formatted(t, f, "hh:mm", "E4")
		formatted(t, f, `0" packs"`, "F2", "F4")
	})})
	l := rec.Loads
	if len(l) != 3 || l[0].Started.String() != "2026-06-01 13:30" || l[0].Temperature.String() != "134 °C" || l[0].Exposure.String() != "3 min 30 s" || l[0].Drying.String() != "30 min" ||
		l[0].PacksMade.Value != 8 || l[0].ID != "7" || l[1].Started.String() != "2026-06-02" || l[1].Exposure.String() != "3.5 min" || l[2].Started.String() != "2026-06-03 14:30" {
		t.Errorf("%+v", l)
	}
	if got := l[1].Drying.String(); got != "3 min 30 s" {
		t.Errorf("drying %q: with its hours written it can be read one way only", got)
	}
	wantLines(t, "told", sentences(in),
		`a.xlsx, sheet loads, row 4, column "drying" (cell E4): "03:30" could be hours and minutes, or minutes and seconds; look at which it was, and write it in the form 2 h 30 min or 2 min 30 s; until then it counts as not written`)
}

// A formula counts by the result that was stored; where none was, it is said what to do.
func TestBookFormulas(t *testing.T) {
	rows, in := bookLoads(t, "date|cycle|temp\nd:2026-06-01|n:1|134 °C\nd:2026-06-02|n:2|134 °C\n", func(f *excelize.File) {
		if err := f.SetCellFormula("loads", "B3", "B2+1"); err != nil {
			t.Fatal(err)
		}
		if err := f.SetCellFormula("loads", "C4", "C3"); err != nil {
			t.Fatal(err)
		}
	})
	wantLines(t, "rows", rows, "june.xlsx, sheet loads, row 2=2026-06-01/1/134 °C/", "june.xlsx, sheet loads, row 3=2026-06-02/2/134 °C/")
	wantLines(t, "told", sentences(in), "june.xlsx, sheet loads: 1 formula holds no result, so that what should stand there is not known; open the workbook in a spreadsheet program, save it, and run again; until then it counts as not written")
	if p := in.Problems[0]; p.Effect != Dropped || len(p.Places) != len(p.Values) {
		t.Errorf("%+v", p)
	}
}

// What cannot be kept and may still be a record is set aside, with its id known.
func TestBookDoubtfulRows(t *testing.T) {
	text := "date|cycle|temp|inside strip|id\nd:2026-06-01|1|134 °C|ok|L-1\n||||L-2\n4 Marhc 2026||||\nJune 2026||||\n|||pass|\n|n:7|||\n"
	_, in := bookLoads(t, text)
	wantLines(t, "set aside", told(in, SetAside),
		`june.xlsx, sheet loads, column "date", 3 rows (the first: row 3, cell A3): nothing is written, and every row of loads needs it; write it if it is known; until then 3 rows are set aside`,
		`june.xlsx, sheet loads, row 4, column "date" (cell A4): "4 Marhc 2026" is not a date that can be read; write year, month and day, in the form 2026-03-31; until then the row is set aside`)
	wantLines(t, "noted", told(in, Noted), `june.xlsx, sheet loads, row 5: "June 2026" is taken for a title or a note, and not for a record`)
	if in.StateOf("loads", "L-2") != IDSetAside || in.Files[0].Rows != 5 {
		t.Errorf("%v %+v", in.StateOf("loads", "L-2"), in.Files[0])
	}
}

// A word that totals begin with is none beside other words; a title in a workbook's middle
// does not hide what stands under it.
func TestBookNoTotal(t *testing.T) {
	_, in := fill(t, map[string]string{"a.xlsx": bookOf(t, []sheetText{{"loads", "batch|date|temp|fault\nTotal|31 Juni|134 °C|door\nMean||n:134\n"}})})
	if in.Files[0].Rows != 1 || in.Files[0].SetAside != 1 || in.StateOf("loads", "Mean") != IDSetAside {
		t.Errorf("%+v %q", in.Files[0], sentences(in))
	}
}

// A table of one column has rows of one cell.
func TestBookOneColumn(t *testing.T) {
	rows, in := bookLoads(t, "\ndate\nd:2026-06-01\n3 June\nd:2026-06-02\n")
	if len(rows) != 2 || in.Files[0].SetAside != 1 {
		t.Errorf("%q %q", rows, sentences(in))
	}
}

// A workbook named after a kind may hold its sheets under any name.
func TestBookNamedAfterKind(t *testing.T) {
	rec, in := fill(t, map[string]string{"loads.xlsx": bookOf(t, []sheetText{{"Sheet1", "date|cycle no|temp\nd:2026-06-01|1|134 °C"}, {"loads (2)", "date|cycle no|temp\nd:2026-06-01|1|134 °C"}, {"notes", "a|b\n1|2"}})})
	if len(rec.Loads) != 1 || rec.Loads[0].File() != "loads.xlsx, sheet Sheet1" || len(in.NotRead) != 2 {
		t.Errorf("%+v %+v", rec.Loads, in.NotRead)
	}
}

// A workbook whose tables hold too much is refused as a whole, whichever sheet is read first.
func TestBookTooMuch(t *testing.T) {
	defer func(n int64) { mostHeld = n }(mostHeld)
	mostHeld = 100
	text := "date|note\nd:2026-06-01|some words that are long\nd:2026-06-02|and more of them, so that it is too much\n"
	book := bookOf(t, []sheetText{{"loads", text}, {"log book", text}})
	for range 5 {
		rec, in := fill(t, map[string]string{"a.xlsx": book, "loads.csv": "date\n2026-01-01\n"})
		if len(rec.Loads) != 1 || len(in.Files) != 1 || len(in.Problems) != 1 || in.Problems[0].Cause != "too-much" || !in.Problems[0].Any {
			t.Fatalf("%+v %+v", in.Files, sentences(in))
		}
	}
}
