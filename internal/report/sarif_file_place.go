package report

import (
	"strconv"
	"strings"

	"footing/internal/result"
)

// place is where evidence stands: file, line and columns, or sheet and cell. ok is false
// for evidence that has no file.
func (s *sarif) place(e *result.Evidence) (at sarifLocation, ok bool) {
	path := sarifPath(e.File)
	if path == "" {
		return at, false
	}
	s.artifact(e.File, "")
	index := s.file[path]
	at.Physical = &sarifPhysical{File: sarifFile{URI: path, Base: recordsBase, Index: &index}}
	if e.Line > 0 {
		at.Physical.Region = &sarifRegion{Line: e.Line}
		if e.Column > 0 {
			at.Physical.Region.Column = e.Column
			if e.EndColumn > e.Column {
				at.Physical.Region.EndColumn = e.EndColumn
			}
		}
	}
	if name := sarifCell(e); name != "" {
		at.Logical = []sarifLogical{{Name: name, Full: name}}
	}
	var parts []string
	for _, part := range []string{record(*e), e.Field, e.Note} {
		if plain(part) != "" {
			parts = append(parts, part)
		}
	}
	if len(parts) > 0 {
		text := s.say(strings.Join(parts, "; "))
		at.Message = &text
	}
	return at, true
}

// sarifCell is a place in a workbook, as "loads!F17"; "" in a file of lines.
func sarifCell(e *result.Evidence) string {
	sheet, cell := plain(e.Sheet), plain(e.Cell)
	switch {
	case sheet == "":
		return ""
	case cell != "":
		return sheet + "!" + cell
	case e.Row > 0:
		return sheet + "!" + "row " + strconv.Itoa(e.Row)
	}
	return sheet
}

// sarifPath is a path relative to the folder of records as a URI reference (RFC 3986):
// each part has every byte escaped but the unreserved ones, so that no name can be taken
// for a scheme, a host, a query or a fragment.
func sarifPath(file string) string {
	var parts []string
	for part := range strings.SplitSeq(strings.ReplaceAll(file, "\\", "/"), "/") {
		if part != "" && part != "." && part != ".." {
			parts = append(parts, escaped(part))
		}
	}
	return strings.Join(parts, "/")
}

func escaped(part string) string {
	const hex = "0123456789ABCDEF"
	var b strings.Builder
	for i := range len(part) {
		if c := part[i]; isAlnum(c) || strings.IndexByte("-._~", c) >= 0 {
			b.WriteByte(c)
		} else {
			b.Write([]byte{'%', hex[c>>4], hex[c&15]})
		}
	}
	return b.String()
}
