package record

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"runtime"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/xuri/excelize/v2"
	"pgregory.net/rapid"
)

// fillAll reads a folder into structs of every kind.
func fillAll(t *testing.T, files map[string]string, opt Options) (rows map[string]int, in *Intake) {
	t.Helper()
	target := reflect.New(allKinds())
	in, err := Fill(context.Background(), folderOf(t, files), target.Interface(), opt)
	if err != nil {
		t.Fatal(err)
	}
	accounted(t, in)
	rows = map[string]int{}
	for i := range target.Elem().NumField() {
		if f := target.Elem().Field(i); f.Kind() == reflect.Slice && f.Len() > 0 {
			rows[target.Elem().Type().Field(i).Tag.Get("kind")] = f.Len()
		}
	}
	return rows, in
}

const loadsText = "date|cycle|temp|inside strip\nd:2026-06-01|1|134 °C|ok\n"

// Two tables on one sheet: each is read as what it is, or left out with words, and then
// counts as something unread of each kind that it may be of.
func TestBookTables(t *testing.T) {
	tests := "date|kind|result|lot\nd:2026-06-01|spore|pass|SP22\n"
	for name, c := range map[string]struct {
		text   string
		rows   map[string]int
		unread string // kinds of what was left out
	}{
		"titled":                {loadsText + "\nSpore tests\ndate|kind|result\nd:2026-06-01|spore|pass", map[string]int{"loads": 1, "tests": 1}, ""},
		"surely":                {loadsText + "\n" + "run at|kind|result|control|incubated\nd:2026-06-01|spore|pass|growth|", map[string]int{"loads": 1, "tests": 1}, ""},
		"cannot be told":        {loadsText + "\n" + tests, map[string]int{"loads": 1}, "loads tests"},
		"above":                 {"Spore tests\n" + tests + "\n" + loadsText, map[string]int{"loads": 1, "tests": 1}, ""},
		"beside":                {"date|cycle|temp|inside strip||run at|kind|result|control|incubated\nd:2026-06-01|1|134 °C|ok||d:2026-06-01|spore|pass||", map[string]int{"loads": 1, "tests": 1}, ""},
		"beside, lower":         {loadsText + "d:2026-06-02|2|134 °C|ok||run at|kind|result|control\nd:2026-06-03|3|134 °C|ok||d:2026-06-03|spore|pass|", map[string]int{"loads": 3, "tests": 1}, ""},
		"not of a kind":         {loadsText + "\nFridge\ndate|reading|by|batch\nd:2026-06-01|4|RH|x", map[string]int{"loads": 1}, "loads"},
		"words that are values": {"date|decision|program|note\nd:2026-06-01|released|W|x\n31 Juni|released|setting|\nd:2026-06-02|rejected|W|", map[string]int{"loads": 2}, ""},
		"words like ones":       {loadsText + "d:2026-06-02|3|load|released\nd:2026-06-03|cycle|temp|strip", map[string]int{"loads": 3}, ""},
	} {
		rows, in := fillAll(t, map[string]string{"a.xlsx": bookOf(t, []sheetText{{"loads", c.text}})}, Options{})
		if !reflect.DeepEqual(rows, c.rows) {
			t.Errorf("%s: %v, want %v\n%s", name, rows, c.rows, strings.Join(sentences(in), "\n"))
		}
		var unread []string
		for _, p := range in.Problems {
			if p.Effect == FileRefused {
				unread = append(unread, p.Kind)
			}
		}
		if got := strings.Join(unread, " "); got != c.unread {
			t.Errorf("%s: unread %q, want %q\n%s", name, got, c.unread, strings.Join(sentences(in), "\n"))
		}
		names := map[string]bool{}
		for _, f := range in.Files {
			if names[f.Name] {
				t.Errorf("%s: two tables are named %s", name, f.Name)
			}
			names[f.Name] = true
		}
	}
}

