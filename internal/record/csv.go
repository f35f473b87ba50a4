package record

import "strings"

// scanner takes a CSV text apart as RFC 4180 has it: cells in quotation marks may hold
// delimiters, line ends and doubled quotation marks. A quotation mark inside a cell
// that does not begin with one stands for itself. The cells share the text wherever
// they can.
type scanner struct {
	text  string
	comma byte
	pos   int

	start int // of the row
	cells []string
	spans []span // of the cells in the text, if wanted
	want  bool
	wrong *csvFault // what makes the row unreadable
}

type span struct{ from, to int }

// csvFault says why a row cannot be taken apart; the next row begins on the next line.
type csvFault struct {
	open bool // a quotation mark is never closed; else something follows a closing one
	at   int
}

// A cell with line ends that is longer than any text allowed has a quotation mark too many.
const longestCell = 16 << 10

// next goes to the next row that is not an empty line; false at the end.
func (c *scanner) next() bool {
	c.wrong = nil
	for c.pos < len(c.text) {
		c.start = c.pos
		c.cells, c.spans = c.cells[:0], c.spans[:0]
		rest := c.text[c.pos:]
		end := strings.IndexByte(rest, '\n')
		line := rest
		if end >= 0 {
			line = rest[:end]
		} else {
			end = len(rest)
		}
		if n := len(line); n > 0 && line[n-1] == '\r' {
			line = line[:n-1]
		}
		if line == "" {
			c.pos += end + 1
			continue
		}
		if strings.IndexByte(line, '"') < 0 {
			c.split(line)
			c.pos += end + 1
			return true
		}
		c.quoted()
		if c.wrong != nil {
			c.pos = c.start + end + 1
		}
		return true
	}
	return false
}

// filled goes to the next row that has something in a cell.
func (c *scanner) filled() bool {
	for c.next() {
		if c.wrong != nil {
			return true
		}
		for _, cell := range c.cells {
			if trim(cell) != "" {
				return true
			}
		}
	}
	return false
}

// split takes a line without quotation marks apart.
func (c *scanner) split(line string) {
	from := 0
	for {
		i := strings.IndexByte(line[from:], c.comma)
		if i < 0 {
			break
		}
		c.add(line[from:from+i], c.start+from, c.start+from+i)
		from += i + 1
	}
	c.add(line[from:], c.start+from, c.start+len(line))
}

// most cells of a row that are kept; no kind has nearly as many fields.
const mostCells = mostLanes + 1

func (c *scanner) add(cell string, from, to int) {
	if len(c.cells) >= mostCells {
		return
	}
	c.cells = append(c.cells, cell)
	if c.want {
		c.spans = append(c.spans, span{from, to})
	}
}

// quoted takes a row apart that has quotation marks, and may go over several lines.
func (c *scanner) quoted() {
	t, i := c.text, c.start
	for {
		if i < len(t) && t[i] == '"' {
			to, plain := c.closing(i + 1)
			if to < 0 {
				c.wrong = &csvFault{open: true, at: i}
				return
			}
			cell := t[i+1 : to]
			if !plain {
				cell = strings.ReplaceAll(strings.ReplaceAll(cell, `""`, `"`), "\r\n", "\n")
			}
			c.add(cell, i+1, to)
			i = to + 1
		} else {
			to := i
			for to < len(t) && t[to] != c.comma && t[to] != '\n' {
				to++
			}
			cell := t[i:to]
			if n := len(cell); n > 0 && cell[n-1] == '\r' && (to == len(t) || t[to] == '\n') {
				cell = cell[:n-1]
			}
			c.add(cell, i, i+len(cell))
			i = to
		}
		switch {
		case i == len(t) || t[i] == '\n':
			c.pos = i + 1
			return
		case t[i] == c.comma:
			i++
		case t[i] == '\r' && (i+1 == len(t) || t[i+1] == '\n'):
			c.pos = i + 2
			return
		default:
			c.wrong = &csvFault{at: i}
			return
		}
	}
}

// closing finds the quotation mark that closes the one before i; plain is true if
// nothing between them needs to be rewritten.
func (c *scanner) closing(i int) (to int, plain bool) {
	from, plain := i, true
	for {
		n := strings.IndexByte(c.text[i:], '"')
		if n < 0 {
			return -1, false
		}
		i += n
		if i+1 >= len(c.text) || c.text[i+1] != '"' {
			break
		}
		i, plain = i+2, false
	}
	cell := c.text[from:i]
	if lines := strings.IndexByte(cell, '\n') >= 0; lines {
		if len(cell) > longestCell {
			return -1, false
		}
		plain = plain && strings.IndexByte(cell, '\r') < 0
	}
	return i, plain
}
