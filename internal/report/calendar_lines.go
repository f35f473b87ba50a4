package report

import (
	"fmt"
	"strconv"
	"strings"
)

// lines are the calendar as readable text: a line a month, three marks a day.
func (c *calendar) lines() []string {
	head := "day    "
	for i := range 31 {
		head += fmt.Sprintf(" %3d", i+1)
	}
	out := []string{head}
	for _, m := range c.months {
		var b strings.Builder
		b.WriteString(m.name)
		for i := range m.days {
			b.WriteString(fmt.Sprintf(" %3s", m.days[i].marks()))
		}
		out = append(out, b.String())
	}
	return out
}

// marks of one day: its loads, its gravest or rarest test, and whether it lies in a
// stretch without one.
func (d *calendarDay) marks() string {
	loads := "."
	switch {
	case d.Loads > 9:
		loads = "+"
	case d.Loads > 0:
		loads = strconv.Itoa(d.Loads)
	case d.Rejected > 0:
		loads = "r"
	}
	test, gap := "", ""
	for i, r := range d.results() {
		letter := calendarTests[i].name[:1]
		switch {
		case r == "fail":
			return loads + strings.ToUpper(letter) + "!"
		case r == "" || test != "":
		case r == "pass":
			test = letter
		default:
			test = "?"
		}
	}
	for _, in := range d.gaps {
		if in {
			gap = "_"
		}
	}
	return loads + test + gap
}
