package workbook

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// absent skips a test that needs an outside program, or fails with CI=true.
func absent(t *testing.T, what string) {
	if os.Getenv("CI") == "true" {
		t.Fatalf("no %s on this machine, and CI must not leave this out", what)
	}
	t.Skipf("no %s on this machine: its workbooks were not read", what)
}

// saved lets LibreOffice save a file in another format and returns it.
func saved(t *testing.T, name, text, as string) []byte {
	path, err := exec.LookPath("soffice")
	if err != nil {
		absent(t, "LibreOffice")
	}
	dir := t.TempDir()
	from := filepath.Join(dir, name)
	require.NoError(t, os.WriteFile(from, []byte(text), 0o600))
	out, err := exec.Command(path, "-env:UserInstallation=file://"+filepath.ToSlash(dir)+"/profile", "--headless", "--convert-to", as, "--outdir", filepath.Join(dir, "out"), from).CombinedOutput()
	require.NoError(t, err, "%s", out)
	b, err := os.ReadFile(filepath.Join(dir, "out", strings.TrimSuffix(name, filepath.Ext(name))+"."+as))
	require.NoError(t, err, "%s", out)
	return b
}

// office is a spreadsheet in the flat form of OpenDocument, by hand: all kinds of
// values, formats, formulas, merged cells, hidden rows, columns and sheets.
const office = `<?xml version="1.0" encoding="UTF-8"?>
<office:document xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0" xmlns:style="urn:oasis:names:tc:opendocument:xmlns:style:1.0" xmlns:text="urn:oasis:names:tc:opendocument:xmlns:text:1.0"
 xmlns:table="urn:oasis:names:tc:opendocument:xmlns:table:1.0" xmlns:number="urn:oasis:names:tc:opendocument:xmlns:datastyle:1.0" xmlns:of="urn:oasis:names:tc:opendocument:xmlns:of:1.2" office:version="1.3" office:mimetype="application/vnd.oasis.opendocument.spreadsheet">
<office:automatic-styles>
 <number:date-style style:name="nd"><number:day number:style="long"/><number:text>.</number:text><number:month number:style="long"/><number:text>.</number:text><number:year number:style="long"/></number:date-style>
 <number:date-style style:name="nm"><number:day/><number:text>/</number:text><number:month/><number:text>/</number:text><number:year number:style="long"/><number:text> </number:text><number:hours/><number:text>:</number:text><number:minutes number:style="long"/></number:date-style>
 <number:time-style style:name="nt"><number:hours number:style="long"/><number:text>:</number:text><number:minutes number:style="long"/></number:time-style>
 <number:time-style style:name="ne" number:truncate-on-overflow="false"><number:hours/><number:text>:</number:text><number:minutes number:style="long"/></number:time-style>
 <number:percentage-style style:name="np"><number:number number:decimal-places="1" number:min-integer-digits="1"/><number:text>%</number:text></number:percentage-style>
 <number:number-style style:name="nu"><number:number number:decimal-places="1" number:min-integer-digits="1"/><number:text> °C</number:text></number:number-style>
 <style:style style:name="d" style:family="table-cell" style:data-style-name="nd"/><style:style style:name="m" style:family="table-cell" style:data-style-name="nm"/>
 <style:style style:name="t" style:family="table-cell" style:data-style-name="nt"/><style:style style:name="e" style:family="table-cell" style:data-style-name="ne"/>
 <style:style style:name="p" style:family="table-cell" style:data-style-name="np"/><style:style style:name="u" style:family="table-cell" style:data-style-name="nu"/>
 <style:style style:name="hidden" style:family="table"><style:table-properties table:display="false"/></style:style>
</office:automatic-styles>
<office:body><office:spreadsheet>
<table:table table:name="loads"><table:table-column table:number-columns-repeated="3"/><table:table-column table:visibility="collapse" table:number-columns-repeated="2"/><table:table-column/>
 <table:table-row><table:table-cell office:value-type="string" table:number-columns-spanned="3" table:number-rows-spanned="1"><text:p>The log &amp; more</text:p><text:p>second line</text:p></table:table-cell><table:covered-table-cell table:number-columns-repeated="2"/></table:table-row>
 <table:table-row table:number-rows-repeated="2"><table:table-cell/></table:table-row>
 <table:table-row><table:table-cell table:style-name="d" office:value-type="date" office:date-value="2026-03-31"/><table:table-cell table:style-name="m" office:value-type="date" office:date-value="2026-03-31T14:05:00"/>
  <table:table-cell table:style-name="t" office:value-type="time" office:time-value="PT14H05M00S"/><table:table-cell table:style-name="e" office:value-type="time" office:time-value="PT26H30M00S"/>
  <table:table-cell table:style-name="p" office:value-type="percentage" office:value="0.755"/><table:table-cell table:style-name="u" office:value-type="float" office:value="134.3"/></table:table-row>
 <table:table-row table:visibility="collapse"><table:table-cell office:value-type="boolean" office:boolean-value="true"/><table:table-cell table:formula="of:=1+1.5" office:value-type="float" office:value="2.5"/>
  <table:table-cell table:formula="of:=&quot;a&quot;&amp;&quot;b&quot;" office:value-type="string" office:string-value="ab"/><table:table-cell table:formula="of:=1/0"/></table:table-row>
</table:table>
<table:table table:name="away" table:style-name="hidden"><table:table-row><table:table-cell office:value-type="float" office:value="7"/></table:table-row></table:table>
</office:spreadsheet></office:body></office:document>`

