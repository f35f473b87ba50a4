package trace

import (
	"bytes"

	"footing/internal/quantity"
)

// delimiters in the order in which they are believed, where two would do.
var delimiters = []byte{'\t', ';', '|', ','}

var delimiterNames = map[byte]string{'\t': "tab", ';': "semicolon", '|': "bar", ',': "comma"}

// table is what is known of the lines of readings.
type table struct {
	delimiter    byte
	headings     []heading
	named        bool // by a line of headings, not by places in a layout
	time, date   int  // columns, from 0; -1 for none
	temperatures []int
	pressure     int // -1 for none
	phase        int // -1 for none
	last         int // the last column that is read
}

// findTable reads a line as headings. Nil where it is none: a table has a
// temperature, and a time or another column that is known.
func findTable(line []byte, delimiter byte) *table {
	if len(line) > 4096 {
		return nil
	}
	list := delimiters
	if delimiter != 0 {
		list = []byte{delimiter}
	}
	var best *table
	most := 0
	for _, d := range list {
		if bytes.IndexByte(line, d) < 0 {
			continue
		}
		cells := split(nil, line, d)
		t := &table{delimiter: d, named: true, headings: make([]heading, 0, len(cells))}
		known, degrees, times := 0, 0, 0
		for _, c := range cells {
			if figures(c) {
				known = 0
				break
			}
			h := knownHeading(trim(c))
			t.headings = append(t.headings, h)
			if h.Role != Other {
				known++
			}
			if h.Role == Temperature {
				degrees++
			}
			if h.Role == Time || h.Role == Date {
				times++
			}
		}
		enough := degrees > 0 && (times > 0 || known > 1 || len(trim(cells[0])) == 0)
		if enough && known > most && len(t.headings) == len(cells) {
			best, most = t, known
		}
	}
	if best != nil {
		letters(best.headings)
	}
	return best
}

// figures is true for a field that holds a value, so that its line holds no headings.
func figures(b []byte) bool {
	b = trim(b)
	if len(b) == 0 || b[0]-'0' > 9 && b[0] != '-' {
		return false
	}
	if _, ok := number(b); ok {
		return true
	}
	_, ok := readStamp(b, quantity.DMY)
	if !ok {
		_, err := quantity.ParseDay(text(b), quantity.DMY)
		ok = err == nil
	}
	return ok
}

// choose picks the columns that are read; of two that could be, one.
func (t *table) choose() {
	t.time, t.date, t.pressure, t.phase, t.temperatures = -1, -1, -1, -1, nil
	sure := false // a temperature that says so
	for _, h := range t.headings {
		sure = sure || h.Role == Temperature && !h.weak && h.Ignored == ""
	}
	for i := range t.headings {
		h := &t.headings[i]
		switch {
		case h.Role == Temperature && h.weak && sure:
			h.Role = Other
		case h.Role == Temperature && h.Ignored == "":
			t.temperatures = append(t.temperatures, i)
		case h.Role == Pressure && h.Ignored == "":
			if t.pressure < 0 || h.main && !t.headings[t.pressure].main {
				t.pressure = i
			}
		case h.Role == Date && t.date < 0:
			t.date = i
		case h.Role == Time && (t.time < 0 || t.headings[t.time].clock == Elapsed && h.clock != Elapsed):
			t.time = i
		case h.Role == PhaseName && t.phase < 0:
			t.phase = i
		}
	}
	for i := range t.headings {
		h := &t.headings[i]
		switch {
		case h.Role == Pressure && h.Ignored == "" && i != t.pressure:
			h.Ignored = "another pressure column is read"
		case h.Role == Time && i != t.time, h.Role == Date && i != t.date, h.Role == PhaseName && i != t.phase:
			h.Role = Other
		}
	}
	if t.time >= 0 && t.headings[t.time].clock == Elapsed && t.date >= 0 {
		t.headings[t.date].Role, t.date = Other, -1
	}
	if t.time < 0 && t.date >= 0 { // a date that holds the clock too
		t.headings[t.date].Role, t.headings[t.date].clock = Time, Dated
		t.time, t.date = t.date, -1
	}
	t.end()
}

func (t *table) end() {
	t.last = max(t.time, t.date, t.pressure, t.phase)
	for _, i := range t.temperatures {
		t.last = max(t.last, i)
	}
}

// units takes a line below the headings that holds units alone. It reports
// whether the line is one.
func (t *table) units(line []byte) bool {
	cells := split(nil, line, t.delimiter)
	found := false
	type fit struct {
		unit  quantity.Unit
		ref   quantity.Reference
		force bool // of a sensor: it is one of pressure
	}
	fits := map[int]fit{}
	for i, c := range cells {
		if figures(c) {
			return false
		}
		if i >= len(t.headings) {
			continue
		}
		h := &t.headings[i]
		list := tokens(text(trim(c)))
		if h.Role == Time && h.two == 0 {
			h.two = partsAmong(list)
		}
		dimension := map[Role]quantity.Dimension{Temperature: quantity.Temperature, Pressure: quantity.Pressure, Time: quantity.Span}[h.Role]
		if dimension == quantity.Plain || len(list) == 0 {
			continue
		}
		u, ref, ok := unitAlone(list, dimension)
		force := false
		if !ok && h.vague {
			u, ref, ok = unitAlone(list, quantity.Pressure)
			force = ok
		}
		switch {
		case ok:
			fits[i] = fit{u, ref, force}
			found = found || h.Role != Time
		case h.Role != Time:
			return false // a word that is no unit
		}
	}
	if !found {
		return false
	}
	for i, f := range fits {
		h := &t.headings[i]
		if f.force {
			h.Role = Pressure
		}
		switch {
		case h.Role == Time:
			if h.each == 0 {
				h.each = f.unit
			}
		case h.Unit == 0:
			h.Unit, h.Ref, h.vague, h.weak = f.unit, f.ref, false, false
		case h.Unit == f.unit && h.Ref == quantity.Unsaid:
			h.Ref = f.ref
		}
	}
	return true
}
