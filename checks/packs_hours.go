package checks

import (
	"footing/internal/audit"
	"footing/internal/chain"
	"footing/internal/quantity"
)

// packsHours compares the hour at which a pack was used with times of its load, which
// were read off another clock.
type packsHours struct {
	clock chain.Clock
	visit chain.Clock // the same, where only the start of the visit is written
}

func packsHoursOf(x *audit.Examination) packsHours {
	h := packsHours{clock: monitoringClock(x)}
	if c, ok := x.Criterion("packs.visit-longest", nil); ok {
		h.visit.Tolerance = quantity.Exact(cyclesSeconds(c.Quantity())+cyclesSeconds(h.clock.Tolerance), quantity.Second)
	}
	return h
}

// early reports whether a pack was surely used before a time of its load: it was
// opened before it, or the visit that names it was over by then, by more than the
// clocks may differ. A visit with no end written is taken to last as long as visits can.
func (h packsHours) early(u packsUse, at quantity.Moment) bool {
	switch {
	case u.byOpening():
		return packsBefore(h.clock, u.at(), at) && u.agrees(at)
	case u.visit.Ended.Written() && quantity.Before(u.visit.Ended, u.visit.Started) != quantity.Yes:
		return packsBefore(h.clock, u.visit.Ended, at)
	}
	return packsBefore(h.visit, u.at(), at)
}

// agrees reports whether the visit that names an opened pack, if any, does not speak
// for a later use: its day and the opening's are the same, and it began before that
// time, or its day lies before it as well.
func (u packsUse) agrees(at quantity.Moment) bool {
	switch {
	case u.visit == nil:
		return true
	case u.visit.Started.Day() != u.day():
		return u.visit.Started.Day() < at.Day()
	}
	return quantity.Before(u.visit.Started, at) != quantity.No
}

// late reports whether a pack was used after a time of its load, as written.
func (h packsHours) late(u packsUse, at quantity.Moment) bool {
	if used := u.at(); used.HasClock() && at.HasClock() {
		return quantity.Before(used, at) == quantity.No
	}
	return u.day() > at.Day()
}

// packsBefore reports whether one time surely came before another. Days do not drift
// as clocks do: where an hour is not written, an earlier day is enough.
func packsBefore(c chain.Clock, used, at quantity.Moment) bool {
	if used.HasClock() && at.HasClock() {
		return c.Before(used, at) == quantity.Yes
	}
	return used.Day() < at.Day()
}

// ahead is by how many seconds a use lies before a time.
func (u packsUse) ahead(at quantity.Moment) float64 { return float64(at.First() - u.at().First()) }
