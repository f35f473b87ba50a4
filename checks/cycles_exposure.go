package checks

import (
	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/quantity"
)

var _ = define(audit.Check{
	ID:    "cycles/exposure",
	Title: "every released steam load was held long and hot enough for how its air was drawn out and how it was wrapped",
	Why: "Exposure is how long the load was held at temperature. Published times differ with the way the air is drawn out, with wrapping and with hollow items, and a hotter cycle needs less time. " +
		"A load that falls short of its own program is told once, under cycles/program.",
	Grades:  []audit.Grade{audit.Critical, audit.Observation},
	Subject: "sterilizers", Thing: "released load", Things: "released loads",
	Needs: []string{"loads", "sterilizers"},
	Helps: []string{"loads.temperature", "loads.exposure", "loads.wrapped", "loads.decision", "loads.program", "sterilizers.air_removal", "sterilizers.sensor_tolerance", "programs", "packs.instruments", "instruments.hollow"},
	Uses:  []string{"cycles.exposure"},
	Fix: []string{
		"Set aside and mark every pack of the loads named here that is still closed; use none until this is settled.",
		"Keep the log, printouts, strips and packs as they are.",
		"Look at the printout or logger file of each load: a value misread or mistyped explains some of these. Where it does, write the correction as a new row with today's date.",
		"Where packs of such a load were used, telephone public health and your regulator today and ask what to do. Contact no client about it on your own.",
		"Ask the maker of the sterilizer which program is meant for your loads, and set that one.",
		"From today on, compare hold and temperature with what is needed before you release a load, and reject one that falls short.",
	},
	Verify: "The next loads show the needed temperature and hold on the printout, and the log says how each load was wrapped.",
	Run: func(x *audit.Examination) {
		known := cyclesExposureKnown{}
		cyclesEachSteam(x, func(subject audit.Subject, l *practice.Load, s *practice.Sterilizer) {
			a := cyclesAgainstPrograms(x.P, l, s)
			switch {
			case a.verdict == audit.Fail:
				x.Nothing("each load that could be judged falls short of its own program, and is told under cycles/program")
				x.Pass()
			case l.Temperature.Written() && l.Exposure.Written():
				cyclesExposureOf(x, subject, l, s, a, cyclesItems(x.P, l), known)
			case !cyclesContract(x, subject, l, s):
				a.lacking(l)
				x.Unclear(subject, a.why, a.missing...)
			}
		})
	},
})

// cyclesExposureOf judges one load whose temperature and hold are written, under
// each circumstance that may have held.
func cyclesExposureOf(x *audit.Examination, subject audit.Subject, l *practice.Load, s *practice.Sterilizer, a cyclesAgainst, items string, known cyclesExposureKnown) {
	named := a.program
	if !a.named {
		named = nil
	}
	air := cyclesAir(s, named)
	t := known.trial(x, l, s, air, items)
	t.settle(subject, l, a, cyclesExposureWords{
		blank:  cyclesExposureBlank(l, air, items),
		cool:   "held cooler than the coldest row of any table that could hold, which is " + t.coldest.String() + ", so there is no time to compare with",
		excuse: !cyclesChosen(x, t.ruling.Criterion),
		steps: []string{
			"Look up which rule holds where you practise, and write it into rules.yaml or practice.rule_set; then audit again.",
			"Ask the maker for the instructions of this program, and keep them with the log.",
		},
	})
}

func cyclesExposureWrapped(l *practice.Load) []string {
	switch l.Wrapped {
	case quantity.IsYes:
		return []string{"yes"}
	case quantity.IsNo:
		return []string{"no"}
	}
	return []string{"yes", "no"}
}

func cyclesExposureKinds(items string) []string {
	if items == "" {
		return []string{"solid", "hollow"}
	}
	return []string{items}
}

// cyclesExposureBlank names what would settle which circumstance held.
func cyclesExposureBlank(l *practice.Load, air []string, items string) (missing []audit.Field) {
	if l.Wrapped == quantity.NotWritten {
		missing = append(missing, audit.Field{Kind: "loads", Name: "wrapped"})
	}
	if len(air) > 1 {
		missing = append(missing, audit.Field{Kind: "sterilizers", Name: "air_removal"})
	}
	if items == "" && l.Wrapped != quantity.IsYes {
		missing = append(missing, audit.Field{Kind: "packs", Name: "instruments"}, audit.Field{Kind: "instruments", Name: "hollow"})
	}
	return missing
}