// Sheets are found by their names; what is not read is said.
func TestBookSheets(t *testing.T) {
	book := bookOf(t, []sheetText{{"Autoclave log", loadsText}, {"lods", "a|b\n1|2\n"}, {"Sheet1", "date|cycle no|temp\nd:2025-06-01|1|134"}, {"_loads", loadsText}, {"empty", ""}, {"people", ""},
		{"practice", "Our practice\n\nname|Heron Lane\ncouncil|Council of Marrow Bay\ndates|dmy\nunits.temperature|°C\n"}, {"tests", "some words\nand more\n"}, {"sites", "id|kind\nshop|clinic\n"}},
		func(f *excelize.File) { _ = f.SetSheetVisible("sites", false) })
	rows, in := fillAll(t, map[string]string{"records.xlsx": book, "practice.yaml": "name: First\nregulator: R\n", "~$records.xlsx": "x", ".~lock.records.xlsx#": "x"}, Options{})
	if want := map[string]int{"loads": 1, "sites": 1}; !reflect.DeepEqual(rows, want) {
		t.Errorf("%v, want %v", rows, want)
	}
	var list []string
	for _, n := range in.NotRead {
		list = append(list, n.Name+": "+n.Why)
	}
	wantLines(t, "not read", list,
		"records.xlsx, sheet Sheet1: its name is no kind of record, and its headings look like cleanings or loads; name the sheet after the one that it holds (where there is one of that name already, put it into a workbook of its own), or begin its name with _ if it is no record",
		"records.xlsx, sheet lods: its name is no kind of record; did you mean loads?",
		"records.xlsx, sheet practice: there is another file or sheet for practice, and only one can hold; keep one of the two",
		`records.xlsx, sheet tests: none of its first rows ("some words", "and more" …) holds headings of tests; let one row hold the headings, such as kind, run_at, id, equipment, or begin its name with _ if it is no record`)
	wantLines(t, "noted", told(in, Noted), "records.xlsx, sheet sites, which is hidden, is read all the same; begin its name with _ if it is no record")
	if in.Files[0].Name != "practice.yaml" || in.Files[1].Name != "records.xlsx, sheet Autoclave log" || in.Files[2].Name != "records.xlsx, sheet people" || in.Files[2].Rows != 0 {
		t.Errorf("%+v", in.Files)
	}
	if in.StateOf("loads", "X") != IDSetAside || in.StateOf("sites", "X") != IDUnknown {
		t.Error("an id may stand on the sheet that was left out")
	}
}

// A sheet of names and values steers how the other sheets are read, in whatever order they stand.
func TestBookPractice(t *testing.T) {
	rec, in := fill(t, map[string]string{"a.xlsx": bookOf(t, []sheetText{{"loads", "date|temp\n01/06/2026|n:134\n"},
		{"practice", "|About us\n\n|name|Heron Lane|as on the door\n|council|Council\n|dates|dmy\n|units.temperature|°C\n|altitude|45 m\n|renewal_on|d:2027-01-06\n|coverage.1.kind|loads\n|coverage.1.from|d:2026-01-01\n|coverage.1.share|all\n|frame|oak\n"}})})
	if p := rec.Profile; p.Name != "Heron Lane" || p.RenewalOn.String() != "2027-01-06" || p.Altitude.String() != "45 m" || len(p.Coverage) != 1 || p.Coverage[0].From.String() != "2026-01-01" {
		t.Errorf("%+v", p)
	}
	if len(rec.Loads) != 1 || rec.Loads[0].Started.String() != "2026-06-01" || rec.Loads[0].Temperature.String() != "134 °C" {
		t.Errorf("%+v %q", rec.Loads, sentences(in))
	}
	if got, want := rec.Profile.Place("renewal_on"), (Place{File: "a.xlsx", Sheet: "practice", Row: 8, Cell: "C8", Heading: "renewal_on"}); got != want {
		t.Errorf("%+v, want %+v", got, want)
	}
	wantLines(t, "told", sentences(in), `a.xlsx, sheet practice, cell B1: "About us" is taken for a title or a note above the table, and not for a record`,
		`a.xlsx, sheet practice, column D: 1 cell without a heading is not read (the first: cell D3, "as on the door"); give the column a heading if it belongs to the records`)
}

// The same reading with one worker and with many, and all bytes are told as read.
func TestBookWorkers(t *testing.T) {
	files := map[string]string{"practice.yaml": "name: A\nregulator: R\n"}
	for i := range 3 {
		var sheets []sheetText
		for _, kind := range []string{"loads", "tests", "trips"} {
			var b strings.Builder
			b.WriteString("id|date|result\n")
			for n := range 40 {
				fmt.Fprintf(&b, "%s-%d-%d|d:2026-01-%02d|%s\n", kind, i, n, 1+n%28, []string{"pass", "fial"}[n%2])
			}
			sheets = append(sheets, sheetText{kind, b.String()})
		}
		files[fmt.Sprintf("%d.xlsx", i)] = bookOf(t, sheets)
	}
	dir := folderOf(t, files)
	var first *Intake
	for _, workers := range []int{1, 2, runtime.GOMAXPROCS(0) * 4} {
		var last, total int64
		target := reflect.New(allKinds())
		in, err := Fill(context.Background(), dir, target.Interface(), Options{Workers: workers, Progress: func(done, all int64) {
			if done < last {
				t.Error("progress goes back")
			}
			last, total = done, all
		}})
		if err != nil {
			t.Fatal(err)
		}
		if last > total || last < total-8 { // parts of a workbook's bytes are rounded
			t.Errorf("%d bytes of %d", last, total)
		}
		if first == nil {
			first = in
		} else if d := cmp.Diff(first, in, cmpopts.IgnoreUnexported(Intake{}), cmpopts.IgnoreFields(Intake{}, "Zone")); d != "" {
			t.Error(d)
		}
	}
}

