package dev

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"footing/schemas"

	"github.com/stretchr/testify/require"
	"go.yaml.in/yaml/v4"
)

const samples = "../../testdata/practices"

// TestSampleHeadings: every file of the sample practices and the demo has the name
// of a kind, and every heading is one of its fields, but for two put there to be unknown.
func TestSampleHeadings(t *testing.T) {
	unknown := map[string]bool{"loads.csv door ajar": true, "visits.csv paid": true}
	met := 0
	for _, dir := range sampleFolders {
		files, err := os.ReadDir(dir)
		require.NoError(t, err)
		for _, f := range files {
			if f.IsDir() && f.Name() == "traces" {
				continue
			}
			ext := filepath.Ext(f.Name())
			kind, ok := schemas.Match(strings.TrimSuffix(f.Name(), ext))
			require.True(t, ok, f.Name())
			if ext != ".csv" {
				continue
			}
			rows := csvRows(t, filepath.Join(dir, f.Name()))
			for _, heading := range rows[0] {
				base, _, _ := strings.Cut(strings.NewReplacer("(", "[").Replace(heading), " [")
				_, ok := kind.Match(base)
				if !ok {
					_, ok = kind.Match(strings.TrimSuffix(strings.TrimSuffix(base, " date"), " time"))
				}
				if !ok && heading != "time" { // the clock beside a date
					require.True(t, unknown[f.Name()+" "+heading], "%s: %s", f.Name(), heading)
					met++
				}
			}
			for _, r := range rows {
				require.Len(t, r, len(rows[0]), f.Name())
			}
		}
	}
	require.Equal(t, len(unknown), met)
}

var sampleFolders = []string{"../demo/practice", samples + "/stranger-csv", samples + "/stranger-json", samples + "/stranger-jsonl",
	samples + "/stranger-yaml", samples + "/thin", samples + "/thin-clean"}

func csvRows(t *testing.T, path string) [][]string {
	t.Helper()
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	rows, err := csv.NewReader(bytes.NewReader(text)).ReadAll()
	require.NoError(t, err, path)
	return rows
}

// TestStrangerRowsFit judges the rows that are typed as they are meant (JSON and
// JSON Lines) by their schemas, and holds the YAML and the CSV to the same values.
func TestStrangerRowsFit(t *testing.T) {
	files, err := filepath.Glob(samples + "/stranger-json/*.json")
	require.NoError(t, err)
	require.Greater(t, len(files), 14)
	total := 0
	for _, f := range files {
		kind := strings.TrimSuffix(filepath.Base(f), ".json")
		text, err := os.ReadFile(f)
		require.NoError(t, err)
		var rows []any
		if kind == "practice" {
			text = append(append([]byte{'['}, text...), ']')
		}
		require.NoError(t, json.Unmarshal(text, &rows))
		schema := schemaOf(t, kind)
		for i, r := range rows {
			require.NoError(t, schema.Validate(r), "%s row %d", kind, i+1)
		}
		require.Equal(t, rows, lines(t, samples+"/stranger-jsonl/"+kind+".jsonl"), kind)
		require.Equal(t, words(rows), words(yamlRows(t, samples+"/stranger-yaml/"+kind+".yaml")), kind)
		if kind != "practice" {
			require.Len(t, csvRows(t, samples+"/stranger-csv/"+kind+".csv"), len(rows)+1, kind)
			total += len(rows)
		}
	}
	require.Greater(t, total, 55)
}

func lines(t *testing.T, path string) (rows []any) {
	t.Helper()
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	for _, line := range strings.Split(strings.TrimSpace(string(text)), "\n") {
		var v any
		require.NoError(t, json.Unmarshal([]byte(line), &v), path)
		rows = append(rows, v)
	}
	return rows
}

// yamlRows reads scalars as they are written.
func yamlRows(t *testing.T, path string) []any {
	t.Helper()
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	var n yaml.Node
	require.NoError(t, yaml.Unmarshal(text, &n), path)
	if list, ok := plainNode(n.Content[0]).([]any); ok {
		return list
	}
	return []any{plainNode(n.Content[0])}
}

func plainNode(n *yaml.Node) any {
	switch n.Kind {
	case yaml.SequenceNode:
		list := []any{}
		for _, c := range n.Content {
			list = append(list, plainNode(c))
		}
		return list
	case yaml.MappingNode:
		m := map[string]any{}
		for i := 0; i < len(n.Content); i += 2 {
			m[n.Content[i].Value] = plainNode(n.Content[i+1])
		}
		return m
	}
	return n.Value
}

// words turns every value into text, so that 6 and "6" are one.
func words(v any) any {
	switch v := v.(type) {
	case []any:
		list := []any{}
		for _, x := range v {
			list = append(list, words(x))
		}
		return list
	case map[string]any:
		m := map[string]any{}
		for k, x := range v {
			m[k] = words(x)
		}
		return m
	}
	return fmt.Sprint(v)
}

// TestStrangerFaultsStandThere: at each line and character of the table stands the
// same value, in each format.
func TestStrangerFaultsStandThere(t *testing.T) {
	table := csvRows(t, samples+"/stranger-faults.csv")
	require.Equal(t, []string{"kind", "row", "field", "check", "grade", "csv", "json", "jsonl", "yaml", "what"}, table[0])
	for _, f := range table[1:] {
		row, err := strconv.Atoi(f[1])
		require.NoError(t, err)
		cells := csvRows(t, samples+"/stranger-csv/"+f[0]+".csv")
		want := ""
		for i, heading := range cells[0] {
			if base, _, _ := strings.Cut(heading, " ["); base == f[2] {
				want = cells[row][i]
			}
		}
		require.NotEmpty(t, want)
		first, _, _ := strings.Cut(want, ";")
		for i, format := range []string{"csv", "json", "jsonl", "yaml"} {
			text, err := os.ReadFile(fmt.Sprintf("%s/stranger-%s/%s.%s", samples, format, f[0], format))
			require.NoError(t, err)
			var line, column int
			_, err = fmt.Sscanf(f[5+i], "%d:%d", &line, &column)
			require.NoError(t, err)
			there := string([]rune(strings.Split(string(text), "\n")[line-1])[column-1:])
			require.True(t, strings.HasPrefix(strings.TrimLeft(there, `["`), first), "%s %v: %.40s", format, f, there)
		}
	}
}
