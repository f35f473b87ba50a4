package trace

import (
	"bytes"

	"footing/internal/quantity"
)

// The first lines of a table are kept until enough are there to tell how times and
// numbers are written, then they are read like the others.
const (
	fewLines   = 12
	manyLines  = 150 // where times stand still or numbers have no decimals
	sampleSize = 1 << 14
)

type sampleLine struct {
	from, until int
	number      int
	ended       bool
}

// sample takes one line below the headings.
func (r *reader) sample(line []byte, ended bool) {
	if len(r.kept) == 0 {
		if blankLine(line) {
			r.t.Heading++
			return
		}
		r.timed = false
	}
	if !r.timed && r.table.units(line) {
		r.t.Heading++
		return
	}
	if len(r.kept) == 0 {
		r.table.choose()
	}
	if !r.timed && r.headed(line) {
		r.mistaken()
		r.judge(line, ended)
		return
	}
	if r.kept == nil {
		r.kept, r.keptText = make([]sampleLine, 0, fewLines), make([]byte, 0, fewLines*(len(line)+8))
	}
	from := len(r.keptText)
	r.keptText = append(r.keptText, line...)
	r.kept = append(r.kept, sampleLine{from, len(r.keptText), r.line, ended})
	enough := len(r.kept) >= manyLines || len(r.keptText) > sampleSize
	if enough || len(r.kept) == fewLines {
		if s := r.survey(); enough || !s.unclear(r.table.temperatures) {
			r.decide(s)
		}
	}
}

// headed reports whether a line is headings in its own right, and notes when a line
// has a time: from then on the table has begun.
func (r *reader) headed(line []byte) bool {
	cells := split(r.cells[:0], line, r.table.delimiter)
	r.cells = cells
	if i := r.table.time; i >= 0 && i < len(cells) {
		if _, r.timed = readStamp(trim(cells[i]), quantity.DMY); r.timed {
			return false
		}
	}
	t, data := r.tableAt(line)
	return t != nil && !data
}

// decide settles all that the first lines tell, asks what to look for, and reads them.
func (r *reader) decide(s *survey) {
	if len(s.times) == 0 {
		r.mistaken()
		return
	}
	r.settle(s)
	kept, all := r.kept, r.keptText
	r.kept, r.keptText = nil, nil
	if r.t.Unusable != "" {
		r.state = spoilt
	} else {
		r.begin(s)
	}
	after := r.line
	for _, k := range kept {
		r.line = k.number
		r.judge(all[k.from:k.until], k.ended)
	}
	r.line = after
}

// mistaken goes back to looking for headings: no line below these had a time.
func (r *reader) mistaken() {
	kept, all, t := r.kept, r.keptText, r.table
	r.kept, r.keptText, r.table, r.state = nil, nil, nil, seeking
	if r.refused == nil {
		r.refused, r.refusedAt = t, r.headLine
	}
	if t.time < 0 && t.date < 0 { // "Temperature unit;°C" was none, and says something
		r.facts.read(r.headText, r.headLine)
		r.layoutOf()
	}
	after := r.line
	for _, k := range kept {
		r.line = k.number
		r.judge(all[k.from:k.until], k.ended)
	}
	r.line = after
}

// findTime looks for a column of times of day that no heading names.
func (r *reader) findTime() {
	t := r.table
	if t.time >= 0 {
		return
	}
	for i := range t.headings {
		h := &t.headings[i]
		if h.Role != Other {
			continue
		}
		times, lines := 0, 0
		for _, k := range r.kept {
			cells := split(r.cells[:0], r.keptText[k.from:k.until], t.delimiter)
			if i >= len(cells) || blankLine(r.keptText[k.from:k.until]) {
				continue
			}
			lines++
			if c := trim(cells[i]); bytes.IndexByte(c, ':') >= 0 {
				if _, ok := readStamp(c, quantity.DMY); ok {
					times++
				}
			}
		}
		if times > 0 && times*2 >= lines {
			h.Role, t.time = Time, i
			t.end()
			return
		}
	}
}
