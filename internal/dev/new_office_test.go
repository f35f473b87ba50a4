package dev

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"footing/internal/cli"
	"footing/internal/practice"
	"footing/internal/quantity"
	"footing/internal/record"
	"footing/internal/result"
	"footing/schemas"
)

// typing is what a person types into a sheet: a row each, by heading.
type typing struct {
	sheet string
	rows  []map[string]string
}

// typedEvening is an evening's typing, on a keyboard of Great Britain: dates in three ways,
// a clock without its nought, words that are no choice but are read as one.
var typedEvening = []typing{
	{"sites", []map[string]string{{"site": "clinic", "kind": "clinic", "opened on": "05/02/2024", "reprocessing": "yes", "altitude": "350 m"}, {"site": "bag-1", "kind": "mobile", "reprocessing": "no"}}},
	{"people", []map[string]string{{"initials": "P-01", "role": "practitioner", "started on": "5/2/24", "sites": "clinic; bag-1", "glove size": "7.5"}, {"initials": "P-02", "role": "student", "supervisor": "P-01", "glove size": "S"}}},
	{"credentials", []map[string]string{{"person": "P-01", "certificate": "registration", "valid from": "01/01/2026", "valid until": "31/12/2026", "number": "007"}, {"person": "P-01", "certificate": "liability-cover", "valid from": "1 Jan 2026", "valid until": "2026-12-31", "procedures": "all"}}},
	{"sterilizers", []map[string]string{{"sterilizer": "S1", "method": "steam", "air removal": "gravity", "class": "N", "site": "clinic", "installed on": "05/02/2024", "counter at start": "398"}}},
	{"programs", []map[string]string{{"program id": "W121", "temperature [°C]": "121", "hold time [min]": "30", "sterilizer": "S1", "program name": "wrapped", "suits": "wrapped"}}},
	{"upkeep", []map[string]string{{"work done": "service", "date done": "02/12/2025", "machine": "S1", "next due": "02/12/2026", "done by": "a firm", "result": "pass"}}},
	{"loads", []map[string]string{
		{"load id": "1-2", "date": "31/03/2026", "time": "9:05", "sterilizer": "S1", "cycle no": "398", "program": "W121", "ended": "31/03/2026 10:15", "temperature [°C]": "121.5", "pressure": "15 psi gauge", "hold time [min]": "30", "drying time [min]": "30", "wrapped": "yes", "packs dry": "y", "number of packs": "8", "contents": "nail x 6; curette x 2", "outside indicator": "OK", "inside indicator": "pass", "printout": "yes", "loaded by": "P-02", "released by": "P-01", "released at": "31/03/2026 10:30", "decision": "released", "note": "=1+1 is no sum"},
		{"load id": "L-0413", "date": "1/4/26", "cycle no": "399", "program": "W121", "temperature [°C]": "121", "hold time [min]": "30", "decision": "released", "released at": "01/04/2026"}}},
	{"tests", []map[string]string{{"test": "spore", "date": "30/03/2026", "time": "08:10", "machine": "S1", "load": "1-2", "incubated at": "30/03/2026 09:30", "incubation time [h]": "24", "read at": "31/03/2026 09:40", "lot": "88", "lot expires on": "20/12/2026", "control": "growth", "result": "pass"}}},
	{"stock", []map[string]string{{"item": "gloves", "date": "24/11/2026", "reason": "count", "quantity": "3", "pieces per box": "100", "site": "clinic", "size": "S", "material": "nitrile"}}},
	{"instruments", []map[string]string{{"instrument": "N-1", "type": "double-action-nipper", "material": "stainless-steel", "hinged": "yes", "heat safe": "yes", "reusable or single use": "reusable", "touches what": "intact-skin", "acquired on": "05/02/2024", "site": "clinic"}}},
}

