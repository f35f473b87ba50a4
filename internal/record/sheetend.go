package record

import (
	"strings"
)

// refuseRow sets aside a whole row that cannot be read, for one reason.
func (s *sheet) refuseRow(f *fault, id string) {
	s.again()
	s.count()
	s.groups.add(f, SetAside, nil, nil, occurrence{start: uint32(s.start), number: s.number, id: id})
	s.lose(id, true)
}

// most rows of one file: more than a practice types in a lifetime.
const mostRows = 1_000_000

// halt says whether to stop reading: ctx is done, or there are more rows than one file may have.
func (s *sheet) halt() error {
	if err := s.ctx.Err(); err != nil {
		return err
	}
	if s.file.Rows > mostRows {
		return refuse("too-many-rows", "it has more than a million rows").do("split it into several files in a folder named " + s.plan.kind.Name)
	}
	return nil
}

// damaged notes characters that could not be read.
func (s *sheet) damaged(n int) {
	if n == 0 {
		return
	}
	at := max(0, strings.Index(s.src.text, "\ufffd"))
	f := newFault("damaged", itoa(n)+" characters are damaged and cannot be read (the first at line "+itoa(s.lineOf(at))+")").do("type them again; from a spreadsheet, choose CSV UTF-8 when saving")
	s.note(f, Noted, at, at+len("\ufffd"))
}

// close sums the file up, and lets go of what was needed only to read it.
func (s *sheet) close() {
	for _, l := range s.lanes {
		if l.quiet {
			continue
		}
		h := Heading{Written: l.written}
		if l.col != nil {
			h.Field = l.col.field.Name
		}
		s.file.Headings = append(s.file.Headings, h)
	}
	for _, name := range s.strange {
		s.file.Headings = append(s.file.Headings, Heading{Written: name})
	}
	nearHeadings(s.plan.kind, s.file.Headings)
	s.src.lanes = s.byColumn
	for _, l := range s.lanes {
		if l.shared {
			s.src.shared = append(s.src.shared, l)
		}
	}
	s.told = append(s.told, s.problems()...)
	s.groups = groups{}
	for _, l := range s.lanes {
		l.seen, l.last, l.sheet, l.told, l.extra = [shapes]map[string]*verdict{}, nil, nil, nil, nil
	}
}