// A workbook that cannot be read is refused with words; what else is in the folder is
// read, and an id that is not found may stand in it.
func TestBookRefused(t *testing.T) {
	good := bookOf(t, []sheetText{{"loads", loadsText}})
	for name, c := range map[string]struct {
		data, part string
		opt        Options
	}{
		"cut short": {good[:len(good)/2], "it is damaged", Options{}},
		"no zip":    {"date,cycle\n2026-01-01,1\n", "it ", Options{}},
		"empty":     {"", "it ", Options{}},
		"old":       {"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + strings.Repeat("\x00", 600), "it ", Options{}},
		"too large": {good, "are not read; split it into several workbooks", Options{MaxBytes: 1000}},
	} {
		rows, in := fillAll(t, map[string]string{"bad.xlsx": c.data, "trips.csv": "on,id\n2026-01-01,T-1\n"}, c.opt)
		if !reflect.DeepEqual(rows, map[string]int{"trips": 1}) || len(in.Problems) != 1 {
			t.Errorf("%s: %v %q", name, rows, sentences(in))
			continue
		}
		p := in.Problems[0]
		if p.Effect != FileRefused || !p.Any || p.Kind != "" || p.File != "bad.xlsx" || p.Todo == "" || !strings.HasPrefix(p.Sentence, "bad.xlsx: it ") || !strings.Contains(p.Sentence, c.part) {
			t.Errorf("%s: %+v", name, p)
		}
		if in.StateOf("loads", "L-1") != IDSetAside || in.StateOf("trips", "T-1") != IDOne {
			t.Errorf("%s: %v", name, in.StateOf("loads", "L-1"))
		}
	}
}

func TestBookLink(t *testing.T) {
	dir := folderOf(t, map[string]string{"trips.csv": "on\n2026-01-01\n"})
	if err := os.Symlink("trips.csv", filepath.Join(dir, "a.xlsx")); err != nil {
		t.Skip(err)
	}
	var rec testRecords
	in, err := Fill(context.Background(), dir, &rec, Options{})
	if err != nil || len(in.Problems) != 1 || in.Problems[0].Cause != "link" || !in.Problems[0].Any {
		t.Errorf("%v %+v", err, in.Problems)
	}
}

// Whatever stands in a sheet, nothing breaks, all rows are accounted for, and every row
// with a day that stands under the headings is kept.
func TestBookAnything(t *testing.T) {
	words := []string{"", "", "", "", "date", "Total", "June", "d:2026-06-01", "n:3", "n:46182", "b:no", "b:yes", "ok", "spore", "x y", "-", "\u00a0", `a"b`, "a\tb"}
	rapid.Check(t, func(rt *rapid.T) {
		var b strings.Builder
		dated := 0
		above := rapid.IntRange(0, 5).Draw(rt, "rows above")
		cell := func() string { return rapid.SampledFrom(words).Draw(rt, "cell") }
		for range above {
			b.WriteString(rapid.SampledFrom([]string{"a note", "one | two", "", "Sterilizer: | S1"}).Draw(rt, "above") + "\n")
		}
		b.WriteString("started|cycle no|program|indicator|note\n")
		for range rapid.IntRange(0, 25).Draw(rt, "rows") {
			if rapid.Bool().Draw(rt, "dated") {
				dated++
				b.WriteString("d:2026-06-02|" + cell() + "|" + cell() + "|" + cell() + "|" + cell() + "\n")
				continue
			}
			b.WriteString("|" + cell() + "|" + cell() + "|" + cell() + "|" + cell() + "|" + cell() + "\n")
		}
		rec, in := fill(t, map[string]string{"a.xlsx": bookOf(t, []sheetText{{"loads", b.String()}})})
		kept := 0
		for i := range rec.Loads {
			if rec.Loads[i].Started.String() == "2026-06-02" {
				kept++
			}
			_ = rec.Loads[i].Place("note")
		}
		if kept != dated {
			rt.Fatalf("%d rows of %d are kept\n%s\n%s", kept, dated, b.String(), strings.Join(sentences(in), "\n"))
		}
	})
}
