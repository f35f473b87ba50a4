package report

import (
	"strings"

	terminal "github.com/jedib0t/go-pretty/v6/text"
)

// columnGap stands between columns, leastColumn is the narrowest that one is made.
const (
	columnGap   = 2
	leastColumn = 6
)

// grid writes a table for a terminal, no wider than it is: cells are wrapped, and the
// widest column gives way first. Columns that hold nothing are left out. On a terminal
// too narrow for so many columns, each row is written as lines "heading: cell".
func (s *summary) grid(columns []string, rows [][]string) {
	t := (&exhibited{Columns: append([]string(nil), columns...), Rows: rows}).tidy()
	widths, ok := fit(t, s.width)
	if !ok {
		for _, row := range t.Rows {
			for i, c := range row {
				if c != "" {
					s.hang(nil, "   ", t.Columns[i]+": "+c)
				}
			}
			s.b.WriteByte('\n')
		}
		return
	}
	s.cells(strong, widths, t.Columns)
	for _, row := range t.Rows {
		s.cells(nil, widths, row)
	}
}

// fit finds widths that fill at most width columns of the terminal, with an indent
// and gaps.
func fit(t *exhibited, width int) (widths []int, ok bool) {
	room := width - columnGap*len(t.Columns)
	total := 0
	for i, c := range t.Columns {
		w := max(terminal.StringWidth(c), 1)
		for _, row := range t.Rows {
			w = max(w, terminal.StringWidth(row[i]))
		}
		widths, total = append(widths, w), total+w
	}
	for total > room {
		widest := 0
		for i := range widths {
			if widths[i] > widths[widest] {
				widest = i
			}
		}
		if len(widths) == 0 || widths[widest] <= leastColumn {
			return nil, false
		}
		widths[widest]--
		total--
	}
	return widths, true
}

// cells writes one row, as many lines as its longest cell needs.
func (s *summary) cells(style terminal.Colors, widths []int, row []string) {
	wrapped, high := make([][]string, len(row)), 0
	for i, c := range row {
		wrapped[i] = wrap(c, widths[i])
		high = max(high, len(wrapped[i]))
	}
	for n := range high {
		var line strings.Builder
		for i := range row {
			c := ""
			if n < len(wrapped[i]) {
				c = wrapped[i][n]
			}
			line.WriteString(strings.Repeat(" ", columnGap) + s.paint(style, c))
			if i < len(row)-1 {
				line.WriteString(strings.Repeat(" ", max(0, widths[i]-terminal.StringWidth(c))))
			}
		}
		s.b.WriteString(strings.TrimRight(line.String(), " ") + "\n")
	}
}
