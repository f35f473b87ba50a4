package record

import (
	"strings"

	"footing/internal/workbook"
)

// grid says where the cells of a table's text stand in the sheet of a workbook.
type grid struct {
	file, sheet string
	titles      []string // just above it, the nearest first
	head        int      // the row of the headings; of a heading in two rows, the lower
	pairs       bool     // two columns, name and value, without headings
	columns     []int
	rows        []gridRow // one for each record of the text after its headings
	odd         []oddity  // by row, then column
}

// gridComma parts the cells of a table's text: hardly any cell holds a tab.
const gridComma = '\t'

// gridRow is a row of a table.
type gridRow struct {
	number uint32 // as the spreadsheet shows
	marks  marks
}

// marks say what a row looks like, for where it cannot be kept as a record.
type marks uint8

const (
	oneCell   marks = 1 << iota // it holds one thing only
	twoCells                    // or two
	allWords                    // all that it holds is words
	formulas                    // all that it holds came from formulas
	unticked                    // or is a "no" of a box to tick
	afterGap                    // blank rows stand before it
	totalWord                   // its first words are those of a total
)

// place is where the value of a lane stands in a row, or the row where there is no lane.
func (g *grid) place(s *source, number int, l *lane) Place {
	p := Place{File: g.file, Sheet: g.sheet, Row: number}
	if l == nil {
		return p
	}
	column := l.cell
	if p.Heading = l.written; s.format == formatPairs {
		p.Row, column = g.recordAt(s, l.cell), 1
	}
	if column < len(g.columns) && p.Row > 0 {
		p.Cell = workbook.Name(g.columns[column], p.Row)
	}
	return p
}

// placeAt is the cell of an offset of the text.
func (g *grid) placeAt(s *source, offset int) Place {
	p := Place{File: g.file, Sheet: g.sheet, Row: g.recordAt(s, offset)}
	start := strings.LastIndexByte(s.text[:min(offset, len(s.text))], '\n') + 1
	c := scanner{text: s.text, comma: gridComma, pos: start, want: true}
	if p.Row == 0 || !c.next() || c.wrong != nil {
		return p
	}
	for i, at := range c.spans {
		if at.from <= offset && offset <= at.to && i < len(g.columns) {
			p.Cell = workbook.Name(g.columns[i], p.Row)
			break
		}
	}
	return p
}

// recordAt is the row of the record that begins at an offset, or holds it. It counts from
// the top: only headings and short documents are asked for.
func (g *grid) recordAt(s *source, offset int) int {
	c := scanner{text: s.text, comma: gridComma}
	n := -1
	for c.pos <= offset && c.next() {
		n++
	}
	if !g.pairs {
		n--
	}
	if n < 0 || n >= len(g.rows) {
		return g.head
	}
	return int(g.rows[n].number)
}
