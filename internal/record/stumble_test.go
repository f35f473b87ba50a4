package record

import (
	"strings"
	"testing"
)

// Where only the clock of a moment cannot be read, the row is accepted with its day.
func TestOnlyTheClockIsLost(t *testing.T) {
	for _, c := range []struct {
		file, text, want, heading, found, says string
	}{
		{"loads.csv", "id,started\nL1,2026-03-02 12:20 Uhr\n", "2026-03-02", "started", "2026-03-02 12:20 Uhr", "more after the clock"},
		{"loads.csv", "id,started\nL1,2026-03-02 late\n", "2026-03-02", "started", "2026-03-02 late", "no clock"},
		{"loads.json", `[{"id":"L1","started":"2026-03-02 25:00"}]`, "2026-03-02", "started", "2026-03-02 25:00", "no clock shows"},
		{"loads.yaml", "- id: L1\n  started: 2026-03-02 12.5\n", "2026-03-02", "started", "2026-03-02 12.5", "without minutes"},
		{"loads.csv", "id,date,time\nL1,2026-03-02,noon\n", "2026-03-02", "time", "noon", "no clock"},
		{"loads.csv", "id,date,time\nL1,2026-03-02,2026-03-04\n", "2026-03-02", "time", "2026-03-04", "clock"},
		{"loads.csv", "id,date,time\nL1,2026-03-02,—\n", "2026-03-02", "", "", ""},
		{"loads.csv", "id,date,time\nL1,2026-03-02,2.30 pm\n", "2026-03-02 14:30", "", "", ""},
	} {
		rec, in := fill(t, map[string]string{c.file: c.text})
		if len(rec.Loads) != 1 || rec.Loads[0].Started.String() != c.want {
			t.Errorf("%q: %v\n%v", c.text, rec.Loads, sentences(in))
			continue
		}
		if c.heading == "" {
			if len(in.Problems) > 0 {
				t.Errorf("%q: %v", c.text, sentences(in))
			}
			continue
		}
		p := in.Problems[0]
		if len(in.Problems) != 1 || p.Effect != Dropped || p.Heading != c.heading || p.Found != c.found || p.Places[0].Heading != c.heading ||
			p.Values[0] != c.found || !strings.Contains(p.Sentence, c.says) || !strings.HasSuffix(p.Sentence, "until then the day is read without its clock") {
			t.Errorf("%q: %+v", c.text, p)
		}
	}
	// Many rows: remembered verdicts keep the day too. A second day is no clock.
	rec, in := fill(t, map[string]string{"loads.csv": "started\n" + strings.Repeat("2026-03-02 12:20 Uhr\n", 5) + "2026-03-02 to 2026-03-04\n2026-03-02 - 2026-03-04\n2026-03-02 04/03/2026\n",
		"trips.csv": "on\n2026-03-02 12:20 Uhr\n"})
	if len(rec.Loads) != 5 || rec.Loads[4].Started.String() != "2026-03-02" || len(rec.Trips) != 1 || rec.Trips[0].On.String() != "2026-03-02" {
		t.Errorf("%d loads, %v", len(rec.Loads), sentences(in))
	}
}

// The values of a problem are what is typed at each of its places.
func TestValues(t *testing.T) {
	long := strings.Repeat("x", 90)
	_, in := fill(t, map[string]string{"loads.csv": "date,decision\n2026-01-01,maybe\n2026-01-02, later \n2026-01-03," + long + "\n", "trips.csv": "on,person\n,P1\n-,P2\n"})
	want := map[string][]string{"decision": {"maybe", "later", strings.Repeat("x", 60) + "…"}, "on": {"", "-"}}
	for _, p := range in.Problems {
		if len(p.Values) != len(p.Places) || strings.Join(p.Values, "|") != strings.Join(want[p.Field], "|") {
			t.Errorf("%s: %q", p.Field, p.Values)
		}
	}
	if len(in.Problems) != 2 {
		t.Error(sentences(in))
	}
}

// A dash says as little as an empty cell; a tick after a word no more than the word.
func TestDashesAndTicks(t *testing.T) {
	for _, dash := range []string{"-", "--", "–", "—", " - "} {
		for file, text := range map[string]string{
			"loads.csv":  "date,counter,temperature,wrapped,sets,decision,program\n2026-01-01" + strings.Repeat(","+dash, 6) + "\n" + strings.TrimSuffix(strings.Repeat(dash+",", 7), ",") + "\n",
			"loads.json": `[{"date":"2026-01-01","counter":"` + dash + `","wrapped":"` + dash + `","sets":["` + dash + `"],"program":"` + dash + `"}]`,
			"loads.yaml": "- date: 2026-01-01\n  counter: '" + dash + "'\n  sets: ['" + dash + "']\n  program: \"" + dash + "\"\n",
		} {
			rec, in := fill(t, map[string]string{file: text})
			if len(in.Problems) > 0 || len(rec.Loads) != 1 || show(&rec.Loads[0]) != "started=2026-01-01" || rec.Loads[0].Decision != "" || rec.Loads[0].Text("program") != "" {
				t.Errorf("%s of %q: %v %v", file, dash, rec.Loads, sentences(in))
			}
		}
	}
	rec, in := fill(t, map[string]string{"loads.csv": "date,inside_indicator,decision,wrapped,sets\n2026-01-01,pass ✔,OK ✓,Yes ✓,-; nail\n2026-01-02,FAIL.,Released.,no.,a-b\n"})
	if len(in.Problems) > 0 {
		t.Fatal(sentences(in))
	}
	a, b := rec.Loads[0], rec.Loads[1]
	if a.InsideIndicator != "pass" || a.Decision != "released" || a.Wrapped.String() != "yes" || b.InsideIndicator != "fail" || b.Decision != "released" || b.Wrapped.String() != "no" {
		t.Errorf("%+v\n%+v", a, b)
	}
}

