package workbook

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func one(t *testing.T, inside string, other ...madePart) []string {
	_, all := readAll(t, zipped(t, handmade(inside, other...)...))
	return inShort(all[0])
}

func TestCells(t *testing.T) {
	for name, c := range map[string]struct{ cell, want string }{
		"shared text":              {`<c r="B1" t="s"><v>1</v></c>`, "1 B=two"},
		"text in the cell":         {`<c r="B1" t="inlineStr"><is><t>a &amp; b</t></is></c>`, "1 B=a & b"},
		"text in runs":             {`<c r="B1" t="inlineStr"><is><r><rPr><b/></rPr><t>a </t></r><r><t xml:space="preserve"> b</t></r><rPh sb="0" eb="1"><t>not</t></rPh></is></c>`, "1 B=a  b"},
		"text of a formula":        {`<c r="B1" t="str"><f>A1</f><v>three</v></c>`, "1 B=three"},
		"escaped":                  {`<c r="B1" t="str"><v>a_x000D__x000A_b_x005F_x0041__x0041_</v></c>`, "1 B=a\nb_x0041_A"},
		"escaped beyond 16 bits":   {`<c r="B1" t="str"><v>_xD83D__xDE00__xD83D_</v></c>`, "1 B=\U0001F600\uFFFD"},
		"yes":                      {`<c r="B1" t="b"><v>1</v></c>`, "1 B=yes"},
		"no":                       {`<c r="B1" t="b"><v>0</v></c>`, "1 B=no"},
		"fault":                    {`<c r="B1" t="e"><v>#N/A</v></c>`, "1 B=#N/A"},
		"date":                     {`<c r="B1" t="d"><v>2026-03-31</v></c>`, "1 B=2026-03-31"},
		"date and clock":           {`<c r="B1" t="d"><v>2026-03-31T14:05:29.6</v></c>`, "1 B=2026-03-31 14:05:30"},
		"clock":                    {`<c r="B1" t="d"><v>14:05:00</v></c>`, "1 B=14:05"},
		"no date":                  {`<c r="B1" t="d"><v>soon</v></c>`, "1 B=soon"},
		"number":                   {`<c r="B1"><v>134.29999999999998</v></c>`, "1 B=134.3"},
		"number with its type":     {`<c r="B1" t="n"><v> 5 </v></c>`, "1 B=5"},
		"serial":                   {`<c r="B1" s="1"><v>46112</v></c>`, "1 B=2026-03-31"},
		"a style that is not":      {`<c r="B1" s="99"><v>46112</v></c>`, "1 B=46112"},
		"no number":                {`<c r="B1"><v>1,5</v></c>`, "1 B=1,5"},
		"unknown type":             {`<c r="B1" t="new"><v>x</v></c>`, "1 B=x"},
		"without a name":           {`<c><v>1</v></c><c r="D1"><v>2</v></c><c><v>3</v></c>`, "1 A=1 D=2 E=3"},
		"out of order":             {`<c r="C1"><v>3</v></c><c r="A1"><v>1</v></c><c r="B1" t="s"><v>0</v></c>`, "1 A=1 B=one C=3"},
		"nothing":                  {`<c r="A1" s="1"/><c r="B1" t="s"/><c r="C1" t="inlineStr"><is><t></t></is></c><c r="D1"><v>4</v></c>`, "1 D=4"},
		"a blank beside itself":    {`<c r="B1" s="1"/><c r="B1"><v>1</v></c>`, "1 B=1"},
		"prefix, quotes, comment":  {`<z:c xmlns:z="` + spreadsheetSpace + `" r='B1'><!-- no --><z:v>1<!-- 2 -->3</z:v></z:c>`, "1 B=13"},
		"another namespace":        {`<c r="B1"><z:v xmlns:z="other">9</z:v><v>1</v><extLst><ext xmlns="other"><v>8</v></ext></extLst></c>`, "1 B=1"},
		"CDATA":                    {`<c r="B1" t="str"><v><![CDATA[a <b> &amp;]]></v></c>`, "1 B=a <b> &amp;"},
		"the last cell of a sheet": {`<c r="XFD1"><v>1</v></c>`, "1 XFD=1"},
	} {
		assert.Equal(t, []string{c.want}, one(t, `<sheetData><row r="1">`+c.cell+`</row></sheetData>`), name)
	}
}

