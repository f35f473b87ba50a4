package dev

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"footing/internal/practice"
	"footing/internal/record"
)

// faulty is a practice with every fault of typing that we could think of.
var faulty = map[string]string{
	"practice.yaml": "name: Dulse Street Foot Care\nregulator: Council for Foot Care of Marrow Bay\ndates: dmy\nrule_set: cdc-2008\nfavourite colour: green\nrenewal_on: 31/02/2027\n" +
		"units:\n  temperature: °C\n  pressure: bar gauge\n  warmth: hot\ncoverage:\n  - kind: loads\n    from: 01/03/2026\n    share: all\n  - kind: bananas\n    share: all\n",
	"rules.yaml": "criteria:\n  - {criterion: monitoring.spore_every, value: 7 d, when: {method: steam}, source: letter of 2 May}\n  - {criterion: nonsense, value: [a, b]}\n" +
		"scope:\n  - {permits: 'procedure:corn-reduction', to: practitioner, source: letter}\n",
	"loads.csv": "load id;date;time;sterilizer;cycle no;temp [°C];hold time;outside_indicator;note;temperature;note;Colour\n" +
		"007;03/03/2026;9:05;S1;1;121;3,5 min;pass;\"two\nlines, and a \"\"mark\"\"\";130;again;red\n" +
		"1e5;04/03/2026;25:99;S1;2;121.50;15 min;pass;=1+1;;;\n" + // a clock that cannot be read
		";05/03/2026;;S1;3;250 °F;15 min;maybe;a unit that is not the heading's;;;blue\n" +
		"2026-03-06;06/03/2026;14:05:30;S1;;121 °C;15;fail;no unit for the time;;;\n" +
		"L5;31/02/2026;14:05;S1;5;121;15 min;pass;no such day;;;\n" + // set aside
		"L6;;14:05;S1;6;121;15 min;pass;no day;;;\n" + // set aside
		"L7;\"07/03/2026\"x;14:05;S1;7;121;15 min;pass;wrong quotes;;;\n" + // set aside
		"007;08/03/2026;14:05;S1;8;-;15 min;pass;-;;;;more than the headings\n" +
		"L9;09/03/2026;14:05;S1;1,500;121;15 min;pass;" + strings.Repeat("long ", 1000) + ";;;\n",
	"loads/more.json": `[{"id": "L20", "started": "2026-03-20T14:05:00+05:00", "temperature": "121.0 °C", "note": true, "packs_made": 3, "sets": ["nail x 6", "a;b", "c|d"]},` +
		`{"id": "L21", "started": "2026-03-21", "temp": "122 °C", "odd": {"a": [1, "x"]}, "sets": [], "note": "a\r\nb\u0001"},` +
		`{"id": "L22", "started": "2026-03-22", "temp": "122 °C", "temperature": 123, "drying": ["20 min"], "note": "two for one"},` +
		`{"id": "L23", "temperature": "121 °C"}, {"id": "L24", "started": "2026-03-24"} {"id": "L25"`,
	"loads/lines.jsonl": "{\"id\": \"L30\", \"started\": \"2026-03-30\", \"pressure\": 1.05, \"counter\": 12}\nnot json\n{\"id\": \"L31\"}\n{\"id\": \"L32\", \"id\": \"L33\", \"started\": \"2026-04-01\"}\n",
	"sterilizers.yaml":  "- id: S1\n  method: steam\n  air_removal: gravity\n  logger: yes\n  sensor_tolerance: 1 K\n- id: S2\n  made: up\n- id: &x S3\n  method: steam\n- {id: S4, method: toaster}\n- id: S5\n\tmethod: steam\n",
	"visits.csv": "id,client,started,procedures,found,packs_used,instruments\nV1,C-1,03/03/2026 10:00,nail-trim; foot-bath | padding,none,2,N-1\nV2,C-1,04/03/2026 2:05 pm,all,,none,\n" +
		"V3,C-2,05/03/2026 10.30,\"nail-trim, foot-bath\",,,\nV4,,05/03/2026,nail-trim,,,\n",
	"credentials.json": `{"credentials": [{"id": "C1", "person": 7, "kind": "registration", "valid_from": "01/03/2026", "procedures": "all", "hours": 12.50}]}`,
	"people.jsonl":     "{\"id\": 7, \"role\": \"practitioner\", \"glove_size\": 7.5}\n{\"id\": \"P-2\", \"role\": \"wizard\"}\n",
	"stock.csv":        "\"never closed,item\nx,y\n",
	"tests.json":       `[{"id": "T1", "kind": "spore", "run_at": "03/03/2026", "equipment": "S1", "result": "pass"}] and more`,
	"sites.csv":        "id\nhome\nA;B\n",
	"packs.csv":        "id;load;instruments;label\nK1;L20;N-1|N-2;\"load;date\"\nK2;007;;none\n",
	"notes.txt":        "not a record",
	"traces/one.csv":   "time,temperature [°C]\n14:05:00,121\n",
}

