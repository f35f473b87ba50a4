package report

import (
	"math"
	"strconv"
)

// px is a length on a chart in user units; it prints with at most one decimal.
type px float64

func (v px) String() string { return string(appendTenths(nil, tenths(float64(v)), false)) }

// tenths puts a place on the grid of a tenth of a unit on which all charts are drawn.
func tenths(v float64) int { return int(math.Round(v * 10)) }

// appendTenths writes n tenths in as few characters as SVG allows. With apart, a
// space goes before it unless a minus parts it from what stands there.
func appendTenths(b []byte, n int, apart bool) []byte {
	if n < 0 {
		b, n = append(b, '-'), -n
	} else if apart {
		b = append(b, ' ')
	}
	if n >= 10 || n == 0 {
		b = strconv.AppendInt(b, int64(n/10), 10)
	}
	if n%10 != 0 {
		b = append(b, '.', byte('0'+n%10))
	}
	return b
}

// pen writes the data of a path: absolute where it sets down, steps from there on,
// and no step that does not move.
type pen struct {
	b    []byte
	x, y int
	down bool // the last thing written was a step, so that another may follow it
}

func (p *pen) move(x, y float64) {
	nx, ny := tenths(x), tenths(y)
	if len(p.b) > 0 && nx == p.x && ny == p.y {
		return
	}
	p.b = append(p.b, 'M')
	p.b = appendTenths(p.b, nx, false)
	p.b = appendTenths(p.b, ny, true)
	p.x, p.y, p.down = nx, ny, false
}

func (p *pen) line(x, y float64) {
	nx, ny := tenths(x), tenths(y)
	dx, dy := nx-p.x, ny-p.y
	if dx == 0 && dy == 0 {
		return
	}
	if !p.down {
		p.b = append(p.b, 'l')
	}
	p.b = appendTenths(p.b, dx, p.down)
	p.b = appendTenths(p.b, dy, true)
	p.x, p.y, p.down = nx, ny, true
}

// dot is one reading that has none before it or after it.
func (p *pen) dot(x, y float64) {
	p.move(x, y)
	p.b = append(p.b, "h0"...)
	p.down = false
}

func (p *pen) String() string { return string(p.b) }

// trail draws the readings that lie in the panel; what runs out of it is cut at its
// edge, and where a reading is not known the line stays open.
func (p *panel) trail(time, value []float64) string {
	var out pen
	drawn := false // whether the reading before is drawn
	for i := range value {
		if math.IsNaN(value[i]) || math.IsNaN(time[i]) {
			drawn = false
			continue
		}
		last := i+1 == len(value) || math.IsNaN(value[i+1]) || math.IsNaN(time[i+1])
		first := i == 0 || math.IsNaN(value[i-1]) || math.IsNaN(time[i-1])
		switch {
		case first && last:
			if p.holds(time[i], value[i]) {
				out.dot(p.at(time[i]), p.up(value[i]))
			}
		case !first:
			x0, y0, x1, y1, ok := p.cut(time[i-1], value[i-1], time[i], value[i])
			if !ok {
				drawn = false
				continue
			}
			if !drawn || x0 != time[i-1] || y0 != value[i-1] {
				out.move(p.at(x0), p.up(y0))
			}
			out.line(p.at(x1), p.up(y1))
			drawn = x1 == time[i] && y1 == value[i]
		}
	}
	return out.String()
}

func (p *panel) holds(t, v float64) bool {
	return t >= p.from && t <= p.until && v >= p.least && v <= p.most
}

// cut keeps of a straight line what lies in the panel; ok is false for nothing.
func (p *panel) cut(x0, y0, x1, y1 float64) (a, b, c, d float64, ok bool) {
	if p.holds(x0, y0) && p.holds(x1, y1) {
		return x0, y0, x1, y1, true
	}
	start, end := 0.0, 1.0
	for _, side := range [][2]float64{{x0 - x1, x0 - p.from}, {x1 - x0, p.until - x0}, {y0 - y1, y0 - p.least}, {y1 - y0, p.most - y0}} {
		switch {
		case side[0] == 0 && side[1] < 0:
			return 0, 0, 0, 0, false
		case side[0] < 0:
			start = max(start, side[1]/side[0])
		case side[0] > 0:
			end = min(end, side[1]/side[0])
		}
	}
	if start > end {
		return 0, 0, 0, 0, false
	}
	a, b, c, d = x0, y0, x1, y1
	if start > 0 {
		a, b = x0+start*(x1-x0), y0+start*(y1-y0)
	}
	if end < 1 {
		c, d = x0+end*(x1-x0), y0+end*(y1-y0)
	}
	return a, b, c, d, true
}
