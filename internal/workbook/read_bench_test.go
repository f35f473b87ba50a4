package workbook

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"runtime"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"
)

// large is a sheet of rows by 10 columns as a ten-year log would be, written by
// excelize, and the same as csv.
func large(t testing.TB, rows int) (workbook, list []byte) {
	f := excelize.NewFile()
	defer func() { require.NoError(t, f.Close()) }()
	day, err := f.NewStyle(&excelize.Style{NumFmt: 22})
	require.NoError(t, err)
	w, err := f.NewStreamWriter("Sheet1")
	require.NoError(t, err)
	var text bytes.Buffer
	c := csv.NewWriter(&text)
	start := time.Date(2016, 1, 4, 8, 0, 0, 0, time.UTC)
	for i := range rows {
		at := start.Add(time.Duration(i) * 50 * time.Minute)
		serial := float64(at.Unix())/86400 + 25569
		cells := []any{fmt.Sprintf("L-%05d", i), excelize.Cell{StyleID: day, Value: serial}, i, 134.3 + float64(i%7)/10, 205.1, "S1", "released", i%2 == 0, "Anna B.", "wrapped, dry"}
		row := []string{fmt.Sprintf("L-%05d", i), at.Format("2006-01-02 15:04"), fmt.Sprint(i), fmt.Sprintf("%.1f", 134.3+float64(i%7)/10), "205.1", "S1", "released", [2]string{"yes", "no"}[i%2], "Anna B.", "wrapped, dry"}
		name, err := excelize.CoordinatesToCellName(1, i+1)
		require.NoError(t, err)
		require.NoError(t, w.SetRow(name, cells))
		require.NoError(t, c.Write(row))
	}
	require.NoError(t, w.Flush())
	c.Flush()
	b, err := f.WriteToBuffer()
	require.NoError(t, err)
	return b.Bytes(), text.Bytes()
}

// BenchmarkRows compares, in one run, reading the same 100,000 rows of 10 columns: ours
// (Open and Rows), the streaming iterator of excelize, encoding/csv, and the bare
// tokens of encoding/xml over the sheet that is unpacked already.
func BenchmarkRows(b *testing.B) {
	book, list := large(b, 100_000)
	b.Run("ours", func(b *testing.B) {
		for b.Loop() {
			w, err := Open(book)
			require.NoError(b, err)
			n := 0
			require.NoError(b, w.Sheets[0].Rows(context.Background(), func(r *Row) error { n += len(r.Cells); return nil }))
			require.Equal(b, 1_000_000, n)
		}
	})
	b.Run("open", func(b *testing.B) {
		for b.Loop() {
			_, err := Open(book)
			require.NoError(b, err)
		}
	})
	b.Run("excelize", func(b *testing.B) {
		for b.Loop() {
			f, err := excelize.OpenReader(bytes.NewReader(book), excelize.Options{RawCellValue: true})
			require.NoError(b, err)
			rows, err := f.Rows("Sheet1")
			require.NoError(b, err)
			n := 0
			for rows.Next() {
				cells, err := rows.Columns()
				if err != nil {
					b.Fatal(err)
				}
				n += len(cells)
			}
			require.Equal(b, 1_000_000, n)
			require.NoError(b, rows.Close())
			require.NoError(b, f.Close())
		}
	})
	b.Run("csv", func(b *testing.B) {
		for b.Loop() {
			r, n := csv.NewReader(bytes.NewReader(list)), 0
			r.ReuseRecord = true
			for {
				cells, err := r.Read()
				if errors.Is(err, io.EOF) {
					break
				}
				if err != nil {
					b.Fatal(err)
				}
				n += len(cells)
			}
			require.Equal(b, 1_000_000, n)
		}
	})
	w, err := Open(book)
	require.NoError(b, err)
	r, err := w.Sheets[0].pack.reader(w.Sheets[0].part)
	require.NoError(b, err)
	sheet, err := io.ReadAll(r)
	require.NoError(b, err)
	b.Run("tokens of encoding-xml", func(b *testing.B) {
		for b.Loop() {
			d := xml.NewDecoder(bytes.NewReader(sheet))
			for {
				if _, err := d.RawToken(); err != nil {
					require.ErrorIs(b, err, io.EOF)
					break
				}
			}
		}
	})
	b.Run("tokens of ours", func(b *testing.B) {
		b.ReportMetric(float64(len(sheet))/(1<<20), "MiB")
		for b.Loop() {
			x := newScanner("sheet", bytes.NewReader(sheet))
			for {
				t, err := x.next()
				if err != nil {
					b.Fatal(err)
				}
				if t == atEnd {
					break
				}
			}
		}
	})
}

// The memory that reading takes does not grow with the sheet: what is in use while rows
// come, after a collection, over what was in use before the workbook was opened.
func TestRowsStream(t *testing.T) {
	inUse := func() int64 {
		runtime.GC()
		runtime.GC()
		var m runtime.MemStats
		runtime.ReadMemStats(&m)
		return int64(m.HeapAlloc)
	}
	peak := func(rows int) (most int64) {
		row := "<row>" + strings.Repeat(`<c t="s"><v>1</v></c><c s="1"><v>46112.5</v></c>`, 5) + "</row>"
		data := zipped(t, handmade("<sheetData>"+strings.Repeat(row, rows)+"</sheetData>")...)
		before := inUse()
		book, err := Open(data)
		require.NoError(t, err)
		n := 0
		require.NoError(t, book.Sheets[0].Rows(context.Background(), func(r *Row) error {
			if n++; n%(rows/10) == 0 {
				most = max(most, inUse()-before)
			}
			return nil
		}))
		require.Equal(t, rows, n)
		runtime.KeepAlive(data)
		return most
	}
	small, big := peak(2_000), peak(100_000)
	t.Logf("in use while reading: %d KiB for 2,000 rows, %d KiB for 100,000", small>>10, big>>10)
	require.Less(t, big, int64(1<<20))
}
