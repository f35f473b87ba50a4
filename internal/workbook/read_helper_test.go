package workbook

import (
	"archive/zip"
	"bytes"
	"context"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

const (
	spreadsheetSpace = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
	linkSpace        = "http://schemas.openxmlformats.org/package/2006/relationships"
	linkKinds        = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
)

// madePart is one entry of a workbook made by hand.
type madePart struct{ name, text string }

func zipped(t testing.TB, parts ...madePart) []byte {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for _, p := range parts {
		w, err := z.Create(p.name)
		require.NoError(t, err)
		_, err = w.Write([]byte(p.text))
		require.NoError(t, err)
	}
	require.NoError(t, z.Close())
	return b.Bytes()
}

func linkTo(id, kind, target string) string {
	return fmt.Sprintf(`<Relationship Id="%s" Type="%s/%s" Target="%s"/>`, id, linkKinds, kind, target)
}

func linksOf(list ...string) string {
	return `<Relationships xmlns="` + linkSpace + `">` + strings.Join(list, "") + `</Relationships>`
}

// handmade gives the parts of a workbook with one sheet, whose inside is given, and
// parts put in the place of its own.
func handmade(inside string, other ...madePart) []madePart {
	parts := []madePart{
		{"_rels/.rels", linksOf(linkTo("r1", "officeDocument", "xl/workbook.xml"))},
		{"xl/workbook.xml", `<workbook xmlns="` + spreadsheetSpace + `" xmlns:r="` + linkKinds + `"><sheets><sheet name="loads" sheetId="1" r:id="r1"/></sheets></workbook>`},
		{"xl/_rels/workbook.xml.rels", linksOf(linkTo("r1", "worksheet", "worksheets/sheet1.xml"), linkTo("r2", "sharedStrings", "sharedStrings.xml"), linkTo("r3", "styles", "styles.xml"))},
		{"xl/sharedStrings.xml", `<sst xmlns="` + spreadsheetSpace + `"><si><t>one</t></si><si><t>two</t></si></sst>`},
		{"xl/styles.xml", `<styleSheet xmlns="` + spreadsheetSpace + `"><cellXfs><xf numFmtId="0"/><xf numFmtId="14"/></cellXfs></styleSheet>`},
		{"xl/worksheets/sheet1.xml", `<worksheet xmlns="` + spreadsheetSpace + `">` + inside + `</worksheet>`},
	}
next:
	for _, o := range other {
		for i, p := range parts {
			if p.name == o.name {
				parts[i] = o
				continue next
			}
		}
		parts = append(parts, o)
	}
	return parts
}

// rowsOf gives all rows of a sheet, as copies.
func rowsOf(s *Sheet) (rows []Row, err error) {
	err = s.Rows(context.Background(), func(r *Row) error {
		rows = append(rows, Row{r.Number, r.Hidden, append([]Cell(nil), r.Cells...)})
		return nil
	})
	return rows, err
}

func readAll(t require.TestingT, data []byte) (*Book, [][]Row) {
	book, err := Open(data)
	require.NoError(t, err)
	var all [][]Row
	for _, s := range book.Sheets {
		rows, err := rowsOf(s)
		require.NoError(t, err)
		all = append(all, rows)
	}
	return book, all
}

// refusal gives why a workbook is not opened, or its first sheet not read.
func refusal(t require.TestingT, data []byte) *Refusal {
	book, err := Open(data)
	if err == nil {
		_, err = rowsOf(book.Sheets[0])
	}
	var r *Refusal
	require.ErrorAs(t, err, &r)
	require.NotEmpty(t, r.Cause)
	require.NotEmpty(t, r.Says)
	require.NotEmpty(t, r.Todo)
	return r
}

// inShort writes rows in short, for comparing: "3 A=one C=2026-03-31".
func inShort(rows []Row) (list []string) {
	for _, r := range rows {
		s := fmt.Sprint(r.Number)
		for _, c := range r.Cells {
			s += " " + Letters(c.Column) + "=" + c.Text
			if c.Unit != "" {
				s += "|" + c.Unit
			}
		}
		list = append(list, s)
	}
	return list
}
