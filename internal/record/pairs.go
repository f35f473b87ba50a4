package record

import (
	"encoding/json"
	"slices"
	"strings"

	"footing/schemas"
)

// readPairs reads a single document written as two columns, name and value. The name
// of a value within a field is written with a point, "units.temperature", and within a
// list of groups with the number of the group, "coverage.1.kind".
func (s *sheet) readPairs(c *scanner) error {
	s.begin(0)
	if g := s.src.grid; g != nil && len(g.rows) > 0 {
		s.line = g.rows[0].number
	}
	var order []*lane
	inner := map[*lane]*branch{}
	c.pos = c.start
	for number := 0; c.next(); {
		if c.wrong != nil {
			s.note(newFault("quotation", c.wrong.words(s.src)).do("close every quotation mark"), Dropped, c.start, lineEnd(s.src.text, c.start)-1)
			continue
		}
		name := trim(c.cells[0])
		value := ""
		if len(c.cells) > 1 {
			value = trim(c.cells[1])
		}
		if name == "" || number == 0 && isValueWord(value) && !s.known(name) || number == 0 && isValueWord(value) && strings.EqualFold(name, "name") {
			continue
		}
		if number++; number > mostLanes {
			return refuse("headings", "it has more than 4,096 names").do("keep the lines that hold values")
		}
		head, deep, nested := strings.Cut(name, ".")
		if strings.Count(deep, ".") >= deepest {
			s.note(newFault("too-deep", "a name has more than 200 points in it").do("write plain names"), Dropped, c.start, c.start)
			continue
		}
		if more := slices.IndexFunc(c.cells[min(2, len(c.cells)):], func(cell string) bool { return !unwritten(trim(cell)) }); more >= 0 {
			s.note(newFault("more-cells", "there is more than a name and a value in the line, and the rest is not read").
				do("put quotation marks around a value that holds a "+s.file.Delimiter), Dropped, c.start, c.start)
		}
		l := s.pairLane(name, head, nested)
		if l.met == s.serial {
			f := l.fault("repeated-heading", name, "is written twice; the first is the one read").do("keep one of the two")
			s.note(f, Noted, c.start, c.start)
			continue
		}
		if l.col == nil || !nested || l.col.holds != holdsObject && l.col.holds != holdsObjects {
			l.cell = c.start
			l.met = s.serial
			s.put(l, isText, value)
			continue
		}
		if inner[l] == nil {
			inner[l], l.cell = &branch{}, c.start
			order = append(order, l)
		}
		if !inner[l].set(strings.Split(deep, "."), value) {
			s.note(l.fault("repeated-heading", name, "is written twice; the first is the one read").do("keep one of the two"), Noted, c.start, c.start)
		}
	}
	for _, l := range order {
		sh := isObject
		if l.col.holds == holdsObjects {
			sh = isArray
		}
		s.put(l, sh, inner[l].json(sh == isArray))
	}
	s.end()
	return nil
}

// pairLane finds or makes the lane of a name.
func (s *sheet) pairLane(name, head string, nested bool) *lane {
	if nested && s.known(head) {
		name = head
	}
	for _, l := range s.lanes {
		if schemas.Fold(l.written) == schemas.Fold(name) {
			return l
		}
	}
	return s.lane(name)
}

// branch is a value with names, or the items of a list, as pairs build it up.
type branch struct {
	names []string
	below map[string]*branch
	value string
	said  bool // a value is written here, so nothing can stand below
}

// set writes a value at a path; false if something stands there, or on the way, already.
func (b *branch) set(path []string, value string) bool {
	if len(path) == 0 {
		if b.said || b.below != nil {
			return false
		}
		b.value, b.said = value, true
		return true
	}
	if b.said {
		return false
	}
	name := trim(path[0])
	if b.below == nil {
		b.below = map[string]*branch{}
	}
	if b.below[name] == nil {
		b.below[name] = &branch{}
		b.names = append(b.names, name)
	}
	return b.below[name].set(path[1:], value)
}

// json writes the branch as JSON: an array if list is true, in the order of its lines.
func (b *branch) json(list bool) string {
	if b.below == nil {
		text, _ := json.Marshal(b.value) // a string always can
		return string(text)
	}
	var parts []string
	for _, name := range b.names {
		part := b.below[name].json(false)
		if !list {
			key, _ := json.Marshal(name)
			part = string(key) + ":" + part
		}
		parts = append(parts, part)
	}
	if list {
		return "[" + strings.Join(parts, ",") + "]"
	}
	return "{" + strings.Join(parts, ",") + "}"
}
