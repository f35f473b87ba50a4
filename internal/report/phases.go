package report

import (
	"math"
	"strconv"
	"strings"

	"footing/internal/result"
)

// phase is a stretch of a chart with the name that the file gives it.
type phase struct {
	name string
	stretch
}

// phasesOf are the phases that lie in the time of a chart, in order and none upon
// another; those of one name that follow each other are one.
func phasesOf(all []result.ChartPhase, time stretch) (out []phase) {
	at := time.from
	for _, f := range all {
		from, until := max(f.From, at), min(f.Until, time.until)
		name := plain(f.Name)
		if name == "" || !(from < until) {
			continue
		}
		at = until
		if n := len(out); n > 0 && out[n-1].name == name && from <= out[n-1].until {
			out[n-1].until = until
			continue
		}
		out = append(out, phase{name, stretch{from, until}})
	}
	return out
}

// phases draws a strip of the phases: a name where it fits, else a number, which
// phaseKey explains.
func (p *picture) phases(all []result.ChartPhase, time stretch) (key []string) {
	list := phasesOf(all, time)
	if len(list) == 0 {
		return nil
	}
	n := &panel{from: time.from, until: time.until}
	for i, f := range list {
		from, until := n.at(f.from), n.at(f.until)
		fill := "#f8f5ea"
		if i%2 == 1 {
			fill = "#efebe0"
		}
		p.Cells = append(p.Cells, cell{cellBox{px(from), px(p.top), px(until - from), stripHigh}, fill})
		said := f.name
		if wide(said) > until-from-4 {
			said = strconv.Itoa(i + 1)
			key = append(key, said+" "+f.name)
		}
		if wide(said) <= until-from-3 {
			p.text(note{X: px((from + until) / 2), Y: px(p.top + 12), Words: said, Anchor: "middle"})
		}
	}
	p.text(note{X: plotRight + 8, Y: px(p.top + 12), Words: "phases", Soft: true})
	p.top += stripHigh + 6
	return key
}

// mostKeyLines is how many lines of names stand below a chart.
const mostKeyLines = 3

// phaseKey writes the names of the phases that bear a number.
func (p *picture) phaseKey(key []string) {
	if len(key) == 0 {
		return
	}
	const room = chartWide - plotLeft - 8
	line, lines := "Phases:", 0
	put := func() {
		p.text(note{X: plotLeft, Y: px(p.top + 10), Words: line, Soft: true})
		p.top += lineHigh + 1
		lines++
	}
	p.top += 2
	for i, k := range key {
		k = shorten(k, room/letterWide/2)
		part := " " + k
		if i > 0 {
			part = " · " + k
		}
		if wide(line+part) > room {
			put()
			if lines == mostKeyLines {
				return
			}
			line, part = "", k
		}
		if lines == mostKeyLines-1 && i+1 < len(key) && wide(line+part+" · "+shorten(key[i+1], room/letterWide/2)) > room {
			line = strings.TrimSpace(line + part)
			if rest := " · and " + several(len(key)-i-1, "more", "more"); wide(line+rest) <= room {
				line += rest
			}
			put()
			return
		}
		line += part
	}
	put()
}

// heldFor is how long a hold has lasted, with its bounds where they lie apart from it.
func heldFor(h *result.Hold) string {
	held, least, most := lasted(h.Until-h.From), lasted(h.Least), lastedAtMost(h.Most)
	if least == held && most == held || !(0 <= h.Least && h.Least <= h.Most && h.Most <= drawnTimes[1]) {
		return held
	}
	return held + " (" + least + " to " + most + ")"
}

// lastedAtMost is the same of a time that was not exceeded: up to the next that lasted
// would write.
func lastedAtMost(s float64) string {
	if s < 9.95 {
		return lasted(math.Ceil(s*10-1e-6) / 10)
	}
	return lasted(math.Ceil(s - 1e-6))
}

// lasted writes seconds as a person says them, cut to whole ones; below ten with a
// decimal. What was not held must not be said to be held.
func lasted(s float64) string {
	if s < 9.95 {
		return strconv.FormatFloat(math.Round(s*10)/10, 'f', -1, 64) + " s"
	}
	n := int64(math.Floor(s + 1e-6)) // what a difference rounds away is no second
	var parts []string
	for _, part := range []struct {
		n    int64
		unit string
	}{{n / 3600, "h"}, {n / 60 % 60, "min"}, {n % 60, "s"}} {
		if part.n > 0 {
			parts = append(parts, strconv.FormatInt(part.n, 10)+" "+part.unit)
		}
	}
	return strings.Join(parts, " ")
}
