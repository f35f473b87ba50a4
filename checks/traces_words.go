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
// anything was used, and of a load without a decision not either: then it is not
// assessed, and an observation.
func tracesNotMet(x *audit.Examination, subject audit.Subject, t *practice.Traced, f audit.Fault) {
	switch {
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
		return fmt.Sprintf("%s was never reached: the hottest reading is %.1f °C", at, t.Cycle.Highest)
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

// tracesSpread shows the least, the middle and the greatest of some numbers, and
// how many files they are of.
func tracesSpread(x *audit.Examination, what, unit string, values []float64) {
	if len(values) == 0 {
		return
	}
	slices.Sort(values)
	last := len(values) - 1
	x.Figure(what+", least", values[0], unit)
	x.Figure(what+", the middle one", values[last>>1], unit)
	x.Figure(what+", greatest", values[last], unit)
	x.Figure(what+", of so many", float64(len(values)), "files")
}
