package record

import (
	"cmp"
	"slices"
	"strconv"
	"strings"
)

// step is one step from a row's field into the value that it holds.
type step struct {
	name  string // as written; "" for an item of a list
	index int
}

// occurrence is one place of a problem: a value of a row, a row, or a stretch of the file.
type occurrence struct {
	start, number uint32
	lane          *lane
	path          []step
	id            string
	from, to      int // of a stretch, where number is 0
}

// group is one cause in one file.
type group struct {
	fault  *fault
	effect Effect
	col    *column  // nil if it concerns no one field
	inner  string   // the field within an object
	found  []string // the first distinct values
	met    []occurrence
	rest   int // rows that could be counted but not read, beside those met
}

// groups are the problems of one file.
type groups struct {
	byKey map[string]*group
	list  []*group
}

const mostFound = 3

// add tells of one occurrence of a fault.
func (gs *groups) add(f *fault, e Effect, c *column, inner []*column, o occurrence) *group {
	g := f.group
	if g == nil || g.effect != e {
		field, deep := fieldName(c, inner)
		key := strings.Join([]string{strconv.Itoa(int(e)), field, f.cause, f.allowed}, "\x00")
		if g = gs.byKey[key]; g == nil {
			g = &group{fault: f, effect: e, col: c, inner: deep}
			gs.byKey[key] = g
			gs.list = append(gs.list, g)
		}
		f.group = g
	}
	if len(g.found) < mostFound && f.found != "" && !slices.Contains(g.found, f.found) {
		g.found = append(g.found, f.found)
	}
	g.met = append(g.met, o)
	return g
}

// fieldName is "coverage.share" for a field within an object, and "share" apart.
func fieldName(c *column, inner []*column) (whole, deep string) {
	if c == nil {
		return "", ""
	}
	whole = c.field.Name
	for _, in := range inner {
		whole += "." + in.field.Name
		deep = in.field.Name
	}
	return whole, deep
}

// report tells the faults of the row at hand; those of the columns in missing set it aside.
func (s *sheet) report(id string, missing uint64) {
	for _, w := range s.wrong {
		effect, c := Dropped, w.col
		switch {
		case w.note:
			effect = Noted
		case c != nil && missing&c.bit != 0 && len(w.inner) == 0:
			effect = SetAside
		case c != nil && c == s.plan.id:
			s.veiled = true
		}
		s.groups.add(w.fault, effect, c, w.inner, occurrence{start: uint32(s.start), number: s.number, lane: w.lane, path: w.path, id: id})
	}
}

// note tells of something in the file by which nothing is lost.
func (s *sheet) note(f *fault, e Effect, from, to int) *group {
	return s.groups.add(f, e, nil, nil, occurrence{from: from, to: to})
}

// problems gives what was told, in the order of the first places.
func (s *sheet) problems() []Problem {
	list := make([]Problem, 0, len(s.groups.list))
	for _, g := range s.groups.list {
		p := Problem{File: s.src.name, Kind: s.plan.kind.Name, Cause: g.fault.cause, Effect: g.effect, Found: strings.Join(g.found, ", "),
			Allowed: g.fault.allowed, Todo: g.fault.todo, Required: g.col != nil && g.inner == "" && g.col.field.Required}
		p.Field, _ = fieldName(g.col, nil)
		if g.inner != "" {
			p.Field += "." + g.inner
		}
		ids := map[string]bool{}
		for _, o := range g.met {
			p.Places, p.Values = append(p.Places, s.place(o)), append(p.Values, s.value(o))
			if o.id != "" && !ids[o.id] {
				ids[o.id] = true
				p.IDs = append(p.IDs, o.id)
			}
			if p.Heading == "" && o.lane != nil {
				p.Heading = o.lane.written
			}
		}
		p.Sentence = s.sentence(g, p.Heading)
		list = append(list, p)
	}
	slices.SortStableFunc(list, func(a, b Problem) int {
		x, y := a.Places[0], b.Places[0]
		if s.src.grid != nil {
			x.Line, y.Line = x.Row, y.Row
			x.Column, y.Column = len(x.Cell), len(y.Cell) // in one row, the longer name is further right
		}
		return cmp.Or(cmp.Compare(x.Line, y.Line), cmp.Compare(x.Column, y.Column), strings.Compare(x.Cell, y.Cell), cmp.Compare(a.Effect, b.Effect),
			strings.Compare(a.Field, b.Field), strings.Compare(a.Cause, b.Cause))
	})
	return list
}

// value is what is written where an occurrence stands.
func (s *sheet) value(o occurrence) string {
	if o.number == 0 || o.lane == nil || len(o.path) > 0 {
		return ""
	}
	return shorten(s.src.cellOf(int(o.start), o.lane).text)
}

// place finds where an occurrence stands.
func (s *sheet) place(o occurrence) Place {
	if o.number == 0 {
		return s.src.at(0, o.from, o.to, "")
	}
	return s.src.find(int(o.start), int(o.number), o.lane, o.path)
}
