package trace

import (
	"bytes"
	"fmt"
)

// event reports whether a line has a time and words, and no reading: "14:35:10,Cycle
// complete". It is short of fields, and has a word that is no sign for a fault.
func (r *reader) event(cells [][]byte) bool {
	t := r.table
	if len(cells) >= len(t.headings) {
		return false
	}
	words := false
	for i, c := range cells {
		if i == t.time || i == t.date {
			continue
		}
		if _, ok := number(c); ok {
			return false
		}
		words = words || wordy(c)
	}
	return words
}

// wordy reports whether a field has a word of five letters.
func wordy(b []byte) bool {
	n := 0
	for _, c := range b {
		if c |= 0x20; c < 'a' || c > 'z' {
			n = 0
			continue
		}
		if n++; n == 5 {
			return true
		}
	}
	return false
}

// timeless is a line without a time: a footer, headings again, or a reading that lost it.
func (r *reader) timeless(line []byte, cells [][]byte, ended bool) {
	t := r.table
	c := cells[0]
	if t.time < len(cells) {
		c = cells[t.time]
	}
	c = trim(c)
	switch {
	case !ended && readingLike(line) && len(cells) <= len(t.headings):
		r.sayTorn(true)
	case len(c) > 0 && !(c[0]-'0' < 10 || c[0] == '-' || c[0] == ':' || c[0] == '*' || c[0] == '?' || c[0] == '#' || c[0] < ' '):
		r.t.Heading++
		if t.named && bytes.Equal(trim(line), trim(r.headText)) {
			r.again = true
		} else if o := findTable(line, t.delimiter); o != nil {
			r.settleHeld(nil)
			r.problems.say("other-table", r.line, fmt.Sprintf("In line %s another table begins, with other headings; it is not read.", grouped(r.line)),
				"Nothing to do for a summary. A second cycle belongs into a file of its own.")
			r.state, r.quick.on = over, false
		}
	case len(c) > 0 && c[0] < ' ' || r.anyNumber(cells) || len(c) > 0 && len(cells) >= len(t.headings):
		r.aside("time", fmt.Sprintf("%s has no time that can be read (%s); it is set aside.", atLine(r.line), quote(string(c))), "Look at the line in the file.")
	default:
		r.t.Heading++
	}
}

// anyNumber reports whether a temperature stands in the line.
func (r *reader) anyNumber(cells [][]byte) bool {
	for _, i := range r.table.temperatures {
		if i < len(cells) {
			if _, ok := number(cells[i]); ok {
				return true
			}
		}
	}
	return false
}

// torn looks at a last line without an end: whether its last field was cut off.
func (r *reader) torn(cells [][]byte) bool {
	t := r.table
	if len(cells) <= t.last && len(cells) < r.width {
		r.sayTorn(true)
		return true
	}
	i := len(cells) - 1 // the field that may be cut
	c := trim(cells[i])
	if i >= len(t.headings) {
		return false
	}
	h := &t.headings[i]
	switch {
	case h.Role == PhaseName:
		if now := r.phases.now; len(c) < len(now) && bytes.HasPrefix(now, c) {
			r.sayTorn(false)
			return true
		}
	case h.Role == Temperature || h.Role == Pressure:
		d, ok := number(c)
		even := r.evenPlaces[i]
		switch {
		case !ok || even > 0 && d.places < even:
			r.sayTorn(true)
			return true
		case even <= 0 && len(cells[i]) < r.tail:
			r.sayTorn(false)
			return true
		}
	}
	return false
}

func (r *reader) sayTorn(grave bool) {
	r.t.Aside++
	q := r.problems.meet("torn", r.line)
	if q == nil {
		return
	}
	q.Sentence = fmt.Sprintf("%s, the last, breaks off; it is set aside, and what came after it is not known.", atLine(r.line))
	q.Todo, q.Grave = "Export or copy the file once more.", grave
}
