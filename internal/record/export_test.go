package record

import (
	"context"
	"encoding/csv"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"go.yaml.in/yaml/v4"
	"pgregory.net/rapid"

	"footing/internal/workbook"
)

// exported reads a folder of files and writes it in a format; it gives all files written.
func exported(t *testing.T, files map[string]string, format string) (map[string]string, *Exported) {
	t.Helper()
	from, to := t.TempDir(), t.TempDir()
	for name, text := range files {
		path := filepath.Join(from, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	var rec testRecords
	in, err := Fill(context.Background(), from, &rec, Options{Keep: true})
	if err != nil {
		t.Fatal(err)
	}
	done, err := in.Export(context.Background(), to, format)
	if err != nil {
		t.Fatal(err)
	}
	got := map[string]string{}
	err = filepath.WalkDir(to, func(path string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		b, err := os.ReadFile(path)
		name, _ := filepath.Rel(to, path)
		got[filepath.ToSlash(name)] = string(b)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return got, done
}

func wantFiles(t *testing.T, got, want map[string]string) {
	t.Helper()
	for name, text := range want {
		if got[name] != text {
			t.Errorf("%s:\n%q\nwant\n%q", name, got[name], text)
		}
	}
	for name := range got {
		if _, ok := want[name]; !ok {
			t.Errorf("%s is one too many:\n%q", name, got[name])
		}
	}
}

func TestExportSplitsLongFiles(t *testing.T) {
	most := partMost
	partMost = 60
	defer func() { partMost = most }()
	rows := map[string]string{"loads.csv": "id,started\nL1,2026-03-01\nL2,2026-03-02\nL3,2026-03-03\n"}
	got, _ := exported(t, rows, "json")
	wantFiles(t, got, map[string]string{
		"loads.json":     "[\n  {\"id\": \"L1\", \"started\": \"2026-03-01\"},\n  {\"id\": \"L2\", \"started\": \"2026-03-02\"}\n]\n",
		"loads/002.json": "[\n  {\"id\": \"L3\", \"started\": \"2026-03-03\"}\n]\n",
	})
}

func TestExportRowsSetAside(t *testing.T) {
	for _, c := range []struct {
		name  string
		files map[string]string
		want  map[string]string
	}{
		{"table of semicolons",
			map[string]string{"loads.csv": "id;started;note\nL1;2026-03-01;a\r\nL2;soon;\"two\nlines\"\nL3;;\"b\"c\n"},
			map[string]string{"loads.csv": csvMark + "id,started,note\nL1,2026-03-01,a\n", "loads/set-aside.csv": csvMark + "id;started;note\nL2;soon;\"two\nlines\"\nL3;;\"b\"c\n"}},
		{"list of JSON",
			map[string]string{"loads.json": `[{"id": "L1", "started": "2026-03-01"}, {"id":"L2"}, 5, {"id": "L3", "started": "soon"} {"id": "L4"}`},
			map[string]string{"loads.csv": csvMark + "id,started\nL1,2026-03-01\n", "loads/set-aside-01.json": "[\n{\"id\":\"L2\"},\n5,\n{\"id\": \"L3\", \"started\": \"soon\"}\n]\n",
				"loads/set-aside-02.json": "[{\"id\": \"L4\"}"}},
		{"YAML",
			map[string]string{"loads.yaml": "  - id: L1\n    started: 2026-03-01\n  - id: L2 # no day\n    note: |\n      two\n      lines\n  - &x L3\n"},
			map[string]string{"loads.csv": csvMark + "id,started,note\nL1,2026-03-01,\n", "loads/set-aside.yaml": "---\n  - id: L2 # no day\n    note: |\n      two\n      lines\n---\n  - &x L3\n"}},
		{"YAML in brackets",
			map[string]string{"loads.yaml": "[{id: L1, started: 2026-03-01}, {id: L2}, {id: L3}]\n"},
			map[string]string{"loads.csv": csvMark + "id,started\nL1,2026-03-01\n", "loads/set-aside.yaml": "---\n{id: L2}\n---\n{id: L3}\n"}},
		{"JSON Lines in a file of JSON",
			map[string]string{"loads.json": "{\"id\": \"L1\", \"started\": \"2026-03-01\"}\n{\"id\": \"L2\"}\n"},
			map[string]string{"loads.csv": csvMark + "id,started\nL1,2026-03-01\n", "loads/set-aside.json": "{}\n{\"id\": \"L2\"}\n"}},
		{"half of a moment",
			map[string]string{"loads.jsonl": "{\"id\": \"L1\", \"started\": \"2026-03-01\", \"start time\": \"9:05\"}\n{\"id\": \"L2\", \"start time\": \"9:05\"}\n"},
			map[string]string{"loads.csv": csvMark + "id,started\nL1,2026-03-01 09:05\n",
				"loads/set-aside.jsonl": "{\"id\": \"L2\", \"start time\": \"9:05\"}\n"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, _ := exported(t, c.files, "csv")
			wantFiles(t, got, c.want)
		})
	}
}

// TestExportKeepsWords: any words are read again as they were, by our reader and by
// encoding/csv of Go and the YAML library, which know nothing of it.
func TestExportKeepsWords(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.OneOf(rapid.String(), rapid.StringMatching(`[-0-9a-zA-Z:. #&*!|>%@{}\[\],"'\\\n\t]{0,12}`)).Draw(t, "words")
		var doc struct{ A []string }
		if err := yaml.Load([]byte("a: ["+yamlText(s)+"]\n"), &doc); err != nil || len(doc.A) != 1 || doc.A[0] != s {
			t.Fatalf("YAML: %q became %s, read as %q: %v", s, yamlText(s), doc.A, err)
		}
		if strings.ContainsAny(s, "\r\n") || s == "" {
			return
		}
		row, err := csv.NewReader(strings.NewReader(csvCell(s) + ",x\n")).Read()
		if err != nil || row[0] != s {
			t.Fatalf("CSV: %q became %s, read as %q: %v", s, csvCell(s), row, err)
		}
	})
}

// TestExportCells: a cell is a real date, number or yes/no only where it can hold it as it is.
func TestExportCells(t *testing.T) {
	text := func(s string) value { return value{isText, s} }
	for _, c := range []struct {
		holds holder
		value value
		kind  workbook.Kind
	}{
		{holdsDay, text("1929-12-31"), workbook.Text}, // a cell for dates would be taken for a year that became a day
		{holdsDay, text("1930-01-01"), workbook.Day},
		{holdsDay, text("2026-02-30"), workbook.Text},
		{holdsDay, text("31/03/2026"), workbook.Text},
		{holdsMoment, text("2026-03-31"), workbook.Day},
		{holdsMoment, text("2026-03-31 14:05"), workbook.Moment},
		{holdsMoment, text("2026-03-31 14:05:30"), workbook.Moment},
		{holdsMoment, text("2026-03-31 14:05:00"), workbook.Text}, // a cell does not tell that the seconds were written
		{holdsMoment, text("2026-03-31T14:05+02:00"), workbook.Text},
		{holdsMoment, text(""), workbook.Text},
		{holdsNumber, value{isNumber, "123456789012345"}, workbook.Number},
		{holdsNumber, value{isNumber, "1234567890123456"}, workbook.Text}, // a cell holds 15 digits
		{holdsNumber, value{isNumber, "0.000123"}, workbook.Number},
		{holdsNumber, text("007"), workbook.Text},
		{holdsText, text("007"), workbook.Text},
		{holdsText, text("2026-03-31"), workbook.Text},
		{holdsYesNo, value{isBool, "true"}, workbook.YesNo},
		{holdsYesNo, text("perhaps"), workbook.Text},
	} {
		m := member{col: &column{holds: c.holds}, value: c.value}
		if got := bookCell(0, m).Kind; got != c.kind {
			t.Errorf("%d %q is a cell of kind %d, not %d", c.holds, c.value.text, got, c.kind)
		}
	}
}
