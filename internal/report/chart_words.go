package report

import (
	"fmt"
	"math"
	"strings"

	"footing/internal/result"
)

// heading is the line above a chart: whose it is, and when.
func heading(c *result.Chart) string {
	var parts []string
	if c.Sterilizer != "" {
		parts = append(parts, "sterilizer "+plain(c.Sterilizer))
	}
	if c.Load != "" {
		parts = append(parts, "load "+plain(c.Load))
	}
	if c.Start != "" {
		parts = append(parts, began(c.Start))
	}
	return strings.Join(append(parts, plain(c.File)), " · ")
}

// leftOut is said where some readings cannot be drawn.
const leftOut = "Readings beyond what a sterilizer gives, as of a sensor that failed, are not drawn."

// began is when the first reading was taken, to the second where there is one.
func began(start string) string {
	at := day(plain(start))
	if strings.Count(at, ":") == 2 {
		at = strings.TrimSuffix(at, ":00")
	}
	return at
}

func chartTitle(c *result.Chart) string {
	title := "Temperature"
	if len(c.Pressure) > 0 {
		title += " and pressure"
	}
	return title + " over time: " + heading(c)
}

// chartDesc says in words what the chart shows, for those who do not see it.
func chartDesc(c *result.Chart, r *readings, m marks) string {
	var out []string
	add := func(format string, a ...any) { out = append(out, fmt.Sprintf(format, a...)) }
	from, until := reach(r.time)
	low, high := reach(r.coldest)
	if from > until || low > high {
		add("There is no temperature that can be drawn.")
	} else {
		add("Over %s the coldest sensor showed %s to %s °C.", lasted(until-from), tenth(low), tenth(high))
	}
	if low, high := reach(r.warmest); low <= high {
		add("The warmest sensor showed %s to %s °C.", tenth(low), tenth(high))
	}
	if m.set != nil {
		band := ""
		if m.band != nil {
			band = ", its band reaches to " + number(*m.band) + " °C"
		}
		add("The set temperature is %s °C%s.", number(*m.set), band)
	}
	if m.hold != nil {
		add("The longest unbroken time at it is %s, from %s to %s after the first reading.", heldFor(m.hold), lasted(m.hold.From-from), lasted(m.hold.Until-from))
	}
	if low, high := reach(r.pressure); low <= high {
		add("The pressure lay between %s and %s kPa%s.", tenth(low), tenth(high), before(" ", plain(c.PressureFrom)))
	}
	if anyKnown(r.steam) {
		add("The dashed line is the temperature that saturated steam has at the measured pressure.")
		if least, most := apart(r, m); least <= most {
			add("During the hold it lay %s to %s K from the coldest sensor, above it where the number is above nought.", tenth(least), tenth(most))
		}
	}
	if r.beyond {
		add(leftOut)
	}
	if list := phasesOf(c.Phases, stretch{from, until}); len(list) > 0 {
		var names []string
		for i, f := range list {
			if i == 20 {
				names = append(names, several(len(list)-i, "more", "more"))
				break
			}
			names = append(names, f.name)
		}
		add("Phases as the file names them: %s.", strings.Join(names, ", "))
	}
	return strings.Join(out, " ")
}

// apart is how far the saturation temperature lay from the coldest sensor in the hold.
func apart(r *readings, m marks) (least, most float64) {
	var away []float64
	for i, t := range r.time {
		if m.hold != nil && t >= m.hold.From && t <= m.hold.Until {
			away = append(away, r.steam[i]-r.coldest[i])
		}
	}
	return reach(away)
}

func tenth(v float64) string { return number(math.Round(v*10) / 10) }

func before(lead, s string) string {
	if s == "" {
		return ""
	}
	return lead + s
}