func writeFaulty(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	for name, text := range faulty {
		path := filepath.Join(dir, filepath.FromSlash(name))
		require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o755))
		require.NoError(t, os.WriteFile(path, []byte(text), 0o644))
	}
	return dir
}

func intake(t *testing.T, dir string) *record.Intake {
	t.Helper()
	var all practice.Records
	in, err := record.Fill(context.Background(), dir, &all, record.Options{})
	require.NoError(t, err)
	return in
}

// lost is what was set aside, dropped or not read, by kind, field and cause.
func lost(in *record.Intake) (list []string) {
	counts := map[string]int{}
	for _, p := range in.Problems {
		if p.Effect == record.Noted {
			continue
		}
		cause := p.Cause
		if cause == "no-column" { // by themselves, rows set aside need not have the name that others had
			cause = "blank"
		}
		counts[fmt.Sprintf("%s %s %s %d", p.Kind, p.Field, cause, p.Effect)] += len(p.Places)
	}
	for what, n := range counts {
		list = append(list, fmt.Sprintf("%s: %d", what, n))
	}
	for _, kind := range []string{"loads", "sterilizers", "visits", "stock", "tests", "people"} {
		found, accepted := 0, 0
		for _, f := range in.Files {
			if f.Kind == kind {
				found, accepted = found+f.Rows, accepted+f.Accepted
			}
		}
		list = append(list, fmt.Sprintf("%s %d of %d", kind, accepted, found))
		for _, id := range []string{"007", "L5", "L7", "L20", "L23", "L25", "S2", "S3", "S4", "V4", "nobody"} {
			list = append(list, fmt.Sprintf("%s %s %d", kind, id, in.StateOf(kind, id)))
		}
	}
	slices.Sort(list)
	return list
}

// beyondReading is what an audit says, without the words for what could not be read:
// headings and lines are named in them.
func beyondReading(t *testing.T, dir string) []string {
	t.Helper()
	return slices.DeleteFunc(spoken(audited(t, dir)), func(s string) bool { return strings.HasPrefix(s, "records/valid minor") })
}

// TestConvertLosesNoFault: what is lost in reading is lost in the same way after each step
// around the circle, the audit says the same, and a second round gives the same bytes.
func TestConvertLosesNoFault(t *testing.T) {
	dir := writeFaulty(t)
	before := lost(intake(t, dir))
	require.NotEmpty(t, before)
	want := beyondReading(t, dir)
	from := dir
	var rounds []map[string][]byte
	for round := range 2 {
		for i, format := range circle {
			to := filepath.Join(t.TempDir(), fmt.Sprintf("%d-%d-%s", round, i, format))
			done := convert(t, from, to, format)
			if diff := cmp.Diff(before, lost(intake(t, to))); diff != "" {
				t.Fatalf("after %s, step %d:\n%s", format, i+1, diff)
			}
			if diff := cmp.Diff(want, beyondReading(t, to)); diff != "" {
				t.Fatalf("after %s, step %d:\n%s", format, i+1, diff)
			}
			assert.Equal(t, 1, done.Traces)
			from = to
		}
		rounds = append(rounds, filesIn(t, from))
	}
	sameFiles(t, rounds[0], rounds[1])
}