// Outside source: LibreOffice, which opens the new workbook, types into it as a person
// does, and saves it.
func TestANewWorkbookIsFilledInLibreOffice(t *testing.T) {
	python := officeOrSkip(t)
	folder := filepath.Join(t.TempDir(), "records")
	footing(t, "new", folder)
	book := filepath.Join(folder, "records.xlsx")
	sheets := headingsOf(t, book)

	plan := fillPlan{In: book, Out: filepath.Join(t.TempDir(), "filled.xlsx"), Profile: filepath.Join(t.TempDir(), "profile")}
	for _, s := range typedEvening {
		for n, row := range s.rows {
			for heading, typed := range row {
				at, ok := sheets[s.sheet][heading]
				require.True(t, ok, "%s has no heading %q: %v", s.sheet, heading, sheets[s.sheet])
				plan.Cells = append(plan.Cells, [3]string{s.sheet, at.below(t, n+1), typed})
			}
		}
	}
	want := wantedLists(t, sheets, &plan)
	said := fill(t, python, plan)

	for i, at := range plan.Lists {
		assert.Equal(t, want[i], said.Lists[i], "the drop-down of %v", at)
	}
	shown := map[string]string{}
	for i, c := range plan.Cells {
		shown[c[0]+" "+c[2]] = said.Shown[i]
	}
	for typed, want := range map[string]string{"loads 31/03/2026": "2026-03-31", "loads 9:05": "09:05", "people 5/2/24": "2024-02-05",
		"credentials 007": "007", "loads 1-2": "1-2", "loads =1+1 is no sum": "=1+1 is no sum", "loads 121.5": "121.5"} {
		assert.Equal(t, want, shown[typed], typed)
	}

	typedAudit(t, folder, plan.Out)
}

// typedAudit puts the filled workbook in the folder's place, and reads and audits it.
func typedAudit(t *testing.T, folder, filled string) {
	t.Helper()
	data, err := os.ReadFile(filled)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(filepath.Join(folder, "records.xlsx"), data, 0o600))
	yaml, err := os.ReadFile(filepath.Join(folder, "practice.yaml"))
	require.NoError(t, err)
	text := strings.Replace(strings.Replace(string(yaml), "\nname:\n", "\nname: Heron Lane Foot Care\n", 1), "\nregulator:\n", "\nregulator: Council of the test\n", 1)
	require.NoError(t, os.WriteFile(filepath.Join(folder, "practice.yaml"), []byte(text), 0o600))

	out := filepath.Join(t.TempDir(), "audit")
	footing(t, "audit", folder, "--as-of", "2026-11-25", "--out", out)
	doc, err := os.ReadFile(filepath.Join(out, "audit.json"))
	require.NoError(t, err)
	r, err := result.Read(bytes.NewReader(doc))
	require.NoError(t, err)
	rows := map[string]int{}
	for _, f := range r.Intake {
		assert.Zero(t, f.SetAside, f.File)
		assert.Equal(t, f.Rows, f.Accepted, f.File)
		rows[f.Kind] += f.Accepted
		for _, h := range f.Headings {
			assert.NotEmpty(t, h.Field, "%s: the heading %q is not known", f.File, h.Written)
		}
	}
	for _, s := range typedEvening {
		assert.Equal(t, len(s.rows), rows[s.sheet], s.sheet)
	}
	for _, c := range r.Checks {
		if c.ID == "records/valid" {
			assert.Equal(t, result.Conforming, c.Outcome, "%v", r.Findings)
		}
	}

	day, err := quantity.ParseDay("2026-11-25", quantity.ISO)
	require.NoError(t, err)
	p, err := practice.Read(t.Context(), folder, day, record.Options{})
	require.NoError(t, err)
	require.Len(t, p.Loads, 2)
	l := p.Loads[0]
	assert.Equal(t, []string{"2026-03-31 09:05", "2026-03-31 10:15", "2026-03-31 10:30", "121.5 °C", "15 psi gauge", "30 min"},
		[]string{l.Started.String(), l.Ended.String(), l.ReleasedAt.String(), l.Temperature.String(), l.Pressure.String(), l.Exposure.String()})
	assert.Equal(t, []string{"1-2", "pass", "released", "=1+1 is no sum"}, []string{l.ID, l.OutsideIndicator, l.Decision, l.Note})
	assert.Equal(t, []string{"nail x 6", "curette x 2"}, l.Sets.Items)
	assert.Equal(t, []string{"2026-04-01", "2026-04-01"}, []string{p.Loads[1].Started.String(), p.Loads[1].ReleasedAt.String()}, "a day alone stays a day")
	assert.Equal(t, "007", p.Credentials[0].Number)
	assert.Equal(t, "2026-01-01", p.Credentials[1].ValidFrom.String())
	assert.Equal(t, "2026-03-30 08:10", p.Tests[0].RunAt.String())
	assert.Equal(t, "24 h", p.Tests[0].ReadAfter.String())
}

