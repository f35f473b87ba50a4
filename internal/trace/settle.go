package trace

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"footing/internal/quantity"
	"footing/internal/steam"
)

// settle fixes units, decimals and clock from the sample, and says what is amiss.
func (r *reader) settle(s *survey) {
	t := r.table
	h := &r.t.Header
	h.Delimiter = delimiterNames[t.delimiter]
	r.decimal = 0
	switch l := r.layout; {
	case l != nil && l.decimal != 0:
		r.decimal = l.decimal
	case s.points >= s.marks && s.points > 0:
		r.decimal = '.'
	case s.marks > 0:
		r.decimal = ','
	case s.thousands > 0: // nothing speaks against decimals
		r.decimal = '.'
	}
	h.DecimalComma = r.decimal == ','
	r.useUnits()
	for i := range t.headings {
		t.headings[i].Half = t.headings[i].half(s.places[i])
	}
	h.Columns = make([]Column, len(t.headings))
	for i, c := range t.headings {
		h.Columns[i] = c.Column
	}
	if s.crowded > 0 && s.crowded*2 > s.lines {
		r.unusable(fmt.Sprintf("The lines from line %s on have more fields than the headings in line %s: the decimal comma and the comma between the fields look alike.", grouped(s.first), grouped(r.headLine)),
			"Export it once more with a semicolon between the fields, or with a decimal point.")
		return
	}
	if len(t.temperatures) == 0 {
		r.noTemperature()
		return
	}
	order := r.form.order
	r.form = decideClock(&t.headings[t.time], s.times, &r.facts, order)
	if r.form.guess {
		r.sayGuess(s)
	}
	h.Clock = r.form.clock
	r.pace(s)
	if r.listed {
		r.unusable(fmt.Sprintf("From line %s on, the times lie %s apart: this seems to be a list of cycles, not the readings of one.", grouped(s.first), lasting(r.t.Interval)),
			"Put the file that the logger wrote of each cycle here; a list of cycles belongs into loads.")
		return
	}
	if u := r.timeline.usual; r.form.plain && r.form.each == 1 && u > 0 && u < leastStep {
		r.unusable(fmt.Sprintf("%s: the times go on by less than a hundredth of a second; they seem to be parts of a day.", atLine(s.first)),
			"Export the times in the form hh:mm:ss, or write their unit into the heading, as in Time [d].")
		return
	}
	if s.down > 1 && s.down*4 >= 3*(len(s.times)-1) {
		r.unusable(fmt.Sprintf("The times run backwards from line %s on: the newest reading stands first.", grouped(s.first)),
			"Export it with the oldest reading first, or sort its lines by time.")
		return
	}
	r.start(s)
}

// mostStep is a time between readings, in s, at which no cycle can be seen. Our judgement.
const mostStep = 30 * 60

// leastStep is a time between readings, in s, that no logger of a sterilizer has (common practice, no source).
const leastStep = 0.005

func (h *heading) half(places int) float64 {
	half := 0.5 / powers[min(places, len(powers)-1)]
	switch {
	case h.Unit == 0:
		return 0
	case h.Role == Temperature:
		return quantity.Exact(half, h.Unit).In(quantity.Celsius) - quantity.Exact(0, h.Unit).In(quantity.Celsius)
	case h.Role == Pressure:
		return quantity.Exact(half, h.Unit).In(quantity.KPa)
	}
	return 0
}

// pace finds the usual time between readings, and the step of the clock where
// several readings share one time.
func (r *reader) pace(s *survey) {
	steps := make([]float64, 0, len(s.times))
	still := 0
	var first, last float64
	n := 0
	for _, one := range s.times {
		at, daily, ok := r.form.seconds(one.stamp, one.day)
		if !ok {
			continue
		}
		if n > 0 && daily && at < last-43200 {
			at += 86400
		}
		if n > 0 {
			steps = append(steps, at-last)
			if at == last {
				still++
			} else if at < last {
				s.down++
			}
		} else {
			first = at
		}
		last = at
		n++
	}
	r.interval = usual(steps)
	if still > 0 && still*4 >= len(steps) {
		r.resolution = r.form.step(s.times)
		if n > 1 && last > first {
			r.interval = (last - first) / float64(n-1)
		} else {
			r.interval = r.resolution / float64(n)
		}
	}
	r.t.Interval = r.interval
	r.listed = len(steps) > 2 && slices.Min(steps) > mostStep
	r.setPace(usual(steps))
}

// step is the least that this clock can go on by.
func (w *form) step(list []sampled) float64 {
	for _, s := range list {
		if s.broken {
			return 0.1
		}
	}
	switch list[0].parts {
	case 1:
		return w.each
	case 2:
		return w.two
	}
	return 1
}

// begin asks what to look for, and opens the series.
func (r *reader) begin(s *survey) {
	var look Look
	r.header()
	if r.opt.Look != nil {
		look = r.opt.Look(&r.t.Header)
	}
	look.Resolution = r.resolution
	r.air(&look)
	if r.series = r.opt.Series; r.series == nil {
		r.series = new(steam.Series)
	}
	r.series.Begin(look.Setting)
	if r.opt.Points > 0 {
		r.thin = newThinner(r.opt.Points)
	}
	r.evenPlaces = make([]int, len(r.table.headings))
	for i := range r.evenPlaces {
		r.evenPlaces[i] = -1
		if s.even[i] {
			r.evenPlaces[i] = s.places[i]
		}
	}
	r.state = inTable
	r.prepare()
}

// air turns gauge pressure into absolute where the altitude is known.
func (r *reader) air(look *Look) {
	look.Absolute, look.Air, r.lift, r.floor = false, math.NaN(), 0, leastKPa
	outside := math.NaN()
	if look.AltitudeKnown {
		if a, err := steam.Atmosphere(look.Altitude); err == nil {
			outside = a
		}
	}
	if r.table.pressure < 0 {
		return
	}
	switch r.table.headings[r.table.pressure].Ref {
	case quantity.Absolute:
		look.Absolute, look.Air = true, outside
	case quantity.Gauge:
		if math.IsNaN(outside) {
			look.Air = 0
		} else {
			look.Absolute, look.Air, r.lift = true, outside, outside
		}
	default:
		r.floor = 0 // what lies below is told, the long way
	}
}

// unusable says that nothing can be judged, why, and what to do. The first full stop
// with a blank parts the two, so a heading such as "Temp. inside" gets a blank that
// does not break.
func (r *reader) unusable(sentence, todo string) {
	if r.t.Unusable == "" {
		r.t.Unusable = strings.ReplaceAll(sentence, ". ", ".\u00a0") + " " + todo
	}
}

// sayGuess tells how times in two parts were taken, since only their course told it.
func (r *reader) sayGuess(s *survey) {
	how, other := "minutes and seconds, because they begin at 0:00", "hh:mm"
	if r.form.two == 60 {
		how, other = "hours and minutes", "mm:ss"
	}
	r.problems.say("time-form", s.first, fmt.Sprintf("%s: times in two parts are read as %s.", atLine(s.first), how),
		"If they are not, write "+other+" into the heading of the time.")
}
