package report

import "footing/internal/result"

// stretch is a part of the time of a chart, in s.
type stretch struct{ from, until float64 }

// panel is one plot with axes of its own: time across in s, values upwards.
type panel struct {
	top, high   float64
	from, until float64 // s
	least, most float64 // values
	clock       clock

	Strip        *cellBox // the band of the set temperature
	Grid, Guides string
	Frame        string
	Lines        []stroke
	tags         []tag
	guides       pen
}

// stroke is one drawn line. Lines differ by weight and dash, so that they can be
// told apart in black and white.
type stroke struct{ Path, Colour, Weight, Dash string }

var (
	coldestLine = stroke{Colour: "#20251f", Weight: "2"}
	warmestLine = stroke{Colour: "#20251f", Weight: ".8"}
	steamLine   = stroke{Colour: "#1d4a5c", Weight: "1.4", Dash: "6 4"}
	setLine     = stroke{Colour: "#6a4508", Weight: "1.1"}
	bandLine    = stroke{Colour: "#6a4508", Weight: "1", Dash: "2 3"}
	pressLine   = stroke{Colour: "#20251f", Weight: "1.4"}
)

// at is the place across of a time, up that of a value.
func (p *panel) at(t float64) float64 {
	return plotLeft + (plotRight-plotLeft)*(t-p.from)/(p.until-p.from)
}

func (p *panel) up(v float64) float64 {
	return p.top + p.high - p.high*(v-p.least)/(p.most-p.least)
}

// panel adds a panel with its grid, value axis and name.
func (p *picture) panel(high float64, time stretch, low, top, least float64, most int, name ...string) *panel {
	n := &panel{top: p.top, high: high, from: time.from, until: time.until}
	var ticks []float64
	var step float64
	n.least, n.most, ticks, step = axis(low, top, least, most)
	n.clock = clockOf(n.until-n.from, p.whole, 12)
	var grid, frame pen
	for _, v := range ticks {
		grid.move(plotLeft, n.up(v))
		grid.line(plotRight, n.up(v))
		frame.move(plotLeft-4, n.up(v))
		frame.line(plotLeft, n.up(v))
		p.text(note{X: plotLeft - 7, Y: px(n.up(v) + 4), Words: tickText(v, step), Anchor: "end"})
	}
	for _, t := range n.times() {
		grid.move(n.at(t), n.top)
		grid.line(n.at(t), n.top+n.high)
	}
	frame.move(plotLeft, n.top)
	frame.line(plotLeft, n.top+n.high)
	frame.line(plotRight, n.top+n.high)
	n.Grid, n.Frame = grid.String(), frame.String()
	for i, line := range name {
		x, y := px(13+float64(i)*lineHigh), px(n.top+n.high/2)
		p.text(note{X: x, Y: y, Words: line, Anchor: "middle", Turn: x.String() + " " + y.String(), Bold: i == 0})
	}
	p.Panels = append(p.Panels, n)
	p.top += high
	return n
}

// times are the ticks of the panel's time axis in s.
func (n *panel) times() (out []float64) {
	for _, t := range between(n.from/n.clock.unit, n.until/n.clock.unit, n.clock.step) {
		out = append(out, min(max(t*n.clock.unit, n.from), n.until))
	}
	return out
}

// timeAxis writes the times below a panel.
func (p *picture) timeAxis(n *panel) {
	var b pen
	for _, t := range n.times() {
		b.move(n.at(t), n.top+n.high)
		b.line(n.at(t), n.top+n.high+4)
		p.text(note{X: px(n.at(t)), Y: px(n.top + n.high + 17), Words: tickText(t/n.clock.unit, n.clock.step), Anchor: "middle"})
	}
	n.Frame += b.String()
	p.text(note{X: (plotLeft + plotRight) / 2, Y: px(n.top + n.high + 33), Words: n.clock.name + " from the first reading", Anchor: "middle", Bold: true})
	p.top += axisHigh
}

// guide marks where the hold begins and ends.
func (n *panel) guide(h *result.Hold) {
	if h == nil {
		return
	}
	for _, t := range []float64{h.From, h.Until} {
		if t >= n.from && t <= n.until {
			n.guides.move(n.at(t), n.top)
			n.guides.line(n.at(t), n.top+n.high)
		}
	}
	n.Guides = n.guides.String()
}

// draw adds a line and its label; nothing for one of which nothing is known.
func (n *panel) draw(time, value []float64, s stroke, names ...string) {
	s.Path = n.trail(time, value)
	if s.Path == "" {
		return
	}
	n.Lines = append(n.Lines, s)
	l := tag{lines: names, stroke: s}
	l.y, l.tied = n.end(time, value)
	n.tags = append(n.tags, l)
}

// across draws a level from edge to edge.
func (n *panel) across(v float64, s stroke, name string) {
	n.draw([]float64{n.from, n.until}, []float64{v, v}, s, name)
}
