package record

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"footing/schemas"
)

// namedRows are rows whose names mean what they mean by themselves, with what is held and told of each.
var namedRows = []struct {
	row, started, temperature string
	told                      string
}{
	{`{"id": "A", "start time": "2026-03-18 09:30", "temp": "121 °C"}`, "2026-03-18 09:30", "121 °C", ""},
	{`{"id": "B", "started": "2026-03-19", "start time": "9:05", "temperature": "134 °C"}`, "2026-03-19 09:05", "134 °C", ""},
	{`{"id": "C", "started": "2026-03-20 10:00", "temp [°F]": 250}`, "2026-03-20 10:00", "250 °F", ""},
	{`{"id": "D", "start date": "2026-03-21", "start time": "9:15"}`, "2026-03-21 09:15", "", ""},
	{`{"id": "E", "start date": "2026-03-22"}`, "2026-03-22", "", ""},
	{`{"id": "F", "time": "9:45", "date": "2026-03-23"}`, "2026-03-23 09:45", "", ""},
	{`{"id": "G", "started": null, "start time": "2026-03-24 11:00"}`, "2026-03-24 11:00", "", ""},
	{`{"id": "H", "started": "2026-03-25", "temperature": "121 °C", "temp": "122 °C"}`, "2026-03-25", "121 °C", "repeated-heading"},
	{`{"id": "I", "started": "2026-03-26", "temp": "122 °C", "temperature": "121 °C"}`, "2026-03-26", "121 °C", "repeated-heading"},
	{`{"id": "M", "date": "2026-03-26", "run date": "2026-03-27"}`, "2026-03-26", "", "repeated-heading"},
	{`{"id": "N", "run date": "2026-03-27", "date": "2026-03-26"}`, "2026-03-27", "", "repeated-heading"},
	{`{"id": "J", "time": "9:45"}`, "", "", "clock-alone"},
	{`{"id": "K", "start time": "9:45"}`, "", "", "not-a-whole-date"},
	{`{"id": "L", "started": "2026-03-27", "start time": "25:99"}`, "2026-03-27", "", "a-clock-that-no-clock-shows"},
}

// TestRowsMeanTheSameInAnyOrder: what a name in a row of JSON or YAML means does not hang on the rows around it.
func TestRowsMeanTheSameInAnyOrder(t *testing.T) {
	order := make([]int, len(namedRows))
	for i := range order {
		order[i] = i
	}
	orders := [][]int{order}
	for n := range len(order) { // each row first once, and then all backwards
		turned := append(slices.Clone(order[n:]), order[:n]...)
		orders = append(orders, turned)
		turned = slices.Clone(turned)
		slices.Reverse(turned)
		orders = append(orders, turned)
	}
	for _, order := range orders {
		for _, ext := range []string{"json", "jsonl", "yaml"} {
			var rows []string
			for _, i := range order {
				rows = append(rows, namedRows[i].row)
			}
			text := map[string]string{"json": "[" + strings.Join(rows, ",\n") + "]", "jsonl": strings.Join(rows, "\n"), "yaml": "- " + strings.Join(rows, "\n- ") + "\n"}[ext]
			rec, in := fill(t, map[string]string{"loads." + ext: text})
			held := map[string]string{}
			for i := range rec.Loads {
				l := &rec.Loads[i]
				held[l.ID] = fmt.Sprintf("%v | %v | %s", l.Started, l.Temperature, l.Text("started"))
				if at := l.Place("started"); at.Heading == "" || at.Column == 0 {
					t.Errorf("%s: no place for the start of %s: %+v", ext, l.ID, at)
				}
			}
			for _, want := range namedRows {
				id := want.row[8:9]
				told := ""
				for _, p := range in.Problems {
					for _, at := range p.Places {
						if at.Row > 0 && rows[at.Row-1] == want.row && p.Cause != "no-column" && p.Cause != "blank" {
							told = p.Cause
						}
					}
				}
				if got, _, _ := strings.Cut(held[id], " | "); got != want.started || told != want.told {
					t.Errorf("%s, %s first: %s is %q, told %q", ext, rows[0][8:9], want.row, held[id], told)
				}
				if want.started != "" && !strings.Contains(held[id], " | "+want.temperature+" | ") {
					t.Errorf("%s, %s first: %s is %q", ext, rows[0][8:9], want.row, held[id])
				}
				if strings.HasSuffix(held[id], " | ") {
					t.Errorf("%s: the text of the start of %s is not found", ext, id)
				}
			}
		}
	}
}

// A heading as long as a page is looked at in no time; a hundred thousand words once took minutes.
func TestAHeadingOfManyWordsIsReadAtOnce(t *testing.T) {
	long := strings.Repeat("temperature of é ", 100_000)
	rec, in := fill(t, map[string]string{"loads.jsonl": `{"id": "L1", "started": "2026-03-01", "` + long + `": "x"}`})
	if len(rec.Loads) != 1 || in.Files[0].Headings[2].Near != "temperature" {
		t.Errorf("%d rows, %q", len(rec.Loads), in.Files[0].Headings[2].Near)
	}
}

// No field has a name or another word that the search for near ones is too short for.
func TestNearRunsAreLongEnough(t *testing.T) {
	for _, kind := range schemas.Kinds() {
		k, _ := schemas.Lookup(kind)
		names, _ := namesOf(k)
		for _, name := range names {
			if n := len(strings.Fields(strings.NewReplacer("_", " ", "-", " ", "/", " ").Replace(name))); n > longestRun {
				t.Errorf("%s: %q has %d words", kind, name, n)
			}
		}
	}
}