// headingPlace is where a heading stands.
type headingPlace struct{ column, row int }

// below is the cell n rows below a heading.
func (p headingPlace) below(t *testing.T, n int) string {
	t.Helper()
	name, err := excelize.CoordinatesToCellName(p.column, p.row+n)
	require.NoError(t, err)
	return name
}

// headingsOf finds the headings of each sheet: the last row that holds anything.
func headingsOf(t *testing.T, book string) map[string]map[string]headingPlace {
	t.Helper()
	f, err := excelize.OpenFile(book)
	require.NoError(t, err)
	defer f.Close()
	sheets := map[string]map[string]headingPlace{}
	for _, name := range f.GetSheetList() {
		rows, err := f.GetRows(name)
		require.NoError(t, err)
		sheets[name] = map[string]headingPlace{}
		for at, row := range rows {
			if strings.Join(row, "") == "" {
				continue
			}
			clear(sheets[name])
			for i, cell := range row {
				sheets[name][cell] = headingPlace{i + 1, at + 1}
			}
		}
	}
	return sheets
}

type fillPlan struct {
	In      string      `json:"in"`
	Out     string      `json:"out"`
	Profile string      `json:"profile"`
	Cells   [][3]string `json:"cells"`
	Lists   [][2]string `json:"lists"`
}

type filledBook struct {
	Shown []string   `json:"shown"`
	Lists [][]string `json:"lists"`
}

// wantedLists asks for the drop-down of every choice, yes or no and reference, and
// gives what each should offer after the evening's typing.
func wantedLists(t *testing.T, sheets map[string]map[string]headingPlace, plan *fillPlan) (want [][]string) {
	t.Helper()
	ids := map[string][]string{}
	for _, s := range typedEvening {
		k, _ := schemas.Lookup(s.sheet)
		for _, row := range s.rows {
			for heading, typed := range row {
				if f, ok := k.Match(heading); ok && f.Name == "id" {
					ids[s.sheet] = append(ids[s.sheet], typed)
				}
			}
		}
	}
	for _, s := range typedEvening {
		k, _ := schemas.Lookup(s.sheet)
		for heading, at := range sheets[s.sheet] {
			f, ok := k.Match(heading)
			if !ok || heading == "date" || heading == "time" {
				continue
			}
			offers := f.Choices
			if f.Form == schemas.YesNo {
				offers = []string{"yes", "no"}
			}
			for _, to := range f.Refers {
				if _, made := sheets[to]; made {
					offers = ids[to]
					break
				}
			}
			if len(offers) > 0 {
				plan.Lists = append(plan.Lists, [2]string{s.sheet, at.below(t, 900)})
				want = append(want, offers)
			}
		}
	}
	require.Greater(t, len(want), 40)
	return want
}

// officeOrSkip is a python that can speak to LibreOffice.
func officeOrSkip(t *testing.T) string {
	t.Helper()
	_, err := exec.LookPath("soffice")
	for _, python := range []string{"python3", "/usr/bin/python3"} {
		if err == nil && exec.Command(python, "-c", "import uno").Run() == nil {
			return python
		}
	}
	const how = "LibreOffice with its python3 bridge (python3-uno) is not installed"
	if os.Getenv("CI") == "true" {
		t.Fatal(how)
	}
	t.Skip(how)
	return ""
}

func fill(t *testing.T, python string, plan fillPlan) (said filledBook) {
	t.Helper()
	text, err := json.Marshal(plan)
	require.NoError(t, err)
	at := filepath.Join(t.TempDir(), "plan.json")
	require.NoError(t, os.WriteFile(at, text, 0o600))
	cmd := exec.Command(python, filepath.Join(root, "testdata", "outside", "fill.py"), at)
	cmd.WaitDelay = time.Minute
	var out, complaint bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &complaint
	require.NoError(t, cmd.Run(), complaint.String())
	require.NoError(t, json.Unmarshal(out.Bytes(), &said), out.String())
	require.Len(t, said.Shown, len(plan.Cells))
	require.Len(t, said.Lists, len(plan.Lists))
	return said
}

// footing calls the program, which must do what it was asked.
func footing(t *testing.T, args ...string) {
	t.Helper()
	var out, complaint bytes.Buffer
	status := cli.Main(args, strings.NewReader(""), &out, &complaint)
	require.NotEqual(t, cli.CouldNot, status, fmt.Sprint(args, complaint.String()))
}
