package dev

import (
	"encoding/json"
	"io/fs"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"footing/internal/demo"
	"footing/internal/result"
)

// The same records in a workbook, with real cells for dates, numbers, units and answers,
// say the same as in CSV: the whole audit but for where things stand.
func TestWorkbooksSayTheSame(t *testing.T) {
	folders := map[string]fs.FS{"demo": demo.FS()}
	for _, name := range []string{"hand-csv", "hand-thin", "chain-csv", "chain-thin", "thin", "thin-clean", "stranger-csv", "spore-beside-trace"} {
		folders[name] = os.DirFS(samples + "/" + name)
	}
	all := map[string]int{}
	for name, from := range folders {
		dir := t.TempDir()
		require.NoError(t, os.CopyFS(dir, from))
		want := audited(t, dir)
		book, cells := asWorkbook(t, from)
		for sort, n := range cells {
			all[sort] += n
		}
		got := audited(t, book)
		sheets, err := fs.Glob(from, "*.csv")
		require.NoError(t, err)
		for i := range sheets {
			sheets[i] = strings.TrimSuffix(sheets[i], ".csv")
		}
		onlyIn(t, name+": in CSV alone", placeless(t, want, sheets), placeless(t, got, sheets))
		onlyIn(t, name+": in the workbook alone", placeless(t, got, sheets), placeless(t, want, sheets))
		for _, f := range got.Findings {
			for _, e := range f.Evidence {
				if e.Sheet != "" {
					all["places"]++
					assert.Equal(t, "records.xlsx", e.File)
					assert.Zero(t, e.Line, "a cell has no line")
					assert.Equal(t, e.Field != "" && e.Heading != "", e.Cell != "", "%+v", e)
				}
			}
		}
	}
	for _, sort := range []string{"days", "moments", "numbers", "amounts", "answers", "words", "places"} {
		assert.Greater(t, all[sort], 20, "too few %s to tell", sort)
	}
}

var (
	atRow    = regexp.MustCompile(`\brow \d+, column`)
	dmyDate  = regexp.MustCompile(`\b(\d\d)/(\d\d)/(\d{4})\b`)
	cellWord = regexp.MustCompile(` \(cell [A-Z]+\d+\)|, cell [A-Z]+\d+`)
)

func onlyIn(t *testing.T, what string, lines, other []string) {
	t.Helper()
	for _, line := range lines {
		if !slices.Contains(other, line) {
			t.Errorf("%s: %.3000s", what, line)
		}
	}
}

// placeless is a result as lines of text, without files, rows and cells, and without what
// is made from their names.
func placeless(t *testing.T, r *result.Result, sheets []string) []string {
	t.Helper()
	r.Intake, r.Seed = slices.Clone(r.Intake), 0
	for i := range r.Intake {
		f := &r.Intake[i]
		if f.Encoding != "workbook" {
			f.Encoding, f.Delimiter = "workbook", ""
		}
		f.SHA256 = ""
	}
	text, err := json.Marshal(r)
	require.NoError(t, err)
	s := string(text)
	for _, name := range sheets {
		s = regexp.MustCompile(`records\.xlsx, sheet `+name+`, row (\d+)`).ReplaceAllStringFunc(s, func(at string) string {
			n, err := strconv.Atoi(at[strings.LastIndexByte(at, ' ')+1:])
			require.NoError(t, err)
			return name + ".csv row " + strconv.Itoa(n-1) // the headings are row 1
		})
		s = strings.ReplaceAll(s, "records.xlsx, sheet "+name, name+".csv")
	}
	s = atRow.ReplaceAllString(s, "row, column")
	s = dmyDate.ReplaceAllString(cellWord.ReplaceAllString(s, ""), "$3-$2-$1")
	var tree any
	require.NoError(t, json.Unmarshal([]byte(s), &tree))
	var lines []string
	for name, part := range unplaced(tree).(map[string]any) {
		list, ok := part.([]any)
		if !ok {
			list = []any{part}
		}
		for _, item := range list {
			line, err := json.Marshal(item)
			require.NoError(t, err)
			lines = append(lines, name+" "+string(line))
		}
	}
	slices.Sort(lines)
	return lines
}

// unplaced takes places and fingerprints out of a document.
func unplaced(v any) any {
	switch v := v.(type) {
	case map[string]any:
		if sheet, _ := v["sheet"].(string); sheet != "" {
			v["file"] = sheet + ".csv"
			if row, _ := v["row"].(float64); row > 0 {
				v["row"] = row - 1
			}
		}
		for _, name := range []string{"fingerprint", "line", "column", "end_column", "sheet", "cell", "stops"} {
			delete(v, name)
		}
		if v["state"] == "runs out" || v["state"] == "overdue" {
			delete(v, "id") // a fingerprint too
		}
		for name := range v {
			v[name] = unplaced(v[name])
		}
		if name, _ := v["kind"].(string); strings.HasPrefix(name, "practice") && v["file"] == "practice.yaml" {
			delete(v, "row")
		}
	case []any:
		for i := range v {
			v[i] = unplaced(v[i])
		}
	}
	return v
}
