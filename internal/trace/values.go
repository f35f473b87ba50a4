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
	blank, beyond, nought, cool := -1, -1, -1, -1
	past, atNought := 0.0, 0.0
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
		zero := v == 0
		if u := t.headings[i].Unit; u != quantity.Celsius {
			v = quantity.Exact(v, u).In(quantity.Celsius)
		}
		switch {
		case !(v >= leastCelsius && v <= mostCelsius):
			beyond, past = i, v
			continue
		case zero:
			nought, atNought = i, v
			continue
		case v < w.coldest:
			cool = i
		}
		w.coldest, w.warmest = math.Min(w.coldest, v), math.Max(w.warmest, v)
	}
	shown := "beyond what such a sensor shows"
	if nought >= 0 && (w.warmest >= mild || w.coldest > w.warmest && r.any && r.coldest >= fallen) {
		beyond, shown = nought, "nought where it is hot"
	} else if nought >= 0 {
		w.coldest, w.warmest = math.Min(w.coldest, atNought), math.Max(w.warmest, atNought)
	}
	if w.warmest >= hot && w.coldest <= room && r.cool < 0 {
		r.cool = cool
	}
	none := w.coldest > w.warmest
	what := "it is left out of that reading"
	if none {
		what = "the line is set aside"
		r.t.Aside++
		if past > mostCelsius {
			r.misleading.beyond(beyond, past)
		}
	}
	if beyond >= 0 {
		r.problems.say("beyond", r.line, fmt.Sprintf("%s: the temperature in column %d, %s, is %s; %s.", atLine(r.line), beyond+1, quote(string(cells[beyond])), shown, what),
			"A broken wire or a fault of the sensor would explain it.")
	}
	if blank >= 0 {
		found, todo := noNumber(cells, blank)
		r.problems.say("blank", r.line, fmt.Sprintf("%s: the temperature in column %d %s; %s.", atLine(r.line), blank+1, found, what), todo)
	}
	return !none
}

// noNumber says of a field that it gives no number, and what would help.
func noNumber(cells [][]byte, i int) (found, todo string) {
	todo = "Look whether the sensor was connected."
	if i >= len(cells) || len(trim(cells[i])) == 0 {
		return "is blank", todo
	}
	if c := trim(cells[i]); c[0]-'0' < 10 {
		todo = "Export plain numbers: no mark between thousands, no unit behind them, no power of ten."
	}
	return "is no plain number (" + quote(string(cells[i])) + ") and counts as blank", todo
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
		_, todo := noNumber(cells, i)
		r.problems.say("blank-pressure", r.line, fmt.Sprintf("%s: the pressure in column %d is blank, or no plain number; the temperature is read.", atLine(r.line), i+1), todo)
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
