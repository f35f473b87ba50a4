package checks

import (
	"fmt"
	"slices"

	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/quantity"
	"footing/internal/steam"
)

// tracesNotMet tells of a fault. Of a file without a load nobody knows that
// anything was used, and of a load without a decision not either; nor is it known of
// which cycle a file is that was found by its start or counter, where another could be
// meant: then it is not assessed, and an observation.
func tracesNotMet(x *audit.Examination, subject audit.Subject, t *practice.Traced, f audit.Fault) {
	doubt := x.P.Doubt(t, func(o *practice.Traced) bool { return (&tracesHoldRun{Examination: x}).question(o).holds() })
	switch {
	case doubt != "" && t.Load.Decision != "":
		x.Unclear(subject, "the data-logger file was found by its "+t.By+" alone, and may be that of another cycle", audit.Field{Kind: "loads", Name: "trace"})
		f.Grade, f.Matter, f.By = audit.Observation, f.Matter+" found by its "+t.By, nil
		f.Found += ", in a file that was found by its " + t.By + " alone"
		f.Needed += "; " + doubt
		f.Steps = tracesDoubted
		x.Remark(subject, f)
	case t.OfTest:
		x.Unclear(subject, "the data-logger file is that of a leak test or an air-removal test, of which nothing is used")
	case t.Load == nil:
		x.Unclear(subject, "no load was found for the data-logger file, so whether anything of it was used cannot be told", audit.Field{Kind: "loads", Name: "trace"})
		f.Grade, f.Matter, f.By = audit.Observation, f.Matter+" without a load", nil
		f.Found += ", in a file for which no load was found"
		f.Steps = tracesStray
		x.Remark(subject, f)
	case t.Load.Decision == "":
		cyclesUndecided(x, subject, f)
	default:
		x.NotMet(subject, f)
	}
}

// tracesStray is what to do about a file that has no load.
var tracesStray = []string{
	"Look into the log book: what ran then? A test cycle, a warm-up or a cycle that was broken off would explain the file, and nothing of it was used.",
	"If it was a load, write the name of the file into its row (trace), or its counter, and audit again.",
	"If packs of it are on the shelf or were used, set those aside and treat it as any load of which this is found, until you know more.",
}

// tracesDoubted is what to do about a file that may be of another cycle than its load's.
var tracesDoubted = []string{
	"Compare the file with the printout or the display's history: is it of this load, of a test or warm-up, or of a cycle that was broken off?",
	"Write the name of the load's own file into its row (trace), and audit again.",
	"If this file is the load's, set its packs aside and treat it as any load of which this is found, until you know more.",
}

// tracesBetween writes the bounds of a time: "2 min 40 s to 3 min 0 s".
func tracesBetween(least, most float64) string {
	if low, high := audit.Lasted(least), audit.Lasted(most); low != high {
		return low + " to " + high
	}
	return audit.Lasted(least)
}

// tracesLevel writes a set temperature as the program that may have run does, else in °C.
func tracesLevel(p *practice.Practice, t *practice.Traced, level float64) string {
	for _, g := range tracesPrograms(p, t) {
		if g.Temperature.In(quantity.Celsius) == level {
			return g.Temperature.String()
		}
	}
	return fmt.Sprintf("%.4g °C", level)
}

// tracesHeld says how long a hold at a set temperature lasted.
func tracesHeld(t *practice.Traced, h *steam.Hold, at string) string {
	if h.Most == 0 {
		return fmt.Sprintf("%s was never reached: the hottest reading%s is %.1f °C", at, tracesColdest(t), t.Cycle.Highest)
	}
	s := "held at or above " + at + " for " + tracesBetween(h.Least, h.Most) + " without a break"
	switch {
	case h.Gaps == 1:
		s += ", with a gap in the readings"
	case h.Gaps > 1:
		s += fmt.Sprintf(", with %d gaps in the readings", h.Gaps)
	}
	return s
}

// tracesSensors is how many temperatures of a file are judged.
func tracesSensors(t *practice.Traced) (n int) {
	for _, c := range t.Columns {
		if c.Unit.Dimension() == quantity.Temperature && c.Ignored == "" {
			n++
		}
	}
	return n
}

// tracesColdest says whose reading it is where a file has several sensors.
func tracesColdest(t *practice.Traced) string {
	if tracesSensors(t) > 1 {
		return " of the coldest sensor"
	}
	return ""
}

// tracesDisagree reports whether a sensor was as hot as a level while the coldest was
// cooler by more than the errors of both could make: perhaps it is of another place
// than the chamber.
func tracesDisagree(x *audit.Examination, t *practice.Traced, level float64) bool {
	off := tracesError(x, t)
	return tracesSensors(t) > 1 && t.Cycle.Warmest >= level && t.Cycle.Warmest-t.Cycle.Highest > off+off
}

// tracesSpread shows the middle one of some numbers, with the least and the
// greatest, and how many files they are of.
func tracesSpread(x *audit.Examination, what, unit string, values []float64) {
	if len(values) == 0 {
		return
	}
	slices.Sort(values)
	last := len(values) - 1
	of := fmt.Sprintf("the middle one of %d files", len(values))
	if last == 0 {
		of = "of one file"
	}
	x.Range(what+", "+of, values[last>>1], values[0], values[last], unit)
}
