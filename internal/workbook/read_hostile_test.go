package workbook

import (
	"archive/zip"
	"bytes"
	"compress/flate"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"io"
	"runtime"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestOtherKindsOfFile(t *testing.T) {
	ole := "\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1" + strings.Repeat("\x00", 1000)
	ods := zipped(t, madePart{"mimetype", "application/vnd.oasis.opendocument.spreadsheet"}, madePart{"content.xml", "<a/>"})
	odt := zipped(t, madePart{"mimetype", "application/vnd.oasis.opendocument.text"})
	docx := handmade("", madePart{"xl/workbook.xml", `<w:document xmlns:w="http://schemas.openxmlformats.org/wordprocessingml/2006/main"/>`})
	xlsb := handmade("", madePart{"_rels/.rels", linksOf(linkTo("r1", "officeDocument", "xl/workbook.bin"))})
	whole := zipped(t, handmade("<sheetData/>")...)
	for name, c := range map[string]struct {
		data        []byte
		cause, says string
	}{
		"nothing":        {nil, "empty", "is empty"},
		"text":           {[]byte("id,started\n"), "another kind", "is not a workbook"},
		"old":            {[]byte(ole + wide("Workbook")), "old", "(.xls)"},
		"password":       {[]byte(ole + wide("EncryptedPackage")), "protected", "is protected with a password"},
		"OpenDocument":   {ods, "OpenDocument", "(.ods)"},
		"its text":       {odt, "another kind", "no spreadsheet"},
		"document":       {zipped(t, docx...), "another kind", "holds no spreadsheet"},
		"binary":         {zipped(t, xlsb...), "binary", "(.xlsb)"},
		"any zip":        {zipped(t, madePart{"a.txt", "a"}), "damaged", "_rels/.rels"},
		"empty zip":      {zipped(t), "damaged", "no parts"},
		"no list":        {zipped(t, madePart{"_rels/.rels", linksOf()}), "another kind", "holds no spreadsheet"},
		"cut at its end": {whole[:len(whole)-30], "damaged", "not copied whole"},
		"cut in half":    {whole[:len(whole)/2], "damaged", "not copied whole"},
	} {
		r := refusal(t, c.data)
		assert.Equal(t, c.cause, r.Cause, name)
		assert.Contains(t, r.Says, c.says, name)
	}
}

// Every cut of a workbook, and every byte of it changed, is refused or read; never more.
func TestCutsAndFlips(t *testing.T) {
	whole := zipped(t, handmade(`<sheetData><row><c t="s"><v>1</v></c></row></sheetData>`)...)
	for i := range whole {
		if _, err := Open(whole[:i]); err == nil {
			t.Fatalf("cut at %d of %d is read", i, len(whole))
		}
		b := bytes.Clone(whole)
		b[i] ^= 0x41
		if book, err := Open(b); err == nil && len(book.Sheets) == 1 {
			if rows, err := rowsOf(book.Sheets[0]); err == nil {
				assert.Equal(t, []string{"1 A=two"}, inShort(rows), "byte %d", i)
			}
		}
	}
}

// deflated packs a sheet; the header tells the truth.
func deflated(t testing.TB, sheet io.Reader) (zip.FileHeader, []byte) {
	var body bytes.Buffer
	sum := crc32.NewIEEE()
	f, err := flate.NewWriter(&body, flate.BestSpeed)
	require.NoError(t, err)
	n, err := io.Copy(io.MultiWriter(f, sum), sheet)
	require.NoError(t, err)
	require.NoError(t, f.Close())
	return zip.FileHeader{Name: "xl/worksheets/sheet1.xml", Method: zip.Deflate, CRC32: sum.Sum32(), UncompressedSize64: uint64(n), CompressedSize64: uint64(body.Len())}, body.Bytes()
}

// packed makes a workbook whose sheet is packed with a header of our own.
func packed(t testing.TB, h zip.FileHeader, body []byte) []byte {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	w, err := z.CreateRaw(&h)
	require.NoError(t, err)
	_, err = w.Write(body)
	require.NoError(t, err)
	for _, p := range handmade("") {
		if p.name != h.Name {
			w, err := z.Create(p.name)
			require.NoError(t, err)
			_, err = w.Write([]byte(p.text))
			require.NoError(t, err)
		}
	}
	require.NoError(t, z.Close())
	return b.Bytes()
}

// noughts packs so many MiB of zeros: one MiB, over and over.
func noughts(t testing.TB, mib int) (zip.FileHeader, []byte) {
	var one, end bytes.Buffer
	block, sum := make([]byte, 1<<20), crc32.NewIEEE()
	f, err := flate.NewWriter(&one, flate.BestSpeed)
	require.NoError(t, err)
	_, err = f.Write(block)
	require.NoError(t, err)
	require.NoError(t, f.Flush())
	f.Reset(&end)
	require.NoError(t, f.Close())
	body := append(bytes.Repeat(one.Bytes(), mib), end.Bytes()...)
	for range mib {
		_, _ = sum.Write(block)
	}
	return zip.FileHeader{Name: "xl/worksheets/sheet1.xml", Method: zip.Deflate, CRC32: sum.Sum32(), UncompressedSize64: uint64(mib) << 20, CompressedSize64: uint64(len(body))}, body
}

func TestBombs(t *testing.T) {
	bombHeader, bombBody := noughts(t, 2048)
	honest, below := noughts(t, 20)
	sheetHeader, sheetBody := deflated(t, strings.NewReader(`<worksheet xmlns="`+spreadsheetSpace+`"><sheetData>`+strings.Repeat(`<row><c><v>1</v></c></row>`, 5000)+`</sheetData></worksheet>`))
	bomb := func(change func(*zip.FileHeader)) []byte {
		h := bombHeader
		change(&h)
		return packed(t, h, bombBody)
	}
	sheet := func(change func(*zip.FileHeader)) []byte {
		h := sheetHeader
		change(&h)
		return packed(t, h, sheetBody)
	}
	for name, c := range map[string]struct {
		data  []byte
		cause string
	}{
		"two gigabytes, honest":      {bomb(func(*zip.FileHeader) {}), "too large"},
		"two gigabytes, said 4 GiB":  {bomb(func(h *zip.FileHeader) { h.UncompressedSize64 = 4<<30 - 2 }), "too large"},
		"two gigabytes, said 1 KiB":  {bomb(func(h *zip.FileHeader) { h.UncompressedSize64 = 1024 }), "damaged"},
		"two gigabytes, said 50 MiB": {bomb(func(h *zip.FileHeader) { h.UncompressedSize64 = 50 << 20 }), "damaged"},
		"smaller size":               {sheet(func(h *zip.FileHeader) { h.UncompressedSize64 -= 1000 }), "damaged"},
		"larger size":                {sheet(func(h *zip.FileHeader) { h.UncompressedSize64 += 1000 }), "damaged"},
		"wrong sum":                  {sheet(func(h *zip.FileHeader) { h.CRC32++ }), "damaged"},
		"no sum":                     {sheet(func(h *zip.FileHeader) { h.CRC32 = 0 }), "damaged"},
		"smaller packing":            {sheet(func(h *zip.FileHeader) { h.CompressedSize64 -= 10 }), "damaged"},
		"encrypted":                  {sheet(func(h *zip.FileHeader) { h.Flags |= 1 }), "protected"},
		"unknown packing":            {sheet(func(h *zip.FileHeader) { h.Method = 93 }), "damaged"},
	} {
		t.Run(name, func(t *testing.T) {
			var before, after runtime.MemStats
			runtime.ReadMemStats(&before)
			assert.Equal(t, c.cause, refusal(t, c.data).Cause)
			runtime.ReadMemStats(&after)
			assert.Less(t, after.TotalAlloc-before.TotalAlloc, uint64(8<<20), "memory taken")
		})
	}
	assert.Contains(t, refusal(t, packed(t, honest, below)).Says, "cannot be read", "noughts that are below the limit are unpacked")
	_, all := readAll(t, sheet(func(*zip.FileHeader) {}))
	assert.Len(t, all[0], 5000)
	// What is never read may be as large as it likes.
	_, all = readAll(t, bomb(func(h *zip.FileHeader) { h.Name = "xl/media/image1.png" }))
	assert.Len(t, all, 1)
}

// The limit is one for all parts together; a part counts once.
func TestPartsAddUp(t *testing.T) {
	p, err := openPack(zipped(t, madePart{"a", strings.Repeat("x", 600)}, madePart{"b", strings.Repeat("x", 401)}, madePart{"c", strings.Repeat("x", 400)}))
	require.NoError(t, err)
	p.left = 1000
	require.NoError(t, p.check("a", io.Discard))
	require.NoError(t, p.check("a", io.Discard))
	var r *Refusal
	require.ErrorAs(t, p.check("b", io.Discard), &r)
	assert.Equal(t, "too large", r.Cause)
	require.NoError(t, p.check("c", io.Discard))
}

func TestManyParts(t *testing.T) {
	var many []madePart
	for i := range mostEntries {
		many = append(many, madePart{fmt.Sprint("p", i), ""})
	}
	assert.Equal(t, "too large", refusal(t, zipped(t, append(many[:mostEntries-5:mostEntries-5], handmade("<sheetData/>")...)...)).Cause)
	readAll(t, zipped(t, append(many[:mostEntries-6], handmade("<sheetData/>")...)...))
	sheets, links := "", []string{}
	var parts []madePart
	for i := range mostSheets + 1 {
		sheets += fmt.Sprintf(`<sheet name="s%d" r:id="r%d"/>`, i, i)
		links = append(links, linkTo(fmt.Sprint("r", i), "worksheet", fmt.Sprintf("s%d.xml", i)))
		parts = append(parts, madePart{fmt.Sprintf("xl/s%d.xml", i), `<worksheet xmlns="` + spreadsheetSpace + `"/>`})
	}
	list := func(n int) madePart {
		return madePart{"xl/workbook.xml", `<workbook xmlns="` + spreadsheetSpace + `" xmlns:r="` + linkKinds + `"><sheets>` + strings.Join(strings.SplitAfter(sheets, "/>")[:n], "") + `</sheets></workbook>`}
	}
	parts = append(parts, madePart{"xl/_rels/workbook.xml.rels", linksOf(links...)})
	assert.Equal(t, "too large", refusal(t, zipped(t, handmade("", append(parts, list(mostSheets+1))...)...)).Cause)
	book, _ := readAll(t, zipped(t, handmade("", append(parts, list(mostSheets))...)...))
	assert.Len(t, book.Sheets, mostSheets)
}

func TestHostileParts(t *testing.T) {
	book := func(inside string) madePart {
		return madePart{"xl/workbook.xml", `<workbook xmlns="` + spreadsheetSpace + `" xmlns:r="` + linkKinds + `">` + inside + `</workbook>`}
	}
	rows := func(s string) []madePart { return handmade("<sheetData>" + s + "</sheetData>") }
	laughs := `<!DOCTYPE x [<!ENTITY a "ha"><!ENTITY b "&a;&a;&a;&a;">]><worksheet xmlns="` + spreadsheetSpace + `"><sheetData><row><c t="str"><v>&b;</v></c></row></sheetData></worksheet>`
	deep := strings.Repeat("<a>", 100) + strings.Repeat("</a>", 100)
	for name, c := range map[string]struct {
		parts       []madePart
		cause, says string
	}{
		"laughs":              {handmade("", madePart{"xl/worksheets/sheet1.xml", laughs}), "definitions", "sheet1.xml"},
		"laughs in the texts": {handmade("<sheetData/>", madePart{"xl/sharedStrings.xml", laughs}), "definitions", "sharedStrings"},
		"definition later":    {rows(`<!ENTITY a "b">`), "definitions", ""},
		"unknown entity":      {rows(`<row><c t="str"><v>&b;</v></c></row>`), "damaged", ""},
		"deep":                {handmade(deep), "damaged", "deep"},
		"deep in a row":       {rows("<row>" + deep + "</row>"), "damaged", "deep"},
		"huge attribute":      {rows(`<row a="` + strings.Repeat("x", 2<<20) + `"/>`), "damaged", ""},
		"huge text":           {rows(`<row><c t="str"><v>` + strings.Repeat("x", 2<<20) + `</v></c></row>`), "damaged", ""},
		"huge text in pieces": {rows(`<row><c t="str"><v>` + strings.Repeat(strings.Repeat("x", 1<<18)+"<!---->", 8) + `</v></c></row>`), "damaged", ""},
		"ends too early":      {handmade("", madePart{"xl/worksheets/sheet1.xml", `<worksheet xmlns="` + spreadsheetSpace + `"><sheetData><row><c><v>1</v></c></row>`}), "damaged", ""},
		"no sheet":            {handmade("", madePart{"xl/worksheets/sheet1.xml", `<other/>`}), "damaged", "no sheet"},
		"Latin-1":             {handmade("", madePart{"xl/worksheets/sheet1.xml", `<?xml version="1.0" encoding="ISO-8859-1"?><worksheet xmlns="` + spreadsheetSpace + `"/>`}), "damaged", "characters"},
		"no UTF-8":            {rows("<row><c t='str'><v>\xE9</v></c></row>"), "damaged", ""},
		"shared beyond":       {rows(`<row><c r="A1" t="s"><v>2</v></c></row>`), "damaged", "the text of the cell A1"},
		"shared far beyond":   {rows(`<row><c t="s"><v>99999999999999999999999999</v></c></row>`), "damaged", "cell A1"},
		"shared below":        {rows(`<row><c t="s"><v>-1</v></c></row>`), "damaged", "cell A1"},
		"no texts":            {handmade("<sheetData><row><c t='s'><v>0</v></c></row></sheetData>", madePart{"xl/_rels/workbook.xml.rels", linksOf(linkTo("r1", "worksheet", "worksheets/sheet1.xml"))}), "damaged", "cell A1"},
		"row 0":               {rows(`<row r="0"/>`), "damaged", "row"},
		"row below":           {rows(`<row r="-1"/>`), "damaged", "row"},
		"row beyond":          {rows(`<row r="1048577"/>`), "damaged", "row"},
		"row after the last":  {rows(`<row r="1048576"/><row/>`), "damaged", "row"},
		"row twice":           {rows(`<row r="5"/><row r="5"/>`), "damaged", "row 5 after row 5"},
		"row back":            {rows(`<row r="5"/><row r="4"/>`), "damaged", "row 4 after row 5"},
		"column beyond":       {rows(`<row><c r="XFE1"><v>1</v></c></row>`), "damaged", `"XFE1"`},
		"column after last":   {rows(`<row><c r="XFD1"/><c><v>1</v></c></row>`), "damaged", "columns"},
		"cell elsewhere":      {rows(`<row r="3"><c r="A4"><v>1</v></c></row>`), "damaged", `"A4" in row 3`},
		"cell without row":    {rows(`<row r="3"><c r="A"><v>1</v></c></row>`), "damaged", `"A"`},
		"cell twice":          {rows(`<row><c r="B1"><v>1</v></c><c r="B1"><v>2</v></c></row>`), "damaged", "B1 twice"},
		"cell twice, apart":   {rows(`<row><c r="B1"><v>1</v></c><c r="A1"><v>2</v></c><c r="B1"><v>2</v></c></row>`), "damaged", "B1 twice"},
		"cell twice, often":   {rows("<row>" + strings.Repeat(`<c r="B1"><v>1</v></c>`, columnLimit+2) + "</row>"), "damaged", "twice"},
		"merged nowhere":      {handmade(`<sheetData/><mergeCells><mergeCell ref="A0:B1"/></mergeCells>`), "damaged", "merges"},
		"merged backwards":    {handmade(`<sheetData/><mergeCells><mergeCell ref="B2:A1"/></mergeCells>`), "damaged", "merges"},
		"columns nowhere":     {handmade(`<cols><col min="0" max="4" hidden="1"/></cols>`), "damaged", "columns"},
		"two parts of a name": {append(handmade("<sheetData/>"), madePart{"XL/Workbook.xml", ""}), "damaged", "twice"},
		"part missing":        {handmade("", book(`<sheets><sheet name="a" r:id="r9"/></sheets>`)), "damaged", `"a"`},
		"entry missing":       {handmade("", madePart{"xl/_rels/workbook.xml.rels", linksOf(linkTo("r1", "worksheet", "../../../etc/none.xml"))}), "damaged", "etc/none.xml"},
		"one part, two tabs":  {handmade("<sheetData/>", book(`<sheets><sheet name="a" r:id="r1"/><sheet name="b" r:id="r1"/></sheets>`)), "damaged", "two sheets"},
		"two tabs of a name":  {handmade("<sheetData/>", book(`<sheets><sheet name="a" r:id="r1"/><sheet name="A" r:id="r1"/></sheets>`)), "damaged", "two sheets"},
		"a link for a sheet":  {handmade("", madePart{"xl/_rels/workbook.xml.rels", linksOf(`<Relationship Id="r1" Type="` + linkKinds + `/worksheet" Target="http://example.org/s.xml" TargetMode="External"/>`)}), "damaged", `"loads"`},
		"long format":         {handmade("<sheetData/>", madePart{"xl/styles.xml", `<styleSheet xmlns="` + spreadsheetSpace + `"><numFmts><numFmt numFmtId="200" formatCode="` + strings.Repeat("0", longestFormat+1) + `"/></numFmts></styleSheet>`}), "damaged", "format of numbers"},
		"bad style":           {handmade("<sheetData/>", madePart{"xl/styles.xml", `<styleSheet xmlns="` + spreadsheetSpace + `"><numFmts><numFmt numFmtId="x"/></numFmts></styleSheet>`}), "damaged", "styles"},
	} {
		r := refusal(t, zipped(t, c.parts...))
		assert.Equal(t, c.cause, r.Cause, "%s: %v", name, r)
		assert.Contains(t, r.Says, c.says, name)
	}
}

// A million blank rows cost the time to pass over them, and nothing else.
func TestMillionBlankRows(t *testing.T) {
	blank := strings.Repeat(`<row s="1" customFormat="1"><c s="1"/></row>`, rowLimit-2)
	data := zipped(t, handmade(`<sheetData><row r="1"><c r="A1"><v>1</v></c></row>`+blank+`<row r="1048576"><c r="A1048576"><v>2</v></c></row></sheetData>`)...)
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	_, all := readAll(t, data)
	runtime.ReadMemStats(&after)
	assert.Equal(t, []string{"1 A=1", "1048576 A=2"}, inShort(all[0]))
	assert.Less(t, after.TotalAlloc-before.TotalAlloc, uint64(4<<20), "memory taken")
}

// FuzzRead reads what is given as the bytes of a workbook, and as its sheet, its texts
// and its styles.
func FuzzRead(f *testing.F) {
	f.Add(zipped(f, handmade(`<sheetData><row><c t="s"><v>1</v></c></row></sheetData>`)...))
	for _, s := range xmlSeeds {
		f.Add([]byte(s))
	}
	f.Add([]byte(`<sheetData><row r="2"><c r="B2" s="1"><f>A1</f><v>46112.5</v></c></row></sheetData><mergeCells><mergeCell ref="A1:B2"/></mergeCells>`))
	f.Fuzz(func(t *testing.T, data []byte) {
		tries := [][]byte{data, zipped(t, handmade(string(data))...)}
		for _, name := range []string{"xl/sharedStrings.xml", "xl/styles.xml", "xl/workbook.xml", "xl/worksheets/sheet1.xml"} {
			tries = append(tries, zipped(t, handmade(`<sheetData><row><c t="s" s="1"><v>0</v></c></row></sheetData>`, madePart{name, string(data)})...))
		}
		for _, b := range tries {
			book, err := Open(b)
			if err != nil {
				require.IsType(t, &Refusal{}, err)
				continue
			}
			for _, s := range book.Sheets {
				rows, err := rowsOf(s)
				if err != nil {
					require.IsType(t, &Refusal{}, err)
				}
				last := 0
				for _, r := range rows {
					require.Greater(t, r.Number, last)
					last = r.Number
					require.NotEmpty(t, r.Cells)
					column := -1
					for _, c := range r.Cells {
						require.Greater(t, c.Column, column)
						require.NotEmpty(t, c.Text)
						column = c.Column
					}
				}
			}
		}
	})
}

// Compound files as programs write them: the header says where the list of streams lies
// (MS-CFB 2.2); here only that the name is found wherever it stands.
func TestProtectedAnywhere(t *testing.T) {
	data := []byte("\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1")
	data = append(data, make([]byte, 100_001)...)
	data = append(data, wide("EncryptedPackage")...)
	data = binary.LittleEndian.AppendUint32(data, 7)
	assert.Equal(t, "protected", refusal(t, data).Cause)
}
