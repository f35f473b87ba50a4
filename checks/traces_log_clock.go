package checks

import (
	"fmt"
	"math"
	"slices"

	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/quantity"
)

// tracesLogClock is how the start of a file by its own clock lies to the start in the log.
type tracesLogClock struct {
	state       tracesLogState
	least, most float64 // s that the file is ahead of the log, at least and at most
	shown       float64 // the same as one number, for a person
}

type tracesLogState uint8

// How a start agrees with the log's.
const (
	tracesLogUnknown tracesLogState = iota // there is nothing to compare
	tracesLogAgrees
	tracesLogSteady  // off as the file before or after it is: the clock's doing
	tracesLogAlone   // off, and no other file of the sterilizer can be compared
	tracesLogUnset   // off by more than a day, as the file before or after it is, but not by the same
	tracesLogDeparts // off, and not as its neighbours are
)

// off is the least that the file is ahead, in s; below nought where it is behind.
func (c tracesLogClock) off() float64 { return max(c.least, 0) + min(c.most, 0) }

// tracesLogClocks compares the start of every file with that in the log. Files that
// were found by their start say nothing. An offset that the file before or after has
// too, within the tolerance, is the clock's: a clock that was never set to summer
// time, drifts or was set anew changes by steps, and one file alone does not.
func tracesLogClocks(x *audit.Examination) map[*practice.Traced]tracesLogClock {
	clocks := map[*practice.Traced]tracesLogClock{}
	limit, ok := x.Criterion("traces.clock", nil)
	if !ok {
		return clocks
	}
	tolerance := cyclesSeconds(limit.Quantity())
	day := quantity.Exact(1, quantity.DayU).In(quantity.Second)
	for _, files := range tracesLogByTime(x.P) {
		for _, t := range files {
			clocks[t] = tracesLogOffset(x, t)
		}
		for i, t := range files {
			c := clocks[t]
			var near []tracesLogClock
			if i > 0 {
				near = append(near, clocks[files[i-1]])
			}
			if i+1 < len(files) {
				near = append(near, clocks[files[i+1]])
			}
			like := func(n tracesLogClock) bool { return max(c.least-n.most, n.least-c.most) <= tolerance }
			wild := func(n tracesLogClock) bool { return math.Abs(n.off()) > day }
			switch {
			case math.Abs(c.off()) <= tolerance:
				c.state = tracesLogAgrees
			case near == nil:
				c.state = tracesLogAlone
			case slices.ContainsFunc(near, like):
				c.state = tracesLogSteady
			case wild(c) && slices.ContainsFunc(near, wild):
				c.state = tracesLogUnset
			default:
				c.state = tracesLogDeparts
			}
			clocks[t] = c
		}
	}
	return clocks
}

// tracesLogByTime is the files whose start can be compared with a log, for each
// sterilizer in the order of the log, the sterilizers in the order of the files.
func tracesLogByTime(p *practice.Practice) (list [][]*practice.Traced) {
	at := map[string]int{}
	for _, t := range p.Traces() {
		if t.Load == nil || t.By == "start" || t.Unread != "" || t.Unusable != "" || !t.Start.Written() {
			continue
		}
		i, known := at[t.Load.Sterilizer]
		if !known {
			i = len(list)
			at[t.Load.Sterilizer], list = i, append(list, nil)
		}
		list[i] = append(list[i], t)
	}
	for _, files := range list {
		slices.SortStableFunc(files, func(a, b *practice.Traced) int {
			return int(min(1, max(-1, a.Load.Started.First()-b.Load.Started.First())))
		})
	}
	return list
}

// tracesLogOffset compares two moments, each as wide as it is written: a bare day
// is as wide as the day. A recording that was begun when the cycle was under way says
// of the cycle's start only that it lies in the hour before.
func tracesLogOffset(x *audit.Examination, t *practice.Traced) tracesLogClock {
	start, log := tracesLogStart(x.P, t), t.Load.Started
	c := tracesLogClock{least: float64(start.First() - log.Last()), most: float64(start.Last() - log.First())}
	if tracesAirRemovalLate(x, t) {
		c.least -= quantity.Exact(1, quantity.Hour).In(quantity.Second)
	}
	c.shown = float64(start.First() - log.First())
	if !start.HasClock() || !log.HasClock() {
		c.shown = float64(start.Day()-log.Day()) * quantity.Exact(1, quantity.DayU).In(quantity.Second)
	}
	return c
}

