package report

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"footing/internal/result"
	"footing/schemas"

	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"
	"pgregory.net/rapid"
)

// actionRows reads a list of actions back, without its headings.
func actionRows(t require.TestingT, text []byte) [][]string {
	rest, ok := bytes.CutPrefix(text, []byte(byteOrderMark))
	require.True(t, ok, "no byte order mark")
	rows, err := csv.NewReader(bytes.NewReader(rest)).ReadAll()
	require.NoError(t, err)
	require.Equal(t, actionColumns, rows[0])
	return rows[1:]
}

func TestActionColumnsAreThoseOfTheKind(t *testing.T) {
	raw, ok := schemas.Resource("actions")
	require.True(t, ok)
	var schema struct {
		Properties json.RawMessage `json:"properties"`
	}
	require.NoError(t, json.Unmarshal(raw, &schema))
	d := json.NewDecoder(bytes.NewReader(schema.Properties))
	var names []string
	for depth := 0; d.More() || depth > 0; {
		token, err := d.Token()
		require.NoError(t, err)
		switch v := token.(type) {
		case json.Delim:
			depth += map[json.Delim]int{'{': 1, '[': 1, '}': -1, ']': -1}[v]
			if v == '}' && depth == 0 {
				require.Equal(t, actionColumns, names)
				return
			}
		case string:
			if depth == 1 {
				names = append(names, v)
				var skipped json.RawMessage
				require.NoError(t, d.Decode(&skipped))
			}
		}
	}
	require.Equal(t, actionColumns, names)
}

// A row a step, in the order of the report; who and when stay empty.
func TestEachStepIsARow(t *testing.T) {
	r := full()
	ix := newIndex(r)
	var want [][2]string
	for _, i := range ix.order {
		for _, s := range r.Findings[i].Steps {
			want = append(want, [2]string{s, r.Findings[i].Fingerprint})
		}
	}
	var got [][2]string
	for _, row := range actionRows(t, ActionsCSV(r)) {
		got = append(got, [2]string{row[1], strings.TrimPrefix(row[3], "'")})
		for i, cell := range row {
			require.True(t, i == 1 || i == 3 || i == 11 || cell == "", "%s: %q", actionColumns[i], cell)
		}
	}
	require.Equal(t, want, got)
	text := string(ActionsCSV(r))
	require.Contains(t, text, "Critical: Sterilizer S1: wrapped loads at 121 °C were held 3 min; 30 min is needed.")
	require.Contains(t, text, "Accepted until 31 Dec 2026 by (a name, kept out of this report): a new gown order is on its way.")
	require.NotContains(t, text, "Vale")
	require.Empty(t, never.FindAllString(text, -1))
}

func TestAFindingWithoutStepsIsNotLost(t *testing.T) {
	r := &result.Result{Findings: []result.Finding{{Fingerprint: "0a1b2c3d4e5f", Steps: []string{" "}}}}
	rows := actionRows(t, ActionsCSV(r))
	require.Len(t, rows, 1)
	require.NotEmpty(t, rows[0][1])
	require.Empty(t, actionRows(t, ActionsCSV(&result.Result{})))
}

// What the records say of earlier actions decides whether a finding is asked for again.
func TestActionsAreNotAskedForTwice(t *testing.T) {
	const name = "0a1b2c3d4e5f"
	open, checked := result.Action{ID: "ACT-1", Finding: name, DoneOn: "2026-11-02"}, result.Action{ID: "ACT-2", Finding: name, VerifiedOn: "2026-11-02"}
	for title, c := range map[string]struct {
		rows []result.Action
		last string
		want string // of the note; "-" for no row at all
	}{
		"none":                           {nil, "", ""},
		"of another":                     {[]result.Action{{Finding: "ffffffffffff"}}, "", ""},
		"begun":                          {[]result.Action{open}, "2026-11-24", "-"},
		"as a spreadsheet leaves it":     {[]result.Action{{Finding: " '0A1B2C3D4E5F "}}, "2026-11-24", "-"},
		"one of two not verified":        {[]result.Action{checked, open}, "2026-11-24", "-"},
		"verified after the last":        {[]result.Action{checked}, "2026-11-01", "-"},
		"verified on the day of it":      {[]result.Action{checked}, "2026-11-02 16:05", "-"},
		"found of the day after":         {[]result.Action{checked}, "2026-11-03", "An action for it was verified on 2 Nov 2026 (ACT-2), and it is found still."},
		"verified, and it has no day":    {[]result.Action{checked}, "", "An action for it was verified on 2 Nov 2026 (ACT-2), and it is found still."},
		"the last verification counts":   {[]result.Action{{Finding: name, VerifiedOn: "2026-10-01"}, checked}, "2026-11-01", "-"},
		"the whole check":                {[]result.Action{{ID: "actions.csv row 4", File: "actions.csv", Row: 4, Finding: "gear/dated"}}, "", "An action for this check is typed already (actions.csv, row 4)."},
		"an id that reads like a person": {[]result.Action{{ID: "Ada Vale", Finding: "gear/dated"}}, "", "An action for this check is typed already ((a name, kept out of this report))."},
	} {
		r := &result.Result{Actions: c.rows, Findings: []result.Finding{{Fingerprint: name, Check: "gear/dated", Grade: result.Minor, Summary: "x", Steps: []string{"a"}, Extent: result.Extent{Last: c.last}}}}
		rows := actionRows(t, ActionsCSV(r))
		if c.want == "-" {
			require.Empty(t, rows, title)
			continue
		}
		require.Len(t, rows, 1, title)
		require.Equal(t, strings.TrimSpace("Minor: The practice: x. "+c.want), rows[0][11], title)
	}
}

