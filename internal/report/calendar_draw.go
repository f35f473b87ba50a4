package report

import (
	"bytes"
	_ "embed"
	"fmt"
	"html/template"
	"strconv"
	"strings"
)

//go:embed calendar.svg
var calendarText string

var calendarTemplates = template.Must(template.New("calendar").Parse(calendarText))

// Places of a calendar, in user units; a column is a day, a row a month.
const (
	dayWide   = 20.8
	rowHigh   = 33
	cellHigh  = 31
	daysLeft  = 66
	headHigh  = 18
	countDown = 12.5 // from the top of a cell to the foot of its number
	markDown  = 19   // to the middle of its marks
	barDown   = 24.5 // to the first bar below them
	barStep   = 2.7
	markHalf  = 2.6
	markApart = 6.3
)

// sheet is what the template of a calendar draws. Marks of one look are one path, so
// that a page stays small.
type sheet struct {
	ID, Title, Desc                     string
	Width, Height                       px
	Used, Grid, Good, Open, Bad, Frames string
	Bars                                []stroke
	Texts                               []note
	Rows                                []rowText

	used, grid, good, open, bad, frames pen
	bars                                [len(calendarTests)]pen
}

// rowText is the numbers of one row, each with its place.
type rowText struct {
	X     string
	Y     px
	Words string
}

// The bars of stretches without a test, by calendarTests.
var gapLines = [len(calendarTests)]stroke{
	{Colour: "#6a4508", Weight: "2.2"},
	{Colour: "#1d4a5c", Weight: "2", Dash: "5 2.5"},
	{Colour: "#20251f", Weight: "1.8", Dash: "1.5 2"},
}

// svg draws a calendar for a page on which its ids begin with id. The same calendar
// gives the same bytes.
func (c *calendar) svg(id string) ([]byte, error) {
	s := &sheet{ID: id, Title: "Calendar of sterilizer " + plain(c.sterilizer) + ", " + c.span(), Desc: plain(strings.Join(c.standsOut(), " ")), Width: chartWide}
	for i := range 31 {
		s.Texts = append(s.Texts, note{X: px(dayAt(i) + dayWide/2), Y: headHigh - 5, Words: strconv.Itoa(i + 1), Anchor: "middle", Soft: true})
	}
	for row := range c.months {
		s.month(&c.months[row], headHigh+float64(row)*rowHigh)
	}
	s.key(headHigh + float64(len(c.months))*rowHigh + 8)
	for _, p := range []struct {
		to   *string
		from *pen
	}{{&s.Used, &s.used}, {&s.Grid, &s.grid}, {&s.Good, &s.good}, {&s.Open, &s.open}, {&s.Bad, &s.bad}, {&s.Frames, &s.frames}} {
		*p.to = p.from.String()
	}
	for i, line := range gapLines {
		if line.Path = s.bars[i].String(); line.Path != "" {
			s.Bars = append(s.Bars, line)
		}
	}
	var out bytes.Buffer
	if err := calendarTemplates.ExecuteTemplate(&out, "calendar", s); err != nil {
		return nil, fmt.Errorf("the calendar of sterilizer %s could not be drawn: %w", plain(c.sterilizer), err)
	}
	return bytes.TrimSpace(out.Bytes()), nil
}

func dayAt(i int) float64 { return daysLeft + float64(i)*dayWide }

// month draws one row from top down.
func (s *sheet) month(m *calendarMonth, top float64) {
	s.Texts = append(s.Texts, note{X: daysLeft - 6, Y: px(top + countDown), Words: monthName(m.name), Anchor: "end", Bold: strings.HasSuffix(m.name, "-01")})
	right := dayAt(len(m.days))
	s.grid.move(daysLeft, top)
	s.grid.line(right, top)
	s.grid.move(daysLeft, top+cellHigh)
	s.grid.line(right, top+cellHigh)
	var xs []string
	var words strings.Builder
	since := -1 // the first of a run of days with loads, which is shaded as one
	for i := range m.days {
		d := &m.days[i]
		x := dayAt(i)
		s.grid.move(x, top)
		s.grid.line(x, top+cellHigh)
		loads := d.marks()[:1]
		if loads != "." {
			xs = append(xs, px(x+dayWide/2).String())
			words.WriteString(loads)
		}
		if used := loads != "."; used && since < 0 {
			since = i
		} else if !used && since >= 0 {
			box4(&s.used, dayAt(since), top, x-dayAt(since), cellHigh)
			since = -1
		}
		s.day(d, x, top)
	}
	if since >= 0 {
		box4(&s.used, dayAt(since), top, right-dayAt(since), cellHigh)
	}
	s.grid.move(right, top)
	s.grid.line(right, top+cellHigh)
	if len(xs) > 0 {
		s.Rows = append(s.Rows, rowText{X: strings.Join(xs, " "), Y: px(top + countDown), Words: words.String()})
	}
}

// day draws the marks of one cell: a place a test, a shape a test, a look a result.
func (s *sheet) day(d *calendarDay, x, top float64) {
	failed := false
	for i, r := range d.results() {
		at := x + dayWide/2 + float64(i-1)*markApart
		switch r {
		case "":
		case "pass":
			shape(&s.good, i, at, top+markDown)
		case "fail":
			cross(&s.bad, at, top+markDown)
			failed = true
		default:
			shape(&s.open, i, at, top+markDown)
		}
		if d.gaps[i] {
			s.bars[i].move(x, top+barDown+float64(i)*barStep)
			s.bars[i].line(x+dayWide, top+barDown+float64(i)*barStep)
		}
	}
	if failed {
		box4(&s.frames, x, top, dayWide, cellHigh)
	}
}

// key explains the marks below the rows.
func (s *sheet) key(y float64) {
	line := func(row int) float64 { return y + 8 + float64(row)*17 }
	say := func(x, y float64, words string) {
		s.Texts = append(s.Texts, note{X: px(x), Y: px(y + 4), Words: words})
	}
	say(daysLeft, line(0), "Number: loads that day (+ ten or more, r all rejected). Frame with a cross: a test failed that day.")
	x := float64(daysLeft)
	for i, t := range calendarTests {
		shape(&s.good, i, x+4, line(1))
		shape(&s.open, i, x+14, line(1))
		say(x+22, line(1), t.plain)
		x += 128
	}
	say(x, line(1), "filled: passed; hollow: no result yet")
	x = daysLeft
	for i, t := range calendarTests {
		s.bars[i].move(x, line(2))
		s.bars[i].line(x+24, line(2))
		say(x+30, line(2), "no "+t.plain+" written")
		x += 205
	}
	s.Height = px(line(2) + 14)
}
