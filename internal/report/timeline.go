package report

import (
	"bytes"
	_ "embed"
	"fmt"
	"html/template"
	"time"

	"footing/internal/result"
)

//go:embed timeline.svg
var timelineText string

var timelineTemplates = template.Must(template.New("timeline").Parse(timelineText))

// timelineKey names the timeline in a fence; no exhibit or check has a colon in its key
// but with the lead of its own.
const timelineKey = "due:timeline"

// Without a renewal or inspection ahead, a timeline reaches so many days.
const daysAhead = 90

// mostTimed is how many lines a timeline has, mostPast how many of them may be of what
// was due before.
const (
	mostTimed = 24
	mostPast  = 8
)

// timeline is what falls due from the day of the audit to the day it looks forward to,
// and what was due before.
type timeline struct {
	from, until time.Time
	ending      string // what stands at the end
	items       []result.Due
	past, ahead int // due before the day of the audit, and in the stretch
	rest        int // of these, how many are not drawn
	later       int // due after it
}

// timelineOf is nil where nothing falls due in its stretch.
func timelineOf(r *result.Result) *timeline {
	from, err := time.Parse(time.DateOnly, r.AsOf)
	if err != nil {
		return nil
	}
	t := &timeline{from: from, until: from.AddDate(0, 0, daysAhead), ending: several(daysAhead, "day on", "days on")}
	if n, ok := days(r.AsOf, r.Purpose.On); ok && n > 0 && r.Purpose.Kind != "self-audit" {
		t.until, t.ending = from.AddDate(0, 0, n), plain(r.Purpose.Kind)
	}
	var past, ahead []result.Due
	for _, d := range r.Due {
		on, err := time.Parse(time.DateOnly, d.On)
		switch {
		case err != nil:
		case on.After(t.until):
			t.later++
		case on.Before(from):
			past = append(past, d)
		default:
			ahead = append(ahead, d)
		}
	}
	t.past, t.ahead = len(past), len(ahead)
	past = past[max(0, len(past)-mostPast):]
	ahead = ahead[:min(len(ahead), mostTimed-len(past))]
	t.items = append(past[:len(past):len(past)], ahead...)
	t.rest = t.past + t.ahead - len(t.items)
	if len(t.items) == 0 {
		return nil
	}
	return t
}

// lines are the timeline in words: a line a thing, by day.
func (t *timeline) lines() []string {
	asOf := t.from.Format(time.DateOnly)
	var out []string
	for _, d := range t.items {
		when := orElse(away(asOf, d.On), "today")
		out = append(out, day(d.On)+", "+when+": "+plain(d.What))
	}
	if t.rest > 0 {
		out = append(out, "… and "+several(t.rest, "more", "more")+"; every one is in the table below or in audit.json")
	}
	return out
}

// about says in a sentence what the timeline holds.
func (t *timeline) about() string {
	none := func(n int, one, more string) string {
		if n == 0 {
			return "nothing " + one
		}
		return several(n, "thing "+one, "things "+more)
	}
	today, end := day(t.from.Format(time.DateOnly)), day(t.until.Format(time.DateOnly))
	out := upper(none(t.past, "was", "were")) + " due before " + today + "; " + none(t.ahead, "falls", "fall") + " due from then to " + end
	if t.later > 0 {
		out += "; " + none(t.later, "falls", "fall") + " due later"
	}
	return out + "."
}

// Places of a timeline, in user units.
const (
	timeLeft  = 150
	timeRight = 690
	timeHead  = 44
	timeRow   = 22
	markWide  = 5
)

type timelineSheet struct {
	ID, Title, Desc                string
	Width, Height                  px
	Grid, Edges, Ways, Ahead, Past string
	Texts                          []note
}

// at is the place across of a day.
func (t *timeline) at(on time.Time) float64 {
	return timeLeft + (timeRight-timeLeft)*on.Sub(t.from).Hours()/t.until.Sub(t.from).Hours()
}

// svg draws the timeline; its ids begin with id. The same gives the same bytes.
func (t *timeline) svg(id string) ([]byte, error) {
	foot := timeHead + float64(len(t.items))*timeRow + 4
	s := &timelineSheet{ID: id, Title: "What falls due, by day", Desc: t.about(), Width: chartWide, Height: px(foot + 24)}
	var grid, edges, ways, ahead, past pen
	write := func(n note) { s.Texts = append(s.Texts, n) }
	for m := monthOf(t.from.Format(time.DateOnly)).AddDate(0, 1, 0); m.Before(t.until); m = m.AddDate(0, t.months(), 0) {
		x := t.at(m)
		grid.move(x, timeHead-8)
		grid.line(x, foot)
		if x > timeLeft+60 && x < timeRight-75 {
			write(note{X: px(x), Y: 32, Words: monthName(m.Format("2006-01")), Anchor: "middle", Soft: true})
		}
	}
	for _, x := range []float64{timeLeft, timeRight} {
		edges.move(x, timeHead-8)
		edges.line(x, foot)
	}
	write(note{X: timeLeft, Y: 15, Words: day(t.from.Format(time.DateOnly)), Anchor: "middle", Bold: true})
	write(note{X: timeRight + 26, Y: 15, Words: upper(shorten(t.ending, 24)) + ", " + day(t.until.Format(time.DateOnly)), Anchor: "end", Bold: true})
	for i, d := range t.items {
		on, _ := time.Parse(time.DateOnly, d.On)
		y := timeHead + (float64(i)+.5)*timeRow
		words := shorten(d.What, 42)
		if on.Before(t.from) {
			write(note{X: timeLeft - 14, Y: px(y + 4), Words: "due " + day(d.On), Anchor: "end"})
			arrow(&past, timeLeft-4, y)
			write(note{X: timeLeft + 12, Y: px(y + 4), Words: words + " – was due", Bold: true})
			continue
		}
		x := t.at(on)
		write(note{X: timeLeft - 14, Y: px(y + 4), Words: day(d.On), Anchor: "end", Soft: true})
		box4(&ahead, x-markWide, y-markWide, 2*markWide, 2*markWide)
		if room := wide(words) + 14; x+room < timeRight+26 {
			ways.move(timeLeft, y)
			ways.line(x-markWide, y)
			write(note{X: px(x + 12), Y: px(y + 4), Words: words})
		} else {
			write(note{X: px(x - 12), Y: px(y + 4), Words: words, Anchor: "end"})
			if x-room > timeLeft {
				ways.move(timeLeft, y)
				ways.line(x-room-4, y)
			}
		}
	}
	write(note{X: 4, Y: px(foot + 17), Words: "Dark arrow: was due before the day of the audit. Open square: the last day.", Soft: true})
	s.Grid, s.Edges, s.Ways, s.Ahead, s.Past = grid.String(), edges.String(), ways.String(), ahead.String(), past.String()
	var out bytes.Buffer
	if err := timelineTemplates.ExecuteTemplate(&out, "timeline", s); err != nil {
		return nil, fmt.Errorf("the timeline could not be drawn: %w", err)
	}
	return bytes.TrimSpace(out.Bytes()), nil
}

// months is how many months lie between two lines of the grid.
func (t *timeline) months() int { return 1 + int(t.until.Sub(t.from).Hours()/24)/300 }

// arrow points back to the days before.
func arrow(p *pen, x, y float64) {
	p.move(x-markWide, y)
	p.line(x+markWide-1, y-markWide)
	p.line(x+markWide-1, y+markWide)
}
