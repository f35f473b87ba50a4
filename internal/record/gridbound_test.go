package record

import (
	"context"
	"errors"
	"runtime"
	"strings"
	"testing"

	"footing/internal/workbook"
)

// A text is kept once in a workbook, however many cells share it: what a row holds is
// counted before it is copied.
func TestRowIsCountedBeforeItIsCopied(t *testing.T) {
	defer func(n int64) { mostHeld = n }(mostHeld)
	mostHeld = 1 << 20
	const cells = 3000
	row := func(number int, texts ...string) *workbook.Row {
		r := &workbook.Row{Number: number}
		for c := range cells {
			r.Cells = append(r.Cells, workbook.Cell{Column: c, Text: texts[min(c, len(texts)-1)]})
		}
		return r
	}
	head, long := row(1, "date", "cycle no", "more"), row(2, "2026-06-01", "1", strings.Repeat("x", 100_000))
	b := &book{}
	k := kindNamed("loads")
	p := &plan{kind: k}
	if err := p.compile(); err != nil {
		t.Fatal(err)
	}
	rows := func(_ context.Context, yield func(*workbook.Row) error) error {
		return errors.Join(yield(head), yield(long))
	}
	l := &layout{own: p, plans: map[string]*plan{k.Name: p}, tab: &tab{name: "loads", rows: rows}, budget: b.budget}
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	err := l.read(t.Context())
	runtime.ReadMemStats(&after)
	if mib := (after.TotalAlloc - before.TotalAlloc) >> 20; err != errTooMuch || mib > 100 {
		t.Errorf("%v, and %d MiB were taken for a row of %d MiB", err, mib, cells*100_000>>20)
	}
}
