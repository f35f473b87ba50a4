package trace

import (
	"bytes"
	"fmt"
)

// one takes one line, without its end.
func (r *reader) one(line []byte, ended, long bool) {
	r.t.Lines++
	r.line = r.t.Lines
	if long || len(line) > longest {
		r.tooLong()
		return
	}
	r.judge(line, ended)
}

func (r *reader) tooLong() {
	if r.state == noTable {
		r.t.Heading++
		return
	}
	r.t.Aside++
	r.problems.say("long-line", r.line, fmt.Sprintf("%s has more than %s characters and is not read.", atLine(r.line), grouped(longest)),
		"Look whether the file is an export of readings, one a line.")
}

// judge hands a line on by what is expected.
func (r *reader) judge(line []byte, ended bool) {
	switch r.state {
	case seeking:
		r.seek(line, ended)
	case sampling:
		r.sample(line, ended)
	case inTable:
		r.row(line, ended)
	case noTable:
		r.t.Heading++
	default:
		r.unread(line)
	}
}

// unread counts a line of a table that is not judged.
func (r *reader) unread(line []byte) {
	if blankLine(line) || !readingLike(line) {
		r.t.Heading++
		return
	}
	r.t.Aside++
}

// readingLike is true for a line that begins with a figure or a quotation mark.
func readingLike(line []byte) bool {
	line = trim(line)
	return len(line) > 0 && (line[0]-'0' < 10 || line[0] == '"' || line[0] == '-' || line[0] == ',' || line[0] == ';')
}

// seek looks for the headings.
func (r *reader) seek(line []byte, ended bool) {
	if blankLine(line) {
		r.t.Heading++
		return
	}
	if r.line == 1 && len(line) == 5 && bytes.EqualFold(line[:4], []byte("sep=")) {
		r.t.Heading++
		r.forced = line[4]
		return
	}
	t, data := r.tableAt(line)
	if t == nil {
		r.t.Heading++
		r.facts.read(line, r.line)
		r.layoutOf()
		if r.numbers == 0 && figured(line) {
			r.numbers = r.line
		}
		return
	}
	r.table, r.headLine, r.state = t, r.line, sampling
	r.headText = append(r.headText[:0], line...)
	if data {
		r.sample(line, ended)
		return
	}
	r.t.Heading++
}

// tableAt reads a line as headings, by the layout or by words.
func (r *reader) tableAt(line []byte) (*table, bool) {
	delimiter := r.forced
	if l := r.layout; l != nil {
		if t, data := mapTable(l, line, r.line); t != nil {
			r.t.Layout = fmt.Sprintf("entry %d", l.number)
			return t, data
		}
		if r.line <= l.skip {
			return nil, false
		}
		if l.delimiter != 0 {
			delimiter = l.delimiter
		}
	}
	return findTable(line, delimiter), false
}

// layoutOf looks for a layout by the sterilizer that the header names.
func (r *reader) layoutOf() {
	if r.layout == nil && r.opt.Layouts != nil && r.opt.Sterilizer == "" && r.facts.sterilizer != "" {
		r.layout = r.opt.Layouts.find(r.opt.Name, r.facts.sterilizer)
	}
}

// figured is true for a line with two values or more.
func figured(line []byte) bool {
	for _, d := range delimiters {
		n := 0
		for _, c := range split(nil, line, d) {
			if figures(c) {
				n++
			}
		}
		if n >= 2 {
			return true
		}
	}
	return false
}
