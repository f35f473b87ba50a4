package checks

import (
	"slices"
	"strings"

	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/quantity"
	"footing/internal/steam"
)

var _ = define(audit.Check{
	ID:    "traces/log",
	Title: "the log and the data-logger file of each load agree",
	Why: "Log and file are two witnesses of one cycle. Where they differ, one of them was written from habit, misread, or is of another cycle. " +
		"A value in the log that is the program's own is a set value: it agrees as long as the file shows at least that much. A logger's clock that is off by the same for one file after another is told once, and is no fault of the log.",
	Grades:  []audit.Grade{audit.Minor, audit.Observation},
	Subject: "sterilizers", Thing: "data-logger file", Things: "data-logger files",
	Needs: []string{"traces", "loads"},
	Helps: []string{"loads.trace", "loads.counter", "loads.started", "loads.temperature", "loads.exposure", "loads.pressure", "loads.decision", "programs", "practice.altitude", "sterilizers.sensor_tolerance"},
	Uses:  []string{"traces.clock", "traces.longer", "traces.error", "cycles.exposure", "cycles.dry-heat"},
	Fix: []string{
		"Look first whether the file is that of the load: compare day, hour, counter and program with the printout or the display's history. If it is another's, correct the load's row (trace or counter) with a new row of today's date.",
		"If the log has a value misread or written from habit, write what the file or the printout shows as a new row with today's date, and say so in its note.",
		"Change neither the file nor the old row, and set no clock back to make them fit.",
		"Where the file shows less than was needed, go by what traces/hold says of the load.",
		"From today on, write what the display or printout shows during the hold, not what the program sets.",
	},
	Verify: "The rows of the next loads have the values that their files show.",
	Watch: func(x *audit.Examination, t *practice.Traced) steam.Setting {
		s := tracesSetting(x, t)
		if t.Load != nil && t.Load.Temperature.Written() {
			s.Levels = append(s.Levels, tracesLogLow(t.Load).In(quantity.Celsius))
		}
		return s
	},
	Run: func(x *audit.Examination) {
		clocks := tracesLogClocks(x)
		same := cyclesPressureHabits(x.P)
		stray := false
		tracesEach(x, func(subject audit.Subject, t *practice.Traced) {
			if t.Load == nil {
				stray = true
				x.Pass()
				return
			}
			c := &tracesLogCase{Examination: x, t: t, l: t.Load, habit: same[cyclesPressureKey(t.Load)]}
			c.start(clocks)
			c.values()
			c.tell(subject)
		})
		if stray {
			x.Nothing("no data-logger file has a load in the log")
		}
	},
})

// tracesLogCase is one file held against its row in the log.
type tracesLogCase struct {
	*audit.Examination
	t *practice.Traced
	l *practice.Load
	// habit says that the log has one and the same pressure on every row.
	habit bool

	compared bool
	lost     bool          // the logger's clock cannot be relied on
	cold     bool          // found by its start alone, and never hot: perhaps the file of a test
	faults   []audit.Fault // what does not agree
	remarks  []audit.Fault
}

// differ adds one thing that does not agree; note says what the file shows.
func (c *tracesLogCase) differ(matter, field, found, needed, note string, weight float64) {
	c.faults = append(c.faults, c.fault(audit.Minor, matter, field, found, needed, note, weight))
}

// remark adds something to know that is no disagreement.
func (c *tracesLogCase) remark(matter, field, found, needed, note string, weight float64, steps ...string) {
	f := c.fault(audit.Observation, matter, field, found, needed, note, weight)
	f.Steps = steps
	c.remarks = append(c.remarks, f)
}

func (c *tracesLogCase) fault(g audit.Grade, matter, field, found, needed, note string, weight float64) audit.Fault {
	return audit.Fault{Grade: g, Matter: matter, Found: found, Needed: needed, Weight: weight, Day: tracesDay(c.t),
		Evidence: []audit.Evidence{audit.InTrace(c.t, 0, note), audit.At(&c.l.Row, field, "the log")}}
}

// tell says what the case came to. Several disagreements of one file are one
// fault: the file of another cycle would explain them together.
func (c *tracesLogCase) tell(subject audit.Subject) {
	switch {
	case !c.compared:
		c.Unclear(subject, c.why(), c.blank()...)
	case len(c.faults) == 0:
		c.Met(subject)
	case c.another():
		c.Unclear(subject, "the load has several data-logger files, and another one agrees with the log")
	case len(c.faults) == 1:
		tracesNotMet(c.Examination, subject, c.t, c.faults[0])
	default:
		tracesNotMet(c.Examination, subject, c.t, c.several())
	}
	for _, f := range c.remarks {
		c.Remark(subject, f)
	}
}

// another reports whether another file of the load agrees with the log: a cycle that
// was broken off and begun again has two.
func (c *tracesLogCase) another() bool {
	return slices.ContainsFunc(c.P.TracesOf(c.l), func(o *practice.Traced) bool {
		if o == c.t || o.Unread != "" || o.Unusable != "" {
			return false
		}
		other := &tracesLogCase{Examination: c.Examination, t: o, l: c.l, habit: c.habit}
		other.values()
		return other.compared && len(other.faults) == 0
	})
}

func (c *tracesLogCase) several() audit.Fault {
	f := audit.Fault{Grade: audit.Minor, Matter: "several", Day: tracesDay(c.t),
		Needed: "the file of another cycle than the load's would explain all of it"}
	var found []string
	for _, one := range c.faults {
		found = append(found, one.Found)
		f.Evidence = append(f.Evidence, one.Evidence...)
	}
	f.Found = strings.Join(found, "; and ")
	return f
}

// why says why nothing could be compared.
func (c *tracesLogCase) why() string {
	switch {
	case c.cold:
		return "the file was found by its start alone, and no set temperature was reached in it: it may be that of a test or of a cycle broken off"
	case c.lost:
		return "the logger's clock cannot be relied on, and the log and the file have nothing else that can be compared"
	case c.t.By == "start":
		return "the file was found by its start, and the log and the file have nothing else that can be compared"
	}
	return "the log and the file have nothing that can be compared"
}

// blank names what the log lacks.
func (c *tracesLogCase) blank() (missing []audit.Field) {
	if !c.l.Temperature.Written() {
		missing = append(missing, audit.Field{Kind: "loads", Name: "temperature"})
	}
	if !c.l.Exposure.Written() {
		missing = append(missing, audit.Field{Kind: "loads", Name: "exposure"})
	}
	return missing
}
