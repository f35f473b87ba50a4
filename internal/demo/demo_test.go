package demo

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"go.yaml.in/yaml/v4"
)

func TestWriteWholeOrNotAtAll(t *testing.T) {
	base := t.TempDir()
	fresh := filepath.Join(base, "a", "demo")
	require.NoError(t, Write(fresh))
	count := 0
	require.NoError(t, fs.WalkDir(FS(), ".", func(path string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		count++
		want, err := fs.ReadFile(FS(), path)
		require.NoError(t, err)
		got, err := os.ReadFile(filepath.Join(fresh, path))
		require.NoError(t, err)
		require.True(t, bytes.Equal(want, got), path)
		return nil
	}))
	require.Greater(t, count, 20)

	empty := filepath.Join(base, "empty")
	require.NoError(t, os.Mkdir(empty, 0o755))
	require.NoError(t, Write(empty))

	require.ErrorContains(t, Write(fresh), "not empty")
	require.NoError(t, os.WriteFile(filepath.Join(empty, ".DS_Store"), []byte("x"), 0o644))
	require.True(t, Holds(empty), "what a file manager leaves changes nothing")
	require.NoError(t, os.WriteFile(filepath.Join(empty, "letter.txt"), []byte("x"), 0o644))
	require.False(t, Holds(empty))
	file := filepath.Join(base, "file")
	require.NoError(t, os.WriteFile(file, []byte("x"), 0o644))
	require.Error(t, Write(file))
	require.ErrorContains(t, Write(filepath.Join(file, "below")), "could not be written to")
	left, err := filepath.Glob(filepath.Join(base, "*", ".demo-*"))
	require.NoError(t, err)
	require.Empty(t, left)
	list, err := os.ReadDir(base)
	require.NoError(t, err)
	require.Len(t, list, 3, "no part of a folder stays behind")
}

// An empty folder in which someone stands stays that folder.
func TestWriteIntoTheFolderOneStandsIn(t *testing.T) {
	dir := t.TempDir()
	t.Chdir(dir)
	before, err := os.Stat(dir)
	require.NoError(t, err)
	require.NoError(t, Write("."))
	after, err := os.Stat(dir)
	require.NoError(t, err)
	require.True(t, os.SameFile(before, after))
	require.True(t, Holds("."))
	left, err := filepath.Glob(".demo-*")
	require.NoError(t, err)
	require.Empty(t, left)
}

// TestPlantedFaultsStandWhereTheTableSays looks each fault up in the embedded files.
func TestPlantedFaultsStandWhereTheTableSays(t *testing.T) {
	text, err := os.ReadFile("../../testdata/practices/demo-faults.csv")
	require.NoError(t, err)
	table, err := csv.NewReader(bytes.NewReader(text)).ReadAll()
	require.NoError(t, err)
	require.Equal(t, []string{"file", "row", "field", "check", "grade", "what"}, table[0])
	checks := map[string]bool{}
	for _, f := range table[1:] {
		n, err := strconv.Atoi(f[1])
		require.NoError(t, err)
		checks[f[3]] = true
		if strings.HasPrefix(f[0], "traces/") { // the whole file
			_, err := fs.Stat(FS(), f[0])
			require.NoError(t, err)
			require.Zero(t, n)
			continue
		}
		require.LessOrEqual(t, n, rows(t, f[0]), "%v", f)
		require.Positive(t, n)
	}
	for _, family := range []string{"traces/hold", "traces/saturation", "cycles/exposure", "packs/date", "clients/screen-complete", "scope/instruments", "gear/sizes", "people/certificates"} {
		require.True(t, checks[family], family)
	}
}

// TestDataLoggerFiles: a few, small enough to be embedded, in more than one form; the
// log names some of them, and every one that it names is there.
func TestDataLoggerFiles(t *testing.T) {
	size, heads := 0, map[string]bool{}
	var files []string
	require.NoError(t, fs.WalkDir(FS(), "traces", func(path string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() || path == "traces/layout.yaml" {
			return err
		}
		text, err := fs.ReadFile(FS(), path)
		head, _, _ := strings.Cut(string(text), "\n")
		heads[strings.Trim(head, "0123456789/;")] = true
		size += len(text)
		files = append(files, path)
		return err
	}))
	require.Len(t, files, 6)
	require.Less(t, size, 150<<10)
	require.Greater(t, len(heads), 2, "forms: %v", heads)

	text, err := fs.ReadFile(FS(), "loads.csv")
	require.NoError(t, err)
	all, err := csv.NewReader(bytes.NewReader(text)).ReadAll()
	require.NoError(t, err)
	column := slices.Index(all[0], "logger file")
	require.Positive(t, column)
	named := 0
	for _, load := range all[1:] {
		if load[column] != "" {
			require.Contains(t, files, "traces/"+load[column])
			named++
		}
	}
	require.Equal(t, 3, named, "the others are found by their counter or their start")
}

func rows(t *testing.T, name string) int {
	t.Helper()
	text, err := fs.ReadFile(FS(), name)
	require.NoError(t, err)
	var list []any
	switch filepath.Ext(name) {
	case ".csv":
		all, err := csv.NewReader(bytes.NewReader(text)).ReadAll()
		require.NoError(t, err)
		return len(all) - 1
	case ".jsonl":
		return strings.Count(string(text), "\n")
	case ".json":
		require.NoError(t, json.Unmarshal(text, &list))
	default:
		require.NoError(t, yaml.Unmarshal(text, &list))
	}
	return len(list)
}
