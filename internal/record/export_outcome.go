package record

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf16"
	"unsafe"
)

// bench judges values again, as the rows of one file were judged, to find how each is
// written so that it is read as the same.
type bench struct {
	scratch *sheet
	tables  bool // values are written into cells
	known   map[benchKey]outcome
}

type benchKey struct {
	lane  *lane
	shape shape
	text  string
}

// outcome is how a value of a field is written.
type outcome struct {
	value   value
	heading string // that gives a unit with which the value does not agree; else ""
	odd     bool   // no cell of a table is read as the same
	blank   bool
	fault   *fault
}

// reading of a value: what it is held as, and what was wrong with it.
type judged struct {
	held  unsafe.Pointer
	fault *fault
	blank bool
	inner []string // the causes of faults within a group
}

func newBench(s *sheet, tables bool) *bench {
	src := &source{name: s.src.name, plan: s.plan}
	return &bench{scratch: newSheet(s.ctx, src, s.set, 1), tables: tables, known: map[benchKey]outcome{}}
}

// Values longer than this, or beyond so many, are judged anew each time.
const (
	benchLongest = 100
	benchMost    = 1 << 14
)

// outcome finds how a value that stood under a heading is written.
func (b *bench) outcome(l *lane, sh shape, text string) outcome {
	key := benchKey{l, sh, text}
	if o, ok := b.known[key]; ok {
		return o
	}
	o := b.find(l, value{sh, text})
	if len(text) <= benchLongest {
		if len(b.known) >= benchMost {
			clear(b.known)
		}
		b.known[key] = o
	}
	return o
}

func (b *bench) find(l *lane, typed value) outcome {
	c := l.col
	was := b.judge(c, l, typed)
	if was.blank {
		return outcome{blank: true}
	}
	ways := []value{typed}
	switch {
	case c.holds >= holdsObject:
		ways = []value{b.rewritten(l, typed), typed}
	case was.fault == nil:
		ways = []value{c.canonical(was.held), typed}
	}
	plain := &lane{written: c.field.Name, col: c}
	for _, v := range ways {
		cell := value{isText, v.cellText(c)}
		if b.tables && fitsCell(cell.text) && c.alike(was, b.judge(c, plain, cell)) {
			return outcome{value: v, fault: was.fault}
		}
	}
	for _, v := range ways {
		if c.alike(was, b.judge(c, plain, v)) {
			return outcome{value: v, odd: b.tables, fault: was.fault}
		}
	}
	o := outcome{value: typed, odd: true, fault: was.fault}
	if l.unitText != "" {
		o.heading = c.field.Name + " [" + l.unitText + "]"
	}
	return o
}

// judge reads a value as it is read under the heading of a lane.
func (b *bench) judge(c *column, l *lane, v value) judged {
	in := &lane{written: l.written, col: c, sheet: b.scratch, unit: l.unit, unitText: l.unitText}
	b.scratch.wrong = b.scratch.wrong[:0]
	j := judged{held: c.newValue()}
	j.fault, j.blank = in.convert(j.held, v.shape, v.text)
	for _, w := range b.scratch.wrong {
		j.inner = append(j.inner, w.fault.cause)
	}
	return j
}

// alike reports whether two readings come to the same: the same value held, or the same
// cause for which it is not.
func (c *column) alike(a, b judged) bool {
	if a.blank != b.blank || (a.fault == nil) != (b.fault == nil) || !slices.Equal(a.inner, b.inner) {
		return false
	}
	if a.fault != nil && (a.fault.cause != b.fault.cause || a.fault.kept != b.fault.kept) {
		return false
	}
	return a.fault != nil && !a.fault.kept || c.same(a.held, b.held)
}

// rewritten writes the values within a group, or a list of groups, in their canonical form.
func (b *bench) rewritten(l *lane, v value) value {
	if v.shape != isArray && v.shape != isObject {
		return v
	}
	w := walker{s: v.text}
	if w.skip(0); w.deep {
		return v
	}
	return value{v.shape, b.group(l.col, v)}
}

func (b *bench) group(c *column, v value) string {
	var parts []string
	if v.shape == isArray {
		eachItem(v.text, func(sh shape, text string) { parts = append(parts, b.group(c, value{sh, text})) })
		return "[" + strings.Join(parts, ",") + "]"
	}
	if v.shape != isObject {
		return v.json()
	}
	eachMember(v.text, func(name string, sh shape, text string) {
		in := value{sh, text}
		if f, ok := c.field.Match(name); ok {
			for _, col := range c.inner {
				if col.field != f {
					continue
				}
				j := b.judge(col, &lane{written: name}, in)
				if j.blank {
					return
				}
				if name = f.Name; j.fault == nil && col.holds < holdsObject {
					in = col.canonical(j.held)
				}
			}
		}
		parts = append(parts, jsonOf(name)+":"+in.json())
	})
	return "{" + strings.Join(parts, ",") + "}"
}

// json is a value as JSON has it.
func (v value) json() string {
	if v.shape == isText {
		return jsonOf(v.text)
	}
	if v.shape == isNull {
		return "null"
	}
	return v.text
}

// The longest text that any cell is given: a workbook holds so many UTF-16 units, and a CSV cell
// with line ends may not be longer than longestCell.
const longestCellText = 32_000

// fitsCell is true for a text that a cell of CSV and one of a workbook can hold; both lose
// a carriage return.
func fitsCell(text string) bool {
	lines, n := false, 0
	for _, r := range text {
		switch {
		case r == '\n':
			lines = true
		case r == '\t':
		case unicode.IsControl(r), r == '\ufffe', r == '\uffff':
			return false
		}
		n += utf16.RuneLen(r)
	}
	return n <= longestCellText && !(lines && len(text) > longestCell/2)
}
