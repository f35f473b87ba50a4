package checks

import (
	"strings"

	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/quantity"
)

var _ = define(audit.Check{
	ID:    "traces/drying",
	Title: "the data-logger file of each load shows the drying that its log claims",
	Why: "After the hold a sterilizer draws the moisture out, mostly under vacuum, and wet packs do not keep what the cycle did. The file shows how long that lasted, where it names the phase or has the pressure. " +
		"Many loggers stop when the hold ends or when the door is set ajar; then the drying is not in the file, and nothing is said of it.",
	Grades:  []audit.Grade{audit.Minor, audit.Observation},
	Subject: "sterilizers", Thing: "data-logger file", Things: "data-logger files",
	Needs: []string{"traces"},
	Helps: []string{"loads", "loads.drying", "loads.trace", "loads.decision", "programs", "sterilizers.air_removal", "practice.altitude"},
	Uses:  []string{"traces.error", "cycles.exposure", "cycles.dry-heat"},
	Fix: []string{
		"Compare with the printout or the display's history of the same cycle: a set value written from habit, or the file of another cycle, explains most of these. Where it does, write what was seen as a new row with today's date.",
		"Look at packs of these loads that are still closed: process again what is or was damp, in new packaging.",
		"If the drying was stopped or the door opened early, let the next loads dry for the whole time that the program sets.",
		"If the sterilizer itself ends the drying early, ask its maker or your service firm why.",
		"From today on, write the drying as the display or printout shows it, and whether the packs were dry.",
	},
	Verify: "The files of the next loads show the drying that the log has, and the packs are written as dry.",
	Watch:  tracesSetting,
	Run: func(x *audit.Examination) {
		stray := false
		tracesEachOf(x, tracesSteamOnly, func(subject audit.Subject, t *practice.Traced) {
			l := t.Load
			if l == nil {
				stray = true
				x.Pass()
				return
			}
			if !l.Drying.Written() {
				x.Unclear(subject, "the log has no drying time for the load, so there is nothing to hold the file against", audit.Field{Kind: "loads", Name: "drying"})
				return
			}
			seen, vented, why := tracesDryingSeen(x, t)
			switch unsure := t.Cycle.Interval + t.Cycle.Interval + vented; {
			case why != "":
				x.Unclear(subject, why)
			case seen+unsure >= l.Drying.Low(quantity.Second):
				x.Met(subject)
			default:
				tracesNotMet(x, subject, t, tracesDryingFault(t, seen))
			}
		})
		if stray {
			x.Nothing("no data-logger file has a load in the log that could have claimed a drying")
		}
	},
})

// tracesDryingSeen is how long the file shows drying, in s, or why that cannot be
// told: as a phase that it names, else as the vacuum that followed the hold. Some
// displays count from the end of the hold, so the time that the steam took to go is
// told too.
func tracesDryingSeen(x *audit.Examination, t *practice.Traced) (seconds, vented float64, why string) {
	named, until := false, t.Cycle.From
	for _, p := range t.Phases {
		if strings.Contains(strings.ToLower(p.Name), "dry") {
			seconds, until, named = seconds+p.Until-p.From, p.Until, true
		}
	}
	switch h, _ := tracesSet(x, t); {
	case named && until >= t.Cycle.Until:
		return 0, 0, "the recording stops before the drying ends, as many loggers do"
	case named:
		return seconds, 0, ""
	case !t.HasPressure():
		return 0, 0, "the file names no phase and has no pressure, so the drying cannot be seen in it"
	case tracesDryingByHeat(t):
		return 0, 0, "the file names no phase, and a sterilizer that pumps no air out dries by heat, which leaves no mark in the pressure"
	case h == nil || !h.Reached:
		return 0, 0, "no set temperature was reached, so there is no hold that a drying could follow: see traces/hold"
	case h.After.Vacuum == 0:
		return 0, 0, "no vacuum follows the hold: the recording stopped before it, as many loggers do, or the sterilizer dries another way"
	case !h.After.VacuumEnded:
		return 0, 0, "the recording stops before the drying ends, as many loggers do"
	default:
		return h.After.Vacuum, h.After.Vented - h.Until, ""
	}
}

// tracesDryingByHeat reports whether the sterilizer is written as one without a
// pump, or its program as one without pulses.
func tracesDryingByHeat(t *practice.Traced) bool {
	air := cyclesAir(t.Sterilizer, t.Program)
	return len(air) == 1 && air[0] == "gravity"
}

func tracesDryingFault(t *practice.Traced, seen float64) audit.Fault {
	l := t.Load
	return audit.Fault{Grade: audit.Minor, Matter: "short", Day: tracesDay(t), Weight: cyclesSeconds(l.Drying) - seen,
		Found:    "the log has " + l.Drying.String() + " of drying, and the file shows " + audit.Lasted(seen),
		Needed:   "a set value written from habit, air let in between, warm air after the vacuum or a door opened early would explain it",
		Evidence: []audit.Evidence{audit.InTrace(t, 0, audit.Lasted(seen)+" of drying"), audit.At(&l.Row, "drying", "the log")}}
}
