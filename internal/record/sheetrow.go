package record

import (
	"strings"
	"unsafe"

	"footing/schemas"
)

// end accepts the row at hand or sets it aside; a blank row is no row.
func (s *sheet) end() {
	if len(s.paired) > 0 {
		s.join()
	}
	if !s.filled {
		return
	}
	if s.plan.kind.Single && s.number > 0 {
		s.refuseRow(newFault("second", "only the first row of "+s.plan.kind.Name+" is read").do("keep one row"), "")
		return
	}
	for _, t := range s.given {
		if !s.denied {
			s.put(t.lane, isText, t.text)
		}
	}
	missing := s.plan.need &^ s.have
	if (missing != 0 || s.plan.need == 0) && s.excused() {
		return
	}
	s.count()
	if missing != 0 {
		s.setAside(missing)
		return
	}
	if s.material != "" {
		s.fillMaterial()
	}
	row := s.row()
	row.source, row.start, row.number = s.src, uint32(s.start), s.number
	if row.ID != "" {
		s.ids = append(s.ids, row.ID)
	}
	if len(s.wrong) > 0 {
		s.report(row.ID, 0)
	}
	s.worked = s.worked || s.marks&formulas != 0
	s.file.Accepted++
}

// fillMaterial gives the row the material that its item names, unless it has one: boxes of
// two materials are counted apart.
func (s *sheet) fillMaterial() {
	f, _ := s.plan.kind.Field("material")
	if c := s.plan.column(f); c != nil && c.holds == holdsText {
		if dst := (*string)(unsafe.Add(s.dst, c.offset)); *dst == "" {
			*dst = s.material
		}
	}
}

// count counts a row found.
func (s *sheet) count() {
	s.file.Rows++
	if s.number++; s.src.grid != nil {
		s.number = s.line
	}
}

// row is the Row of the row at hand.
func (s *sheet) row() *Row { return (*Row)(unsafe.Add(s.dst, s.plan.row)) }

// rowOf is the Row of accepted row i.
func (s *sheet) rowOf(i int) *Row {
	return (*Row)(unsafe.Add(s.first, uintptr(i)*s.size+s.plan.row))
}

// setAside counts the row out; what it lacks and what is wrong with it is told.
func (s *sheet) setAside(missing uint64) {
	id := s.row().ID
	for _, c := range s.plan.cols {
		if missing&c.bit != 0 && !s.faulted(c) {
			s.wrong = append(s.wrong, rowFault{fault: s.blank(c), lane: s.byColumn[c.index], col: c})
		}
	}
	s.report(id, missing)
	s.lose(id, false) // an id that was dropped is hidden too: report has seen to it
	if s.peek {       // the first row stays in its place, and a further one begins after it
		s.file.Accepted++
		return
	}
	s.into.Index(s.file.Accepted).SetZero()
}

// blank is the fault of a row in which a required field is not written.
func (s *sheet) blank(c *column) *fault {
	f := s.blanks[c]
	l := s.byColumn[c.index]
	if f != nil && (f.cause == "no-column") == (l == nil) {
		return f
	}
	every := "every row of " + s.plan.kind.Name + " needs it"
	if s.plan.kind.Single {
		every = "a " + s.plan.kind.Name + " file needs it"
	}
	if l == nil {
		f = newFault("no-column", `there is no "`+c.field.Name+`", and `+every)
		f.do("add it" + alsoRead(c.field))
	} else {
		f = newFault("blank", "nothing is written, and "+every).do("write it if it is known")
	}
	s.blanks[c] = f
	return f
}

// alsoRead lists the first other headings that a field is known by.
func alsoRead(f *schemas.Field) string {
	if len(f.Synonyms) == 0 {
		return ""
	}
	return ` (headings such as "` + strings.Join(f.Synonyms[:min(3, len(f.Synonyms))], `", "`) + `" are read too)`
}

// lose counts a row out and keeps its id known; hidden is true if the row may have an
// id that cannot be read.
func (s *sheet) lose(id string, hidden bool) {
	s.file.SetAside++
	s.aside = append(s.aside, rowMark{uint32(s.start), s.number})
	if id != "" {
		s.lost = append(s.lost, id)
	} else if hidden && s.plan.id != nil {
		s.veiled = true
	}
}

func (s *sheet) faulted(c *column) bool {
	for _, w := range s.wrong {
		if w.col == c && !w.note && len(w.inner) == 0 {
			return true
		}
	}
	return false
}