// A list under the name of the file's own kind is the list of its rows.
func TestListUnderItsName(t *testing.T) {
	for _, c := range []struct {
		file, text  string
		kept, aside int
		line, col   int // of the last row's date
	}{
		{"loads.json", "{\"loads\": [\n {\"started\": \"2026-01-01\"},\n {\"id\": 2, \"started\": \"2026-01-02\"}\n]}", 2, 0, 3, 24},
		{"loads.json", `{"LOADS": []}`, 0, 0, 0, 0},
		{"loads.json", "{\"loads\": [{\"started\": \"2026-01-01\"}, {\"started\": \"soon\"}]}", 1, 1, 1, 25},
		{"loads.json", "{\"loads\": [{\"started\": \"2026-01-01\"},\n {\"started\": \"2026-01-02\" \"id\": 1},\n {\"started\": \"2026-01-03\"}]}", 1, 2, 1, 25},
		{"loads.json", "{\"loads\": [{\"started\": \"2026-01-01\"}],\n \"note\": \"x\"}", 0, 1, 0, 0},
		{"loads.json", "{\"trips\": [{\"started\": \"2026-01-01\"}]}", 0, 1, 0, 0},
		{"loads.yaml", "# log\nloads:   # all\n  - started: 2026-01-01\n  - id: x\n    started: 2026-01-02\n", 2, 0, 5, 14},
		{"loads.yaml", "loads:\n- started: 2026-01-01\n\n# more\n- started: 2026-01-02\n", 2, 0, 5, 12},
		{"loads.yaml", "loads:\n- started: 2026-01-01\n- started: \"2026\n- started: 2026-01-02\n", 2, 1, 4, 12},
		{"loads.yaml", "\"loads\":\n  - started: 2026-01-01\n  - id: x\n    started: 2026-01-02\n", 2, 0, 4, 14},
		{"loads.yaml", "{loads: [{started: 2026-01-01}, {id: 1, started: 2026-01-02}]}\n", 2, 0, 1, 50},
		{"loads.yaml", "loads:\n- started: 2026-01-01\nnote: x\n", 0, 1, 0, 0},
	} {
		rec, in := fill(t, map[string]string{c.file: c.text})
		f := fileOf(t, in, c.file)
		if f.Accepted != c.kept || f.SetAside != c.aside {
			t.Errorf("%q: %d accepted, %d set aside\n%v", c.text, f.Accepted, f.SetAside, sentences(in))
			continue
		}
		if c.kept > 0 {
			if at := rec.Loads[c.kept-1].Place("started"); at.Line != c.line || at.Column != c.col {
				t.Errorf("%q: %+v", c.text, at)
			}
		}
	}
}

// A tab that indents YAML is named, with its line.
func TestTabsInYAML(t *testing.T) {
	for _, c := range []struct {
		text string
		line string
		kept int
	}{
		{"- started: 2026-01-01\n\tid: L1\n- started: 2026-01-02\n", "line 2 ", 1},
		{"- started: 2026-01-01\n  id: L1\n\tprogram: x\n- started: 2026-01-02\n", "line 3 ", 1},
		{"- started: 2026-01-01\n- id: L1\n \tstarted: 2026-01-02\n  program: x\n", "line 3 ", 1},
		{"- started: 2026-01-01\n- started: 2026-01-02\n  sets:\n\t\t- a\n\t\t- b\n- started: 2026-01-03\n", "line 4 ", 2},
		{"loads:\n\t- started: 2026-01-01\n", "line 2 ", 0},
		{"\t- started: 2026-01-01\n", "line 1 ", 0},
		{"# x\n\tstarted: 2026-01-01\n\tid: x\n", "line 2 ", 0},
	} {
		_, in := fill(t, map[string]string{"loads.yaml": c.text})
		p := problem(t, in, "tab")
		if f := fileOf(t, in, "loads.yaml"); f.Accepted != c.kept || f.SetAside != 1 || !strings.Contains(p.Sentence, c.line+"is indented with a tab") {
			t.Errorf("%q: %d accepted; %v", c.text, f.Accepted, sentences(in))
		}
	}
	// A tab that indents nothing is no matter.
	rec, in := fill(t, map[string]string{"loads.yaml": "- started: 2026-01-01\n\t\n  fault: |\n    a\n    \tb\n"})
	if len(in.Problems) > 0 || len(rec.Loads) != 1 {
		t.Error(sentences(in))
	}
}

// A day that cannot be read is told as it is typed, without the clock of another cell.
func TestADayIsToldWithoutItsClock(t *testing.T) {
	_, in := fill(t, map[string]string{"loads.csv": "id,date,time\nL1,see book,18:56\n"})
	if len(in.Problems) != 1 || in.Problems[0].Found != "see book" || in.Problems[0].Heading != "date" {
		t.Errorf("%+v", in.Problems)
	}
}
