package workbook

import (
	"archive/zip"
	"bytes"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"
)

// written gives the workbook of some tables, as the library that wrote it reads it, and its bytes.
func written(t require.TestingT, tables ...Table) (*excelize.File, []byte) {
	var b bytes.Buffer
	require.NoError(t, Write(&b, tables))
	f, err := excelize.OpenReader(bytes.NewReader(b.Bytes()))
	require.NoError(t, err)
	return f, b.Bytes()
}

func form() []Table {
	return []Table{{Name: "sites", Title: "Sites", Fixed: 1, Room: 3, Columns: []Column{{Heading: "site"}, {Heading: "kind", Required: true, Choices: []string{"clinic", "mobile"}}}},
		{Name: "loads", Title: "Loads", About: []string{"One row a cycle."}, Fixed: 2, Room: 5, Columns: []Column{
			{Heading: "load id", Note: "Your own name for it."},
			{Heading: "date", Note: "The day.", Required: true, Kind: Day},
			{Heading: "time", Kind: Clock},
			{Heading: "ended", Kind: Moment},
			{Heading: "site", From: &Source{"sites", "site"}},
			{Heading: "from nowhere", From: &Source{"sites", "no such"}, Note: "x"},
			{Heading: "wrapped", Kind: YesNo, Choices: []string{"yes", "no"}, Open: true},
			{Heading: "decision", Choices: []string{"released", "rejected"}},
			{Heading: "temperature [°C]", Kind: Number},
		}}}
}

func TestAFormHasItsParts(t *testing.T) {
	f, data := written(t, form()...)
	defer f.Close()
	assert.Equal(t, []string{"sites", "loads", "_lists"}, f.GetSheetList())
	for sheet, want := range map[string]bool{"sites": true, "loads": true, "_lists": false} {
		visible, err := f.GetSheetVisible(sheet)
		require.NoError(t, err)
		assert.Equal(t, want, visible, sheet)
	}
	assert.Regexp(t, `<sheet name="_lists" [^>]*state="veryHidden">`, string(part(t, data, "xl/workbook.xml")))
	for cell, want := range map[string]string{"A1": "Loads", "A2": "One row a cycle.", "A3": "Your own name for it.", "B3": "NEEDED. The day.", "A4": "load id", "B4": "date", "I4": "temperature [°C]", "A5": ""} {
		got, err := f.GetCellValue("loads", cell)
		require.NoError(t, err)
		assert.Equal(t, want, got, cell)
	}
	names := map[string]string{}
	for _, n := range f.GetDefinedName() {
		names[n.Scope] = n.RefersTo
	}
	assert.Equal(t, map[string]string{"sites": "'sites'!$A:$A,'sites'!$2:$2", "loads": "'loads'!$A:$B,'loads'!$3:$4"}, names)
	panes, err := f.GetPanes("loads")
	require.NoError(t, err)
	assert.True(t, panes.Freeze)
	assert.Equal(t, []int{2, 4}, []int{panes.XSplit, panes.YSplit})
	layout, err := f.GetPageLayout("loads")
	require.NoError(t, err)
	assert.Equal(t, "landscape", *layout.Orientation)
	assert.Equal(t, 9, *layout.Size) // A4 (ECMA-376 part 1, 18.3.1.63)
	assert.Equal(t, []int{1, 0}, []int{*layout.FitToWidth, *layout.FitToHeight})
	props, err := f.GetSheetProps("loads")
	require.NoError(t, err)
	assert.True(t, *props.FitToPage)
}

// A cell for a moment is formatted as a day, so that a day typed alone is read as one;
// where an hour was typed, it is shown.
func TestHoursOfMomentsAreShown(t *testing.T) {
	f, _ := written(t, form()...)
	defer f.Close()
	all, err := f.GetConditionalFormats("loads")
	require.NoError(t, err)
	require.Len(t, all, 1)
	require.Len(t, all["D5:D1048576"], 1)
	assert.Equal(t, "IF(ISNUMBER(D5),D5>INT(D5),FALSE)", all["D5:D1048576"][0].Criteria)
	shown, err := f.GetConditionalStyle(*all["D5:D1048576"][0].Format)
	require.NoError(t, err)
	assert.Equal(t, "yyyy-mm-dd hh:mm", *shown.CustomNumFmt)
	for cell, want := range map[string]string{"A7": "", "B7": "yyyy-mm-dd", "C7": "hh:mm", "D7": "yyyy-mm-dd"} {
		id, err := f.GetCellStyle("loads", cell)
		require.NoError(t, err)
		style, err := f.GetStyle(id)
		require.NoError(t, err)
		got := ""
		if style.CustomNumFmt != nil {
			got = *style.CustomNumFmt
		} else {
			assert.Equal(t, 49, style.NumFmt, "%s is for text: what looks like a number or a date stays as typed", cell)
		}
		assert.Equal(t, want, got, cell)
	}
}

