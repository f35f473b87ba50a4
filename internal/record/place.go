package record

import (
	"strings"

	"github.com/go-json-experiment/json/jsontext"
	"go.yaml.in/yaml/v4"
)

// Place finds where the value of a field is written, by the name that the schema has
// for the field. Where the field is not written, or for "", it is the place of the row.
func (r *Row) Place(field string) Place {
	if r.source == nil {
		return Place{}
	}
	l := r.source.laneOf(field)
	if day, clock := r.source.halvesOf(int(r.start), l); day != nil || clock != nil {
		l = (&pair{day: day, clock: clock}).main()
	}
	return r.source.find(int(r.start), int(r.number), l, nil)
}

// halvesOf gives the names that a field with several has in the row: of a moment parted
// in two that of its day and of its clock, else one alone.
func (s *source) halvesOf(start int, l *lane) (day, clock *lane) {
	if l == nil || l.pair != nil {
		if l != nil {
			day, clock = l.pair.day, l.pair.clock
		}
		return day, clock
	}
	if !l.shared {
		return nil, nil
	}
	var values []typed
	s.eachNamed(start, func(name string, sh shape, text string) {
		for _, in := range s.shared {
			if in.col == l.col && in.written == name && sh != isNull && !(sh == isText && unwritten(trim(text))) {
				values = append(values, typed{lane: in})
			}
		}
	})
	eachField(values, func(v []typed) {
		a, b := halves(v, partner(v))
		day, clock = a.lane, b.lane
	})
	return day, clock
}

// Text is the value of a field as written; "" if it is blank or not written. A list or
// group in JSON or YAML is given as JSON.
func (r *Row) Text(field string) string {
	l := (*lane)(nil)
	if r.source != nil {
		l = r.source.laneOf(field)
	}
	if l == nil {
		return ""
	}
	if day, clock := r.source.halvesOf(int(r.start), l); day != nil || clock != nil {
		var parts []string
		for _, half := range []*lane{day, clock} {
			if half != nil {
				if text := r.source.cellOf(int(r.start), half).text; !unwritten(text) {
					parts = append(parts, text)
				}
			}
		}
		return strings.Join(parts, " ")
	}
	if text := r.source.cellOf(int(r.start), l).text; !unwritten(text) {
		return text
	}
	return ""
}

// laneOf gives the lane that a field is read from; nil if the file has none.
func (s *source) laneOf(field string) *lane {
	for _, l := range s.lanes {
		if l != nil && l.col.field.Name == field {
			return l
		}
	}
	return nil
}

// written is a value as it stands in the text.
type written struct {
	span
	text   string
	node   *yaml.Node // in YAML
	origin mark       // from which the node's line and column count
}

// find gives the place of a value, or of its row where the value is not written.
func (s *source) find(start, number int, l *lane, path []step) Place {
	if s.grid != nil {
		return s.grid.place(s, number, l)
	}
	if l != nil {
		w := s.cellOf(start, l)
		switch {
		case w.node != nil:
			return s.nodePlace(number, deepNode(w.node, path), w.origin, l.written)
		case w.from < w.to && len(path) > 0 && s.format != formatCSV && s.format != formatPairs:
			at := s.deep(w.span, path)
			return s.at(number, at.from, at.to, l.written)
		case w.to >= w.from && w.from > 0 || w.from < w.to:
			return s.at(number, w.from, w.to, l.written)
		}
	}
	p := s.at(number, start, s.rowEnd(start), "")
	if l != nil {
		p.Heading = l.written
	}
	return p
}

// rowEnd is the end of the row that begins at start, or of its first line.
func (s *source) rowEnd(start int) int {
	if s.format == formatJSON && s.text[start] == '{' { // the line may be as long as the file
		d := jsontext.NewDecoder(strings.NewReader(s.text[start:]), lenient)
		if d.SkipValue() == nil {
			row := s.text[start : start+int(d.InputOffset())]
			return start + len(strings.TrimRight(row[:lineEnd(row, 0)], " \r\n"))
		}
	}
	return start + len(strings.TrimRight(s.text[start:lineEnd(s.text, start)], " \r\n"))
}

// cellOf finds the value of a lane in the row that begins at start. A value that is not
// there has from and to of 0.
func (s *source) cellOf(start int, l *lane) written {
	switch s.format {
	case formatCSV, formatPairs:
		c := scanner{text: s.text, comma: s.comma, pos: start, want: true}
		i := l.cell
		if s.format == formatPairs {
			c.pos, i = l.cell, 1
		}
		if !c.next() || c.wrong != nil || i >= len(c.cells) {
			return written{}
		}
		at := c.spans[i]
		cell := s.text[at.from:at.to]
		inner := strings.TrimSpace(cell)
		at.from += strings.Index(cell, inner)
		at.to = at.from + len(inner)
		return written{span: at, text: trim(c.cells[i])}
	case formatYAML:
		return s.nodeOf(start, l.written)
	}
	w := walker{s: s.text, i: start}
	for w.more() {
		name := w.name()
		sh, text := w.value()
		if name == l.written {
			if sh == isNull {
				text = ""
			}
			return written{span: span{w.from, w.to}, text: trim(text)}
		}
	}
	return written{}
}

// deep follows a path into a JSON value as far as it goes.
func (s *source) deep(at span, path []step) span {
	for _, p := range path {
		w := walker{s: s.text[:at.to], i: at.from}
		found := false
		for n := 0; !found && w.more(); n++ {
			name := ""
			if p.name != "" {
				name = w.name()
			}
			w.value()
			found = p.name == "" && n == p.index || p.name != "" && name == p.name
		}
		if !found {
			break
		}
		at = span{w.from, w.to}
	}
	return at
}
