package record

import (
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"footing/internal/workbook"
)

// Tables of the same headings that touch each other are read as two.
func TestBookSideBySideWithoutGap(t *testing.T) {
	rows, in := bookLoads(t, "\ndate|cycle|temp|date|cycle|temp\nd:2026-06-01|1|134 °C|d:2026-07-01|11|134 °C\nd:2026-06-02|2|134 °C\n")
	if len(rows) != 3 || len(told(in, Dropped)) > 0 {
		t.Errorf("%q %q", rows, sentences(in))
	}
	// Two of a kind are the days and clocks of a beginning and an end, and no second table.
	rows, _ = bookLoads(t, "\ndate|time|date|time|cycle\nd:2026-06-01|09:00|d:2026-06-01|09:40|1\n")
	if len(rows) != 1 {
		t.Errorf("%q", rows)
	}
}

// A kind that needs no field would take any row: totals, titles and boxes are none.
func TestBookOfAKindThatNeedsNothing(t *testing.T) {
	text := "id|load|set|condition\nJune 2026\nP-1|L-1|nail|intact\nP-2\n2026\nthe tray was dropped by RH on Friday\nTotal|n:2\nTotal packs|||n:2\n"
	rows, in := fillAll(t, map[string]string{"a.xlsx": bookOf(t, []sheetText{{"packs", text}})}, Options{})
	if rows["packs"] != 3 {
		t.Errorf("%v %q", rows, sentences(in))
	}
	wantLines(t, "noted", told(in, Noted),
		`a.xlsx, sheet packs, 2 rows (the first: row 2): "June 2026", "the tray was dropped by RH on Friday" are taken for a title or a note, and not for a record`,
		`a.xlsx, sheet packs, 2 rows (the first: row 7): what stands there is taken for a total, and not for a record`)
	// A day that was typed is none of a total.
	rows, in = fillAll(t, map[string]string{"a.xlsx": bookOf(t, []sheetText{{"clients", "id|birth_year|first_visit_on\nTotal|n:1950|d:2026-01-02\nMax|n:1951\n"}})}, Options{})
	if rows["clients"] != 2 {
		t.Errorf("%v %q", rows, sentences(in))
	}
}

// In a workbook that counts days from 1904, a plain number is a day of that count.
func TestBook1904(t *testing.T) {
	rows, _ := bookLoads(t, "\nstarted|counter\nn:44712.5|1\nn:44714|2\n", func(f *excelize.File) {
		yes := true
		if err := f.SetWorkbookProps(&excelize.WorkbookPropsOptions{Date1904: &yes}); err != nil {
			t.Fatal(err)
		}
	})
	// 44712 + 1462 = 46174: 1 June 2026 of the count from 1900 (ECMA-376 Part 1, 18.17.4.1).
	if len(rows) != 2 || !strings.Contains(rows[0], "=2026-06-01 12:00/1/") || !strings.Contains(rows[1], "=2026-06-03/2/") {
		t.Errorf("%q", rows)
	}
}

// A year typed into a cell for dates shows as a day in 1905.
func TestBookYearInADateCell(t *testing.T) {
	day := func(cells ...string) func(f *excelize.File) {
		return func(f *excelize.File) { formatted(t, f, "yyyy-mm-dd", cells...) }
	}
	rows, in := bookLoads(t, "\ndate|cycle|released on\nn:2026|1|\nn:46174|2|n:5\nd:1929-12-31|3|\nd:1930-01-01|4|\n", day("A2", "A3", "C3"))
	if len(rows) != 2 || in.Files[0].SetAside != 2 {
		t.Errorf("%q %+v", rows, in.Files[0])
	}
	wantLines(t, "told", sentences(in),
		`june.xlsx, sheet loads, column "date", 2 rows (the first: row 2, cell A2): "1905-07-18" is what the spreadsheet makes of a small number in a cell for dates: of 2026, a day in 1905; look at the original, and type the whole date; until then 2 rows are set aside`,
		`june.xlsx, sheet loads, row 3, column "released on" (cell C3): "1900-01-05" is what the spreadsheet makes of a small number in a cell for dates: of 2026, a day in 1905; look at the original, and type the whole date; until then it counts as not written`)
	rec, in := fill(t, map[string]string{"a.xlsx": bookOf(t, []sheetText{{"practice", "name|Heron Lane\ncouncil|Council\nrenewal_on|n:2027\n"}}, func(f *excelize.File) {
		style, _ := f.NewStyle(&excelize.Style{NumFmt: 14})
		_ = f.SetCellStyle("practice", "B3", "B3", style)
	})})
	if rec.Profile.RenewalOn.Written() || len(told(in, Dropped)) != 1 || !strings.Contains(told(in, Dropped)[0], "a day in 1905") {
		t.Errorf("%v %q", rec.Profile.RenewalOn, sentences(in))
	}
}