// Nothing that is typed is thrown back: what is not on a closed list is asked about,
// and any other list takes other words in silence.
func TestDropDowns(t *testing.T) {
	f, _ := written(t, form()...)
	defer f.Close()
	all, err := f.GetDataValidations("loads")
	require.NoError(t, err)
	got := map[string]string{}
	for _, v := range all {
		style := "-"
		if v.ShowErrorMessage {
			style = *v.ErrorStyle
		}
		got[v.Sqref] = v.Type + " " + v.Formula1 + " " + style
		assert.True(t, v.AllowBlank)
		assert.False(t, v.ShowDropDown, "in this format, true hides the arrow")
	}
	assert.Equal(t, map[string]string{
		"A5:A1048576": "  -", "B5:B1048576": "  -", "F5:F1048576": "  -",
		"E5:E1048576": "list OFFSET('sites'!$A$3,0,0,MAX(1,COUNTA('sites'!$A$3:$A$2002)),1) -",
		"G5:G1048576": "list _lists!$B$1:$B$2 -",
		"H5:H1048576": "list _lists!$C$1:$C$2 warning",
	}, got)
	for cell, want := range map[string]string{"A1": "clinic", "A2": "mobile", "B1": "yes", "B2": "no", "C2": "rejected"} {
		v, err := f.GetCellValue("_lists", cell)
		require.NoError(t, err)
		assert.Equal(t, want, v, cell)
	}
}

func TestTheSameTablesGiveTheSameBytes(t *testing.T) {
	_, first := written(t, form()...)
	for range 5 {
		_, again := written(t, form()...)
		require.True(t, bytes.Equal(first, again))
	}
	r, err := zip.NewReader(bytes.NewReader(first), int64(len(first)))
	require.NoError(t, err)
	for _, f := range r.File {
		assert.True(t, f.Modified.IsZero() || f.Modified.Year() == 1979, "%s %v", f.Name, f.Modified)
	}
	assert.NotContains(t, string(part(t, first, "docProps/core.xml")), "xuri")
}

func part(t *testing.T, data []byte, name string) []byte {
	t.Helper()
	r, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	require.NoError(t, err)
	f, err := r.Open(name)
	require.NoError(t, err)
	defer f.Close()
	var b bytes.Buffer
	_, err = b.ReadFrom(f)
	require.NoError(t, err)
	return b.Bytes()
}

// Serial numbers of days, as worked examples: 1 January 2008 is 39448 (Excel's own help
// on DATEVALUE and DATE, from memory); noon is a half (ECMA-376 part 1, 18.17.4).
func TestWhatIsStored(t *testing.T) {
	for _, c := range []struct {
		cell Cell
		want string
		text bool
	}{
		{Cell{Kind: Day, Text: "2008-01-01"}, "39448", false},
		{Cell{Kind: Day, Text: "1900-03-01"}, "61", false},
		{Cell{Kind: Day, Text: "2199-12-31"}, "109574", false},
		{Cell{Kind: Day, Text: "9999-12-31"}, "2958465", false}, // ECMA-376 part 1, 18.17.4.1
		{Cell{Kind: Day, Text: "1900-02-28"}, "1900-02-28", true},
		{Cell{Kind: Day, Text: "2026-02-30"}, "2026-02-30", true},
		{Cell{Kind: Day, Text: "31/03/2026"}, "31/03/2026", true},
		{Cell{Kind: Moment, Text: "2008-01-01 12:00"}, "39448.5", false},
		{Cell{Kind: Moment, Text: "2008-01-01 18:00:00"}, "2008-01-01 18:00:00", true},
		{Cell{Kind: Moment, Text: "2008-01-01 00:00"}, "2008-01-01 00:00", true},
		{Cell{Kind: Moment, Text: "2026-03-31T14:05:00+02:00"}, "2026-03-31T14:05:00+02:00", true},
		{Cell{Kind: Moment, Text: "2026-03-31"}, "2026-03-31", true},
		{Cell{Kind: Clock, Text: "06:00"}, "0.25", false},
		{Cell{Kind: Clock, Text: "6:00"}, "6:00", true},
		{Cell{Kind: Clock, Text: "24:00"}, "24:00", true},
		{Cell{Kind: Number, Text: "121"}, "121", false},
		{Cell{Kind: Number, Text: "134.3"}, "134.3", false},
		{Cell{Kind: Number, Text: "-0.5"}, "-0.5", false},
		{Cell{Kind: Number, Text: "0"}, "0", false},
		{Cell{Kind: Number, Text: "121.0"}, "121.0", true},
		{Cell{Kind: Number, Text: "007"}, "007", true},
		{Cell{Kind: Number, Text: "1e5"}, "1e5", true},
		{Cell{Kind: Number, Text: "-0"}, "-0", true},
		{Cell{Kind: Number, Text: "NaN"}, "NaN", true},
		{Cell{Kind: Number, Text: "Inf"}, "Inf", true},
		{Cell{Kind: Number, Text: "121,5"}, "121,5", true},
		{Cell{Kind: Number, Text: "123456789012345"}, "123456789012345", false},
		{Cell{Kind: Number, Text: "1234567890123456"}, "1234567890123456", true},
		{Cell{Kind: YesNo, Text: "yes"}, "yes", true},
		{Cell{Kind: Elapsed, Text: "3 min 30 s"}, "3 min 30 s", true},
		{Cell{Text: "=1+1"}, "=1+1", true},
		{Cell{Text: "007"}, "007", true},
		{Cell{Text: "1-2"}, "1-2", true},
		{Cell{Text: " a\tb\nc\r "}, " a\tb\nc\r ", true},
		{Cell{Text: "a\x01b_x0041_"}, "a\x01b_x0041_", true},
		{Cell{Text: "\uFDD0 \uFDD1 <&>'\""}, "\uFDD0 \uFDD1 <&>'\"", true},
	} {
		f, _ := written(t, Table{Name: "s", Columns: []Column{{Heading: "h"}}, Rows: [][]Cell{{c.cell}}})
		got, err := f.GetCellValue("s", "A2", excelize.Options{RawCellValue: true})
		require.NoError(t, err)
		assert.Equal(t, c.want, got, "%q", c.cell.Text)
		kind, err := f.GetCellType("s", "A2")
		require.NoError(t, err)
		assert.Equal(t, c.text, kind == excelize.CellTypeInlineString, "%q is stored as %v", c.cell.Text, kind)
		formula, err := f.GetCellFormula("s", "A2")
		require.NoError(t, err)
		assert.Empty(t, formula)
		require.NoError(t, f.Close())
	}
}

