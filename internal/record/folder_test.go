package record

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"reflect"
	"runtime"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"footing/internal/quantity"
)

func TestFolder(t *testing.T) {
	files := map[string]string{
		"cycles.csv": "date\n2026-01-01\n", "loads/2025/q1.csv": "date\n2025-01-01\n", "loads/_draft.csv": "x", "loads/.x/a.csv": "x", "_old/loads.csv": "x", ".git/a": "x",
		"loads/2026/readme.txt": "x", "~$book.xlsx": "x", "book.xls": "x", "loads/book.xlsx": "x", "scan.pdf": "%PDF", "lods.csv": "x", "loads 2024.csv": "x", "notes.md": "x", "photos/a.jpg": "x",
		"audit-1/audit.json": `{"format": "footing audit 2", "loads": []}`, "loads/out/audit.json": `{"x": [1], "format": "footing"}`, "loads/out/b.csv": "date\n2026-01-01\n",
		"traces/a.csv": "1,2\n", "traces/2025/b.csv": "", "traces/layout.yaml": "[]", "traces/.c": "x", "people.csv": "role\nstudent\n",
	}
	rec, in := fill(t, files)
	if len(rec.Loads) != 2 || rec.Loads[0].File() != "cycles.csv" || rec.Loads[1].File() != "loads/2025/q1.csv" ||
		len(in.Problems) != 3 || in.Problems[0].File != "book.xls" || in.Problems[1].File != "loads 2024.csv" || in.Problems[2].File != "loads/book.xlsx" { // all may hold rows
		t.Errorf("%v %v", in.Files, sentences(in))
	}
	var names []string
	for _, n := range in.NotRead {
		names = append(names, n.Name)
		if n.Why == "" || strings.Contains(n.Why, "  ") {
			t.Errorf("%+v", n)
		}
	}
	want := []string{"audit-1", "book.xls", "loads 2024.csv", "loads/2026/readme.txt", "loads/book.xlsx", "loads/out", "lods.csv", "notes.md", "people.csv", "photos", "scan.pdf"}
	if !slices.Equal(names, want) {
		t.Errorf("not read %q, want %q", names, want)
	}
	for name, part := range map[string]string{"book.xls": "save it as .xlsx", "loads/book.xlsx": "only at the top of the folder", "lods.csv": "did you mean loads.csv?", "loads 2024.csv": "put it in a folder named loads"} {
		if !strings.Contains(whyNot(in, name), part) {
			t.Errorf("%s: %q", name, whyNot(in, name))
		}
	}
	sum := func(s string) string { h := sha256.Sum256([]byte(s)); return hex.EncodeToString(h[:]) }
	if len(in.Traces) != 2 || in.Traces[0].Name != "traces/2025/b.csv" || in.Traces[1].Name != "traces/a.csv" || in.Traces[1].Bytes != 4 {
		t.Errorf("%+v", in.Traces)
	}
	o := in.Opener()
	defer o.Close()
	if r, err := o.Open(in.Traces[1]); err != nil {
		t.Error(err)
	} else if text, err := io.ReadAll(r); string(text) != "1,2\n" || err != nil || r.Close() != nil {
		t.Errorf("%q, %v", text, err)
	}
	if in.Layout == nil || string(in.Layout.Text) != "[]" || in.Layout.SHA256 != sum("[]") {
		t.Errorf("%+v", in.Layout)
	}
	if f := fileOf(t, in, "cycles.csv"); f.SHA256 != sum(files["cycles.csv"]) || f.Kind != "loads" {
		t.Errorf("%+v", f)
	}
}

// The same folder gives the same, whatever the number of workers and processors.
func TestSameAgain(t *testing.T) {
	files := map[string]string{"practice.yaml": "{name: A, regulator: B, dates: dmy}"}
	for i := range 12 {
		var b strings.Builder
		b.WriteString("id,date,temp,decision,zz\n")
		for j := range 300 {
			fmt.Fprintf(&b, "L%d,%s,%d,%s,1\n", j%290, []string{"2026-01-01", "31/01/2026", "soon"}[j%3], 100+j, []string{"released", "kept", ""}[j%3])
		}
		files[fmt.Sprintf("loads/%02d.csv", i)] = b.String()
		files[fmt.Sprintf("trips/%02d.json", i)] = `[{"on":"2026-01-01","packs_out":"x"},{"on":1},{`
		files[fmt.Sprintf("traces/%02d.csv", i)] = b.String()
		files[fmt.Sprintf("x%02d.csv", i)] = ""
	}
	dir := folderOf(t, files)
	var first *Intake
	var rows testRecords
	for _, workers := range []int{1, 2, 7} {
		for _, procs := range []int{1, 4} {
			before := runtime.GOMAXPROCS(procs)
			var rec testRecords
			done, calls := int64(0), 0
			in, err := Fill(context.Background(), dir, &rec, Options{Workers: workers, Progress: func(d, total int64) {
				if d < done || d > total {
					t.Errorf("%d of %d after %d", d, total, done)
				}
				done, calls = d, calls+1
			}})
			runtime.GOMAXPROCS(before)
			if err != nil || calls == 0 {
				t.Fatal(err, calls)
			}
			if first == nil {
				first, rows = in, rec
				continue
			}
			if diff := cmp.Diff(first, in, cmp.AllowUnexported(Intake{}, IDs{}), cmpopts.EquateComparable(quantity.Moment{}), cmp.Comparer(func(a, b *quantity.Day) bool { return a == b }),
				cmpopts.IgnoreFields(Intake{}, "Zone", "dir"), cmpopts.IgnoreUnexported(Trace{})); diff != "" {
				t.Fatal(diff)
			}
			if !reflect.DeepEqual(labels(rows.Loads), labels(rec.Loads)) || len(rows.Trips) != len(rec.Trips) {
				t.Fatal("the rows differ")
			}
		}
	}
}

func labels(loads []testLoad) (list []string) {
	for i := range loads {
		list = append(list, loads[i].Label()+" "+loads[i].File()+" "+show(&loads[i]))
	}
	return list
}
