package checks

import (
	"fmt"
	"slices"

	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/quantity"
	"footing/internal/steam"
)

var _ = define(audit.Check{
	ID:    "traces/air-removal",
	Title: "each cycle that draws its air out by pulses shows them before the hold",
	Why: "Steam does not reach where air stays. A sterilizer with dynamic air removal pumps the air out, or flushes it out with steam, in pulses before the hold; the pressure in the data-logger file falls and rises once for each. " +
		"A cycle without them was perhaps another program, or the pump or a valve did not work.",
	Grades:  []audit.Grade{audit.Major, audit.Observation},
	Subject: "sterilizers", Thing: "data-logger file", Things: "data-logger files",
	Needs: []string{"traces"},
	Helps: []string{"sterilizers.air_removal", "sterilizers.class", "programs.pulses", "loads.program", "loads.wrapped"},
	Uses:  []string{"traces.error", "cycles.exposure", "cycles.dry-heat"},
	Fix: []string{
		"Look at the printout or the display's history: which program ran, and does it have pulses? If another one ran than the log says, correct the load in a new row with today's date.",
		"If the pulses should have been there, stop using the sterilizer for wrapped and hollow items, and run the air-removal test that its maker names.",
		"Ask the maker or your service firm to look at the pump, the valves and the door seal.",
		"Set aside packs of the loads named here that are still closed, and ask the maker whether they can be relied on.",
	},
	Verify: "A passed air-removal test, and later files that show the pulses of their program.",
	Watch:  tracesSetting,
	Run: func(x *audit.Examination) {
		tracesEachOf(x, tracesSteamOnly, func(subject audit.Subject, t *practice.Traced) {
			air := cyclesAir(t.Sterilizer, t.Program)
			h, _ := tracesSet(x, t)
			switch {
			case !slices.Contains(air, "dynamic"):
				x.Pass()
			case len(air) > 1:
				x.Unclear(subject, "how the sterilizer draws the air out is not written", audit.Field{Kind: "sterilizers", Name: "air_removal"})
			case !t.HasPressure():
				x.Unclear(subject, "the data-logger file has no pressure, so pulses cannot be seen")
			case h == nil || !h.Reached:
				x.Unclear(subject, "no set temperature was reached, so there is no hold that pulses should come before: see traces/hold")
			case h.Pulses >= tracesAirRemovalAsked(t):
				x.Met(subject)
			default:
				tracesAirRemovalFew(x, subject, t, h)
			}
		})
	},
})

// tracesAirRemovalAsked is how many pulses the file's program has; at least one
// where that is not known.
func tracesAirRemovalAsked(t *practice.Traced) int {
	if g := t.Program; g != nil && g.Pulses.Written && g.Pulses.Value >= 1 {
		return int(g.Pulses.Value)
	}
	return 1
}

// tracesAirRemovalFew tells of a file with fewer pulses than asked, unless the file
// itself explains it.
func tracesAirRemovalFew(x *audit.Examination, subject audit.Subject, t *practice.Traced, h *steam.Hold) {
	f := tracesAirRemovalFault(t, h)
	switch {
	case tracesAirRemovalLate(x, t):
		x.Unclear(subject, "the recording began when the cycle was under way already, so pulses before it were not recorded")
	case tracesAirRemovalCoarse(t, h):
		x.Unclear(subject, "the readings lie so far apart that a pulse could have come and gone between them")
	case t.Load == nil:
		x.Unclear(subject, "no load was found for the data-logger file: a warm-up or a test may have no pulses", audit.Field{Kind: "loads", Name: "trace"})
	case t.Program == nil && tracesAirRemovalOther(x, t):
		x.Unclear(subject, "no program is named, and a program without pulses may have run", audit.Field{Kind: "loads", Name: "program"})
		f.Grade, f.Matter = audit.Observation, f.Matter+" with no program named"
		f.Needed += "; if a program without pulses ran, name it in the load"
		x.Remark(subject, f)
	case t.Program != nil && !t.Program.Pulses.Written && t.Load.Wrapped != quantity.IsYes:
		x.Unclear(subject, "how many pulses the program has is not written, and one for unwrapped loads may have none", audit.Field{Kind: "programs", Name: "pulses"})
		f.Grade, f.Matter = audit.Observation, f.Matter+" and none written of the program"
		f.Needed += "; if the program has none, write 0 as its pulses"
		x.Remark(subject, f)
	default:
		tracesNotMet(x, subject, t, f)
	}
}

// tracesAirRemovalOther reports whether a program without pulses may have run: one
// is typed of the sterilizer, or nothing says that the load was wrapped.
func tracesAirRemovalOther(x *audit.Examination, t *practice.Traced) bool {
	return t.Load.Wrapped != quantity.IsYes || slices.ContainsFunc(tracesPrograms(x.P, t), func(g *practice.Program) bool {
		return g.Pulses.Written && g.Pulses.Value < 1
	})
}

func tracesAirRemovalFault(t *practice.Traced, h *steam.Hold) audit.Fault {
	asked := tracesAirRemovalAsked(t)
	f := audit.Fault{Grade: audit.Major, Matter: "no pulse", Day: tracesDay(t), Weight: float64(asked - h.Pulses),
		Found:    "no pulse of pressure before the hold",
		Needed:   "a sterilizer with dynamic air removal shows at least one; another program than the one named, a recording begun late, or a pump or valve that did not work would explain it",
		Evidence: []audit.Evidence{audit.InTrace(t, 0, fmt.Sprintf("pulses before the hold: %d", h.Pulses))}}
	if h.Pulses > 0 {
		f.Matter, f.Found = "few pulses", fmt.Sprintf("pulses of pressure before the hold: %d", h.Pulses)
	}
	if g := t.Program; g != nil && g.Pulses.Written {
		f.Needed = fmt.Sprintf("its program has %d; another program than the one named, a recording begun late, or a pump or valve that did not work would explain it", asked)
		f.Evidence = append(f.Evidence, audit.At(&g.Row, "pulses", "its program"))
	}
	return f
}

// tracesAirRemovalLate reports whether the first reading was surely hotter than
// water boils at the site, or its pressure not that of the air: the cycle was under
// way already.
func tracesAirRemovalLate(x *audit.Examination, t *practice.Traced) bool {
	boils, err := steam.SaturationTemperature(tracesAir(x.P, t))
	return t.Cycle.BegunAway || err == nil && t.Cycle.First >= boils+tracesError(x, t)
}

// tracesAirRemovalCoarse reports whether readings are too far apart to see each
// pulse. To be seen a pulse needs a reading near its lowest and one near its
// highest pressure; since readings fall anywhere in it, that takes two intervals
// for the fall and two for the rise. The time that each pulse had is at most that
// from the first pulse seen, or from the first reading, to the hold, over their number.
func tracesAirRemovalCoarse(t *practice.Traced, h *steam.Hold) bool {
	from := t.Cycle.From
	if len(t.Cycle.Pulses) > 0 && h.Pulses > 0 {
		from = t.Cycle.Pulses[0].At
	}
	swing := t.Cycle.Interval + t.Cycle.Interval
	return swing+swing > (h.From-from)/float64(tracesAirRemovalAsked(t))
}