// A sheet named after one kind with the headings of another is read as that, and told.
func TestBookHeadingsOfAnotherKind(t *testing.T) {
	for name, c := range map[string]struct{ sheet, text, kind string }{
		"a log":   {"autoclave", "autoclave|date|cycle no|temp|hold time|result\nS1|d:2026-06-01|1|134 °C|3 min|ok\n", "loads"},
		"tests":   {"cycles", "date|kind|result|control\nd:2026-06-01|spore|pass|growth\n", "tests"},
		"its own": {"loads", "date|machine|result|person|cycle no|type\nd:2026-06-01|S1|pass|RH|1|W\n", "loads"},
	} {
		rows, in := fillAll(t, map[string]string{"a.xlsx": bookOf(t, []sheetText{{c.sheet, c.text}})}, Options{})
		if rows[c.kind] != 1 || len(rows) != 1 {
			t.Errorf("%s: %v %q", name, rows, sentences(in))
		}
		if other := strings.Contains(strings.Join(told(in, Noted), "\n"), "the rows are read as "+c.kind); other != (c.sheet != "loads") {
			t.Errorf("%s: %q", name, told(in, Noted))
		}
	}
}

// A sheet of a kind and a month or year is read; a copy of a sheet is not.
func TestBookMonths(t *testing.T) {
	var sheets []sheetText
	for i, name := range []string{"loads June", "Loads (July 2026)", "2025 load log", "loads (2)", "June", "loads old"} {
		sheets = append(sheets, sheetText{name, "date|cycle no|temp\nd:2026-06-01|" + itoa(i) + "|134 °C\n"})
	}
	rec, in := fill(t, map[string]string{"a.xlsx": bookOf(t, sheets)})
	if len(rec.Loads) != 3 || len(in.NotRead) != 3 {
		t.Errorf("%+v %+v", rec.Loads, in.NotRead)
	}
}

// What is copied within the folder counts once where that is sure, and is told else.
func TestBookCopies(t *testing.T) {
	text := "id|date|cycle|temp\nL-1|d:2026-06-01|1|134 °C\nL-2|d:2026-06-02|2|134 °C\nL-3|d:2026-06-03|3|134 °C\n"
	one := bookOf(t, []sheetText{{"loads", text}})
	rec, in := fill(t, map[string]string{"records.xlsx": one, "records (1).xlsx": one, "Copy of records.xlsx": one, "more.xlsx": bookOf(t, []sheetText{{"loads", text + "L-4|d:2026-06-04|4|134 °C\n"}})})
	if len(rec.Loads) != 7 || len(in.NotRead) != 2 || in.NotRead[0].Why != "it is the same, to the last byte, as records.xlsx, which is read" {
		t.Errorf("%d %+v", len(rec.Loads), in.NotRead)
	}
	if all := strings.Join(told(in, Noted), "\n"); strings.Count(all, "word for word") != 1 ||
		!strings.Contains(all, "records.xlsx, sheet loads: all of its 3 rows stand word for word in more.xlsx, sheet loads too, and count twice; if one is a copy, take it out of the folder") {
		t.Errorf("%s", all)
	}
	// Two years of one log are no copies; nor are two rows that happen to be the same.
	_, in = fill(t, map[string]string{"2025.xlsx": bookOf(t, []sheetText{{"loads", text}}), "2026.xlsx": bookOf(t, []sheetText{{"loads", strings.ReplaceAll(text, "L-2|", "L-9|")}})})
	if all := strings.Join(told(in, Noted), "\n"); strings.Contains(all, "word for word") {
		t.Errorf("%s", all)
	}
}

// Workbooks of other kinds may hold rows of any kind: nothing is said to lack.
func TestOtherBooksAreUnread(t *testing.T) {
	_, in := fill(t, map[string]string{"loads.csv": "date\n2026-06-01\n", "old.xls": "x", "tests/june.xlsx": "x"})
	any, tests := false, false
	for _, p := range in.Problems {
		any = any || p.File == "old.xls" && p.Any && p.Effect == FileRefused
		tests = tests || p.File == "tests/june.xlsx" && p.Kind == "tests" && p.Effect == FileRefused
	}
	if !any || !tests || in.StateOf("loads", "L-9") != IDSetAside {
		t.Errorf("%+v", in.Problems)
	}
}

// Notes attached to cells are said to be there.
func TestBookNotes(t *testing.T) {
	rows, in := bookLoads(t, "\ndate|cycle\nd:2026-06-01|1\n", func(f *excelize.File) {
		if err := f.AddComment("loads", excelize.Comment{Cell: "B2", Author: "RH", Text: "was 7"}); err != nil {
			t.Fatal(err)
		}
	})
	if len(rows) != 1 {
		t.Errorf("%q", rows)
	}
	wantLines(t, "told", sentences(in), "june.xlsx, sheet loads, which has notes attached to cells: these are not read; type what belongs to the records into the column note")
}

