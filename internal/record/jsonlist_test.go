package record

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"github.com/go-json-experiment/json/jsontext"
)

// Lists of about as many rows as are found at a time, whole and broken off in the last row.
func TestLongLists(t *testing.T) {
	for _, n := range []int{0, 1, 255, 256, 257, 511, 512, 513, 2000} {
		rows := make([]string, n)
		for i := range rows {
			rows[i] = fmt.Sprintf(`{"id":"L-%d","started":"2026-02-02"}`, i)
		}
		whole := "[" + strings.Join(rows, ",") + "]"
		rec, in := fill(t, map[string]string{"loads.json": whole})
		if len(rec.Loads) != n || len(in.Problems) != 0 {
			t.Errorf("%d rows: %d loads, %v", n, len(rec.Loads), in.Problems)
		}
		for i := range rec.Loads {
			if r := &rec.Loads[i].Row; r.Number() != i+1 || r.ID != fmt.Sprintf("L-%d", i) {
				t.Fatalf("row %d is %d, %s", i, r.Number(), r.ID)
			}
		}
		if n == 0 {
			continue
		}
		rec, in = fill(t, map[string]string{"loads.json": whole[:len(whole)-3]})
		if f := fileOf(t, in, "loads.json"); len(rec.Loads) != n-1 || f.Rows != n || f.SetAside != 1 {
			t.Errorf("%d rows, the last broken: %+v", n, f)
		}
	}
}

// Who stops listening stops the work.
func TestListRowsStops(t *testing.T) {
	d := jsontext.NewDecoder(bytes.NewBufferString("["+strings.Repeat("{},", 100_000)+"{}]"), lenient)
	if _, err := d.ReadToken(); err != nil {
		t.Fatal(err)
	}
	over := make(chan struct{})
	rows, _ := listRows(d, over)
	n := len(<-rows)
	close(over)
	for some := range rows { // ends, or the test does not
		n += len(some)
	}
	if n > 100_000 {
		t.Errorf("all %d rows were found", n)
	}
}
