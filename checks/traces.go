package checks

import (
	"math"

	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/quantity"
	"footing/internal/steam"
)

// tracesSubject is what findings about a data-logger file are grouped by: its sterilizer.
func tracesSubject(t *practice.Traced) audit.Subject {
	if t.Sterilizer == nil {
		return audit.Whole
	}
	return audit.About("sterilizers", &t.Sterilizer.Row)
}

// tracesEach calls look for each file that can be judged and whose load, if it has
// one, was not rejected and does not wait for a decision. What cannot be judged is
// told under traces/readable, and is unclear here.
func tracesEach(x *audit.Examination, look func(audit.Subject, *practice.Traced)) {
	x.Nothing("no data-logger file is of a load that was not rejected and does not wait for a decision")
	for _, t := range x.P.Traces() {
		switch {
		case t.Load != nil && (t.Load.Decision == "rejected" || t.Load.Decision == "pending"):
			x.Pass()
		case t.Unread != "" || t.Unusable != "":
			x.Unclear(tracesSubject(t), "the data-logger file cannot be judged: see traces/readable")
		default:
			look(tracesSubject(t), t)
		}
	}
}

// tracesDay is the day of a file: its load's, else its own; 0 where neither is known.
func tracesDay(t *practice.Traced) quantity.Day {
	if t.Load != nil {
		return t.Load.Started.Day()
	}
	return t.Start.Day()
}

// tracesSteam reports whether the file is of a steam sterilizer: Unsure where no
// sterilizer is known.
func tracesSteam(t *practice.Traced) quantity.Tri {
	switch {
	case t.Sterilizer == nil:
		return quantity.Unsure
	case t.Sterilizer.Method == "steam":
		return quantity.Yes
	}
	return quantity.No
}

// tracesError is how far a reading may lie from the truth, in K: the sterilizer's
// tolerance where it is given, else what a criterion grants; and half the last digit.
func tracesError(x *audit.Examination, t *practice.Traced) float64 {
	if t.Sterilizer != nil && t.Sterilizer.SensorTolerance.Written() {
		return t.Sterilizer.SensorTolerance.In(quantity.KelvinD) + t.TemperatureHalf()
	}
	if c, ok := x.Criterion("traces.error", nil); ok {
		return c.Quantity().In(quantity.KelvinD) + t.TemperatureHalf()
	}
	return t.TemperatureHalf()
}

// tracesTolerance is the sterilizer's own sensor tolerance in K, 0 where not given:
// only then must a pass hold over it too.
func tracesTolerance(t *practice.Traced) float64 {
	if t.Sterilizer != nil && t.Sterilizer.SensorTolerance.Written() {
		return t.Sterilizer.SensorTolerance.In(quantity.KelvinD)
	}
	return 0
}

// tracesLevels are the set temperatures, in °C, that a file may have been run at:
// its program's, and each row of the tables that could hold for its method.
func tracesLevels(x *audit.Examination, t *practice.Traced) (levels []float64) {
	if t.Program != nil {
		levels = append(levels, t.Program.Temperature.In(quantity.Celsius))
	}
	ids := map[quantity.Tri][]string{quantity.Yes: {"cycles.exposure"}, quantity.No: {"cycles.dry-heat"}, quantity.Unsure: {"cycles.exposure"}}[tracesSteam(t)]
	for _, id := range ids {
		for _, c := range x.Every(id) {
			for _, row := range c.Steps() {
				levels = append(levels, row[0].In(quantity.Celsius))
			}
		}
	}
	return levels
}

// tracesSet is the hold at the temperature that the file's cycle was set to: the
// program's; else the hottest row of any table at which it was held for as long as
// any table asks there, else the hottest at which it was held at all. Nil where
// it was held at none; sure is false where the temperature was concluded.
func tracesSet(x *audit.Examination, t *practice.Traced) (hold *steam.Hold, sure bool) {
	if t.Program != nil {
		return tracesHold(t, t.Program.Temperature.In(quantity.Celsius)), true
	}
	for i := len(t.Cycle.Holds) - 1; i >= 0; i-- {
		h := &t.Cycle.Holds[i]
		if h.Reached && hold == nil {
			hold = h
		}
		if h.Reached && h.Most >= tracesShortest(x, t, h.Level) {
			return h, false
		}
	}
	return hold, false
}

// tracesShortest is the shortest time, in s, that any table asks at exactly that temperature.
func tracesShortest(x *audit.Examination, t *practice.Traced, level float64) float64 {
	shortest := math.Inf(1)
	id := "cycles.exposure"
	if tracesSteam(t) == quantity.No {
		id = "cycles.dry-heat"
	}
	for _, c := range x.Every(id) {
		for _, row := range c.Steps() {
			if row[0].In(quantity.Celsius) == level {
				shortest = min(shortest, cyclesSeconds(row[1]))
			}
		}
	}
	return shortest
}

// tracesHold is the hold at a level that was watched; nil for any other.
func tracesHold(t *practice.Traced, level float64) *steam.Hold {
	for i := range t.Cycle.Holds {
		if t.Cycle.Holds[i].Level == level {
			return &t.Cycle.Holds[i]
		}
	}
	return nil
}
