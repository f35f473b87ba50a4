package trace

import (
	"strings"

	"footing/internal/quantity"
	"footing/schemas"
)

// mapTable reads a line by a layout. data says that the line is a reading itself,
// because the layout tells columns by their place and the file has no headings.
func mapTable(l *layout, line []byte, number int) (t *table, data bool) {
	if l.skip >= 0 && number != l.skip+1 || len(line) > 4096 {
		return nil, false
	}
	list := delimiters
	if l.delimiter != 0 {
		list = []byte{l.delimiter}
	}
	for _, d := range list {
		cells := split(nil, line, d)
		if t, data := l.table(cells, d); t != nil {
			return t, data
		}
	}
	return nil, false
}

// table matches the fields of one line.
func (l *layout) table(cells [][]byte, delimiter byte) (*table, bool) {
	t := &table{delimiter: delimiter, named: true}
	data := false
	for _, c := range cells {
		data = data || figures(c)
	}
	for _, c := range cells {
		if data {
			t.headings = append(t.headings, heading{})
		} else {
			t.headings = append(t.headings, readHeading(text(trim(c))))
		}
	}
	t.named = !data
	letters(t.headings)
	found := map[Role]int{}
	mapped := map[int]layoutColumn{}
	for _, c := range l.columns {
		i := c.index - 1
		if c.index == 0 {
			i = t.headed(c.heading)
		}
		if i < 0 || i >= len(cells) || data && c.index == 0 {
			return nil, false
		}
		if _, taken := mapped[i]; !taken {
			mapped[i] = c
			found[c.role]++
		}
	}
	if data && (found[Time]+found[Date] == 0 || found[Temperature] == 0 || !l.reading(cells)) {
		return nil, false
	}
	for i := range t.headings {
		h := &t.headings[i]
		c, ok := mapped[i]
		if !ok {
			if found[h.Role] > 0 {
				h.Role, h.Ignored = Other, ""
			}
			continue
		}
		h.become(c)
	}
	if !t.has(Temperature) || l.skip < 0 && !t.has(Time) && !t.has(Date) {
		return nil, false
	}
	return t, data
}

// become gives a heading what the layout says of its column.
func (h *heading) become(c layoutColumn) {
	if h.Role != c.role {
		*h = heading{Column: Column{Heading: h.Heading}, clock: h.clock, each: h.each, two: h.two}
	}
	h.Role, h.Ignored, h.weak, h.main = c.role, "", false, true
	switch {
	case c.role == Time && c.unit != 0:
		h.each = c.unit
	case c.unit != 0:
		h.Unit, h.Ref = c.unit, c.ref
	case c.ref != quantity.Unsaid:
		h.Ref = c.ref
	}
}

// headed finds a column by its heading, or by what stands before the unit in it.
func (t *table) headed(s string) int {
	want := schemas.Fold(s)
	for i, h := range t.headings {
		if schemas.Fold(h.Heading) == want {
			return i
		}
	}
	for i, h := range t.headings {
		if j := strings.IndexAny(h.Heading, "[("); j > 0 && schemas.Fold(h.Heading[:j]) == want {
			return i
		}
	}
	return -1
}

func (t *table) has(r Role) bool {
	for _, h := range t.headings {
		if h.Role == r {
			return true
		}
	}
	return false
}

// reading reports whether the fields at the places of time and temperature hold values.
func (l *layout) reading(cells [][]byte) bool {
	for _, c := range l.columns {
		if c.role == Time || c.role == Date || c.role == Temperature {
			if c.index < 1 || c.index > len(cells) || !figures(cells[c.index-1]) {
				return false
			}
		}
	}
	return true
}
