package report

import (
	"math"

	"footing/internal/result"
)

// heat draws the temperatures over the whole time.
func (p *picture) heat(r *readings, m marks, time stretch) {
	low, high := reach(r.coldest, r.warmest, r.steam)
	if m.set != nil {
		low, high = min(low, *m.set), max(high, *m.set)
	}
	if m.band != nil {
		high = max(high, *m.band)
	}
	n := p.panel(heatHigh, time, low, high, 10, 8, "Temperature", "°C")
	n.against(m)
	n.temperatures(r)
	n.guide(m.hold)
	p.name(n)
	if !anyKnown(r.coldest) && !anyKnown(r.warmest) {
		p.text(note{X: (plotLeft + plotRight) / 2, Y: px(n.top + n.high/2), Words: "no temperature that can be drawn", Anchor: "middle", Soft: true})
	}
}

// against draws what the temperatures are held against: the band as a strip, with
// its edges.
func (n *panel) against(m marks) {
	if m.set == nil {
		return
	}
	if m.band != nil {
		top, bottom := n.up(min(*m.band, n.most)), n.up(max(*m.set, n.least))
		n.Strip = &cellBox{X: plotLeft, Y: px(top), W: plotRight - plotLeft, H: px(bottom - top)}
		n.across(*m.band, bandLine, "band to "+number(*m.band)+" °C")
	}
	n.across(*m.set, setLine, "set "+number(*m.set)+" °C")
}

func (n *panel) temperatures(r *readings) {
	n.draw(r.time, r.steam, steamLine, "saturated steam", "at this pressure")
	if anyKnown(r.warmest) {
		n.draw(r.time, r.warmest, warmestLine, "warmest sensor")
		n.draw(r.time, r.coldest, coldestLine, "coldest sensor")
		return
	}
	n.draw(r.time, r.coldest, coldestLine, "temperature")
}

// press draws the pressure below the temperatures.
func (p *picture) press(c *result.Chart, r *readings, m marks, time stretch) {
	p.top += panelGap
	low, high := reach(r.pressure)
	unit := "kPa"
	if c.PressureFrom != "" {
		unit += " " + plain(c.PressureFrom)
	}
	n := p.panel(pressHigh, time, min(low, 0), high, 10, 4, "Pressure", unit)
	if c.PressureFrom == "gauge" && n.least < 0 {
		n.across(0, stroke{Colour: "#4d544b", Weight: ".8"}, "the air outside")
	}
	n.draw(r.time, r.pressure, pressLine, "pressure")
	n.guide(m.hold)
	p.name(n)
}

// How far around a hold its enlargement reaches: in time a share of the hold and
// seconds, in temperature K below the set temperature and above all that is drawn.
const (
	nearShare   = 0.2
	nearSeconds = 30
	nearBelow   = 3
	nearAbove   = 3
	nearMost    = 15
)

// near draws the hold and its band enlarged: on the scale of a whole cycle a kelvin
// is less than two units high.
func (p *picture) near(r *readings, m marks, time stretch) {
	if m.hold == nil || m.set == nil {
		return
	}
	pad := max(nearSeconds, nearShare*(m.hold.Until-m.hold.From))
	part := stretch{max(time.from, m.hold.From-pad), min(time.until, m.hold.Until+pad)}
	high := *m.set + nearAbove
	if m.band != nil {
		high = max(high, *m.band+1)
	}
	low := *m.set - nearBelow
	for i, t := range r.time {
		if t < m.hold.From || t > m.hold.Until {
			continue
		}
		for _, v := range []float64{r.coldest[i], r.warmest[i], r.steam[i]} {
			if math.Abs(v-*m.set) <= nearMost {
				low, high = min(low, v), max(high, v)
			}
		}
	}
	p.top += 6
	p.text(note{X: plotLeft, Y: px(p.top + 10), Words: "The hold, enlarged", Bold: true})
	p.top += 20
	n := p.panel(nearHigh, part, low, high, 4, 6, "Temperature", "°C")
	n.against(m)
	n.temperatures(r)
	n.guide(m.hold)
	p.name(n)
	p.timeAxis(n)
}

// holdBar marks the hold above the panels, with how long it lasted.
func (p *picture) holdBar(h *result.Hold, time stretch) {
	if h == nil {
		return
	}
	n := &panel{from: time.from, until: time.until}
	from, until := n.at(h.From), n.at(h.Until)
	said := "held " + heldFor(h)
	half := wide(said) / 2
	p.text(note{X: px(min(max((from+until)/2, plotLeft+half), plotRight-half)), Y: px(p.top + 10), Words: said, Anchor: "middle", Bold: true})
	p.top += 18
	p.bars.move(from, p.top-3)
	p.bars.line(from, p.top+3)
	p.bars.move(until, p.top-3)
	p.bars.line(until, p.top+3)
	p.bars.move(from, p.top)
	p.bars.line(until, p.top)
	p.top += 8
}
