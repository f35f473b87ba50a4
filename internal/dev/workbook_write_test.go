package dev

import (
	"bytes"
	"encoding/csv"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"footing/internal/workbook"
	"footing/schemas"
)

// asWorkbook copies a folder of records with all its tables of rows as sheets of one
// workbook: days, moments, numbers with their units, and answers as real cells.
func asWorkbook(t *testing.T, from fs.FS) (dir string, cells map[string]int) {
	t.Helper()
	dir = t.TempDir()
	w := &bookWriter{t: t, f: excelize.NewFile(), styles: map[string]int{}, cells: map[string]int{}}
	defer w.f.Close()
	require.NoError(t, fs.WalkDir(from, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := fs.ReadFile(from, name)
		require.NoError(t, err)
		if path.Ext(name) == ".csv" && !strings.Contains(name, "/") {
			w.sheet(strings.TrimSuffix(name, ".csv"), data)
			return nil
		}
		at := filepath.Join(dir, filepath.FromSlash(name))
		require.NoError(t, os.MkdirAll(filepath.Dir(at), 0o755))
		return os.WriteFile(at, data, 0o644)
	}))
	require.NoError(t, w.f.DeleteSheet("Sheet1"))
	require.NoError(t, w.f.SaveAs(filepath.Join(dir, "records.xlsx")))
	return dir, w.cells
}

type bookWriter struct {
	t      *testing.T
	f      *excelize.File
	styles map[string]int
	cells  map[string]int // how many of each sort were written
}

func (w *bookWriter) sheet(name string, data []byte) {
	w.t.Helper()
	rows, err := csv.NewReader(bytes.NewReader(data)).ReadAll()
	require.NoError(w.t, err)
	_, err = w.f.NewSheet(name)
	require.NoError(w.t, err)
	kind, ok := schemas.Match(name)
	require.True(w.t, ok, name)
	for i, row := range rows {
		for k, text := range row {
			at := workbook.Name(k, i+1)
			if i == 0 {
				require.NoError(w.t, w.f.SetCellStr(name, at, text))
				continue
			}
			head, _, _ := strings.Cut(rows[0][k], " [")
			form := schemas.Text
			if f, ok := kind.Match(head); ok {
				form = f.Form
			}
			w.cell(name, at, form, text)
		}
	}
}

var amount = regexp.MustCompile(`^(-?\d+(?:\.\d*[1-9])?) ([^\d;"]+)$`)

// cell writes a value as a person's spreadsheet would hold it.
func (w *bookWriter) cell(sheet, at string, form schemas.Form, text string) {
	styled := func(v any, format, sort string) {
		w.cells[sort]++
		require.NoError(w.t, w.f.SetCellValue(sheet, at, v))
		if format == "" {
			return
		}
		if w.styles[format] == 0 {
			var err error
			w.styles[format], err = w.f.NewStyle(&excelize.Style{CustomNumFmt: &format})
			require.NoError(w.t, err)
		}
		require.NoError(w.t, w.f.SetCellStyle(sheet, at, at, w.styles[format]))
	}
	if text == "" {
		return
	}
	dated := form == schemas.Day || form == schemas.Moment
	for layout, format := range map[string]string{"2006-01-02": "yyyy-mm-dd", "02/01/2006": "dd/mm/yyyy"} {
		if v, err := time.Parse(layout, text); err == nil && dated {
			styled(v, format, "days")
			return
		}
	}
	if v, err := time.Parse("2006-01-02 15:04", text); err == nil && dated {
		styled(v, `d mmm yyyy\, h:mm AM/PM`, "moments")
		return
	}
	n, err := strconv.ParseFloat(text, 64)
	if err == nil && strconv.FormatFloat(n, 'f', -1, 64) == text {
		styled(n, "", "numbers")
		return
	}
	if m := amount.FindStringSubmatch(text); m != nil && !slices.Contains([]schemas.Form{schemas.Text, schemas.ID, schemas.Ref, schemas.List, schemas.Choice}, form) {
		v, err := strconv.ParseFloat(m[1], 64)
		require.NoError(w.t, err)
		styled(v, `General "`+m[2]+`"`, "amounts")
		return
	}
	if form == schemas.YesNo && (text == "yes" || text == "no") {
		styled(text == "yes", "", "answers")
		return
	}
	w.cells["words"]++
	require.NoError(w.t, w.f.SetCellStr(sheet, at, text))
}
