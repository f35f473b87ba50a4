package record

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"testing"
	"time"

	"github.com/xuri/excelize/v2"
)

// manyLoads makes rows of loads, as CSV and as a workbook with real cells.
func manyLoads(tb testing.TB, rows int) (text, book []byte) {
	tb.Helper()
	f := excelize.NewFile()
	defer f.Close()
	format := "yyyy-mm-dd hh:mm"
	dated, err := f.NewStyle(&excelize.Style{CustomNumFmt: &format})
	if err != nil {
		tb.Fatal(err)
	}
	if err := f.SetSheetName("Sheet1", "loads"); err != nil {
		tb.Fatal(err)
	}
	w, err := f.NewStreamWriter("loads")
	if err != nil {
		tb.Fatal(err)
	}
	var b bytes.Buffer
	names := []any{"id", "started", "sterilizer", "counter", "temperature [°C]", "exposure [min]", "wrapped", "inside_indicator", "released_by", "decision"}
	for i, n := range names {
		if i > 0 {
			b.WriteByte(',')
		}
		b.WriteString(n.(string))
	}
	b.WriteByte('\n')
	_ = w.SetRow("A1", names)
	start := time.Date(2016, 11, 28, 9, 0, 0, 0, time.UTC)
	for i := range rows {
		at := start.Add(time.Duration(i) * 53 * time.Minute)
		id, temp := fmt.Sprintf("L-%06d", i), 134+float64(i%17)/10
		if err := w.SetRow(fmt.Sprintf("A%d", i+2), []any{id, excelize.Cell{StyleID: dated, Value: at}, "S1", i, temp, 3.5, true, "pass", "P-01", "released"}); err != nil {
			tb.Fatal(err)
		}
		fmt.Fprintf(&b, "%s,%s,S1,%d,%g,3.5,yes,pass,P-01,released\n", id, at.Format("2006-01-02 15:04"), i, temp)
	}
	if err := w.Flush(); err != nil {
		tb.Fatal(err)
	}
	var out bytes.Buffer
	if err := f.Write(&out); err != nil {
		tb.Fatal(err)
	}
	return b.Bytes(), out.Bytes()
}

// BenchmarkBook reads 100,000 rows of a workbook in turns with the same rows as CSV;
// "ratio" is the time of the first to that of the second in one run, "peak-MiB" the
// largest heap seen while the workbook was read, with the rows that are kept.
func BenchmarkBook(b *testing.B) {
	const rows = 100_000
	text, book := manyLoads(b, rows)
	dirs := map[string]string{}
	for name, data := range map[string][]byte{"loads.csv": text, "records.xlsx": book} {
		dirs[name] = b.TempDir()
		if err := os.WriteFile(filepath.Join(dirs[name], name), data, 0o644); err != nil {
			b.Fatal(err)
		}
	}
	var took [2]time.Duration
	var peak [2]uint64
	for b.Loop() {
		for i, name := range []string{"records.xlsx", "loads.csv"} {
			runtime.GC()
			stop, most := make(chan struct{}), make(chan uint64)
			go func() {
				var top uint64
				for {
					select {
					case <-stop:
						most <- top
						return
					case <-time.After(2 * time.Millisecond):
						var m runtime.MemStats
						runtime.ReadMemStats(&m)
						top = max(top, m.HeapAlloc)
					}
				}
			}()
			var rec testRecords
			start := time.Now()
			in, err := Fill(context.Background(), dirs[name], &rec, Options{})
			took[i] += time.Since(start)
			close(stop)
			peak[i] = max(peak[i], <-most)
			if err != nil || len(rec.Loads) != rows || len(in.Problems) > 0 {
				b.Fatal(err, len(rec.Loads), sentences(in))
			}
		}
	}
	b.ReportMetric(took[0].Seconds()/took[1].Seconds(), "ratio")
	b.ReportMetric(took[0].Seconds()/float64(b.N), "s/book")
	b.ReportMetric(float64(peak[0])/(1<<20), "peak-MiB")
	b.ReportMetric(float64(peak[1])/(1<<20), "peak-MiB-csv")
	b.ReportMetric(float64(len(book))/(1<<20), "MiB")
}
