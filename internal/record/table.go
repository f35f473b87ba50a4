package record

import (
	"strconv"
	"strings"
)

// readTable reads a CSV file whose first row that is not blank holds the headings.
func (s *sheet) readTable() error {
	c := s.openTable()
	if !c.filled() {
		return nil // not even headings: no rows
	}
	if c.wrong != nil {
		return refuse("quotation", "line "+strconv.Itoa(s.lineOf(c.start))+", the headings, "+c.wrong.words(s.src)).do("put the quotation mark right")
	}
	g := s.src.grid
	if g != nil && g.pairs || g == nil && s.plan.kind.Single && s.inPairs(*c) {
		s.src.format = formatPairs
		return s.readPairs(c)
	}
	if len(c.cells) > mostLanes {
		return refuse("headings", "it has more than 4,096 columns").do("keep the columns that hold values")
	}
	known := s.headings(c)
	if known == 0 {
		line := map[bool]string{true: "one row", false: "the first line"}[g != nil]
		return headless(s.plan, "none of its headings ("+shorten(strings.Join(c.cells, ", "))+") is one of "+s.plan.kind.Name, "let "+line+" hold the headings, such as ")
	}
	s.give()
	width := len(s.cells)
	for n := 0; c.next(); n++ {
		if n&1023 == 0 {
			if err := s.halt(); err != nil {
				return err
			}
		}
		s.begin(c.start)
		if g != nil {
			s.line, s.marks = g.rows[n].number, g.rows[n].marks
		}
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
		if g != nil {
			s.oddities(n)
		}
		s.end()
	}
	if s.file.Rows > 0 {
		s.tellGiven()
	}
	return nil
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
	line, _ := s.src.position(offset)
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
