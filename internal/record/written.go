package record

import (
	"strings"

	"github.com/go-json-experiment/json/jsontext"
	"go.yaml.in/yaml/v4"
)

// typed is one value of a row as it stands in its file.
type typed struct {
	lane  *lane  // nil where no heading is known for it
	name  string // the heading as written, "" where there is none
	shape shape
	text  string
}

// typedRow gives the values of the row that begins at start, without those that are blank.
func (s *sheet) typedRow(start int) []typed {
	switch s.src.format {
	case formatJSON, formatLines, formatYAML:
		return s.typedMembers(start)
	case formatPairs:
		return s.typedLines()
	}
	return s.typedCells(start)
}

// typedCells is typedRow for a table.
func (s *sheet) typedCells(start int) (row []typed) {
	denied := false
	for i, cell := range s.src.cellsAt(start) {
		if trim(cell) == "" {
			continue
		}
		t := typed{text: cell}
		if i < len(s.cells) {
			t.lane, t.name = s.cells[i], s.cells[i].written
			denied = denied || t.lane.col == nil && s.denies(cell)
		}
		row = append(row, t)
	}
	if denied {
		return row
	}
	return append(row, s.given...)
}

// cellsAt takes the row of a table that begins at start apart.
func (s *source) cellsAt(start int) []string {
	c := scanner{text: s.text, comma: s.comma, pos: start}
	if !c.next() || c.wrong != nil {
		return nil
	}
	return c.cells
}

// typedMembers is typedRow for JSON and YAML.
func (s *sheet) typedMembers(start int) (row []typed) {
	s.src.eachNamed(start, func(name string, sh shape, text string) {
		if sh != isNull && !(sh == isText && trim(text) == "") {
			row = append(row, typed{s.byName[name], name, sh, text})
		}
	})
	return row
}

// eachNamed goes through the names and values of the row that begins at start.
func (s *source) eachNamed(start int, do func(name string, sh shape, text string)) {
	if s.format != formatYAML {
		for w := (walker{s: s.text, i: start}); w.more(); {
			name := w.name()
			sh, text := w.value()
			do(name, sh, text)
		}
		return
	}
	n, _ := s.rowNode(start)
	if n == nil || n.Kind != yaml.MappingNode {
		return
	}
	for i := 0; i+1 < len(n.Content); i += 2 {
		sh, text := nodeValue(n.Content[i+1])
		do(n.Content[i].Value, sh, text)
	}
}

// rawRow gives the text of the row that begins at start, as it stands in its file, with
// what parts it from the next row left out.
func (s *sheet) rawRow(start int) string {
	text := s.src.text
	switch s.src.format {
	case formatJSON:
		d := jsontext.NewDecoder(strings.NewReader(text[start:]), lenient)
		if d.SkipValue() == nil {
			return text[start : start+int(d.InputOffset())]
		}
	case formatYAML:
		return s.src.rawItem(start)
	case formatCSV:
		c := scanner{text: text, comma: s.src.comma, pos: start}
		if c.next() {
			return strings.TrimRight(text[c.start:min(c.pos, len(text))], "\r\n")
		}
	}
	return strings.TrimRight(text[start:lineEnd(text, start)], "\r\n")
}

// rawItem gives the lines of a row of YAML: an item of a list, or a whole document.
func (s *source) rawItem(start int) string {
	d := s.documentAt(start)
	begins := max(d.from, 1+strings.LastIndexByte(s.text[:start], '\n'))
	if itemAt(s.text, start) && strings.Trim(s.text[begins:start], " ") == "" {
		end := nextItem(s.text, lineEnd(s.text, start), d.to, start-begins)
		return strings.TrimRight(s.text[begins:end], "\r\n")
	}
	root := s.unwrapped(s.document(d))
	if root == nil || root.Kind != yaml.SequenceNode {
		return strings.Trim(s.text[d.from:d.to], "\r\n")
	}
	end := d.to
	if _, from := s.rowNode(start); from.offset == start {
		for _, n := range root.Content { // a list in brackets: the item ends where the next begins
			if n.Line > from.line || n.Line == from.line && n.Column > from.column {
				return strings.TrimRight(s.text[start:s.offset(mark{start, from.line, from.column}, n)], " \t\r\n,")
			}
		}
	}
	return strings.TrimSuffix(strings.TrimRight(s.text[start:end], " \t\r\n"), "]")
}

// documentAt gives the document of a YAML file that holds an offset.
func (s *source) documentAt(offset int) span {
	docs := s.documents()
	for _, d := range docs {
		if offset < d.to {
			return d
		}
	}
	return docs[len(docs)-1]
}
