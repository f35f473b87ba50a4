package record

import (
	"encoding/csv"

	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// readAll gives all rows of a CSV text, and the offsets at which they begin.
func scanAll(text string, comma byte) (rows [][]string, wrong int) {
	c := &scanner{text: text, comma: comma, want: true}
	for c.next() {
		if c.wrong != nil {
			wrong++
			continue
		}
		rows = append(rows, slices.Clone(c.cells))
	}
	return rows, wrong
}

// theirs gives all rows as encoding/csv, the reader of the standard library, has them.
func theirs(text string, comma byte) ([][]string, error) {
	r := csv.NewReader(strings.NewReader(text))
	r.Comma, r.FieldsPerRecord = rune(comma), -1
	return r.ReadAll()
}

// What encoding/csv reads without an error, the scanner reads the same.
func TestScannerIsEncodingCSV(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		comma := rapid.SampledFrom([]byte{',', ';', '\t', '|'}).Draw(t, "comma")
		text := rapid.StringOf(rapid.SampledFrom([]rune{'a', 'ä', ' ', '"', '"', ',', ';', '\n', '\r', '\t', '|', '\n'})).Draw(t, "text")
		want, err := theirs(text, comma)
		if err != nil {
			t.Skip("not well formed")
		}
		if got, wrong := scanAll(text, comma); wrong > 0 || !slices.EqualFunc(got, want, slices.Equal) {
			t.Fatalf("%q: %q, encoding/csv has %q", text, got, want)
		}
	})
}

// What encoding/csv writes, the scanner reads back.
func TestScannerReadsWhatIsWritten(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		cell := rapid.StringOf(rapid.SampledFrom([]rune{'a', 'ä', ' ', '"', ',', ';', '\n', '0'}))
		rows := rapid.SliceOf(rapid.SliceOfN(cell, 2, 5)).Draw(t, "rows")
		var b strings.Builder
		w := csv.NewWriter(&b)
		w.UseCRLF = rapid.Bool().Draw(t, "crlf")
		if err := w.WriteAll(rows); err != nil {
			t.Fatal(err)
		}
		got, wrong := scanAll(b.String(), ',')
		if wrong > 0 || !slices.EqualFunc(got, rows, slices.Equal) {
			t.Fatalf("%q: %q, written were %q", b.String(), got, rows)
		}
	})
}

func FuzzScanner(f *testing.F) {
	for _, s := range []string{"a,b\n1,2\n", "\"a\nb\",c\r\n\"x\"\"y\",\"", "a\r\r\n\"b\"\r", "\"a\" b,c\nd,e", "\n\n,\n", "\"\"\"\",a"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		rows, wrong := scanAll(text, ',')
		if want, err := theirs(text, ','); err == nil && longestOf(want) < longestCell {
			if wrong > 0 || !slices.EqualFunc(rows, want, slices.Equal) {
				t.Fatalf("%q: %q, encoding/csv has %q", text, rows, want)
			}
		}
	})
}

func longestOf(rows [][]string) (n int) {
	for _, row := range rows {
		for _, cell := range row {
			n = max(n, len(cell))
		}
	}
	return n
}

// Rows whose quotation marks do not fit cost themselves and no other row.
func TestBadQuotes(t *testing.T) {
	for _, c := range []struct {
		name, text   string
		kept, broken int
	}{
		{"never closed", "on,person\n2026-01-01,\"P1\n2026-01-02,P2\n2026-01-03,P3\n", 2, 1},
		{"closed too early", "on,person\n2026-01-01,\"P1\" or P2\n2026-01-02,P2\n", 1, 1},
		{"two lines of it", "on,person\n2026-01-01,\"P1\n2026-01-02,\"P2\n2026-01-03,P3\n", 1, 2},
		{"swallows many rows", "on,person\n2026-01-01,\"P1\n" + strings.Repeat("2026-01-02,P2\n", 2000), 2000, 1},
		{"an inch inside", "on,note\n2026-01-01,a 5\" file\n2026-01-02,\"a 5\"\" file, new\"\n", 2, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			s, err := readText("trips", formatCSV, c.text)
			if err != nil {
				t.Fatal(err)
			}
			if s.file.Accepted != c.kept || s.file.SetAside != c.broken {
				t.Errorf("accepted %d, set aside %d; want %d and %d\n%s", s.file.Accepted, s.file.SetAside, c.kept, c.broken, sentencesOf(s))
			}
		})
	}
}

// Lines are those of the file, whatever their ends and however many one row takes.
func TestLinesAndCharacters(t *testing.T) {
	for _, c := range []struct {
		name, text               string
		row, line, column, until int
	}{
		{"plain", "on,person,note\n2026-01-01,P1,x\n2026-01-02,P2,y\nsoon,P3,z\n", 3, 4, 1, 5},
		{"crlf", "on,person,note\r\n2026-01-01,P1,x\r\n\r\nsoon,P3,z\r\n", 2, 4, 1, 5},
		{"carriage returns alone", "on,person\r2026-01-01,P1\rsoon,P3\r", 2, 3, 1, 5},
		{"line ends in quotation marks", "note,on\n\"a\nb\nc\",2026-01-01\n\"d\ne\",soon\n", 2, 6, 4, 8},
		{"wide characters", "note,on\nä°\U0001F642,soon\n", 1, 2, 5, 9},
		{"blanks around", "note,on\nx,  soon \n", 1, 2, 5, 9},
		{"quoted", "note,on\nx,\"soon\"\n", 1, 2, 4, 8},
		{"no line end", "note,on\nx,soon", 1, 2, 3, 7},
	} {
		t.Run(c.name, func(t *testing.T) {
			text, _, _, err := decode([]byte(c.text))
			if err != nil {
				t.Fatal(err)
			}
			s, err := readText("trips", formatCSV, text)
			if err != nil {
				t.Fatal(err)
			}
			for _, p := range s.told {
				if p.Field == "on" {
					at := p.Places[0]
					if at.Row != c.row || at.Line != c.line || at.Column != c.column || at.EndColumn != c.until {
						t.Errorf("%+v; want row %d line %d characters %d to %d", at, c.row, c.line, c.column, c.until)
					}
					return
				}
			}
			t.Errorf("no problem of on:\n%s", sentencesOf(s))
		})
	}
}
