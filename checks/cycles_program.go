package checks

import (
	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/quantity"
)

var _ = define(audit.Check{
	ID:    "cycles/program",
	Title: "every released steam load was held at least as hot and as long as its maker's program asks",
	Why: "The maker tested each program of the sterilizer as a whole. A load that was held shorter or cooler than its program did not have that cycle, whatever any rule says. " +
		"A program that the log does not name is never held against a load.",
	Grades:  []audit.Grade{audit.Critical, audit.Observation},
	Subject: "sterilizers", Thing: "released load", Things: "released loads",
	Needs: []string{"loads", "sterilizers", "programs"},
	Helps: []string{"loads.program", "loads.temperature", "loads.exposure", "loads.decision", "sterilizers.sensor_tolerance"},
	Fix: []string{
		"Set aside and mark every pack of the loads named here that is still closed; use none until this is settled.",
		"Keep the log, printouts, strips and packs as they are.",
		"Look at the printout or logger file of each load: a value misread or mistyped, or another program than the one named, explains some of these. Where it does, write the correction as a new row with today's date.",
		"Where packs of a short load were used, telephone public health and your regulator today and ask what to do. Contact no client about it on your own.",
		"Ask the maker or your service firm why the cycle ended early, and leave the sterilizer out of use until they have answered.",
		"From today on, compare hold and temperature with the program before you release a load, and reject one that falls short.",
	},
	Verify: "The next loads, and the tests that the maker asks for after a fault, show at least the program's temperature and hold on the printout.",
	Run: func(x *audit.Examination) {
		cyclesEachSteam(x, func(subject audit.Subject, l *practice.Load, s *practice.Sterilizer) {
			if !l.Temperature.Written() && !l.Exposure.Written() && cyclesContract(x, subject, l, s) {
				return
			}
			a := cyclesAgainstPrograms(x.P, l, s)
			switch a.verdict {
			case audit.Meets:
				x.Met(subject)
			case audit.Fail:
				f := cyclesProgramFault(l, a.program)
				if l.Decision == "" {
					cyclesUndecided(x, subject, f)
				} else {
					x.NotMet(subject, f)
				}
			default:
				x.Unclear(subject, a.why, a.missing...)
				if a.other != nil {
					f := cyclesProgramFault(l, a.program)
					f.Grade, f.Matter = audit.Observation, "another program"
					f.Needed += "; another program of this sterilizer fits what is written, so perhaps that one ran"
					f.Evidence = append(f.Evidence, audit.At(&a.other.Row, "exposure", "the program that fits"))
					f.Steps = []string{
						"Look at the printout or the display's history: which program ran?",
						"If it was the other one, and that one suits what was in the load, correct the program in a new row with today's date.",
						"If it was the one named, treat the load as one that fell short of its program: set its packs aside and ask your regulator and public health.",
					}
					x.Remark(subject, f)
				}
			}
		})
	},
})

func cyclesProgramFault(l *practice.Load, g *practice.Program) audit.Fault {
	f := audit.Fault{
		Grade: audit.Critical, Matter: "short", Found: cyclesHeld(l), Needed: "its program asks for " + g.Exposure.String() + " at " + g.Temperature.String(),
		Day:      l.Started.Day(),
		Evidence: []audit.Evidence{audit.At(&l.Row, "temperature"), audit.At(&l.Row, "exposure"), audit.At(&g.Row, "exposure", "its program")},
	}
	if l.Exposure.Written() && l.Exposure.AtLeast(g.Exposure, quantity.Quantity{}) == quantity.No {
		f.Weight = cyclesSeconds(g.Exposure) - cyclesSeconds(l.Exposure)
	} else {
		f.Matter, f.Weight = "cool", g.Temperature.In(quantity.Celsius)-l.Temperature.In(quantity.Celsius)
	}
	return f
}

// cyclesHeld says what is written of a load's hold.
func cyclesHeld(l *practice.Load) string {
	switch {
	case !l.Temperature.Written():
		return "held " + l.Exposure.String() + ", with no temperature written"
	case !l.Exposure.Written():
		return "held at " + l.Temperature.String() + ", with no time written"
	}
	return "held " + l.Exposure.String() + " at " + l.Temperature.String()
}
