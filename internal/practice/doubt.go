package practice

import (
	"math"

	"footing/internal/quantity"
)

const hour = 60 * 60 // s: what a clock is off that was not put forward or back with the season

const ofTest = "a leak test or an air-removal test that is written has its counter, or began nearer to it than any load"

// test reports whether a file is that of a leak test or an air-removal test that is
// written with no load: it has the counter of one, or began nearer to it than to the load.
func (g *Pairing) test(counter int64, at quantity.Moment, could []*Sterilizer, load *Load) bool {
	for i := range g.p.Tests {
		q := &g.p.Tests[i]
		if q.Load != "" || q.Type != "leak" && q.Type != "air-removal" || !fits(&Load{Sterilizer: q.Equipment}, could) {
			continue
		}
		away := apart(at, q.RunAt)
		switch {
		case counter >= 0 && q.Counter.Written && q.Counter.Value == float64(counter) && away <= nearCounter:
			return true
		case load != nil && at.HasClock() && q.RunAt.HasClock() && away < apart(at, load.Started):
			return true
		}
	}
	return false
}

// Doubt says why a file that was found by its start, or undated by its counter, may be
// of another cycle than its load's; "" where nothing speaks for that. Held
// says of a file without a load whether it shows a hold that is long enough.
func (p *Practice) Doubt(t *Traced, held func(*Traced) bool) string {
	switch {
	case t.By == "counter" && !t.Start.Written() && p.recounted(t.Load.Sterilizer):
		return "it has no date, and the sterilizer's counter began anew at some time"
	case t.By != "start":
		return ""
	}
	if t.Counter >= 0 && t.Load.Counter.Written && t.Load.Counter.Value != float64(t.Counter) {
		return "it has another counter than the load"
	}
	start := p.wall(t.Start)
	if p.began(t, start, 0, t.Load) {
		return "another load began within ten minutes of it too"
	}
	for _, o := range p.traces {
		if o.Load != nil || o.Sterilizer != t.Sterilizer || o.Unread != "" || o.Unusable != "" || !o.Start.HasClock() || o.Start.Day() != t.Start.Day() || !held(o) {
			continue
		}
		other := p.wall(o.Start)
		switch {
		case other.First() > start.First() && apart(other, t.Load.Started) <= hour:
			return "another file of the hour has no load, and shows a hold that is long enough"
		case p.began(o, other, hour, nil) && p.began(t, start, hour, t.Load), p.began(o, other, -hour, nil) && p.began(t, start, -hour, t.Load):
			return "with a clock that is an hour off it would be another load's, and a file of the day that has no load would have one"
		}
	}
	return ""
}

// recounted reports whether the counter of a sterilizer was set back, as written
// under upkeep or as its loads show.
func (p *Practice) recounted(sterilizer string) bool {
	for i := range p.Upkeep {
		if p.Upkeep[i].Equipment == sterilizer && p.Upkeep[i].CounterAfter.Written {
			return true
		}
	}
	most := math.Inf(-1)
	for _, l := range p.LoadsByTime() {
		if l.Sterilizer != sterilizer || !l.Counter.Written {
			continue
		}
		if l.Counter.Value < most {
			return true
		}
		most = l.Counter.Value
	}
	return false
}

// wall is a logger's clock read as that of the practice.
func (p *Practice) wall(m quantity.Moment) quantity.Moment { return (&Pairing{p: p}).local(m) }

// began reports whether a load of the file's sterilizer, other than one, began within
// ten minutes of a moment that is put on by so many seconds.
func (p *Practice) began(t *Traced, at quantity.Moment, by int64, than *Load) bool {
	for _, l := range p.loadsAround(at.First()+by, at.Last()+by) {
		away := max(l.Started.First()-at.Last()-by, at.First()+by-l.Started.Last())
		if l != than && away <= nearStart && l.Started.HasClock() && (t.Sterilizer == nil || fits(l, []*Sterilizer{t.Sterilizer})) {
			return true
		}
	}
	return false
}