// tracesLogStart is the start by the logger's clock, read as a clock on the wall of
// the practice.
func tracesLogStart(p *practice.Practice, t *practice.Traced) quantity.Moment {
	if there, err := quantity.ParseMoment(t.Start.String(), quantity.ISO, p.Zone); err == nil {
		return there
	}
	return t.Start
}

// start tells how the start by the file agrees with the log's.
func (c *tracesLogCase) start(clocks map[*practice.Traced]tracesLogClock) {
	clock := clocks[c.t]
	again := slices.ContainsFunc(c.P.TracesOf(c.l), func(o *practice.Traced) bool { return o != c.t && clocks[o].state == tracesLogAgrees })
	if clock.state == tracesLogUnknown || again && clock.state == tracesLogDeparts {
		return // a cycle that was begun again has another start than the log's
	}
	c.compared = clock.state == tracesLogAgrees || clock.state == tracesLogDeparts || clock.state == tracesLogSteady
	c.lost = clock.state == tracesLogAlone || clock.state == tracesLogUnset
	off, way := clock.shown, "later"
	ahead, matter := "ahead of", "clock ahead"
	if off < 0 {
		off, way, ahead, matter = -off, "earlier", "behind", "clock behind"
	}
	note := "begins " + c.t.Start.String() + " by its own clock"
	set := "Look at the logger's clock. Write down how far it is off, and the day, before you set it right; leave the old files as they are."
	switch clock.state {
	case tracesLogSteady:
		c.remark(matter, "started", fmt.Sprintf("the logger's clock is %s %s the log, for one file after another", tracesLogApart(off), ahead),
			"a clock never set right, or not to summer time, would explain it, and so would a log that has the time of loading; start times are compared with that taken off", note, off, set)
	case tracesLogAlone:
		c.remark("clock or file", "started", fmt.Sprintf("the file begins %s %s by its own clock than the log says", tracesLogApart(off), way),
			"a clock that is off would explain it, and so would the file of another cycle; with one file to go by, which of them it is cannot be told", note, off, set)
	case tracesLogUnset:
		c.remark("clock not set", "started", "the logger's clock is days off the log, and not by the same for one file after another",
			"a clock that was never set, or forgets the time when it has no power, would explain it; start times are not compared", note, 0, set,
			"If it forgets the time again, have its battery changed, and until then write the counter or the file's name into each load.")
	case tracesLogDeparts:
		c.differ("start", "started", fmt.Sprintf("the file begins %s %s by its own clock than the log says, and the files before and after it do not", tracesLogApart(off), way),
			"a time mistyped in the log, or the file of another cycle, would explain it", note, off)
	}
}

// tracesLogApart writes a distance of clocks: in days where it is a day or more,
// else to the minute.
func tracesLogApart(seconds float64) string {
	q := quantity.Exact(seconds, quantity.Second)
	if days := math.Round(q.In(quantity.DayU)); seconds >= quantity.Exact(1, quantity.DayU).In(quantity.Second) {
		return quantity.Exact(days, quantity.DayU).String()
	}
	minutes := math.Round(q.In(quantity.Minute))
	hours := math.Floor(quantity.Exact(minutes, quantity.Minute).In(quantity.Hour))
	rest := quantity.Exact(minutes-quantity.Exact(hours, quantity.Hour).In(quantity.Minute), quantity.Minute)
	switch {
	case hours == 0:
		return rest.String()
	case rest.Value == 0:
		return quantity.Exact(hours, quantity.Hour).String()
	}
	return quantity.Exact(hours, quantity.Hour).String() + " " + rest.String()
}
