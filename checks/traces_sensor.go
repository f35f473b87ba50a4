package checks

import (
	"fmt"

	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/quantity"
	"footing/internal/steam"
)

var _ = define(audit.Check{
	ID:    "traces/sensor",
	Title: "the temperature in each data-logger file moves as a sensor's does",
	Why: "A sensor in steam or hot air is never quite still, and it needs a moment to follow: heat has to pass through its sheath. A value that stands unmoved for minutes while the cycle goes on, or one that leaps from one reading to the next, says more of a plug, a cable or a logger than of the cycle. " +
		"A display that shows whole degrees stands still honestly; that is not counted.",
	Grades:  []audit.Grade{audit.Observation},
	Subject: "sterilizers", Thing: "data-logger file", Things: "data-logger files",
	Needs: []string{"traces"},
	Helps: []string{"sterilizers", "sterilizers.sensor_tolerance", "practice.altitude"},
	Uses:  []string{"traces.still", "traces.leap", "traces.jump", "traces.error", "cycles.exposure", "cycles.dry-heat"},
	Fix: []string{
		"Look at the sensor, its plug and its cable: a loose plug, water in it, or a break in the cable explains most of these.",
		"Ask the maker of the logger whether it holds its last value when it loses the sensor, and whether it smooths what it writes.",
		"Have the sensor checked against another one and calibrated; keep the report.",
		"Until then, do not rest on these files alone: compare printout, display and indicators before a load is released.",
	},
	Verify: "A calibration report for the sensor, and later files in which the temperature moves.",
	Watch:  tracesSetting,
	Run: func(x *audit.Examination) {
		tracesEach(x, func(subject audit.Subject, t *practice.Traced) {
			x.Met(subject)
			if f, odd := tracesSensorStill(x, t); odd {
				x.Remark(subject, f)
			}
			if f, odd := tracesSensorJump(x, t); odd {
				x.Remark(subject, f)
			}
		})
	},
})

// tracesSensorStill tells of a value that stood unmoved too long in a hold, though
// the file shows fine steps or the steam's pressure moved. Outside a hold, as at
// the temperature of the room, standing still is honest.
func tracesSensorStill(x *audit.Examination, t *practice.Traced) (f audit.Fault, odd bool) {
	limit, ok := x.Criterion("traces.still", nil)
	h := tracesSensorIn(t)
	if !ok || h == nil || t.Cycle.Flat <= cyclesSeconds(limit.Quantity()) {
		return f, false
	}
	moved := tracesSensorMoved(t, h)
	step := t.TemperatureHalf() + t.TemperatureHalf()
	pressed := moved > step+tracesError(x, t)
	if !pressed && !tracesSensorFine(t) {
		return f, false
	}
	f = audit.Fault{Matter: "still", Day: tracesDay(t), Weight: t.Cycle.Flat, Criterion: &limit,
		Found:    "the temperature stood at one value for " + audit.Lasted(t.Cycle.Flat) + " from within the hold on",
		Needed:   "a logger that keeps its last value or smooths, or a plug that lost the sensor, would explain it; " + limit.Value() + " is long for a sensor in a cycle",
		Evidence: []audit.Evidence{audit.InTrace(t, 0, "unmoved for "+audit.Lasted(t.Cycle.Flat)+", "+tracesSensorAt(t, t.Cycle.FlatFrom))}}
	if pressed {
		f.Found += fmt.Sprintf(", while the pressure moved by %.0f kPa", t.Cycle.FlatPressure)
	}
	return f, true
}

// tracesSensorIn is the hold in which the longest stillness began; nil where it
// began in none.
func tracesSensorIn(t *practice.Traced) *steam.Hold {
	for i := range t.Cycle.Holds {
		h := &t.Cycle.Holds[i]
		if h.Reached && h.From <= t.Cycle.FlatFrom && t.Cycle.FlatFrom < h.Until {
			return h
		}
	}
	return nil
}

// tracesSensorMoved is by how many K steam must have changed, at the least, for
// its pressure to move as far as it did while the sensor stood still; 0 where the
// pressure is not known to count from a vacuum.
func tracesSensorMoved(t *practice.Traced, h *steam.Hold) float64 {
	if !t.Cycle.Setting.Absolute || tracesSteam(t) != quantity.Yes {
		return 0
	}
	cool, errCool := steam.SaturationTemperature(h.LeastPressure)
	hot, errHot := steam.SaturationTemperature(h.LeastPressure + t.Cycle.FlatPressure)
	if errCool != nil || errHot != nil {
		return 0
	}
	return hot - cool
}

// tracesSensorFine reports whether every temperature is shown in steps finer than
// a degree of its unit. Steps are powers of ten, so a third of a degree parts them.
func tracesSensorFine(t *practice.Traced) bool {
	for _, c := range t.Columns {
		degree := quantity.Exact(1, quantity.KelvinD)
		if c.Unit == quantity.Fahrenheit {
			degree = quantity.Exact(1, quantity.FahrenheitD)
		}
		if c.Unit.Dimension() == quantity.Temperature && c.Ignored == "" && c.Half+c.Half+c.Half > degree.In(quantity.KelvinD) {
			return false
		}
	}
	return true
}

// tracesSensorJump tells of a change between two readings that is too great for a
// chamber and too fast for a sensor.
func tracesSensorJump(x *audit.Examination, t *practice.Traced) (f audit.Fault, odd bool) {
	leap, ok := x.Criterion("traces.leap", nil)
	pace, known := x.Criterion("traces.jump", nil)
	c := t.Cycle
	if !ok || !known || c.Jump <= leap.Quantity().In(quantity.KelvinD) || c.Jump <= pace.Number()*c.JumpOver {
		return f, false
	}
	return audit.Fault{Matter: "jump", Day: tracesDay(t), Weight: c.Jump, Criterion: &leap,
		Found:    fmt.Sprintf("the temperature leapt by %.0f K within %s, from one reading to the next", c.Jump, audit.Lasted(c.JumpOver)),
		Needed:   "a loose plug, a wet connector or a sensor pulled out of the chamber would explain it; steam that reaches a cold sensor makes no more than " + leap.Value(),
		Evidence: []audit.Evidence{audit.InTrace(t, 0, fmt.Sprintf("%.0f K within %s, %s", c.Jump, audit.Lasted(c.JumpOver), tracesSensorAt(t, c.JumpAt)))}}, true
}

// tracesSensorAt says when in the recording something was.
func tracesSensorAt(t *practice.Traced, at float64) string {
	return audit.Lasted(at-t.Cycle.From) + " into the recording"
}
