package workbook

import (
	"archive/zip"
	"bufio"
	"bytes"
	"errors"
	"io"
	"slices"
	"strings"
)

// stable writes the parts of a workbook in the order of their names, with no times, so
// that the same tables give the same bytes: the library writes them in any order.
// Marks become the escapes that they stand for.
func stable(w io.Writer, data []byte, escapes bool) error {
	r, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return err
	}
	slices.SortFunc(r.File, func(a, b *zip.File) int { return strings.Compare(a.Name, b.Name) })
	out := zip.NewWriter(w)
	for _, f := range r.File {
		if escapes && strings.HasPrefix(f.Name, "xl/") {
			err = unmark(out, f)
		} else {
			err = out.Copy(f)
		}
		if err != nil {
			return err
		}
	}
	return out.Close()
}

// unmark copies a part with its marks turned into escapes.
func unmark(out *zip.Writer, f *zip.File) error {
	in, err := f.Open()
	if err != nil {
		return err
	}
	defer in.Close()
	to, err := out.Create(f.Name)
	if err != nil {
		return err
	}
	turn := strings.NewReplacer(string(markBegin), "_x", string(markEnd), "_")
	for r := bufio.NewReader(in); ; {
		piece, readErr := r.ReadString('>')
		if _, err := turn.WriteString(to, piece); err != nil {
			return err
		}
		if errors.Is(readErr, io.EOF) {
			return nil
		}
		if readErr != nil {
			return readErr
		}
	}
}
