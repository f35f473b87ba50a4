package chain

import (
	"sort"

	"footing/internal/practice"
	"footing/internal/quantity"
)

// place is where something stands in time. own is true for a time that the log of
// the sterilizer gives: two of those were read off one clock.
type place struct {
	at  quantity.Moment
	own bool
}

// before reports whether a surely came before b.
func (h *History) before(a, b place) bool {
	if a.own && b.own {
		return quantity.Before(a.at, b.at) == quantity.Yes
	}
	return h.terms.Clock.Before(a.at, b.at) == quantity.Yes
}

// witness is one piece of evidence. It stands at the earliest at from and at the
// latest at until, which differ where a test names a load of an earlier day than it
// says it was run. What has no time of day has a day alone.
type witness struct {
	proof       Proof
	day         quantity.Day // of from
	from, until place
	ran         []*practice.Load // what it shows by itself: the loads that it is or ran in
	named       bool             // that is written, and not concluded from times
	first       bool             // nothing of its day can have come before it
}

// of makes the witness that of a spore test.
func (w witness) of(a *Assay) witness {
	w.proof = Proof{Kind: Spores, Row: &a.Test.Row, Field: "run_at", Assay: a}
	return w
}

// begins is the proof as the beginning of a window; ends as its end.
func (w *witness) begins() Proof {
	p := w.proof
	p.At, p.Day = w.from.at, w.day
	return p
}

func (w *witness) ends() Proof {
	p := w.proof
	p.At, p.Day = w.until.at, w.until.at.Day()
	return p
}

func (h *History) ofLoad(l *practice.Load) witness {
	at := place{l.Started, l.Sterilizer == h.key}
	return witness{day: l.Started.Day(), from: at, until: at, ran: []*practice.Load{l}, named: true}
}

// linker makes a function that finds where a test of the sterilizer stands: in the load
// that it names, else in the one of its day with its counter, else in what ran while
// it was run.
func linker(h *History, own []*practice.Load) func(*practice.Test) witness {
	named := func(t *practice.Test) *practice.Load {
		if l, state := h.p.Load(t.Load); state == practice.One && (l.Sterilizer == h.key || !h.named(l.Sterilizer)) {
			return l
		}
		if !t.Counter.Written {
			return nil
		}
		var found *practice.Load
		for _, l := range onDay(own, t.RunAt.Day()) {
			if l.Counter == t.Counter {
				if found != nil {
					return nil
				}
				found = l
			}
		}
		return found
	}
	return func(t *practice.Test) witness {
		at := place{at: t.RunAt}
		w := witness{day: t.RunAt.Day(), from: at, until: at}
		l := named(t)
		switch {
		case l == nil || l.Started.Day() > t.RunAt.Day(): // it cannot have run in a load of a later day
			for _, l := range onDay(own, t.RunAt.Day()) {
				if within(t.RunAt, l) {
					w.ran = append(w.ran, l)
				}
			}
		case l.Started.Day() < t.RunAt.Day():
			w = h.ofLoad(l)
			w.until = at
		default:
			w = h.ofLoad(l)
		}
		return w
	}
}

// within reports whether a load surely ran at a moment.
func within(at quantity.Moment, l *practice.Load) bool {
	if !at.HasClock() || !l.Started.HasClock() {
		return false
	}
	return at == l.Started || l.Ended.HasClock() && l.Started.First() <= at.First() && at.Last() <= l.Ended.Last()
}

// onDay cuts out of loads by time those that began on a day.
func onDay(loads []*practice.Load, day quantity.Day) []*practice.Load {
	return loads[since(loads, day):since(loads, day.AddDays(1))]
}

// since is the index of the first of loads by time that began on a day or later.
func since(loads []*practice.Load, day quantity.Day) int {
	return sort.Search(len(loads), func(i int) bool { return loads[i].Started.Day() >= day })
}