func TestWhatCannotBeHeldIsRefused(t *testing.T) {
	one := []Column{{Heading: "h"}}
	long := strings.Repeat("a", mostText)
	for says, tables := range map[string][]Table{
		"at least one sheet": {},
		"cannot name":        {{Name: "a/b"}},
		"cannot name a":      {{Name: strings.Repeat("n", 32)}},
		"both be named":      {{Name: "loads"}, {Name: "LOADS"}},
		"cannot both":        {{Name: "_lists"}},
		"sheet s, cell A3: a text of 32768 characters is longer than the 32767 that a cell holds": {{Name: "s", Columns: one, Rows: [][]Cell{{}, {{Text: long + "a"}}}}},
		"sheet s, cell A2: a text of 32768":               {{Name: "s", Columns: one, Rows: [][]Cell{{{Text: long[:mostText-1] + "😀"}}}}},
		"sheet s: 1048577 rows are more than the 1048576": {{Name: "s", Columns: one, Room: mostRows}},
		"sheet s: 16385 columns":                          {{Name: "s", Columns: make([]Column, mostColumns+1)}},
		"sheet s, row 2: a cell stands in column 2 of 1":  {{Name: "s", Columns: one, Rows: [][]Cell{{{Column: 1}}}}},
	} {
		var b bytes.Buffer
		err := Write(&b, tables)
		require.ErrorContains(t, err, says)
		assert.Zero(t, b.Len(), "nothing is written")
	}
	f, _ := written(t, Table{Name: strings.Repeat("n", 31), Columns: one, Rows: [][]Cell{{{Text: long}}}})
	defer f.Close()
	got, err := f.GetCellValue(strings.Repeat("n", 31), "A2")
	require.NoError(t, err)
	assert.Equal(t, long, got)
}

// A sheet's name in a formula may hold what formulas and XML have a use for.
func TestOddSheetNames(t *testing.T) {
	f, _ := written(t, Table{Name: "a&b's <c>", Columns: []Column{{Heading: "id"}}}, Table{Name: "d", Columns: []Column{{Heading: "of", From: &Source{"a&b's <c>", "id"}}}})
	defer f.Close()
	v, err := f.GetDataValidations("d")
	require.NoError(t, err)
	assert.Contains(t, v[0].Formula1, "OFFSET('a&b''s <c>'!$A$2")
}

func TestASheetOfWords(t *testing.T) {
	f, _ := written(t, Table{Name: "_start", Title: "Start", About: []string{"First.", "Second."}})
	defer f.Close()
	got, err := f.GetCellValue("_start", "A3")
	require.NoError(t, err)
	assert.Equal(t, "Second.", got)
}

func TestLinesOf(t *testing.T) {
	for text, want := range map[string]int{"": 1, "abc": 1, "abcde fghij": 2, "ab cd ef gh": 2, "abcdefghijklmnopqrstuvwxyz": 3, "a b c d e f": 2} {
		assert.Equal(t, want, linesOf(text, 10), text)
	}
}

func TestManyColumnsTakeMorePages(t *testing.T) {
	columns := make([]Column, 40)
	for i := range columns {
		columns[i] = Column{Heading: "h" + strconv.Itoa(i), Width: 12}
	}
	f, _ := written(t, Table{Name: "s", Columns: columns})
	defer f.Close()
	layout, err := f.GetPageLayout("s")
	require.NoError(t, err)
	assert.Equal(t, 3, *layout.FitToWidth)
}