func TestFormulas(t *testing.T) {
	book, all := readAll(t, zipped(t, handmade(`<sheetData><row r="1">
		<c r="A1"><f>B1</f><v>1</v></c><c r="B1"><f>B1</f><v></v></c><c r="C1"><f>B1</f></c><c r="D1" t="str"><f>B1</f><v></v></c>
		<c r="E1"><f t="shared" si="0"/><v>5</v></c><c r="F1" t="s"><v>0</v></c><c r="G1" t="str"><f>B1</f></c></row></sheetData>`)...))
	assert.Equal(t, []string{"1 A=1 E=5 F=one"}, inShort(all[0]))
	assert.Equal(t, []bool{true, true, false}, []bool{all[0][0].Cells[0].Formula, all[0][0].Cells[1].Formula, all[0][0].Cells[2].Formula})
	assert.Equal(t, 3, book.Sheets[0].Unstored)
	_, err := rowsOf(book.Sheets[0])
	require.NoError(t, err)
	assert.Equal(t, 3, book.Sheets[0].Unstored, "read again")
}

func TestRowsAndSheets(t *testing.T) {
	book, all := readAll(t, zipped(t, handmade(`<cols><col min="2" max="3" hidden="1"/><col min="5" max="5" width="3"/><col min="7" max="16384" hidden="true"/></cols>
		<sheetData><row><c><v>1</v></c></row><row r="3" hidden="1"><c r="A3"><v>3</v></c></row><row r="4"/><row><c><v>5</v></c></row><row r="1048576"><c><v>6</v></c></row></sheetData>
		<mergeCells count="2"><mergeCell ref="A1:C2"/><mergeCell ref="F17"/><mergeCell ref="F17:G17"/></mergeCells>`)...))
	s := book.Sheets[0]
	assert.Equal(t, []string{"1 A=1", "3 A=3", "5 A=5", "1048576 A=6"}, inShort(all[0]))
	assert.True(t, all[0][1].Hidden)
	assert.False(t, all[0][2].Hidden)
	assert.Equal(t, []Range{{0, 0, 1, 2}, {0, 0, 6, 16383}}, s.HiddenColumns)
	assert.Equal(t, []Range{{1, 2, 0, 2}, {17, 17, 5, 6}}, s.Merged)
}

// Tabs in their order, hidden ones, a chart; the 1904 system; strict namespaces;
// absolute, relative and odd targets; what else a workbook holds.
func TestBook(t *testing.T) {
	const strict = "http://purl.oclc.org/ooxml/"
	sheet := func(v string) string {
		return `<x:worksheet xmlns:x="` + strict + `spreadsheetml/main"><x:sheetData><x:row><x:c s="1"><x:v>` + v + `</x:v></x:c></x:row></x:sheetData></x:worksheet>`
	}
	link := func(id, kind, target, more string) string {
		return fmt.Sprintf(`<Relationship Id="%s" Type="%sofficeDocument/relationships/%s" Target="%s" %s/>`, id, strict, kind, target, more)
	}
	book, all := readAll(t, zipped(t,
		madePart{"_rels/.rels", linksOf(link("r1", "officeDocument", "/Office/book.xml", ""))},
		madePart{"office/Book.xml", `<?xml version='1.0'?><workbook xmlns="` + strict + `spreadsheetml/main" xmlns:rel="` + strict + `officeDocument/relationships"><workbookPr date1904="true"/><sheets>
			<sheet name="b &amp; c" rel:id="r2"/><sheet name="chart" rel:id="r3"/><sheet name="a" state="hidden" rel:id="r1"/><sheet name="d" state="veryHidden" rel:id="r4"/></sheets></workbook>`},
		madePart{"Office/_rels/book.xml.rels", linksOf(link("r1", "worksheet", "/Office/one.xml", ""), link("r2", "worksheet", "deep/../two.xml", ""),
			link("r3", "chartsheet", "chart.xml", ""), link("r4", "worksheet", `deep\three.xml`, ""), link("r5", "styles", "../styles.xml", ""),
			link("r6", "externalLink", "externalLinks/1.xml", ""), link("r7", "vbaProject", "vbaProject.bin", ""), link("r8", "sharedStrings", "http://example.org/strings", `TargetMode="External"`))},
		madePart{"Office/one.xml", sheet("1")}, madePart{"Office/two.xml", sheet("2")}, madePart{`Office\deep\three.xml`, sheet("44650")},
		madePart{"styles.xml", `<styleSheet xmlns="` + strict + `spreadsheetml/main"><numFmts><numFmt numFmtId="200" formatCode="yyyy&quot;x&quot;"/></numFmts><cellXfs><xf/><xf numFmtId="200"/></cellXfs>
			<dxfs><dxf><numFmt numFmtId="200" formatCode="0"/></dxf></dxfs></styleSheet>`},
	))
	var names []string
	for _, s := range book.Sheets {
		names = append(names, fmt.Sprint(s.Name, s.Hidden))
	}
	assert.Equal(t, []string{"b & cfalse", "atrue", "dtrue"}, names)
	assert.Equal(t, [][]string{{"1 A=1904-01-03"}, {"1 A=1904-01-02"}, {"1 A=2026-03-31"}}, [][]string{inShort(all[0]), inShort(all[1]), inShort(all[2])})
	assert.Equal(t, []string{"it holds macros, which are not run", "it takes values from other workbooks; the values last saved are read", "it has a tab that is a chart, which is not read"}, book.Remarks)
}

