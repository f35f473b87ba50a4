package report

import (
	"cmp"
	"math"
	"slices"
	"strings"
)

// tag names a line at the right edge, with a piece of the line before it.
type tag struct {
	y     float64 // of the line at the edge
	lines []string
	stroke
	tied bool // whether the line runs to the edge, so that a thin line leads to it
}

// end is where a line meets the right edge; where it does not, the height at which
// it passes the middle, so that labels stand in the order of the lines.
func (n *panel) end(time, value []float64) (y float64, tied bool) {
	y = n.top + n.high/2
	middle, nearest := (n.from+n.until)/2, math.Inf(1)
	for i, v := range value {
		if math.IsNaN(v) || !n.holds(time[i], v) {
			continue
		}
		if away := math.Abs(time[i] - middle); away < nearest {
			y, nearest = n.up(v), away
		}
	}
	for i := len(value) - 1; i >= 0; i-- {
		if !math.IsNaN(value[i]) && n.holds(time[i], value[i]) && n.at(time[i]) > plotRight-2 {
			return n.up(value[i]), true
		}
	}
	return y, false
}

// name writes the labels of a panel, moved apart where they would touch.
func (p *picture) name(n *panel) {
	slices.SortStableFunc(n.tags, func(a, b tag) int { return cmp.Compare(a.y, b.y) })
	middles := make([]float64, len(n.tags))
	floor := n.top - 6
	for i, l := range n.tags {
		half := float64(len(l.lines)) * lineHigh / 2
		middles[i] = max(l.y, floor+half)
		floor = middles[i] + half + 1
	}
	ceiling := n.top + n.high + 8
	for i := len(middles) - 1; i >= 0; i-- {
		half := float64(len(n.tags[i].lines)) * lineHigh / 2
		middles[i] = min(middles[i], ceiling-half)
		ceiling = middles[i] - half - 1
	}
	for i, l := range n.tags {
		y := middles[i]
		if l.tied {
			p.leaders.move(plotRight+2, l.y)
			p.leaders.line(plotRight+12, y)
		}
		var sample pen
		sample.move(plotRight+14, y)
		sample.line(plotRight+36, y)
		s := l.stroke
		s.Path = sample.String()
		n.Lines = append(n.Lines, s)
		for j, line := range l.lines {
			p.text(note{X: plotRight + 42, Y: px(y + 4 + (float64(j)-float64(len(l.lines)-1)/2)*lineHigh), Words: line})
		}
	}
}

// shorten cuts a text to at most n letters, by about what they take on paper.
func shorten(s string, n float64) string {
	s = plain(s)
	if wide(s) <= n*letterWide {
		return s
	}
	var b strings.Builder
	for _, r := range s {
		if wide(b.String()+string(r)+"…") > n*letterWide {
			break
		}
		b.WriteRune(r)
	}
	return strings.TrimRight(b.String(), " ") + "…"
}

// wide is about how wide a text is at twelve units. Letters beyond the Latin ones
// may be twice as wide.
func wide(s string) (w float64) {
	for _, r := range s {
		switch {
		case r >= 0x2E80:
			w += 2 * letterWide
		case strings.ContainsRune("mwMW@%—", r):
			w += 1.6 * letterWide
		case r >= 'A' && r <= 'Z':
			w += 1.3 * letterWide
		default:
			w += letterWide
		}
	}
	return w
}
