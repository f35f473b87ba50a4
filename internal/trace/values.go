package trace

import (
	"fmt"
	"math"

	"footing/internal/quantity"
)

// plain reads a number with the file's decimal mark.
func (r *reader) plain(b []byte) (float64, bool) {
	d, ok := number(b)
	if !ok {
		return 0, false
	}
	if d.mark != 0 && d.mark != r.decimal {
		if r.decimal != 0 || d.thrice {
			return 0, false
		}
		r.decimal = d.mark
		r.t.DecimalComma = d.mark == ','
		r.prepare()
	}
	return d.value, true
}

// rowTemperatures reads all that are judged. A line without any is set aside.
func (r *reader) rowTemperatures(w *row, cells [][]byte) bool {
	t := r.table
	blank, beyond := -1, -1
	w.coldest, w.warmest = math.Inf(1), math.Inf(-1)
	for _, i := range t.temperatures {
		if i >= len(cells) {
			blank = i
			continue
		}
		v, ok := r.plain(cells[i])
		if !ok {
			blank = i
			continue
		}
		if u := t.headings[i].Unit; u != quantity.Celsius {
			v = quantity.Exact(v, u).In(quantity.Celsius)
		}
		if !(v >= leastCelsius && v <= mostCelsius) {
			beyond = i
			continue
		}
		w.coldest, w.warmest = math.Min(w.coldest, v), math.Max(w.warmest, v)
	}
	none := w.coldest > w.warmest
	what := "it is left out of that reading"
	if none {
		what = "the line is set aside"
		r.t.Aside++
	}
	if beyond >= 0 {
		r.problems.say("beyond", r.line, fmt.Sprintf("%s: the temperature in column %d, %s, is beyond what such a sensor shows; %s.", atLine(r.line), beyond+1, quote(string(cells[beyond])), what),
			"A broken wire or a fault of the sensor would explain it.")
	}
	if blank >= 0 {
		found := "is blank"
		if blank < len(cells) && len(trim(cells[blank])) > 0 {
			found = "is no plain number (" + quote(string(cells[blank])) + ") and counts as blank"
		}
		r.problems.say("blank", r.line, fmt.Sprintf("%s: the temperature in column %d %s; %s.", atLine(r.line), blank+1, found, what),
			"Look whether the sensor was connected.")
	}
	return !none
}

// rowPressure reads the pressure; without one the reading is kept.
func (r *reader) rowPressure(w *row, cells [][]byte) {
	i := r.table.pressure
	if i < 0 {
		return
	}
	h := &r.table.headings[i]
	var v float64
	ok := i < len(cells)
	if ok {
		v, ok = r.plain(cells[i])
	}
	if !ok {
		r.problems.say("blank-pressure", r.line, fmt.Sprintf("%s: the pressure in column %d is blank, or no plain number; the temperature is read.", atLine(r.line), i+1), "Look whether the sensor was connected.")
		return
	}
	if h.Unit != quantity.KPa {
		v = quantity.Exact(v, h.Unit).In(quantity.KPa)
	}
	if !(v >= leastKPa && v <= mostKPa) {
		r.problems.say("blank-pressure", r.line, fmt.Sprintf("%s: the pressure in column %d, %s, is beyond what such a sensor shows; the temperature is read.", atLine(r.line), i+1, quote(string(cells[i]))),
			"A broken wire or a fault of the sensor would explain it.")
		return
	}
	if v < 0 && h.Ref == quantity.Unsaid {
		r.problems.say("below-nought", r.line, fmt.Sprintf("%s: the pressure is below nought, so it counts from the air outside (gauge); the heading does not say so, and it is not compared with steam.", atLine(r.line)),
			"Write gauge into the heading, or into traces/layout.yaml.")
	}
	w.pressure = v + r.lift
}
