package trace

import (
	"fmt"
	"strings"

	"footing/internal/quantity"
)

// useUnits gives bare headings the unit of the header or of the practice; what has
// none then is not read.
func (r *reader) useUnits() {
	t := r.table
	var left []int
	for _, i := range t.temperatures {
		h := &t.headings[i]
		if h.Unit == 0 {
			h.Unit = r.facts.degrees
		}
		if h.Unit == 0 && !h.weak && r.opt.Temperature.Dimension() == quantity.Temperature {
			h.Unit = r.opt.Temperature
		}
		if h.Unit == 0 {
			h.Ignored = noUnit
			continue
		}
		left = append(left, i)
	}
	t.temperatures = left
	if t.pressure < 0 {
		t.end()
		return
	}
	h := &t.headings[t.pressure]
	if h.Unit == 0 && r.facts.force != 0 {
		h.Unit = r.facts.force
		if h.Ref == quantity.Unsaid {
			h.Ref = r.facts.ref
		}
	}
	if h.Unit == 0 && r.opt.Pressure.Dimension() == quantity.Pressure {
		h.Unit = r.opt.Pressure
		if h.Ref == quantity.Unsaid {
			h.Ref = r.opt.Reference
		}
	}
	if h.Unit == 0 {
		h.Ignored = noUnit
		none := "no unit"
		if strings.ContainsAny(h.Heading, "([") {
			none = "no unit that is known here"
		}
		r.problems.say("pressure-unit", r.headLine, fmt.Sprintf("The pressure in %s has %s, so pressure is not read.", t.column(t.pressure), none),
			"Write the unit, and gauge or absolute, into the heading, as in Pressure [kPa absolute], or into traces/layout.yaml.")
		t.pressure = -1
	}
	t.end()
}

const noUnit = "no unit is known for it"

// noTemperature says why no temperature can be read.
func (r *reader) noTemperature() {
	t := r.table
	var bare, other []string
	for i, h := range t.headings {
		if h.Role == Temperature && h.Ignored == noUnit {
			bare = append(bare, t.column(i))
		} else if h.Role == Temperature {
			other = append(other, t.column(i))
		}
	}
	if len(bare) > 0 {
		r.unusable(fmt.Sprintf("The temperature in %s has no unit, and none is guessed.", strings.Join(bare, ", ")),
			"Write the unit into the heading, as in Temperature [°C], or into traces/layout.yaml, or once for the practice at units.")
		return
	}
	r.unusable(fmt.Sprintf("No temperature of the chamber is named in line %s; found was only %s.", grouped(r.headLine), strings.Join(other, ", ")),
		"Name the column of the chamber's temperature in traces/layout.yaml.")
}

// column names one for a sentence.
func (t *table) column(i int) string {
	s := fmt.Sprintf("column %d", i+1)
	if h := t.headings[i].Heading; h != "" {
		s += ", " + quote(h)
	}
	return s
}

func quote(s string) string { return "“" + excerpt([]byte(s)) + "”" }