// Blocks of merged cells that all lie over many rows would cost each of them a cell.
func TestBookManyMergedCells(t *testing.T) {
	for n, refused := range map[int]bool{mostDown: false, mostDown + 1: true} {
		text := "date|cycle\nd:2026-06-01|1" + strings.Repeat("|x", n) + "\nd:2026-06-02|2\n"
		rows, in := bookLoads(t, "\n"+text, func(f *excelize.File) {
			for i := range n {
				if err := f.MergeCell("loads", workbook.Name(i+2, 2), workbook.Name(i+2, 3)); err != nil {
					t.Fatal(err)
				}
			}
		})
		if (len(rows) == 0) != refused || (len(told(in, FileRefused)) == 1) != refused {
			t.Errorf("%d: %q %q", n, rows, sentences(in))
		}
	}
}

// Cells merged downwards, in whatever order they begin, fill what is blank under them.
func TestMergesFill(t *testing.T) {
	cell := func(column int, text string) workbook.Cell { return workbook.Cell{Column: column, Text: text} }
	m := newMerges([]workbook.Range{{FirstRow: 1, LastRow: 3, FirstColumn: 4, LastColumn: 4}, {FirstRow: 1, LastRow: 2, FirstColumn: 0, LastColumn: 0}, {FirstRow: 2, LastRow: 3, FirstColumn: 2, LastColumn: 2}})
	var got []string
	for i, cells := range [][]workbook.Cell{{cell(0, "a"), cell(4, "b")}, {cell(2, "c"), cell(4, "own")}, {cell(1, "d")}, {cell(3, "e")}} {
		line, words := m.line(&workbook.Row{Number: i + 1, Cells: cells}, gridLine{}), ""
		for _, c := range line.cells {
			words += workbook.Letters(c.Column) + "=" + c.Text + " "
		}
		got = append(got, words)
	}
	wantLines(t, "rows", got, "A=a E=b ", "A=a C=c E=own ", "B=d C=c E=b ", "D=e ")
}

// A heading as long as a text can be costs no more than a short one.
func TestBookLongHeadings(t *testing.T) {
	long := "date " + strings.Repeat("x", 30_000)
	rows, in := bookLoads(t, "\ndate|cycle|"+long+"\nd:2026-06-01|1|y\n")
	if h := in.Files[0].Headings; len(rows) != 1 || len(h) != 3 || len(h[2].Written) > longestHeading+len("…") {
		t.Errorf("%q %d", rows, len(in.Files[0].Headings[2].Written))
	}
}

// A day and a clock in two columns may both be kept as moments: of the day the spreadsheet
// then has midnight, and of the clock a day that its format does not show.
func TestBookDayAndClockAsMoments(t *testing.T) {
	rows, in := bookLoads(t, "\ndate|time|cycle\nm:2026-06-01 00:00|09:30|1\nd:2026-06-02|m:2026-06-02 09:45|2\nm:2026-06-03 00:00|m:2026-06-03 10:00|3\nm:2026-06-04 00:00||4\nd:2026-06-05|m:2026-06-06 09:45|5\nd:2026-06-06|m:1904-01-01 09:45|6\n")
	for i := range rows {
		_, rows[i], _ = strings.Cut(rows[i], "=")
	}
	wantLines(t, "rows", rows, "2026-06-01 09:30/1//", "2026-06-02 09:45/2//", "2026-06-03 10:00/3//", "2026-06-04/4//", "2026-06-05/5//", "2026-06-06 09:45/6//")
	wantLines(t, "told", told(in, Dropped), `june.xlsx, sheet loads, row 6, column "time" (cell B6): "2026-06-06 09:45" has no clock that can be read after its date; look at the paper, and write the clock after the date in the form 14:05; until then the day is read without its clock`)
}

// A value in the row below its name is not lost without a word.
func TestBookPairsThatGoOn(t *testing.T) {
	_, in := fill(t, map[string]string{"a.xlsx": bookOf(t, []sheetText{{"practice", "name|Heron Lane\ncouncil|Council\nservices|nail care\n|callus care\n|padding\n"}})})
	wantLines(t, "told", sentences(in), `a.xlsx, sheet practice, 2 rows (the first: row 4): a value without a name before it ("callus care") is not read; write a list into one cell, with ";" between, or write the name again`)
}

// Headings that begin beside open tables leave what stands in those where it is.
func TestBookTablesThatBeginLater(t *testing.T) {
	// The third table begins in row 3, between and beside the other two.
	rows, in := bookLoads(t, "\ndate|cycle|temp||||date|cycle|temp\nd:2026-06-01|1|134 °C||||d:2026-07-01|11|134 °C\nd:2026-06-02|2|134 °C||date||d:2026-07-02|12|134 °C||cycle no|temp\n")
	if len(rows) != 4 {
		t.Errorf("%q %q", rows, sentences(in))
	}
}