func TestCodesThatReadAsNumbersAreText(t *testing.T) {
	for code, want := range map[string]string{"123456789012": "'123456789012", "1e2345678901": "'1e2345678901", "12345678901E": "12345678901E", "e12345678901": "e12345678901",
		"1234567890ab": "1234567890ab", "": "", "1e23e5678901": "1e23e5678901", "=1": "'=1"} {
		require.Equal(t, want, codeCell(code), code)
	}
	// The mark does no harm: the row answers the finding all the same.
	require.True(t, (&result.Action{Finding: codeCell("123456789012")}).Answers("123456789012"))
}

var formulas = []string{"=1+1", "+1+1", "-1+1", "@SUM(1,1)", "＝1+1", "＠x", "\t=1+1", "\r\n=1+1", " =1+1", "\u200b=1+1", "\u202e=1+1", "=cmd|' /C calc'!A1", "=HYPERLINK(\"http://e.example\")",
	"a\",\"=1+1", "a\n=1+1", "a;=1+1", "'=1+1", "12345678e901", "\ufeff=1+1", "−1", "\x00=1", "1e2345678901", "123456789012", "01/02/03", strings.Repeat("long ", 2000)}

// The property that a list of any content has its rows and no cell that begins a formula.
func TestAnyTextGivesAHarmlessList(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := full()
		pool := rapid.SliceOfN(rapid.OneOf(hostile(), rapid.SampledFrom(formulas)), 5, 5).Draw(t, "texts")
		i := 0
		replaceTexts(reflect.ValueOf(r).Elem(), func(s string) string {
			i++
			return pool[i%len(pool)]
		})
		rows := 0
		for i := range r.Findings {
			if followed, _ := newIndex(r).followUp(&r.Findings[i]); !followed {
				rows += len(actionSteps(&r.Findings[i]))
			}
		}
		got := actionRows(t, ActionsCSV(r))
		require.Len(t, got, rows)
		for _, row := range got {
			for _, cell := range row {
				require.False(t, strings.ContainsAny(cell[:min(1, len(cell))], "=+-@\t\r\n"), "%q", cell)
				require.False(t, slices.ContainsFunc([]string{"＝", "＋", "－", "＠"}, func(s string) bool { return strings.HasPrefix(cell, s) }), "%q", cell)
			}
		}
	})
}

// Outside source: LibreOffice, which opens the list as a person's spreadsheet program
// does, and saves it as a workbook; then excelize looks for formulas and for what was
// taken for a number or a date.
func TestASpreadsheetProgramShowsNoFormula(t *testing.T) {
	office, err := exec.LookPath("soffice")
	if err != nil {
		absent(t, "LibreOffice")
	}
	r := full()
	for i, s := range formulas {
		r.Findings = append(r.Findings, result.Finding{Fingerprint: s, Check: s, Grade: s, Summary: s, Steps: []string{s}, Subject: result.Subject{Kind: s, ID: s}, Extent: result.Extent{N: i}})
	}
	text := ActionsCSV(r)
	dir := t.TempDir()
	list := filepath.Join(dir, "actions.csv")
	require.NoError(t, os.WriteFile(list, text, 0o644))
	out, err := exec.Command(office, "-env:UserInstallation=file://"+filepath.Join(dir, "profile"), "--headless",
		// Comma, quotation mark, UTF-8; numbers and dates are guessed and formulas worked out, which is the worst case.
		"--infilter=CSV:44,34,76,1,,0,false,true,false,false,false,0,true", "--convert-to", "xlsx", "--outdir", filepath.Join(dir, "out"), list).CombinedOutput()
	require.NoError(t, err, string(out))
	book, err := excelize.OpenFile(filepath.Join(dir, "out", "actions.xlsx"))
	require.NoError(t, err)
	defer book.Close()
	sheet := book.GetSheetName(0)
	want := actionRows(t, text)
	shown, err := book.GetRows(sheet)
	require.NoError(t, err)
	require.Len(t, shown, len(want)+1)
	require.Equal(t, actionColumns, shown[0])
	for n, row := range want {
		for i, cell := range row {
			name, err := excelize.CoordinatesToCellName(i+1, n+2)
			require.NoError(t, err)
			formula, err := book.GetCellFormula(sheet, name)
			require.NoError(t, err)
			require.Empty(t, formula, "%s: %q", name, cell)
			value, err := book.GetCellValue(sheet, name, excelize.Options{RawCellValue: true})
			require.NoError(t, err)
			if i == 3 && fingerprintForm.MatchString(strings.TrimPrefix(cell, "'")) {
				require.Equal(t, cell, value, "the fingerprint in %s", name)
			}
		}
	}
}
