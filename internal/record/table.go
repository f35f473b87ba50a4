package record

import (
	"strconv"
	"strings"
)

var delimiters = []struct {
	mark byte
	name string
}{{',', "comma"}, {';', "semicolon"}, {'\t', "tab"}, {'|', "bar"}}

// readTable reads a CSV file whose first row that is not blank holds the headings.
func (s *sheet) readTable() error {
	c := s.openTable()
	if !c.next() {
		return nil // not even headings: no rows
	}
	if c.wrong != nil {
		return refuse("quotation", "line "+strconv.Itoa(s.lineOf(c.start))+", the headings, "+c.wrong.words(s.src)).do("put the quotation mark right")
	}
	if s.plan.kind.Single && s.inPairs(*c) {
		s.src.format = formatPairs
		return s.readPairs(c)
	}
	known := s.headings(c)
	if known == 0 {
		return refuse("headings", "none of its headings ("+shorten(strings.Join(c.cells, ", "))+") is one of "+s.plan.kind.Name).
			do("let the first line hold the headings, such as " + s.usualHeadings())
	}
	width := len(s.cells)
	for n := 0; c.next(); n++ {
		if n&1023 == 0 {
			if err := s.halt(); err != nil {
				return err
			}
		}
		s.begin(c.start)
		if c.wrong != nil {
			s.badQuotes(c)
			continue
		}
		cells := c.cells
		if len(cells) > width {
			s.tooMany(cells[width:], c.start)
			cells = cells[:width]
		}
		for i, cell := range cells {
			if cell != "" {
				s.put(s.cells[i], isText, cell)
			}
		}
		s.end()
	}
	return nil
}

// openTable finds the delimiter: the one that makes most known headings of the first
// row, then the one that makes most cells.
func (s *sheet) openTable() *scanner {
	text, skip := s.src.text, 0
	if rest, ok := strings.CutPrefix(text, "sep="); ok && len(rest) > 1 && (rest[1] == '\n' || rest[1] == '\r') {
		skip = strings.IndexByte(text, '\n') + 1
	}
	best, most := 0, -1
	for i, d := range delimiters {
		c := &scanner{text: text, comma: d.mark, pos: skip}
		if !c.next() {
			break
		}
		n := 0
		if c.wrong == nil {
			n = len(c.cells)
			for _, cell := range c.cells {
				if s.known(cell) {
					n += 1000
				}
			}
		}
		if skip > 0 && text[4] == d.mark {
			n += 1 << 20
		}
		if n > most {
			best, most = i, n
		}
	}
	s.file.Delimiter = delimiters[best].name
	s.src.comma = delimiters[best].mark
	return &scanner{text: text, comma: s.src.comma, pos: skip}
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

// headings makes the lanes of a table and counts those that are fields.
func (s *sheet) headings(c *scanner) (known int) {
	c.want = true
	c.pos = c.start
	c.next()
	c.want = false
	for i, cell := range c.cells {
		l := s.lane(cell)
		l.cell = i
		s.cells = append(s.cells, l)
		if trim(cell) == "" {
			l.quiet = true
		}
		if l.col != nil {
			known++
		}
		if l.extra != nil {
			s.repeated(l, c.spans[i])
		}
	}
	return known
}

// repeated notes that two headings mean the same field.
func (s *sheet) repeated(l *lane, at span) {
	f := l.fault("repeated-heading", l.written, `means the same field as "`+shorten(l.extra.written)+`", which is the one read`).
		do("keep one of the two columns, or give the other another heading")
	s.note(f, Noted, at.from, at.to)
}

// tooMany notes cells beyond the last heading.
func (s *sheet) tooMany(cells []string, start int) {
	for _, cell := range cells {
		if cell = trim(cell); cell != "" {
			if s.more == nil {
				s.more = newFault("more-cells", "there are more cells in the row than headings, and those after the last heading are not read").
					do("give the column a heading, or look whether a cell with a " + s.file.Delimiter + " in it lacks its quotation marks")
			}
			s.wrong = append(s.wrong, rowFault{fault: s.more, note: true})
			s.filled = true
			return
		}
	}
}

// badQuotes sets aside a row whose quotation marks do not fit together.
func (s *sheet) badQuotes(c *scanner) {
	f := newFault("quotation", c.wrong.words(s.src)).
		do("close every quotation mark; one that belongs to the text is written twice")
	s.refuseRow(f, "")
}

// words say what is wrong with the quotation marks of a row.
func (w *csvFault) words(src *source) string {
	if w.open {
		return "a cell begins with a quotation mark that is never closed"
	}
	return "a cell goes on after its closing quotation mark"
}

func (s *sheet) lineOf(offset int) int {
	line, _ := s.src.line(offset)
	return line
}

// usualHeadings gives the required headings, or the first few of the kind.
func (s *sheet) usualHeadings() string {
	names := s.plan.kind.Required
	for _, f := range s.plan.kind.Fields {
		if len(names) < 4 && !f.Required {
			names = append(names[:len(names):len(names)], f.Name)
		}
	}
	return strings.Join(names, ", ")
}
