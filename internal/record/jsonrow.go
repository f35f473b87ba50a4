package record

import "strconv"

func itoa(n int) string { return strconv.Itoa(n) }

// jsonRow takes one well-formed JSON value as a row.
func (s *sheet) jsonRow(from, to int) {
	text := s.src.text[from:to]
	s.begin(from)
	if text[0] != '{' {
		if text != "null" {
			s.refuseRow(newFault("no-names", "the row is not a set of names and values").do(`write it as {"name": "value"}`), "")
		}
		return
	}
	for !s.members(text) {
		s.again() // headings not met before: now that all of the row are known, once more
	}
}

// members fills the row at hand from a JSON object. It is false if the object has names
// that the sheet has no lane for yet; it has then made them.
func (s *sheet) members(text string) bool {
	w := walker{s: text}
	turn := 0
	var twice *lane
	for w.more() {
		name := w.name()
		l := s.following(&turn, name)
		if l == nil {
			s.addLanes(text)
			return false
		}
		sh, value := w.value()
		if l.met == s.serial && l != s.beyond {
			twice = l
		}
		l.met = s.serial
		if l.shared {
			s.share(l, sh, value)
		} else {
			s.put(l, sh, value)
		}
	}
	s.settle()
	switch {
	case twice != nil:
		s.refuseRow(repeatedName(twice.written), s.rowID())
	case w.deep:
		s.refuseRow(newFault("too-deep", "brackets are nested more than 200 deep").do("write plain values and lists"), s.rowID())
	case w.torn:
		s.refuseRow(newFault("half-character", `an escape such as \ud83d stands for half a character`).do("type the character itself"), s.rowID())
	default:
		s.end()
	}
	return true
}

// following finds the lane of a name; rows mostly have the same names in the same order.
func (s *sheet) following(turn *int, name string) *lane {
	if *turn < len(s.lanes) {
		if l := s.lanes[*turn]; l.written == name {
			*turn++
			return l
		}
	}
	l := s.byName[name]
	if l == nil && len(s.lanes) >= mostLanes {
		return s.beyond
	}
	if l != nil && l.cell < mostLanes {
		*turn = l.cell + 1
	}
	return l
}

// addLanes makes lanes for all names of an object that have none.
func (s *sheet) addLanes(text string) {
	for w := (walker{s: text}); w.more(); {
		name := w.name()
		w.value()
		s.addLane(name)
	}
}

func (s *sheet) addLane(name string) {
	if s.byName[name] == nil {
		if s.byName == nil {
			s.byName = map[string]*lane{}
		}
		n := len(s.lanes)
		l := s.lane(name)
		if l != s.beyond {
			l.cell = n
			s.byName[name] = l
		}
	}
}

// rowID is the id that the row at hand has so far.
func (s *sheet) rowID() string { return s.row().ID }
