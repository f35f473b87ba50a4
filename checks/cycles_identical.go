package checks

import (
	"fmt"
	"math"

	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/quantity"
	"footing/internal/steam"
)

var _ = define(audit.Check{
	ID:    "cycles/identical",
	Title: "values written by hand vary from load to load as a machine's do",
	Why: "No two cycles are quite the same: a display with tenths of a degree, the pressure and above all the length of the cycle change with what is in the chamber. " +
		"Where all of them repeat load after load, what is written is most often what was set, not what was read. Whole degrees repeat honestly, and are never told.",
	Grades:  []audit.Grade{audit.Observation},
	Subject: "sterilizers", Thing: "load with values finer than whole degrees", Things: "loads with values finer than whole degrees",
	Needs: []string{"loads"},
	Helps: []string{"loads.temperature", "loads.pressure", "loads.exposure", "loads.drying", "loads.ended"},
	Uses:  []string{"cycles.identical-run"},
	Fix: []string{
		"Ask whoever writes the log where these values come from: the display during the hold, the printout, or the program sheet?",
		"Where rows were copied down in a table, compare them with the printouts, and write what those show as new rows with today's date.",
		"From today on, write what the display or the printout shows of each cycle, and the hour at which it ended.",
	},
	Verify: "The values of later loads vary in their last digits, and their lengths by minutes.",
	// Which loads have a file is known only once the files were looked at; nothing in them is measured.
	Watch: func(*audit.Examination, *practice.Traced) steam.Setting { return steam.Setting{} },
	Run: func(x *audit.Examination) {
		x.Nothing("no load written by hand has its temperature in parts of a degree")
		c, ok := x.Criterion("cycles.identical-run", nil)
		if !ok {
			x.Nothing("no rule says how many loads may show the same")
			return
		}
		runs := map[cyclesIdenticalKey]*cyclesIdenticalRun{}
		var order []*cyclesIdenticalRun
		for _, l := range x.P.LoadsByTime() {
			key := cyclesIdenticalKey{l.Sterilizer, l.Program}
			now, ok := cyclesIdenticalOf(x, l)
			if !ok {
				continue
			}
			r := runs[key]
			if r == nil || r.values != now {
				r = &cyclesIdenticalRun{values: now}
				runs[key], order = r, append(order, r)
			}
			r.loads = append(r.loads, l)
		}
		for _, r := range order {
			r.tell(x, &c)
		}
	},
})

// cyclesIdenticalKey is what rows are compared within.
type cyclesIdenticalKey struct{ sterilizer, program string }

// cyclesIdenticalValues are what all repeats in loads that are the same.
type cyclesIdenticalValues struct {
	temperature, pressure, exposure, drying quantity.Quantity
	length                                  int64 // s, to the minute written
}

// cyclesIdenticalRun is some loads, one after the other, of the same values.
type cyclesIdenticalRun struct {
	values cyclesIdenticalValues
	loads  []*practice.Load
}

// cyclesIdenticalOf takes the values of a load that is to be compared. Loads with a
// data-logger file, rejected ones and those in whole or half degrees lie outside.
func cyclesIdenticalOf(x *audit.Examination, l *practice.Load) (v cyclesIdenticalValues, ok bool) {
	subject := cyclesSubject(l)
	double := l.Temperature.Value + l.Temperature.Value
	switch {
	case l.Decision == "rejected" || l.Trace != "" || len(x.P.TracesOf(l)) > 0:
		x.Pass()
		return v, false
	case !l.Temperature.Written():
		x.Unclear(subject, "no temperature is written", audit.Field{Kind: "loads", Name: "temperature"})
		return v, false
	case double == math.Trunc(double):
		x.Pass()
		return v, false
	}
	var missing []audit.Field
	for _, f := range []struct {
		name    string
		written bool
	}{{"pressure", l.Pressure.Written()}, {"exposure", l.Exposure.Written()}, {"drying", l.Drying.Written()}, {"started", l.Started.HasClock()}, {"ended", l.Ended.HasClock()}} {
		if !f.written {
			missing = append(missing, audit.Field{Kind: "loads", Name: f.name})
		}
	}
	if missing != nil {
		x.Unclear(subject, "too few of the values are written to say whether all repeat", missing...)
		return v, false
	}
	return cyclesIdenticalValues{l.Temperature, l.Pressure, l.Exposure, l.Drying, l.Ended.First() - l.Started.First()}, true
}

func (r *cyclesIdenticalRun) tell(x *audit.Examination, c *audit.Criterion) {
	if float64(len(r.loads)) < c.Number() {
		for _, l := range r.loads {
			x.Met(cyclesSubject(l))
		}
		return
	}
	v := r.values
	for _, l := range r.loads {
		x.NotMet(cyclesSubject(l), audit.Fault{Grade: audit.Observation, Matter: "same", Day: l.Started.Day(), Criterion: c,
			Found:    fmt.Sprintf("%d loads one after the other have the very same %s, %s, hold of %s, drying of %s and length of %s", len(r.loads), v.temperature, v.pressure, v.exposure, v.drying, audit.Lasted(float64(v.length))),
			Needed:   "values set at the sterilizer and written from habit, or rows copied down in a table, would explain it; then they say little of how each load ran",
			Evidence: []audit.Evidence{audit.At(&l.Row, "temperature"), audit.At(&l.Row, "ended")}})
	}
}
