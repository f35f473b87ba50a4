package report

import (
	"bytes"
	_ "embed"
	"errors"
	"fmt"
	"html/template"
	"math"

	"footing/internal/result"
)

//go:embed chart.svg
var chartText string

var chartTemplates = template.Must(template.New("chart").Parse(chartText))

// Chart draws what a data-logger file shows, from x.Chart: temperatures in °C with
// the set temperature and its band, the pressure below in kPa, and the hold
// enlarged, over time. The SVG stands alone, asks for nothing and holds no script;
// its title and description say the same in words. Readings that are not known are
// left open. The same exhibit gives the same bytes. An exhibit without a chart is
// an error.
func Chart(x *result.Exhibit) ([]byte, error) { return drawn(x, "chart", true) }

// ChartWithin is the same chart for a page that holds many: its ids begin with id,
// which must be one of the page's own, and it bears no line of whose it is, since the
// page says that above it.
func ChartWithin(x *result.Exhibit, id string) ([]byte, error) { return drawn(x, id, false) }

func drawn(x *result.Exhibit, id string, alone bool) ([]byte, error) {
	if x.Chart == nil {
		return nil, errors.New("this exhibit has no chart")
	}
	var out bytes.Buffer
	if err := chartTemplates.ExecuteTemplate(&out, "chart", draw(x, id, alone)); err != nil {
		return nil, fmt.Errorf("the chart of %s could not be drawn: %w", plain(x.Chart.File), err)
	}
	return bytes.TrimSpace(out.Bytes()), nil
}

// Places on a chart, in user units. It is drawn a little wider than a sheet of A4
// prints, at 0.94 of this size, so that twelve units are eleven pixels there.
const (
	chartWide  = 720
	plotLeft   = 66
	plotRight  = 578
	heatHigh   = 186
	pressHigh  = 84
	nearHigh   = 112
	panelGap   = 18
	axisHigh   = 40 // below a panel with a time axis
	stripHigh  = 16
	lineHigh   = 14
	letterWide = 6.6 // at twelve units, on the wide side
)

// picture is what the template draws.
type picture struct {
	ID, Title, Desc string
	Width, Height   px
	Panels          []*panel
	Bars, Leaders   string
	Cells           []cell
	Texts           []note

	bars, leaders pen
	top           float64 // where the next thing goes
	whole         float64 // s: the time of the whole chart
}

// cellBox is a rectangle, cell one that is filled.
type cellBox struct{ X, Y, W, H px }

type cell struct {
	cellBox
	Fill string
}

// note is one text at a place.
type note struct {
	X, Y       px
	Words      string
	Anchor     string // "middle", "end" or "" for the start
	Turn       string // where to turn it about, to read upwards
	Bold, Soft bool
}

// draw lays out a chart from top to bottom.
func draw(x *result.Exhibit, id string, alone bool) *picture {
	c := x.Chart
	r := readingsOf(c)
	from, until := reach(r.time)
	if from > until {
		from, until = 0, 0
	}
	m := marksOf(c, from, until)
	p := &picture{ID: id, Title: chartTitle(c), Desc: chartDesc(c, r, m), Width: chartWide, top: 4}
	if alone {
		p.text(note{X: plotLeft, Y: px(p.top + 11), Words: shorten(heading(c), (chartWide-plotLeft)/letterWide), Soft: true})
		p.top += 22
	}
	if until-from < 1 {
		until = from + 60
	}
	time := stretch{from, until}
	p.whole = until - from
	key := p.phases(c.Phases, time)
	p.holdBar(m.hold, time)
	p.heat(r, m, time)
	if anyKnown(r.pressure) {
		p.press(c, r, m, time)
	}
	p.timeAxis(p.Panels[len(p.Panels)-1])
	p.near(r, m, time)
	p.phaseKey(key)
	if r.beyond {
		p.text(note{X: plotLeft, Y: px(p.top + 10), Words: leftOut, Soft: true})
		p.top += lineHigh + 1
	}
	p.Height = px(math.Ceil(p.top + 4))
	p.Bars, p.Leaders = p.bars.String(), p.leaders.String()
	return p
}

func (p *picture) text(w note) { p.Texts = append(p.Texts, w) }
