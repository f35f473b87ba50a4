package record

import (
	"strings"
	"time"
	"unsafe"

	"footing/internal/quantity"
)

// shape is what a value is as the file has it.
type shape uint8

const (
	isText shape = iota
	isNumber
	isBool
	isNull
	isArray  // its text is the JSON of the array
	isObject // its text is the JSON of the object
	shapes
)

// settings are how the practice writes values.
type settings struct {
	order quantity.DateOrder
	zone  *time.Location // nil where none is named: then a day stays as it is written
	units Units
}

// lane takes the values under one heading of one file. What it made of a text it
// remembers, so that a value met again costs a look-up.
type lane struct {
	written string
	col     *column // nil if the heading is not a field's
	sheet   *sheet
	cell    int  // of a CSV file
	part    part // day or clock alone
	pair    *pair
	met     uint32 // the last row that had it
	shared  bool   // of JSON and YAML: the field has other names too, or this one is a part of a moment
	extra   *lane  // that this one repeats, and for which it is not read
	told    *fault // of being such a one
	quiet   bool   // the heading is blank

	unit     quantity.Fallback // that the heading gives
	unitText string            // as the heading writes it, "" if it gives none

	last            *verdict
	lastText        string
	lastShape       shape
	seen            [shapes]map[string]*verdict
	asked, answered int
	forget          bool
}

// verdict is what became of one distinct text.
type verdict struct {
	fault *fault
	blank bool
	held  unsafe.Pointer
}

// A lane whose texts hardly ever come again stops remembering them.
const (
	lookWindow = 1024
	lookLeast  = lookWindow / 2
)

// set judges a value and fills it into dst. Without a fault and not blank, dst is filled;
// so it is where the fault is one by which the day is kept.
func (l *lane) set(dst unsafe.Pointer, sh shape, text string) (f *fault, blank bool) {
	v := l.last
	if v == nil || sh != l.lastShape || text != l.lastText {
		if l.forget || l.col.holds >= holdsObject {
			return l.convert(dst, sh, text)
		}
		if v = l.remember(sh, text); v == nil {
			return l.convert(dst, sh, text)
		}
	}
	if v.held == nil {
		return v.fault, v.blank
	}
	copyHeld(l.col.holds, dst, v.held)
	return v.fault, false
}

// remember gives the verdict on a text; nil if the lane has just stopped remembering.
func (l *lane) remember(sh shape, text string) *verdict {
	l.asked++
	v := l.seen[sh][text]
	if v != nil {
		l.answered++
	} else {
		if l.asked > lookWindow {
			if l.answered < lookLeast {
				l.forget, l.seen, l.last = true, [shapes]map[string]*verdict{}, nil
				return nil
			}
			l.asked, l.answered = 0, 0
		}
		v = &verdict{held: newHeld(l.col.holds)}
		if v.fault, v.blank = l.convert(v.held, sh, text); v.blank || v.fault != nil && !v.fault.kept {
			v.held = nil
		}
		if l.seen[sh] == nil {
			l.seen[sh] = map[string]*verdict{}
		}
		l.seen[sh][text] = v
	}
	l.last, l.lastText, l.lastShape = v, text, sh
	return v
}

// The longest text, in bytes, that is looked at as a value; a list may be sixteen times as
// long. Every schema allows less.
const longestValue = 1 << 16

// trim takes blanks from both ends; most texts have none.
func trim(s string) string {
	if n := len(s); n > 0 && s[0]-'!' < 0x7f-'!' && s[n-1]-'!' < 0x7f-'!' {
		return s
	}
	return strings.TrimSpace(s)
}

// convert coerces a value by the form of its field, judges it and fills it into dst.
func (l *lane) convert(dst unsafe.Pointer, sh shape, text string) (f *fault, blank bool) {
	if sh == isNull {
		return nil, true
	}
	if sh == isText {
		if text = trim(text); unwritten(text) {
			return nil, true
		}
	}
	if sh == isArray && (l.col.holds == holdsList || l.col.holds == holdsCount) && struckOut(text) {
		return nil, true
	}
	if sh == isNumber && !sensibleNumber(text) {
		return l.fault("number", text, "is beyond any number that a record can hold"), false
	}
	if most := longestValue; len(text) > most && (l.col.holds < holdsList || len(text) > 16*most) {
		return l.fault("too-long", text, "is longer than any value may be").do("look whether a quotation mark or a bracket is missing"), false
	}
	switch l.col.holds {
	case holdsText:
		return l.toText((*string)(dst), sh, text), false
	case holdsDay:
		return l.toDay((*quantity.Day)(dst), sh, text), false
	case holdsMoment:
		return l.toMoment((*quantity.Moment)(dst), sh, text), false
	case holdsYesNo:
		return l.toYesNo((*quantity.YesNo)(dst), sh, text), false
	case holdsNumber:
		return l.toNumber((*quantity.Number)(dst), sh, text), false
	case holdsList:
		return l.toList((*quantity.List)(dst), sh, text), false
	case holdsQuantity:
		return l.toQuantity((*quantity.Quantity)(dst), sh, text), false
	case holdsCount:
		return l.toCount((*quantity.CountOrList)(dst), sh, text), false
	}
	return l.toObjects(dst, sh, text), false
}

// unwritten is true for a cell that says nothing: empty, or struck through with a dash.
func unwritten(text string) bool {
	switch text {
	case "", "-", "--", "–", "—":
		return true
	}
	return false
}

// struckOut is true for a list whose only item is a dash.
func struckOut(array string) bool {
	if len(array) > 40 {
		return false
	}
	n, dash := 0, false
	eachItem(array, func(sh shape, item string) {
		item = trim(item)
		n, dash = n+1, sh == isText && item != "" && unwritten(item)
	})
	return n == 1 && dash
}
