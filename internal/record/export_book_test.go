package record

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"footing/internal/workbook"
)

func words(texts ...string) (row []workbook.Cell) {
	for i, text := range texts {
		row = append(row, workbook.Cell{Column: i, Text: text})
	}
	return row
}

// What a sheet that cannot be read may hold stays as unknown after it was converted, and
// converted again, as it was before; and the workbook is kept as it is.
func TestExportKeepsRefusedSheetsUnknown(t *testing.T) {
	var book bytes.Buffer
	require.NoError(t, workbook.Write(&book, []workbook.Table{
		{Name: "trips", Columns: []workbook.Column{{Heading: "id"}, {Heading: "date"}}, Rows: [][]workbook.Cell{words("T1", "2026-03-01")}},
		{Name: "loads", Columns: []workbook.Column{{Heading: "what we did"}, {Heading: "how it went"}}, Rows: [][]workbook.Cell{words("ran it", "well")}},
	}))
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "evening.xlsx"), book.Bytes(), 0o644))
	for round, format := range []string{"csv", "xlsx", "json"} {
		var rec testRecords
		in, err := Fill(context.Background(), dir, &rec, Options{Keep: true})
		require.NoError(t, err)
		require.Len(t, rec.Trips, 1)
		require.Equal(t, IDSetAside, in.StateOf("loads", "L1"), "round %d", round)
		require.Equal(t, IDUnknown, in.StateOf("trips", "T2"), "round %d", round)
		to := t.TempDir()
		done, err := in.Export(context.Background(), to, format)
		require.NoError(t, err)
		kept, err := os.ReadFile(filepath.Join(to, "loads", "evening.xlsx"))
		require.NoError(t, err)
		require.True(t, bytes.Equal(book.Bytes(), kept))
		require.Equal(t, []string{"loads/evening.xlsx"}, append(done.Books, done.Refused...))
		dir = to
	}
}

// A cell that is not believed, such as a year in a cell for dates, or a formula that failed,
// is no value that could be written: the workbook is kept beside what was.
func TestExportKeepsCellsThatAreNotRead(t *testing.T) {
	rec, in := fillKept(t, map[string]string{"evening.xlsx": bookOf(t, []sheetText{{"loads", "id|date|ended\nL1|d:2026-03-01|d:1905-07-18"}})})
	require.Len(t, rec.Loads, 1)
	require.Contains(t, strings.Join(sentences(in), "\n"), "1905")
	for _, format := range ExportFormats {
		done, err := in.Export(context.Background(), t.TempDir(), format)
		require.NoError(t, err)
		require.Equal(t, []string{"_not-read/evening.xlsx"}, done.Books)
	}
}

// Days that a cell for dates would not be believed with, and those far ahead, come back.
func TestExportKeepsDaysInAWorkbook(t *testing.T) {
	days := []string{"1900-01-01", "1900-03-01", "1929-12-31", "1930-01-01", "2024-02-29", "2192-04-11", "2192-04-12", "2199-12-31"}
	_, in := fillKept(t, map[string]string{"loads.csv": "started\n" + strings.Join(days, "\n") + "\n", "trips.csv": "on\n" + strings.Join(days, "\n") + "\n"})
	to := t.TempDir()
	_, err := in.Export(context.Background(), to, "xlsx") // it compares
	require.NoError(t, err)
}

func fillKept(t *testing.T, files map[string]string) (*testRecords, *Intake) {
	t.Helper()
	var rec testRecords
	in, err := Fill(context.Background(), folderOf(t, files), &rec, Options{Keep: true})
	require.NoError(t, err)
	return &rec, in
}

// Of two practice files the one that held holds again, and the other is kept.
func TestExportKeepsASecondPracticeFile(t *testing.T) {
	_, in := fillKept(t, map[string]string{"practice.yaml": "name: A\nregulator: B\n", "practice.json": `{"name": "C", "regulator": "D"}`, "loads.csv": "started\n2026-01-01\n"})
	for _, format := range ExportFormats {
		done, err := in.Export(context.Background(), t.TempDir(), format) // it compares
		require.NoError(t, err, format)
		require.Equal(t, []string{"_not-read/practice.yaml"}, done.Refused)
	}
}