func TestUTF16Parts(t *testing.T) {
	both := func(s string, big bool) string {
		b := []byte("\xFF\xFE" + wide(s))
		if big {
			for i := 0; i < len(b); i += 2 {
				b[i], b[i+1] = b[i+1], b[i]
			}
		}
		return string(b)
	}
	for _, big := range []bool{false, true} {
		sheet := `<?xml version="1.0" encoding="UTF-16"?><worksheet xmlns="` + spreadsheetSpace + `"><sheetData><row><c t="s"><v>1</v></c></row></sheetData><mergeCells><mergeCell ref="A1:B1"/></mergeCells></worksheet>`
		for _, text := range []string{both(sheet, big), both(sheet, big)[2:]} {
			book, all := readAll(t, zipped(t, handmade("", madePart{"xl/worksheets/sheet1.xml", text})...))
			assert.Equal(t, []string{"1 A=two"}, inShort(all[0]))
			assert.Len(t, book.Sheets[0].Merged, 1)
		}
	}
	book, all := readAll(t, zipped(t, handmade("", madePart{"xl/worksheets/sheet1.xml", "\xEF\xBB\xBF<worksheet xmlns='" + spreadsheetSpace + "'><sheetData><row><c><v>1</v></c></row></sheetData></worksheet>"})...))
	assert.Equal(t, []string{"1 A=1"}, inShort(all[0]))
	assert.Empty(t, book.Remarks)
}

func TestRowsStopWhenAsked(t *testing.T) {
	data := zipped(t, handmade("<sheetData>"+strings.Repeat(`<row><c><v>1</v></c></row>`, 1000)+"</sheetData>")...)
	book, err := Open(data)
	require.NoError(t, err)
	stop, n := errors.New("stop"), 0
	assert.Equal(t, stop, book.Sheets[0].Rows(context.Background(), func(*Row) error {
		if n++; n == 3 {
			return stop
		}
		return nil
	}))
	assert.Equal(t, 3, n)
	ctx, cancel := context.WithCancel(context.Background())
	n = 0
	assert.ErrorIs(t, book.Sheets[0].Rows(ctx, func(*Row) error { n++; cancel(); return nil }), context.Canceled)
	assert.Less(t, n, 1000)
}

// Texts that were given stay as they are while the row is used again.
func TestTextsOutliveTheirRow(t *testing.T) {
	book, err := Open(zipped(t, handmade(`<sheetData><row><c><v>1</v></c><c t="str"><v>a</v></c></row><row><c><v>2</v></c><c t="str"><v>b</v></c></row></sheetData>`)...))
	require.NoError(t, err)
	var texts []string
	require.NoError(t, book.Sheets[0].Rows(context.Background(), func(r *Row) error {
		for _, c := range r.Cells {
			texts = append(texts, c.Text)
		}
		return nil
	}))
	assert.True(t, slices.Equal([]string{"1", "a", "2", "b"}, texts), texts)
}

func TestSheetsAtTheSameTime(t *testing.T) {
	list := `<workbook xmlns="` + spreadsheetSpace + `" xmlns:r="` + linkKinds + `"><sheets><sheet name="a" r:id="r1"/><sheet name="b" r:id="r2"/></sheets></workbook>`
	inside := "<sheetData>" + strings.Repeat(`<row><c t="s"><v>1</v></c><c s="1"><v>46112</v></c></row>`, 300) + "</sheetData>"
	book, err := Open(zipped(t, handmade(inside, madePart{"xl/workbook.xml", list},
		madePart{"xl/_rels/workbook.xml.rels", linksOf(linkTo("r1", "worksheet", "worksheets/sheet1.xml"), linkTo("r2", "worksheet", "s2.xml"), linkTo("r3", "sharedStrings", "sharedStrings.xml"))},
		madePart{"xl/s2.xml", `<worksheet xmlns="` + spreadsheetSpace + `">` + inside + `</worksheet>`})...))
	require.NoError(t, err)
	var all [2][]Row
	var group sync.WaitGroup
	for i, s := range book.Sheets {
		group.Go(func() { all[i], _ = rowsOf(s) })
	}
	group.Wait()
	assert.Len(t, all[0], 300)
	assert.Equal(t, inShort(all[0]), inShort(all[1]))
}
