package checks

import (
	"footing/internal/audit"
	"footing/internal/chain"
	"footing/internal/practice"
	"footing/internal/quantity"
)

var _ = define(audit.Check{
	ID:    "cycles/overlap",
	Title: "no two cycles overlap on one sterilizer",
	Why: "One chamber runs one cycle at a time. Where one load begins, as written, while another of the same sterilizer still runs, an hour is mistyped, " +
		"a clock was put forward or back, or the loads are of two sterilizers.",
	Grades:  []audit.Grade{audit.Observation},
	Subject: "sterilizers", Thing: "load with its hours", Things: "loads with their hours",
	Needs: []string{"loads"},
	Helps: []string{"loads.started", "loads.ended", "loads.exposure", "loads.drying", "loads.sterilizer"},
	Uses:  []string{"records.clock"},
	Fix: []string{
		"Look at the log and the printouts of the two loads: which hour is mistyped?",
		"Where the practice has two sterilizers, write for each load which one ran it.",
		"Write the correction as a new row with today's date.",
	},
	Verify: "The hours of later loads follow one another.",
	Run: func(x *audit.Examination) {
		x.Nothing("no load with a sterilizer is written")
		clock, latest := monitoringClock(x), map[string]*practice.Load{}
		for _, l := range x.P.LoadsByTime() {
			_, state := x.P.Sterilizer(l.Sterilizer)
			switch {
			case l.Sterilizer == "" || state == practice.Shared || state == practice.SetAside:
				x.Unclear(cyclesSubject(l), "which sterilizer ran the load cannot be told", audit.Field{Kind: "loads", Name: "sterilizer"})
			default:
				latest[l.Sterilizer] = cyclesOverlapOf(x, clock, latest[l.Sterilizer], l)
			}
		}
	},
})

// cyclesOverlapOf judges one load by that of those before it on the sterilizer which
// ended last, and gives the one of the two that did.
func cyclesOverlapOf(x *audit.Examination, clock chain.Clock, before, l *practice.Load) *practice.Load {
	subject := cyclesSubject(l)
	if !l.Started.HasClock() {
		x.Unclear(subject, "the hour at which the load began is not written", audit.Field{Kind: "loads", Name: "started"})
		return before
	}
	if before == nil {
		x.Met(subject)
		return l
	}
	running, field := cyclesOverlapRunning(clock, before, l)
	switch {
	case running == quantity.Yes:
		x.NotMet(subject, audit.Fault{Grade: audit.Observation, Matter: "overlap", Day: l.Started.Day(),
			Found:    "a load began while another of the same sterilizer still ran, as written",
			Needed:   "one chamber runs one cycle at a time; an hour mistyped, a row typed twice, a clock put forward or back, or a load of another sterilizer would explain it",
			Evidence: []audit.Evidence{audit.At(&before.Row, field, "the one before"), audit.At(&l.Row, "started", "began")}})
	case running == quantity.Unsure && before.Started.Day() == l.Started.Day():
		x.Unclear(subject, "when the load before it ended is not written, or hangs on how the clocks were set", audit.Field{Kind: "loads", Name: "ended"})
	default:
		x.Met(subject)
	}
	if cyclesOverlapEnd(before) > cyclesOverlapEnd(l) {
		return before
	}
	return l
}

// cyclesOverlapRunning says whether a load still ran when a later one began, and by
// which field.
func cyclesOverlapRunning(clock chain.Clock, before, l *practice.Load) (quantity.Tri, string) {
	if before.Ended.HasClock() {
		if quantity.Before(before.Ended, before.Started) == quantity.Yes {
			return quantity.Unsure, "ended"
		}
		if quantity.Before(l.Started, before.Ended) != quantity.Yes {
			return quantity.No, "ended"
		}
		return clock.Before(l.Started, before.Ended), "ended"
	}
	off := int64(clock.Tolerance.In(quantity.Second))
	if cyclesOverlapEnd(before) > l.Started.Last()+off {
		return quantity.Yes, "exposure"
	}
	return quantity.Unsure, "ended"
}

// cyclesOverlapEnd is the earliest second at which a load can have ended: as written,
// else after its hold and drying; a rejected one may have been broken off before.
func cyclesOverlapEnd(l *practice.Load) int64 {
	if l.Ended.HasClock() {
		return l.Ended.First()
	}
	if l.Decision == "rejected" {
		return l.Started.First()
	}
	exposure, drying := l.Exposure, l.Drying
	exposure.Value -= exposure.Half
	drying.Value -= drying.Half
	return l.Started.First() + int64(cyclesSeconds(exposure)+cyclesSeconds(drying))
}
