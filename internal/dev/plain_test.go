package dev

import (
	"bytes"
	"io/fs"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestPlainReadsAll(t *testing.T) {
	want := map[string]int64{}
	for _, format := range []string{"csv", "json", "jsonl", "yaml", "mixed"} {
		dir := t.TempDir()
		require.NoError(t, Generate(dir, Plan{Seed: 4, Days: 25, Clean: true, Traces: true, SecondsBetweenReadings: 60, Format: format}))
		size, lines := int64(0), int64(0)
		require.NoError(t, filepath.WalkDir(dir, func(path string, e fs.DirEntry, err error) error {
			if err != nil || e.IsDir() {
				return err
			}
			text, err := os.ReadFile(path)
			size += int64(len(text))
			if filepath.Ext(path) == ".csv" && filepath.Dir(path) == dir {
				lines += int64(bytes.Count(text, []byte("\n"))) - 1
			}
			return err
		}))
		read, rows, err := Plain(dir, true, false)
		require.NoError(t, err)
		require.Equal(t, size, read, format)
		_, records, err := Plain(dir, false, false)
		require.NoError(t, err)
		require.Less(t, records, rows)
		want[format] = records
		if format == "csv" {
			require.Equal(t, lines+1, records, "and the practice")
		}
	}
	for format, records := range want {
		require.Equal(t, want["csv"], records, format)
	}
}

func TestPlainSaysWhichFile(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "loads.json"), []byte("[{"), 0o644))
	_, _, err := Plain(dir, true, false)
	require.ErrorContains(t, err, "loads.json")
}
