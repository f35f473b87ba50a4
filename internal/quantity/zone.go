package quantity

import (
	"time"
	_ "time/tzdata" // zones must be known on machines that have no zone files
)

// naive returns the seconds from 1970 to the local clock, were it Greenwich's.
func naive(d Day, second int) int64 { return int64(d-unixEpoch)*86400 + int64(second) }

func offsetAt(unix int64, loc *time.Location) int64 {
	_, o := time.Unix(unix, 0).In(loc).Zone()
	return int64(o)
}

// resolve returns the instants that a local clock can mean: one; or where the
// clock was put back, the first and the second; or where it was put forward and
// that time left out, what the old and the new clock would make of it, with gap true.
func resolve(local int64, loc *time.Location) (lo, hi int64, gap bool) {
	// No zone is changed twice within two days, so the offsets a day before and
	// a day after are the two that can hold.
	before, after := offsetAt(local-86400, loc), offsetAt(local+86400, loc)
	if before == after {
		return local - before, local - before, false
	}
	a, b := local-before, local-after
	aHolds, bHolds := offsetAt(a, loc) == before, offsetAt(b, loc) == after
	switch {
	case aHolds && !bHolds:
		return a, a, false
	case bHolds && !aHolds:
		return b, b, false
	}
	return min(a, b), max(a, b), !aHolds
}

// dayStart returns the first instant of a local day.
func dayStart(d Day, loc *time.Location) int64 {
	lo, hi, gap := resolve(naive(d, 0), loc)
	if !gap {
		return lo
	}
	// Midnight was left out: the day begins when the clock was put forward.
	start, _ := time.Unix(hi, 0).In(loc).ZoneBounds()
	return start.Unix()
}

// dayBounds returns the first and last second of a local day. Where the clock is
// put back over midnight, what the next day already began lies within. A day that
// the calendar of the place left out covers what either clock would make of it.
func dayBounds(d Day, loc *time.Location) (first, last int64) {
	first = dayStart(d, loc)
	_, last, gap := resolve(naive(d, 86399), loc)
	if gap {
		last = dayStart(d+1, loc) - 1
	}
	if last < first {
		first, _, _ = resolve(naive(d, 0), loc)
		_, last, _ = resolve(naive(d, 86399), loc)
	}
	return first, last
}
