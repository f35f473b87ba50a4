package record

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
)

// problem gives the one problem of a cause, or fails.
func problem(t *testing.T, in *Intake, cause string) Problem {
	t.Helper()
	for _, p := range in.Problems {
		if p.Cause == cause {
			return p
		}
	}
	t.Fatalf("no problem %q in:\n%s", cause, strings.Join(sentences(in), "\n"))
	return Problem{}
}

func fileOf(t *testing.T, in *Intake, name string) File {
	t.Helper()
	for _, f := range in.Files {
		if f.Name == name {
			return f
		}
	}
	t.Fatalf("%s was not read: %v", name, in.NotRead)
	return File{}
}

func whyNot(in *Intake, name string) string {
	for _, n := range in.NotRead {
		if n.Name == name {
			return n.Why
		}
	}
	return ""
}

const oneTrip = "on\n2026-01-01\n"

func TestLinksAreNotFollowed(t *testing.T) {
	outside := folderOf(t, map[string]string{"trips.csv": oneTrip, "loads/a.csv": "started\n2026-01-01\n", "t.csv": "x"})
	dir := folderOf(t, map[string]string{"trips/good.csv": oneTrip, "traces/a.csv": "x"})
	for from, to := range map[string]string{"trips.csv": "trips.csv", "loads": "loads", "traces/b.csv": "t.csv", "other": "."} {
		if err := os.Symlink(filepath.Join(outside, to), filepath.Join(dir, filepath.FromSlash(from))); err != nil {
			t.Skip("this system makes no links:", err)
		}
	}
	var rec testRecords
	in, err := Fill(context.Background(), dir, &rec, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if len(rec.Trips) != 1 || len(rec.Loads) != 0 || len(in.Traces) != 1 {
		t.Errorf("%d trips, %d loads, %d traces", len(rec.Trips), len(rec.Loads), len(in.Traces))
	}
	for _, name := range []string{"trips.csv", "loads", "traces/b.csv", "other"} {
		if why := whyNot(in, name); !strings.Contains(why, "links are not followed") {
			t.Errorf("%s: %q", name, why)
		}
	}
	if p := problem(t, in, "link"); p.Effect != FileRefused {
		t.Errorf("%+v", p)
	}
	if got := in.StateOf("trips", "T-9"); got != IDSetAside {
		t.Errorf("an id that the refused file may hold is %v", got)
	}
}

// A link put in the place of a file, after the folder was listed, leads nowhere.
func TestSwappedFiles(t *testing.T) {
	outside := folderOf(t, map[string]string{"trips.csv": oneTrip})
	for _, c := range []struct {
		name, cause string
		do          func(file string) error
	}{
		{"vanished", "vanished", os.Remove},
		{"replaced by a link", "", func(file string) error {
			if err := os.Remove(file); err != nil {
				return err
			}
			return os.Symlink(filepath.Join(outside, "trips.csv"), file)
		}},
		{"replaced", "changed", func(file string) error {
			if err := os.WriteFile(file+".new", []byte(oneTrip), 0o644); err != nil {
				return err
			}
			return os.Rename(file+".new", file)
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir := folderOf(t, map[string]string{"practice.csv": "name,A\nregulator,B\n", "trips.csv": "on\n2026-02-02\n", "loads.csv": "started\n2026-01-01\n"})
			done := false
			opened = func(name string) {
				if name == "practice.csv" && !done { // read first, when the folder has been listed
					done = true
					if err := c.do(filepath.Join(dir, "trips.csv")); err != nil {
						t.Skip(err)
					}
				}
			}
			defer func() { opened = func(string) {} }()
			var rec testRecords
			in, err := Fill(context.Background(), dir, &rec, Options{})
			if err != nil {
				t.Fatal(err)
			}
			if len(rec.Trips) != 0 || len(rec.Loads) != 1 || whyNot(in, "trips.csv") == "" {
				t.Errorf("%d trips, %d loads, not read: %v", len(rec.Trips), len(rec.Loads), in.NotRead)
			}
			if c.cause != "" {
				problem(t, in, c.cause)
			}
		})
	}
}

func TestFilesThatChangeWhileRead(t *testing.T) {
	for _, size := range []int64{0, 3, 10, 500_000} {
		dir := folderOf(t, map[string]string{"trips.csv": oneTrip, "loads.csv": "started\n2026-01-01\n"})
		opened = func(name string) {
			if name != "loads.csv" {
				if err := os.Truncate(filepath.Join(dir, filepath.FromSlash(name)), size); err != nil {
					t.Error(err)
				}
			}
		}
		var rec testRecords
		in, err := Fill(context.Background(), dir, &rec, Options{Workers: 1})
		opened = func(string) {}
		if err != nil {
			t.Fatal(err)
		}
		if len(rec.Trips) != 0 || len(rec.Loads) != 1 {
			t.Errorf("to %d bytes: %d trips, %d loads", size, len(rec.Trips), len(rec.Loads))
		}
		if why := whyNot(in, "trips.csv"); !strings.Contains(why, "its length changed") {
			t.Errorf("cut to %d bytes: %q", size, why)
		}
	}
}

// A file of one line of 200 MB is refused by its length and costs no memory.
func TestHugeFile(t *testing.T) {
	dir := folderOf(t, map[string]string{"trips.csv": oneTrip})
	huge := filepath.Join(dir, "loads.csv")
	if err := os.WriteFile(huge, []byte("started,x"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.Truncate(huge, 200<<20); err != nil {
		t.Skip(err)
	}
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	var rec testRecords
	in, err := Fill(context.Background(), dir, &rec, Options{})
	runtime.ReadMemStats(&after)
	if err != nil {
		t.Fatal(err)
	}
	if grown := after.TotalAlloc - before.TotalAlloc; grown > 32<<20 {
		t.Errorf("%d MiB were asked for", grown>>20)
	}
	p := problem(t, in, "too-large")
	for _, part := range []string{"loads.csv", "200 MiB", "64 MiB", "split it"} {
		if !strings.Contains(p.Sentence, part) {
			t.Errorf("%q does not say %q", p.Sentence, part)
		}
	}
	if len(rec.Trips) != 1 || in.StateOf("loads", "L1") != IDSetAside {
		t.Error("the rest did not go on, or the ids of the file are taken for unknown")
	}
}

func TestHostileText(t *testing.T) {
	deepJSON := `[{"on":"2026-01-01","note":` + strings.Repeat("[", 10_000) + strings.Repeat("]", 10_000) + `},{"on":"2026-01-02"}]`
	nested := `[{"on":"2026-01-01","zz":` + strings.Repeat("[", 300) + strings.Repeat("]", 300) + `},{"on":"2026-01-02"}]`
	deepYAML := "- on: 2026-01-01\n  note: " + strings.Repeat("[", 10_000) + strings.Repeat("]", 10_000) + "\n- on: 2026-01-02\n"
	var bomb strings.Builder
	bomb.WriteString("- on: 2026-01-01\n  a: &a [x,x,x,x,x,x,x,x,x]\n")
	for c := 'b'; c < 'k'; c++ {
		bomb.WriteString("  " + string(c) + ": &" + string(c) + " [" + strings.Repeat("*"+string(c-1)+",", 9) + "]\n")
	}
	bomb.WriteString("- on: 2026-01-02\n")
	for _, c := range []struct {
		name, file, text string
		kept, aside      int
		cause            string
	}{
		{"json nested 10,000 deep", "trips.json", deepJSON, 0, 2, "broken"},
		{"json nested 300 deep", "trips.json", nested, 1, 1, "too-deep"},
		{"yaml nested 10,000 deep", "trips.yaml", deepYAML, 1, 1, "too-deep"},
		{"alias bomb", "trips.yaml", bomb.String(), 1, 1, "alias"},
		{"alias to itself", "trips.yaml", "- on: 2026-01-01\n  a: &a [*a]\n- on: 2026-01-02\n", 1, 1, "alias"},
		{"merge key", "trips.yaml", "- <<: {on: 2026-01-01}\n- on: 2026-01-02\n", 1, 1, "alias"},
		{"json name twice", "trips.json", `[{"on":"2026-01-01","on":"2026-01-02"},{"on":"2026-01-02"}]`, 1, 1, "repeated-name"},
		{"json name twice, once escaped", "trips.json", `[{"on":"2026-01-01","\u006fn":"2026-01-02"},{"on":"2026-01-02"}]`, 1, 1, "repeated-name"},
		{"yaml name twice", "trips.yaml", "- on: 2026-01-01\n  on: 2026-01-02\n- on: 2026-01-02\n", 1, 1, "repeated-name"},
		{"half a character", "trips.jsonl", "{\"on\":\"2026-01-01\",\"note\":\"\\ud83d\"}\n{\"on\":\"2026-01-02\"}\n", 1, 1, "half-character"},
		{"a number beyond all", "trips.json", `[{"on":"2026-01-01","packs_out":1e999999999},{"on":"2026-01-02","packs_out":2}]`, 2, 0, "number"},
		{"broken row in the middle", "trips.json", "[{\"on\":\"2026-01-01\"},\n{\"on\":\"2026-01-02\",},\n{\"on\":\"2026-01-03\"},\n{\"on\":\"2026-01-04\"}]", 1, 3, "broken"},
		{"list not closed", "trips.json", `[{"on":"2026-01-01"}`, 1, 0, "untidy-end"},
		{"comma before the end", "trips.json", `[{"on":"2026-01-01"},]`, 1, 0, "untidy-end"},
		{"two lists", "trips.json", `[{"on":"2026-01-01"}][{"on":"2026-01-02"}]`, 1, 0, "after-end"},
		{"a row of a million cells", "trips.csv", "on,note\n2026-01-01,a\n2026-01-02" + strings.Repeat(",x", 1_000_000) + "\n", 2, 0, "more-cells"},
		{"a cell of a million characters", "trips.csv", "on,note\n" + strings.Repeat("1,", 500_000) + "\n2026-01-02,a\n\"" + strings.Repeat("1,", 500_000) + "\",b\n", 1, 2, "too-long"},
		{"a list of a million items", "trips.json", `[{"on":"2026-01-01","packs_out":[` + strings.Repeat("1,", 1_000_000) + `1]}]`, 1, 0, "too-long"},
		{"a million names", "trips.json", `[{"on":"2026-01-01"` + manyNames() + `}]`, 1, 0, ""},
		{"one line of many faults", "trips.json", "[" + strings.Repeat(`{"on":"2026-01-01","packs_out":true,"ä":"°"},`, 30_000) + `{"on":"soon"}]`, 30_000, 1, "form"},
		{"broken, then deep again and again", "trips.json", `[{"on":"2026-01-01"},{"on":1]` + strings.Repeat(`,{"a":[1`, 100_000), 1, 1, "broken"},
		{"a list in brackets, with faults", "trips.yaml", "[" + strings.Repeat("{on: soon}, ", 8_000) + "]", 0, 8_000, "not-a-date-that-can-be-read"},
		{"a long list in brackets", "trips.yaml", "[" + strings.Repeat("{on: 2026-01-01}, ", 10_000) + "]", 0, 1, "too-long"},
		{"one bad line", "trips.jsonl", "{\"on\":\"2026-01-01\"}\n{\"on\":\"2026-01-02\"\n{\"on\":\"2026-01-03\"}\n", 2, 1, "broken"},
		{"one bad item", "trips.yaml", "- on: 2026-01-01\n- on: \"2026-01-02\n- on: 2026-01-03\n", 2, 1, "broken"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, in := fill(t, map[string]string{c.file: c.text})
			f := fileOf(t, in, c.file)
			if f.Accepted != c.kept || f.SetAside != c.aside {
				t.Errorf("accepted %d, set aside %d; want %d and %d\n%s", f.Accepted, f.SetAside, c.kept, c.aside, strings.Join(sentences(in), "\n"))
			}
			if c.cause != "" {
				problem(t, in, c.cause)
			}
		})
	}
	_, in := fill(t, map[string]string{"trips.csv": "on" + strings.Repeat(",a", 1_000_000) + "\n2026-01-01\n"})
	if p := problem(t, in, "headings"); p.Effect != FileRefused || !strings.Contains(p.Sentence, "4,096") {
		t.Errorf("%+v", p)
	}
}

// manyNames makes members of an object, each with a name of its own.
func manyNames() string {
	var b strings.Builder
	for i := range 1_000_000 {
		b.WriteString(`,"` + itoa(i) + `":0`)
	}
	return b.String()
}

func TestNoText(t *testing.T) {
	for name, text := range map[string]string{"a NUL": "on\n2026-01-01\x00\n", "a workbook": "PK\x03\x04 on\n", "controls": "on\n\x01\x02\x03\x04\x05\x06\x07\n", "a PDF": "%PDF-1.7\n"} {
		_, in := fill(t, map[string]string{"trips.csv": text, "loads.csv": "started\n2026-01-01\n"})
		if p := problem(t, in, "no-text"); p.Effect != FileRefused || p.File != "trips.csv" || whyNot(in, "trips.csv") == "" {
			t.Errorf("%s: %+v", name, p)
		}
		if len(in.Files) != 1 {
			t.Errorf("%s: the rest did not go on", name)
		}
	}
}

func TestCalledOff(t *testing.T) {
	dir := folderOf(t, map[string]string{"trips.csv": "on\n" + strings.Repeat("2026-01-01\n", 500_000)})
	ctx, cancel := context.WithCancel(context.Background())
	opened = func(string) { cancel() }
	defer func() { opened = func(string) {} }()
	var rec testRecords
	if _, err := Fill(ctx, dir, &rec, Options{}); !errors.Is(err, context.Canceled) {
		t.Errorf("%v", err)
	}
}

func TestFolderThatCannotBeRead(t *testing.T) {
	var rec testRecords
	if _, err := Fill(context.Background(), filepath.Join(t.TempDir(), "none"), &rec, Options{}); err == nil {
		t.Error("no error")
	}
	file := filepath.Join(folderOf(t, map[string]string{"trips.csv": oneTrip}), "trips.csv")
	if _, err := Fill(context.Background(), file, &rec, Options{}); err == nil {
		t.Error("no error for a file in place of a folder")
	}
}
