package dev

import (
	"bytes"
	"io/fs"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestPlainTracesReadsAll(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, Generate(dir, Plan{Seed: 4, Days: 25, Clean: true, Traces: true, SecondsBetweenReadings: 60}))
	size, readings := int64(0), int64(0)
	require.NoError(t, filepath.WalkDir(filepath.Join(dir, "traces"), func(path string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		text, err := os.ReadFile(path)
		size += int64(len(text))
		readings += int64(bytes.Count(text, []byte("\n"))) - headerLines
		return err
	}))
	bytes, rows, err := PlainTraces(dir, false)
	require.NoError(t, err)
	require.Equal(t, size, bytes)
	require.Equal(t, readings, rows)

	odd := filepath.Join(dir, "traces", "odd.csv")
	for _, text := range []string{"a\nb\nc\nd\n25:00:00,1,2\n", "a\nb\nc\nd\n10:00:00,warm,2\n", "a\nb\nc\nd\n10:00:00,1\n", "a\nb\nc\nd\nten,1,2\n"} {
		require.NoError(t, os.WriteFile(odd, []byte(text), 0o644))
		_, _, err = PlainTraces(dir, false)
		require.ErrorContains(t, err, "odd.csv: line 5", text)
	}
}

func TestCyclesOnly(t *testing.T) {
	dir, small := t.TempDir(), filepath.Join(t.TempDir(), "small")
	require.NoError(t, Generate(dir, Plan{Seed: 4, Days: 10, Clean: true, Traces: true, SecondsBetweenReadings: 60, Format: "csv"}))
	require.NoError(t, CyclesOnly(dir, small))
	list, err := os.ReadDir(small)
	require.NoError(t, err)
	var names []string
	for _, e := range list {
		names = append(names, e.Name())
	}
	require.Equal(t, []string{"loads.csv", "practice.yaml", "programs.csv", "sites.csv", "sterilizers.csv", "traces"}, names)
	many, _, err := PlainTraces(dir, false)
	require.NoError(t, err)
	few, _, err := PlainTraces(small, false)
	require.NoError(t, err)
	require.Equal(t, many, few)
}
