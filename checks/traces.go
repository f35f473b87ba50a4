package checks

import (
	"math"
	"slices"

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

// tracesEachOf calls look for each file of tracesEach whose sterilizer works by
// one of the methods. Files of other methods lie outside; those whose sterilizer
// cannot be told are unclear.
func tracesEachOf(x *audit.Examination, methods []string, look func(audit.Subject, *practice.Traced)) {
	defer x.Nothing("each data-logger file is of a sterilizer for which this does not apply, or of a load that was rejected or waits for a decision")
	tracesEach(x, func(subject audit.Subject, t *practice.Traced) {
		switch {
		case t.Sterilizer == nil:
			x.Unclear(subject, "which sterilizer the data-logger file is of cannot be told", audit.Field{Kind: "sterilizers"})
		case slices.Contains(methods, t.Sterilizer.Method):
			look(subject, t)
		default:
			x.Pass()
		}
	})
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
// No program is more exact than it is written: one of 135 °C may work at 134.6 °C, and
// 250 °F is a little more than 121 °C, however exact the sensor.
func tracesError(x *audit.Examination, t *practice.Traced) float64 {
	if t.Sterilizer != nil && t.Sterilizer.SensorTolerance.Written() {
		kelvin := t.Sterilizer.SensorTolerance.In(quantity.KelvinD)
		if g := t.Program; g != nil {
			kelvin = max(kelvin, g.Temperature.In(quantity.Celsius)-g.Temperature.Low(quantity.Celsius))
		}
		return kelvin + t.TemperatureHalf()
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

// tracesTable is the criterion whose rows are set temperatures and times for the
// method of the file's sterilizer.
func tracesTable(t *practice.Traced) string {
	if tracesSteam(t) == quantity.No {
		return "cycles.dry-heat"
	}
	return "cycles.exposure"
}

// tracesPrograms are every program that is typed of the file's sterilizer, that
// which the load or the file names first. One that is not named may have run only
// where none is, or where the named one does not fit.
func tracesPrograms(p *practice.Practice, t *practice.Traced) (all []*practice.Program) {
	if t.Program != nil {
		all = append(all, t.Program)
	}
	if t.Sterilizer == nil {
		return all
	}
	for i := range p.Programs {
		if g := &p.Programs[i]; g != t.Program && g.Sterilizer == practice.Key(&t.Sterilizer.Row) {
			all = append(all, g)
		}
	}
	return all
}

// tracesLevels are the set temperatures, in °C and rising, that a file may have
// been run at: those of the sterilizer's programs, and each row of the tables that
// could hold for its method.
func tracesLevels(x *audit.Examination, t *practice.Traced) []float64 {
	type alike struct {
		sterilizer *practice.Sterilizer
		program    *practice.Program
	}
	return audit.Once(x, alike{t.Sterilizer, t.Program}, func() []float64 { return tracesLevelsOf(x, t) })
}

func tracesLevelsOf(x *audit.Examination, t *practice.Traced) (levels []float64) {
	for _, g := range tracesPrograms(x.P, t) {
		levels = append(levels, g.Temperature.In(quantity.Celsius))
	}
	for _, c := range x.Every(tracesTable(t)) {
		for _, row := range c.Steps() {
			levels = append(levels, row[0].In(quantity.Celsius))
		}
	}
	slices.Sort(levels)
	return slices.Clip(slices.Compact(levels))
}

// tracesSetting is what every check of a hold wants measured: the levels, and how
// far off a reading may lie. A check that uses it uses traces.error,
// cycles.exposure and cycles.dry-heat.
func tracesSetting(x *audit.Examination, t *practice.Traced) steam.Setting {
	type alike struct {
		sterilizer *practice.Sterilizer
		program    *practice.Program
		half       float64
	}
	return audit.Once(x, alike{t.Sterilizer, t.Program, t.TemperatureHalf()}, func() steam.Setting {
		return steam.Setting{Levels: tracesLevels(x, t), Below: tracesError(x, t), Above: tracesTolerance(t)}
	})
}

// tracesSet is the hold at the temperature that the file's cycle was set to: that
// of the program which the load or the file names; else the one concluded from the
// rows of the tables and the programs that are typed. Nil where it was held at none;
// sure is false where the temperature was concluded.
func tracesSet(x *audit.Examination, t *practice.Traced) (hold *steam.Hold, sure bool) {
	if t.Program != nil {
		return tracesHold(t, t.Program.Temperature.In(quantity.Celsius)), true
	}
	levels := tracesLevels(x, t)
	hold, _ = t.Cycle.Concluded(func(level float64) (float64, bool) {
		return tracesShortest(x, t, level), slices.Contains(levels, level)
	})
	return hold, false
}

// tracesShortest is the shortest time, in s, that any table or program asks at
// exactly that temperature.
func tracesShortest(x *audit.Examination, t *practice.Traced, level float64) float64 {
	shortest := math.Inf(1)
	ask := func(at, needed quantity.Quantity) {
		if at.In(quantity.Celsius) == level {
			shortest = min(shortest, cyclesSeconds(needed))
		}
	}
	for _, g := range tracesPrograms(x.P, t) {
		ask(g.Temperature, g.Exposure)
	}
	for _, c := range x.Every(tracesTable(t)) {
		for _, row := range c.Steps() {
			ask(row[0], row[1])
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

// tracesBeyond are the seconds beyond a limit, of distances that were watched and
// the seconds beyond each: those of the least distance that is not below the limit.
func tracesBeyond(watched, seconds []float64, limit float64) float64 {
	for i, d := range watched {
		if d >= limit && i < len(seconds) {
			return seconds[i]
		}
	}
	return 0
}

// tracesCut reports whether how long a hold lasted is not known, since time at or
// above the level may lie before the first reading or after the last, since the
// sensor leapt as no chamber does, or since the file cannot be relied on as whole:
// its clock was set, or its end is torn off.
func tracesCut(t *practice.Traced, h *steam.Hold) bool {
	for _, p := range t.Problems {
		if p.Grave {
			return true
		}
	}
	return h.OpenStart || h.OpenEnd || h.Leapt
}

// tracesAir is the pressure of the air outside, in kPa absolute, by the standard
// atmosphere at the altitude of the site, or at the sea where none is written.
func tracesAir(p *practice.Practice, t *practice.Traced) float64 {
	altitude, _ := p.AltitudeOf(t.Sterilizer)
	var metres float64
	if altitude.Written() {
		metres = altitude.In(quantity.Metre)
	}
	if air, err := steam.Atmosphere(metres); err == nil {
		return air
	}
	air, _ := steam.Atmosphere(0)
	return air
}
