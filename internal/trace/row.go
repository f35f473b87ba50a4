package trace

import (
	"bytes"
	"fmt"
	"math"

	"footing/internal/quantity"
)

// What a sensor of such a sterilizer can show, in °C and kPa; what lies outside is a
// code for a fault, or a broken wire (common practice, no source).
const (
	leastCelsius, mostCelsius = -40, 400
	leastKPa, mostKPa         = -200, 2000
)

// row reads one line of the table, whatever its form.
func (r *reader) row(line []byte, ended bool) {
	if blankLine(line) {
		r.t.Heading++
		return
	}
	t := r.table
	cells := split(r.cells[:0], line, t.delimiter)
	r.cells = cells
	w := &r.now
	*w = row{line: r.line, pressure: math.NaN()}
	if !r.rowTime(w, cells) {
		r.timeless(line, cells, ended)
		return
	}
	if r.event(cells) {
		r.t.Heading++
		return
	}
	if crowded(cells, len(t.headings)) {
		r.aside("fields", fmt.Sprintf("%s has more fields than the headings in line %s; it is set aside.", atLine(r.line), grouped(r.headLine)),
			"Look whether a comma stands in a number.")
		return
	}
	if !ended && r.torn(cells) {
		return
	}
	r.tail, r.width = len(cells[len(cells)-1]), len(cells)
	if !r.rowTemperatures(w, cells) {
		return
	}
	r.rowPressure(w, cells)
	if t.phase >= 0 && t.phase < len(cells) {
		w.phase = trim(cells[t.phase])
	}
	r.take(w)
}

// aside sets the line at hand aside and says why.
func (r *reader) aside(cause, sentence, todo string) {
	r.t.Aside++
	r.problems.say(cause, r.line, sentence, todo)
}

// rowTime reads the time of a line.
func (r *reader) rowTime(w *row, cells [][]byte) bool {
	t := r.table
	if t.time >= len(cells) {
		return false
	}
	c := trim(cells[t.time])
	s, ok := readStamp(c, r.form.order)
	if !ok {
		return false
	}
	var day quantity.Day
	if r.form.clock == Dated && t.date >= 0 && t.date < len(cells) {
		day = r.dayOf(cells[t.date])
	}
	if w.sec, w.daily, ok = r.form.seconds(s, day); !ok {
		return false
	}
	w.shownLen = copy(w.written[:], c)
	r.remember(c, &s, w)
	return true
}

// dayOf reads a date, the same as the last one without looking twice.
func (r *reader) dayOf(b []byte) quantity.Day {
	if len(r.dateText) > 0 && bytes.Equal(b, r.dateText) {
		return r.date
	}
	d, err := quantity.ParseDay(text(b), r.form.order)
	if err != nil {
		r.dateText = r.dateText[:0]
		return 0
	}
	r.dateText, r.date = append(r.dateText[:0], b...), d
	return d
}
