package record

import (
	"strings"
)

var delimiters = []struct {
	mark byte
	name string
}{{',', "comma"}, {';', "semicolon"}, {'\t', "tab"}, {'|', "bar"}}

// openTable finds the delimiter: the one that a line "sep=;" names, else the one that
// makes most known headings of the first row, then most headings, then fewest rows of
// another width.
func (s *sheet) openTable() *scanner {
	if s.src.grid != nil {
		s.src.comma = gridComma
		return &scanner{text: s.src.text, comma: gridComma}
	}
	text, skip := s.src.text, 0
	if rest, ok := strings.CutPrefix(text, "sep="); ok && len(rest) > 1 && (rest[1] == '\n' || rest[1] == '\r') {
		skip = strings.IndexByte(text, '\n') + 1
	}
	best, most := 0, -1
	for i, d := range delimiters {
		c := &scanner{text: text, comma: d.mark, pos: skip}
		if !c.filled() {
			break
		}
		n := 0
		if c.wrong == nil {
			for _, cell := range c.cells {
				if n += 100; s.known(cell) {
					n += 100_000
				}
			}
			n += evenRows(*c, len(c.cells))
		}
		if skip > 0 && text[4] == d.mark {
			n += 1 << 30
		}
		if n > most {
			best, most = i, n
		}
	}
	s.file.Delimiter = delimiters[best].name
	s.src.comma = delimiters[best].mark
	return &scanner{text: text, comma: s.src.comma, pos: skip}
}

// evenRows counts how many of the next rows, at most 50, have the given width.
func evenRows(c scanner, width int) (n int) {
	for range 50 {
		if !c.next() {
			break
		}
		if c.wrong == nil && len(c.cells) == width {
			n++
		}
	}
	return n
}

// known is true for a heading that means a field.
func (s *sheet) known(heading string) bool {
	f, _ := s.matchHeading(heading, &lane{})
	return f != nil
}

// inPairs is true if the first column holds names of fields and the second their values,
// rather than the first row the headings. c stands at the first row.
func (s *sheet) inPairs(c scanner) bool {
	if len(c.cells) == 1 {
		return false
	}
	if isValueWord(c.cells[1]) {
		return true
	}
	across, down := 0, 0
	for _, cell := range c.cells {
		if s.known(cell) {
			across++
		}
	}
	for c.pos = c.start; c.next(); {
		head, _, _ := strings.Cut(trim(c.cells[0]), ".")
		if c.wrong == nil && s.known(head) {
			down++
		}
	}
	return down >= across
}

func isValueWord(s string) bool {
	switch strings.ToLower(trim(s)) {
	case "value", "values", "answer", "setting":
		return true
	}
	return false
}
