package record

import (
	"context"
	"reflect"
	"unsafe"
)

// sheet is one file as it is read: rows of cells go in, structs and problems come out.
type sheet struct {
	src    *source
	plan   *plan
	set    settings
	ctx    context.Context
	file   File
	peek   bool          // rows set aside keep what they have
	into   reflect.Value // a slice of the accepted rows
	first  unsafe.Pointer
	room   int
	size   uintptr
	groups groups
	told   []Problem
	ids    []string  // of accepted rows, where written
	lost   []string  // ids of rows set aside
	veiled bool      // a row was set aside whose id is not known
	aside  []rowMark // rows set aside
	torn   int       // offset from which the file is not read, plus one; 0 if all is read

	lanes    []*lane          // in the order met
	cells    []*lane          // of a table, by column
	byName   map[string]*lane // of other files
	byColumn []*lane          // the lane that each column is read from
	pairs    map[int]*pair
	paired   []*pair
	twins    []typed  // of the row at hand, under shared lanes
	beyond   *lane    // for headings past the most that are read
	strange  []string // unknown names within groups
	blanks   map[*column]*fault
	more     *fault  // of cells beyond the headings
	given    []typed // what the table's name says of each row
	denied   bool    // by the row at hand
	material string  // what the thing of the row at hand is made of, by its own name

	// the row at hand
	dst    unsafe.Pointer
	start  int
	serial uint32 // counts every row begun
	number uint32 // counts rows that are not blank; in a workbook it is the row's own
	line   uint32 // of a workbook: the number that the spreadsheet shows
	marks  marks  // of a workbook
	odd    int    // of a workbook: how many cells that are out of the ordinary were met
	oddly  map[oddKey]*fault
	worked bool   // of a workbook: a record was kept that holds nothing but formulas
	have   uint64 // columns filled
	wrong  []rowFault
	filled bool // something is written in the row
}

// rowMark is where a row begins in the text, and its number.
type rowMark struct{ start, number uint32 }

// rowFault is a fault of the row at hand.
type rowFault struct {
	fault *fault
	lane  *lane // nil if no heading has it
	col   *column
	inner []*column // within the value of col
	path  []step
	note  bool // nothing is lost by it
}

func newSheet(ctx context.Context, src *source, set settings, rows int) *sheet {
	p := src.plan
	s := &sheet{src: src, plan: p, set: set, ctx: ctx, size: p.elem.Size(), pairs: map[int]*pair{},
		byColumn: make([]*lane, len(p.cols)), blanks: map[*column]*fault{}, groups: groups{byKey: map[string]*group{}}}
	s.beyond = &lane{sheet: s, written: "…"}
	s.grow(rows)
	return s
}

// grow makes room for n rows.
func (s *sheet) grow(n int) {
	more := reflect.MakeSlice(reflect.SliceOf(s.plan.elem), n, n)
	if s.into.IsValid() {
		reflect.Copy(more, s.into)
	}
	s.into, s.first, s.room = more, more.UnsafePointer(), n
}

// begin starts a row at an offset of the text.
func (s *sheet) begin(start int) {
	if s.file.Accepted == s.room {
		s.grow(2*s.room + 16)
	}
	s.dst = unsafe.Add(s.first, uintptr(s.file.Accepted)*s.size)
	s.start, s.have, s.filled, s.wrong, s.twins = start, 0, false, s.wrong[:0], s.twins[:0]
	s.material, s.denied = "", false
	s.serial++
}

// again forgets what the row at hand has so far.
func (s *sheet) again() {
	s.into.Index(s.file.Accepted).SetZero()
	s.have, s.filled, s.wrong, s.twins = 0, false, s.wrong[:0], s.twins[:0]
	s.material, s.denied = "", false
	s.serial++
}

// put takes one value of the row at hand.
func (s *sheet) put(l *lane, sh shape, text string) {
	c := l.col
	if c == nil || l.part != whole {
		s.putAside(l, sh, text)
		return
	}
	f, blank := l.set(unsafe.Add(s.dst, c.offset), sh, text)
	switch {
	case blank:
		return
	case f == nil:
		s.have |= c.bit
	default:
		if f.kept {
			s.have |= c.bit
		}
		if f.material != "" {
			s.material = f.material
		}
		s.wrong = append(s.wrong, rowFault{fault: f, lane: l, col: l.col})
	}
	s.filled = true
}

// putAside takes values that fill no field by themselves.
func (s *sheet) putAside(l *lane, sh shape, text string) {
	if sh == isNull || sh == isText && unwritten(trim(text)) {
		return
	}
	s.filled = true
	if l.part == whole {
		s.denied = s.denied || s.denies(text)
		return
	}
	p := l.pair
	if p.row != s.serial {
		p.row, p.dayText, p.clockText = s.serial, "", ""
	}
	if l.part == dayPart {
		p.dayText = trim(text)
	} else {
		p.clockText = trim(text)
	}
}

// join fills the moments whose day and clock stood under two headings.
func (s *sheet) join() {
	for _, p := range s.paired {
		if p.row == s.serial {
			s.joinPair(p)
		}
	}
}

func (s *sheet) joinPair(p *pair) {
	l := p.main()
	if p.dayText == "" {
		f := l.fault("clock-alone", p.clockText, "is a time without its day").do("write the day too")
		s.wrong = append(s.wrong, rowFault{fault: f, lane: p.clock, col: l.col})
		return
	}
	text := p.dayText
	if p.clockText != "" {
		text += " " + p.clockText
	}
	s.joined(p, l, text)
}

// joined fills the moment of a pair; a clock that cannot be read loses only itself.
func (s *sheet) joined(p *pair, l *lane, text string) {
	dst := unsafe.Add(s.dst, l.col.offset)
	f, blank := l.set(dst, isText, text)
	at := l
	if f != nil && p.clockText != "" {
		alone := f
		if !f.kept {
			alone, blank = l.set(dst, isText, p.dayText)
		}
		if alone == nil || f.kept {
			clock := *f
			clock.found, clock.kept, clock.group = shorten(p.clockText), true, nil
			f, at = &clock, p.clock
		} else { // nobody typed the two as one
			day := *alone
			day.found, day.group = shorten(p.dayText), nil
			f = &day
		}
	}
	if f != nil {
		s.wrong = append(s.wrong, rowFault{fault: f, lane: at, col: l.col})
	}
	if !blank && (f == nil || f.kept) {
		s.have |= l.col.bit
	}
}