func TestSavedByLibreOffice(t *testing.T) {
	book, all := readAll(t, saved(t, "log.fods", office, "xlsx"))
	require.Len(t, book.Sheets, 2)
	assert.Equal(t, []string{
		"1 A=The log & more\nsecond line",
		"4 A=2026-03-31 B=2026-03-31 14:05 C=14:05 D=26 h 30 min E=75.5|% F=134.3|°C",
		"5 A=yes B=2.5 C=ab D=#DIV/0!",
	}, inShort(all[0]))
	var kinds []Kind
	for _, c := range append(all[0][1].Cells, all[0][2].Cells...) {
		kinds = append(kinds, c.Kind)
	}
	assert.Equal(t, []Kind{Day, Moment, Clock, Elapsed, Number, Number, YesNo, Number, Text, Fault}, kinds)
	assert.Equal(t, []Range{{1, 1, 0, 2}}, book.Sheets[0].Merged)
	assert.Equal(t, []Range{{0, 0, 3, 4}}, book.Sheets[0].HiddenColumns)
	assert.True(t, all[0][2].Hidden)
	assert.True(t, all[0][2].Cells[1].Formula)
	assert.Equal(t, []bool{false, true}, []bool{book.Sheets[0].Hidden, book.Sheets[1].Hidden})
	assert.Equal(t, []string{"1 A=7"}, inShort(all[1]))
}

func TestOtherFormatsOfLibreOffice(t *testing.T) {
	assert.Equal(t, "OpenDocument", refusal(t, saved(t, "log.fods", office, "ods")).Cause)
	assert.Equal(t, "old", refusal(t, saved(t, "log.fods", office, "xls")).Cause)
}

const openpyxl = `
import sys, datetime as d
from openpyxl import Workbook
w = Workbook(); s = w.active; s.title = "loads"
s.append(["a <b> & c", 134.3, True, d.date(2026, 3, 31), d.datetime(2026, 3, 31, 14, 5, 30), d.time(14, 5), d.timedelta(hours=26, minutes=30), None, "=1+1"])
s.merge_cells("A3:B4"); s["A3"] = "merged"; s.column_dimensions["C"].hidden = True; s.row_dimensions[3].hidden = True
s["D3"] = 0.5; s["D3"].number_format = "0%"; s["E3"] = 1; s["E3"].number_format = '0" min"'
w.create_sheet("old").sheet_state = "veryHidden"
w.save(sys.argv[1])
`

func TestSavedByOpenpyxl(t *testing.T) {
	python := "python3"
	if exec.Command(python, "-c", "import openpyxl").Run() != nil {
		python = "/usr/bin/python3" // Debian's, where python3-openpyxl goes
	}
	if exec.Command(python, "-c", "import openpyxl").Run() != nil {
		absent(t, "openpyxl")
	}
	name := filepath.Join(t.TempDir(), "a.xlsx")
	out, err := exec.Command(python, "-c", openpyxl, name).CombinedOutput()
	require.NoError(t, err, "%s", out)
	b, err := os.ReadFile(name)
	require.NoError(t, err)
	book, all := readAll(t, b)
	assert.Equal(t, []string{
		"1 A=a <b> & c B=134.3 C=yes D=2026-03-31 E=2026-03-31 14:05:30 F=14:05 G=26 h 30 min",
		"3 A=merged D=50|% E=1|min",
	}, inShort(all[0]))
	s := book.Sheets[0]
	assert.Equal(t, []Range{{3, 4, 0, 1}}, s.Merged)
	assert.Equal(t, []Range{{0, 0, 2, 2}}, s.HiddenColumns)
	assert.True(t, all[0][1].Hidden)
	assert.Equal(t, 1, s.Unstored)
	assert.True(t, book.Sheets[1].Hidden)
}
