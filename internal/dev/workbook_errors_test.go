package dev

import (
	"archive/zip"
	"bytes"
	"io"
	"os"
	"regexp"
	"testing"

	"github.com/stretchr/testify/require"
)

// failFormulas makes cells of a workbook hold the error of a formula, as a spreadsheet program writes it:
// cell by its name, in every sheet that has it as a word.
func failFormulas(t *testing.T, path string, cells map[string]string) {
	t.Helper()
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	in, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	require.NoError(t, err)
	var out bytes.Buffer
	w := zip.NewWriter(&out)
	changed := 0
	for _, f := range in.File {
		r, err := f.Open()
		require.NoError(t, err)
		text, err := io.ReadAll(r)
		require.NoError(t, err)
		for at, failed := range cells {
			if name, cell, _ := bytes.Cut([]byte(at), []byte("!")); f.Name == string(name) {
				text = regexp.MustCompile(`<c r="`+string(cell)+`"([^>]*?) t="s"><v>\d+</v>`).ReplaceAllFunc(text, func([]byte) []byte {
					changed++
					return []byte(`<c r="` + string(cell) + `" t="e"><f>` + failed + `</f><v>` + failed + `</v>`)
				})
			}
		}
		to, err := w.CreateHeader(&zip.FileHeader{Name: f.Name, Method: zip.Deflate})
		require.NoError(t, err)
		_, err = to.Write(text)
		require.NoError(t, err)
	}
	require.NoError(t, w.Close())
	require.Equal(t, len(cells), changed)
	require.NoError(t, os.WriteFile(path, out.Bytes(), 0o644))
}
