package checks

import (
	"cmp"
	"fmt"
	"slices"

	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/quantity"
	"footing/internal/steam"
)

var _ = define(audit.Check{
	ID:    "traces/lethality",
	Title: "the heat that each cycle gave was counted from its data-logger file: a second opinion, and never a ground for release",
	Why: "F0 adds up what every moment of heat is worth, in minutes at one reference temperature; FH does so for dry heat. It is a second opinion, and never a ground for release: it knows nothing of air that stayed in, of wet packs, of what the sensor did not feel, or of whether the load was clean, and a short hold is not made good by slow heating. " +
		"For dry heat it is shown and never judged: the published pairs of time and temperature are not equally lethal. No data-logger file overrules a spore test.",
	Grades:  []audit.Grade{audit.Observation},
	Subject: "sterilizers", Thing: "data-logger file", Things: "data-logger files",
	Needs: []string{"traces"},
	Helps: []string{"sterilizers", "programs", "loads.program", "tests.result"},
	Uses:  []string{"traces.reference", "traces.error", "cycles.exposure", "cycles.dry-heat"},
	Fix: []string{
		"Go by the hold, the indicators, the spore tests and the maker's program; see traces/hold for the files named here.",
		"Release no load because its F0 is high, and write no F0 into the log as a reason for a release.",
		"Show the numbers to your service firm or validation engineer, who may ask for them.",
	},
	Verify: "Later files whose hold alone gives at least what its exposure is worth.",
	Watch: func(x *audit.Examination, t *practice.Traced) steam.Setting {
		s := tracesSetting(x, t)
		s.Scale, _ = tracesLethalityScale(x, t)
		return s
	},
	Run: func(x *audit.Examination) {
		var all []tracesLethalityOf
		tracesEachOf(x, tracesMethods, func(subject audit.Subject, t *practice.Traced) {
			q := tracesLethalityCount(x, t)
			all = append(all, q)
			if q.t.Sterilizer.Method == "steam" && q.needed > 0 && q.hold < q.needed && q.short && !t.OfTest {
				x.NotMet(subject, tracesLethalityLow(&q))
				return
			}
			x.Met(subject)
		})
		tracesLethalityShow(x, all, "F0", "steam")
		tracesLethalityShow(x, all, "FH", "dry-heat")
		tracesLethalitySpores(x)
	},
})

// tracesLethalityScale is F0 at the reference that holds, for dry heat FH; with the
// reference in words.
func tracesLethalityScale(x *audit.Examination, t *practice.Traced) (scale steam.Scale, reference string) {
	if tracesSteam(t) == quantity.No {
		return steam.FH, fmt.Sprintf("%g °C", steam.FH.Reference)
	}
	scale = steam.F0
	c, ok := x.Criterion("traces.reference", nil)
	if !ok {
		return scale, fmt.Sprintf("%g °C", scale.Reference)
	}
	scale.Reference = c.Quantity().In(quantity.Celsius)
	return scale, c.Value()
}

// tracesLethalityOf is what one file gave, in minutes at the reference.
type tracesLethalityOf struct {
	t           *practice.Traced
	hold, whole float64
	needed      float64 // what the exposure alone gives at its set temperature; 0 where none is known
	short       bool    // a set temperature was reached, and surely not held as long as the exposure
	set         string  // "3.5 min at 134 °C"
	scale       steam.Scale
	reference   string
}

func tracesLethalityCount(x *audit.Examination, t *practice.Traced) tracesLethalityOf {
	q := tracesLethalityOf{t: t, whole: tracesMinutes(t.Cycle.Lethality)}
	q.scale, q.reference = tracesLethalityScale(x, t)
	h, _ := tracesSet(x, t)
	if h == nil {
		return q
	}
	q.hold = tracesMinutes(h.Lethality)
	at, needed, ok := tracesLethalityNeed(x, t, h.Level)
	if !ok {
		return q
	}
	q.short = h.Reached && h.Most < cyclesSeconds(needed)
	q.set = needed.String() + " at " + at.String()
	q.needed = tracesMinutes(q.scale.Segment(h.Level, h.Level, cyclesSeconds(needed)))
	return q
}

// tracesLethalityNeed is the exposure that the hold at a set temperature is put
// beside: the named program's, else the shortest that a program or table asks there.
func tracesLethalityNeed(x *audit.Examination, t *practice.Traced, level float64) (at, needed quantity.Quantity, ok bool) {
	if t.Program != nil {
		return t.Program.Temperature, t.Program.Exposure, true
	}
	see := func(a, n quantity.Quantity) {
		if a.In(quantity.Celsius) == level && (!ok || cyclesSeconds(n) < cyclesSeconds(needed)) {
			at, needed, ok = a, n, true
		}
	}
	for _, g := range tracesPrograms(x.P, t) {
		see(g.Temperature, g.Exposure)
	}
	for _, c := range x.Every(tracesTable(t)) {
		for _, row := range c.Steps() {
			see(row[0], row[1])
		}
	}
	return at, needed, ok
}

func tracesMinutes(seconds float64) float64 {
	return quantity.Exact(seconds, quantity.Second).In(quantity.Minute)
}

func tracesLethalityLow(q *tracesLethalityOf) audit.Fault {
	return audit.Fault{Grade: audit.Observation, Matter: "less than its exposure", Day: tracesDay(q.t), Weight: q.needed - q.hold,
		Found: fmt.Sprintf("the hold gives an F0 of %.1f min (reference %s), and %s alone gives %.1f min", q.hold, q.reference, q.set, q.needed),
		Needed: fmt.Sprintf("the whole cycle with heating and cooling gives %.1f min, which does not make up for a short hold: F0 is a second opinion, and never a ground for release",
			q.whole),
		Evidence: []audit.Evidence{audit.InTrace(q.t, 0, fmt.Sprintf("F0 of the hold %.1f min, of the whole %.1f min", q.hold, q.whole))}}
}

// tracesLethalityShow shows the figures and the lowest of all files of one method.
func tracesLethalityShow(x *audit.Examination, all []tracesLethalityOf, name, method string) {
	var of []tracesLethalityOf
	var values []float64
	for _, q := range all {
		if q.t.Sterilizer.Method == method {
			of, values = append(of, q), append(values, q.hold)
		}
	}
	if len(of) == 0 {
		return
	}
	tracesSpread(x, name+" of the hold (reference "+of[0].reference+")", "min", values)
	slices.SortStableFunc(of, func(a, b tracesLethalityOf) int { return cmp.Compare(a.hold, b.hold) })
	var rows [][]string
	for i := range of {
		rows = append(rows, tracesLethalityRow(&of[i]))
	}
	x.Show(name+" of each file, lowest first, in minutes at "+of[0].reference+": a second opinion, and never a ground for release",
		[]string{"data-logger file", "load", "in the hold", "in the whole file", "what the exposure alone gives"}, rows)
}

func tracesLethalityRow(q *tracesLethalityOf) []string {
	load, alone := "none found", "not known"
	if q.t.Load != nil {
		load = practice.Key(&q.t.Load.Row)
	}
	if q.needed > 0 {
		alone = fmt.Sprintf("%.1f (%s)", q.needed, q.set)
	}
	return []string{q.t.Name, load, fmt.Sprintf("%.1f", q.hold), fmt.Sprintf("%.1f", q.whole), alone}
}
