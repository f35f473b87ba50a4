package record

import (
	"strings"
	"testing"

	"footing/schemas"
)

// Many spreadsheets put 00:00 to a bare day; who types the words means them.
func TestBookMidnight(t *testing.T) {
	rows, in := bookLoads(t, "\nstarted|counter\nm:2026-06-04 00:00|1\n2026-06-04 00:00|2\nm:2026-06-04 00:01|3\n")
	wantLines(t, "rows", rows, "june.xlsx, sheet loads, row 2=2026-06-04/1//", "june.xlsx, sheet loads, row 3=2026-06-04 00:00/2//", "june.xlsx, sheet loads, row 4=2026-06-04 00:01/3//")
	wantLines(t, "told", sentences(in))
}

// A sheet known by another word for a kind, without one heading of it, may be no record.
func TestBookLooselyNamed(t *testing.T) {
	for name, text := range map[string]string{"bag log": "Uhr|Wer\n9|Bo\n", "Cycles": "Uhr|Wer\n9|Bo\n"} {
		_, in := fill(t, map[string]string{"june.xlsx": bookOf(t, []sheetText{{name, text}})})
		why := whyNot(in, "june.xlsx, sheet "+name)
		if len(in.Problems) != 0 || !strings.Contains(why, "or begin its name with _ if it is no record") || !strings.Contains(why, "headings such as ") {
			t.Errorf("%s: %q %q", name, why, sentences(in))
		}
	}
	_, in := fill(t, map[string]string{"june.xlsx": bookOf(t, []sheetText{{"Loads", "Uhr|Wer\n9|Bo\n"}})})
	if len(in.Problems) != 1 || in.Problems[0].Kind != "loads" || in.Problems[0].Effect != FileRefused || !strings.Contains(in.Problems[0].Sentence, "begin its name with _") {
		t.Errorf("%q", sentences(in))
	}
}

// A file of a month or a year of a kind is read where its headings surely fit. What else
// bears nearly the name of a kind is listed, and counts as unread where it may hold rows.
func TestNearlyNamedFiles(t *testing.T) {
	const table = "started,counter,temperature\n2026-06-01,1,134 C\n"
	for name, c := range map[string]struct {
		text string
		rows int
		kind string // unread
		why  string
	}{
		"loads 2024.csv":         {table, 1, "", ""},
		"loads (June).csv":       {table, 1, "", ""},
		"June 2026 loads.csv":    {table, 1, "", ""},
		"Autoclave log 2025.csv": {strings.ReplaceAll(table, ",", ";"), 1, "", ""},
		"loads 2025.csv":         {"x\n1\n", 0, "loads", "or begin its name with _ if it is no record"},
		"loads 2025.json":        {"[]", 0, "loads", "put it in a folder named loads"},
		"loads (1).csv":          {table, 0, "loads", "its headings look like loads"}, // a browser's name for a second copy
		"loads old.csv":          {"x\n1\n", 0, "", "put it in a folder named loads"},
		"lods.csv":               {table, 0, "loads", "did you mean loads.csv? Rename it, or begin its name with _"},
		"lods 2.csv":             {"", 0, "", "its name is no kind"},
		"notes 2024.csv":         {table, 0, "", "its name is no kind"},
	} {
		rec, in := fill(t, map[string]string{name: c.text})
		kind := ""
		for _, p := range in.Problems {
			if p.Effect == FileRefused {
				kind += p.Kind
			}
		}
		if len(rec.Loads) != c.rows || kind != c.kind || !strings.Contains(whyNot(in, name), c.why) || (c.rows > 0) != (whyNot(in, name) == "") {
			t.Errorf("%s: %d rows, unread %q, %q", name, len(rec.Loads), kind, whyNot(in, name))
		}
	}
}

// A choice that every row needs, and that has no column, is taken from a name that says it.
func TestChoiceSaidByTheName(t *testing.T) {
	for name, want := range map[string]string{
		"tests/spore tests": "spore", "tests/Spore test log 2026": "spore", "tests/June 2026 Bowie-Dick tests": "air-removal", "tests/leak tests": "leak", "tests/foil test": "ultrasonic", "tests/Spore-test records (May)": "",
		"tests/monitoring": "", "tests/spore and leak tests": "", "tests/spore": "", "tests/tests": "", "tests/tests 2026": "",
		"upkeep/service log": "", "upkeep/maintenance": "", "upkeep/upkeep": "", "upkeep/calibration log": "", "upkeep/repair upkeep": "repair",
		"stock/inventory": "", "waste/sharps waste log": "sharps", "incidents/other incidents": "", "sterilizers/autoclaves": "",
	} {
		kindName, name, _ := strings.Cut(name, "/")
		kind, _ := schemas.Lookup(kindName)
		got := ""
		for _, f := range kind.Fields {
			if f.Required && f.Choices != nil {
				got += saidBy(name, kind, f)
			}
		}
		if got != want {
			t.Errorf("%s: %q, want %q", name, got, want)
		}
	}
	const table = "date|result|lot no|sterilizer\n2026-06-01|pass|7|S1\n2026-06-08|pass|7|S1\n"
	csv := strings.ReplaceAll(table, "|", ",")
	for name, files := range map[string]map[string]string{
		"spore tests.csv":                {"spore tests.csv": csv},
		"tests/spore tests.csv":          {"tests/spore tests.csv": csv},
		"spore tests 2026.csv":           {"spore tests 2026.csv": csv},
		"a.xlsx, sheet spore tests":      {"a.xlsx": bookOf(t, []sheetText{{"spore tests", table}})},
		"a.xlsx, sheet spore tests 2026": {"a.xlsx": bookOf(t, []sheetText{{"spore tests 2026", table}})},
		"spore tests.xlsx, sheet tests":  {"spore tests.xlsx": bookOf(t, []sheetText{{"tests", table}})},
		"a.xlsx, sheet tests":            {"a.xlsx": bookOf(t, []sheetText{{"tests", "Spore tests\n\n" + table}})},
	} {
		rows, in := fillAll(t, files, Options{})
		said := strings.Join(told(in, Noted), "\n")
		if rows["tests"] != 2 || len(in.Files) != 1 || in.Files[0].Name != name || !strings.Contains(said, ` as "spore" for every row that names no other`) || strings.Count(said, "taken from the name") != 1 {
			t.Errorf("%s: %v %q %+v", name, rows, sentences(in), in.NotRead)
		}
	}
	rows, in := fillAll(t, map[string]string{"tests.csv": csv}, Options{})
	if rows["tests"] != 0 || in.Files[0].SetAside != 2 {
		t.Errorf("%v %q", rows, sentences(in))
	}
}

// A row that says another choice under a heading that is not known is not given the name's.
func TestNameDeniedByARow(t *testing.T) {
	for heading, said := range map[string]string{"which test": "Bowie-Dick", "what": "spore test", "how": "foil"} {
		const others = "2026-01-02|pass|\n2026-01-03|pass|leak test\n2026-01-04|pass|as ever\n"
		table := "date|result|" + heading + "\n2026-01-01|fail|" + said + "\n" + others
		for name, text := range map[string]string{"leak tests.csv": strings.ReplaceAll(table, "|", ","), "a.xlsx": bookOf(t, []sheetText{{"leak tests", table}})} {
			rows, in := fillAll(t, map[string]string{name: text}, Options{})
			if rows["tests"] != 3 || in.Files[0].SetAside != 1 || !strings.Contains(strings.Join(sentences(in), "\n"), `there is no "kind"`) {
				t.Errorf("%s, %s: %v %q", name, heading, rows, sentences(in))
			}
		}
	}
}
