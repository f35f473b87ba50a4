package record

import (
	"testing"
)

// Places are found when asked, in every format, in lines and characters as an editor counts them.
func TestPlaces(t *testing.T) {
	for _, c := range []struct {
		name, file, text, field   string
		row                       int // of the accepted rows, from 0
		number, line, column, end int
		heading, written          string
	}{
		{"csv", "loads.csv", "id,date,hold time [min]\nL1,2026-01-01,30\nL2,2026-01-02, 31\n", "exposure", 1, 2, 3, 16, 18, "hold time [min]", "31"},
		{"csv, quoted over lines", "loads.csv", "fault,date\n\"a\nä \"\"b\"\" c\",2026-01-01\n", "started", 0, 1, 3, 12, 22, "date", "2026-01-01"},
		{"csv, the cell over lines", "loads.csv", "fault,date\n\"a\nb\",2026-01-01\n", "fault", 0, 1, 2, 2, 3, "fault", "a\nb"},
		{"csv, blank", "loads.csv", "date,id,fault\n2026-01-01,,x\n", "id", 0, 1, 2, 12, 12, "id", ""},
		{"csv, not a column", "loads.csv", "date,id\n2026-01-01,L1\n", "fault", 0, 1, 2, 1, 14, "", ""},
		{"csv, day and clock", "loads.csv", "id,date,start time\nL1,2026-01-01,14:05\n", "started", 0, 1, 2, 4, 14, "date", "2026-01-01 14:05"},
		{"json", "loads.json", "[\n {\"id\": \"L1\", \"started\": \"2026-01-01\"},\n {\"started\" : \"2026-01-02\", \"temp\": \"121 °C\",\n  \"wrapped\": true}\n]", "wrapped", 1, 2, 4, 14, 18, "wrapped", "true"},
		{"json, after wide characters", "loads.json", "[{\"id\": \"Lä\U0001F642\", \"started\": \"2026-01-01\"}]", "started", 0, 1, 1, 28, 38, "started", "2026-01-01"},
		{"json, list", "loads.json", `[{"started": "2026-01-01", "sets": ["a", "b"]}]`, "sets", 0, 1, 1, 36, 46, "sets", `["a", "b"]`},
		{"json, row", "loads.json", "[\n{\"started\": \"2026-01-01\"}]", "", 0, 1, 2, 1, 26, "", ""},
		{"json lines", "loads.jsonl", "{\"started\": \"2026-01-01\"}\n\n{\"started\": \"2026-01-02\", \"id\": 7}\n", "id", 1, 2, 3, 33, 34, "id", "7"},
		{"yaml", "loads.yaml", "# log\n- id: L1\n  started: 2026-01-01\n- started: 2026-01-02\n  fault: 'it''s' # so\n", "fault", 1, 2, 5, 10, 17, "fault", "it's"},
		{"yaml, plain", "loads.yaml", "- started: 2026-01-01 10:00 # so\n", "started", 0, 1, 1, 12, 28, "started", "2026-01-01 10:00"},
		{"yaml, indented list", "loads.yaml", "  - id: ä\n    started: \"2026-01-01\"\n", "started", 0, 1, 2, 14, 26, "started", "2026-01-01"},
		{"yaml, in brackets", "loads.yaml", "[{started: 2026-01-01}, {started: 2026-01-02, id: x}]\n", "id", 1, 2, 1, 51, 52, "id", "x"},
		{"yaml, second document", "loads.yaml", "started: 2026-01-01\n---\nstarted: 2026-01-02\nid: x\n", "id", 1, 2, 4, 5, 6, "id", "x"},
		{"yaml, block", "loads.yaml", "- started: 2026-01-01\n  fault: |\n    a\n    b\n", "fault", 0, 1, 2, 10, 11, "fault", "a\nb"},
	} {
		t.Run(c.name, func(t *testing.T) {
			rec, in := fill(t, map[string]string{c.file: c.text})
			if len(in.Problems) > 0 || len(rec.Loads) <= c.row {
				t.Fatal(sentences(in))
			}
			r := &rec.Loads[c.row].Row
			want := Place{File: c.file, Row: c.number, Line: c.line, Column: c.column, EndColumn: c.end, Heading: c.heading}
			if got := r.Place(c.field); got != want {
				t.Errorf("%+v, want %+v", got, want)
			}
			if got := r.Text(c.field); got != c.written {
				t.Errorf("written %q, want %q", got, c.written)
			}
			if r.Kind() != "loads" || r.File() != c.file || r.Number() != c.number {
				t.Errorf("%s %s %d", r.Kind(), r.File(), r.Number())
			}
		})
	}
}

// Within groups of values the place is that of the value at fault.
func TestPlacesWithin(t *testing.T) {
	for _, c := range []struct {
		file, text        string
		line, column, end int
	}{
		{"practice.yaml", "name: A\nregulator: B\ncoverage:\n  - kind: loads\n    share: all\n  - kind: trips\n    share: most\n", 7, 12, 16},
		{"practice.json", "{\"name\": \"A\", \"regulator\": \"B\", \"coverage\": [{\"kind\": \"loads\", \"share\": \"all\"},\n{\"kind\": \"trips\", \"share\": \"most\"}]}", 2, 29, 33},
		{"practice.csv", "name,value\nname,A\nregulator,B\ncoverage.1.kind,loads\ncoverage.1.share,most\n", 4, 17, 22},
	} {
		_, in := fill(t, map[string]string{c.file: c.text})
		p := problem(t, in, "choice")
		if at := p.Places[0]; at.Line != c.line || at.Column != c.column || at.EndColumn != c.end || p.Field != "coverage.share" {
			t.Errorf("%s: %+v %s", c.file, at, p.Field)
		}
	}
}

func TestLabel(t *testing.T) {
	rec, _ := fill(t, map[string]string{"loads/a.csv": "id,date\nL1,2026-01-01\n,2026-01-02\n", "practice.yaml": "{name: A, regulator: B}"})
	if a, b, c := rec.Loads[0].Label(), rec.Loads[1].Label(), rec.Profile.Label(); a != "L1" || b != "loads/a.csv row 2" || c != "practice.yaml" {
		t.Errorf("%q %q %q", a, b, c)
	}
	var none Row
	if none.Label() != "" || none.Place("id") != (Place{}) || none.Text("id") != "" || none.Kind() != "" || none.File() != "" {
		t.Error("a row of no file says something")
	}
}
