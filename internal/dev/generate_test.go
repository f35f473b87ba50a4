package dev

import (
	"bytes"
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v5"
	"github.com/stretchr/testify/require"
)

// schemaOf compiles the schema of a kind as it stands in the repository, with
// formats asserted.
func schemaOf(t *testing.T, kind string) *jsonschema.Schema {
	t.Helper()
	c := jsonschema.NewCompiler()
	c.AssertFormat = true
	c.LoadURL = func(s string) (io.ReadCloser, error) { return nil, fmt.Errorf("no other file is read: %s", s) }
	for _, name := range []string{"common", kind} {
		text, err := os.ReadFile(filepath.Join("../../schemas", name+".json"))
		require.NoError(t, err)
		require.NoError(t, c.AddResource("urn:footing:"+name, bytes.NewReader(text)))
	}
	s, err := c.Compile("urn:footing:" + kind)
	require.NoError(t, err)
	return s
}

// made generates a practice in JSON and gives its rows by kind.
func made(t *testing.T, p Plan) map[string][]map[string]any {
	t.Helper()
	dir := t.TempDir()
	p.Format = "json"
	require.NoError(t, Generate(dir, p))
	all := map[string][]map[string]any{}
	files, err := filepath.Glob(filepath.Join(dir, "*.json"))
	require.NoError(t, err)
	for _, f := range files {
		text, err := os.ReadFile(f)
		require.NoError(t, err)
		kind := strings.TrimSuffix(filepath.Base(f), ".json")
		if kind == "practice" {
			var one map[string]any
			require.NoError(t, json.Unmarshal(text, &one))
			all[kind] = []map[string]any{one}
			continue
		}
		var rows []map[string]any
		require.NoError(t, json.Unmarshal(text, &rows), f)
		all[kind] = rows
	}
	return all
}

func TestMadeRowsFitTheirKinds(t *testing.T) {
	for _, plan := range []Plan{
		{Seed: 1, Days: 400, VisitsPerDay: 3, Clean: true, Traces: true, SecondsBetweenReadings: 600},
		{Seed: 2, Days: 120},
		{Seed: 3, Days: 30, VisitsPerDay: 45, Clean: true},
		{Seed: 4, Days: 90, VisitsPerDay: 0.5, Clean: true},
	} {
		all := made(t, plan)
		for kind, rows := range all {
			schema := schemaOf(t, kind)
			for i, r := range rows {
				require.NoError(t, schema.Validate(any(r)), "%s row %d: %v", kind, i+1, r)
				for name := range r {
					_, known := schema.Properties[name]
					require.True(t, known, "%s has no field %s", kind, name)
				}
			}
		}
		require.Len(t, all["practice"][0]["coverage"], len(all)-1, "coverage is said for every kind written")
	}
}

// TestMadeReferences follows every field that the schemas mark as a reference.
func TestMadeReferences(t *testing.T) {
	all := made(t, Plan{Seed: 5, Days: 500, Clean: true})
	ids := map[string]map[string]bool{}
	for kind, rows := range all {
		ids[kind] = map[string]bool{}
		for _, r := range rows {
			if id, ok := r["id"].(string); ok {
				require.False(t, ids[kind][id], "%s %s stands twice", kind, id)
				ids[kind][id] = true
			}
		}
	}
	followed := 0
	for kind, rows := range all {
		text, err := os.ReadFile(filepath.Join("../../schemas", kind+".json"))
		require.NoError(t, err)
		var schema struct {
			Properties map[string]struct {
				Refers []string `json:"x-refers"`
			}
		}
		require.NoError(t, json.Unmarshal(text, &schema))
		for _, r := range rows {
			for name, value := range r {
				list, ok := value.([]any)
				if !ok {
					list = []any{value}
				}
				for _, id := range list {
					kinds := schema.Properties[name].Refers
					if len(kinds) == 0 || id == "all" {
						continue
					}
					found := false
					for _, k := range kinds {
						found = found || ids[k][fmt.Sprint(id)]
					}
					require.True(t, found, "%s: %s %v is in none of %v", kind, name, id, kinds)
					followed++
				}
			}
		}
	}
	require.Greater(t, followed, 10000)
}

func TestSameSeedSameBytes(t *testing.T) {
	plan := Plan{Seed: 7, Days: 45, Clean: true, Traces: true, SecondsBetweenReadings: 5}
	for _, format := range []string{"csv", "json", "jsonl", "yaml", "mixed"} {
		plan.Format = format
		one, two := digest(t, plan), digest(t, plan)
		require.Equal(t, one, two, format)
		other := plan
		other.Seed++
		require.NotEqual(t, one, digest(t, other), format)
	}
}

// What is planted in traces follows from the seed too, whatever the writers' order.
func TestSameSeedSameFlaws(t *testing.T) {
	plan := Plan{Seed: 7, Days: 300, Traces: true, SecondsBetweenReadings: 20}
	require.Equal(t, digest(t, plan), digest(t, plan))
}

func digest(t *testing.T, plan Plan) string {
	t.Helper()
	dir := t.TempDir()
	require.NoError(t, Generate(dir, plan))
	h := sha256.New()
	require.NoError(t, fs.WalkDir(os.DirFS(dir), ".", func(path string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		text, err := os.ReadFile(filepath.Join(dir, path))
		fmt.Fprintf(h, "%s %d\n%s", path, len(text), text)
		return err
	}))
	return fmt.Sprintf("%x", h.Sum(nil))
}

func TestGenerateRefuses(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "loads.csv"), nil, 0o644))
	require.ErrorContains(t, Generate(dir, Plan{Days: 10}), "not empty")
	require.ErrorContains(t, Generate(t.TempDir(), Plan{Format: "xml"}), "choose csv")
	require.ErrorContains(t, Generate(t.TempDir(), Plan{Days: -1}), "negative")
}
