package record

import "strings"

// typedLines gives the values of a document written as two columns, name and value.
func (s *sheet) typedLines() (row []typed) {
	c := scanner{text: s.src.text, comma: s.src.comma}
	if strings.HasPrefix(c.text, "sep=") {
		c.pos = lineEnd(c.text, 0)
	}
	met := map[*lane]bool{}
	groups := map[*lane]*branch{}
	var order []*lane
	for number := 0; c.next(); {
		if c.wrong != nil || len(c.cells) < 2 {
			continue
		}
		name, text := trim(c.cells[0]), trim(c.cells[1])
		if name == "" || number == 0 && isValueWord(text) && (!s.known(name) || strings.EqualFold(name, "name")) {
			continue
		}
		number++
		head, deep, nested := strings.Cut(name, ".")
		l := s.pairLane(name, head, nested)
		switch {
		case met[l]:
			row = append(row, typed{name: notReadHeading + name, text: text})
		case l.col == nil || !nested || l.col.holds < holdsObject:
			met[l] = true
			if text != "" {
				row = append(row, typed{l, l.written, isText, text})
			}
		default:
			if groups[l] == nil {
				groups[l] = &branch{}
				order = append(order, l)
			}
			if !groups[l].set(strings.Split(deep, "."), text) {
				row = append(row, typed{name: notReadHeading + name, text: text})
			}
		}
	}
	for _, l := range order {
		t := typed{l, l.written, isObject, groups[l].json(false)}
		if l.col.holds == holdsObjects {
			t.shape, t.text = isArray, groups[l].json(true)
		}
		row = append(row, t)
	}
	return row
}
