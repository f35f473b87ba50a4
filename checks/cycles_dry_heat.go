package checks

import (
	"slices"

	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/quantity"
)

var _ = define(audit.Check{
	ID:    "cycles/dry-heat",
	Title: "every released dry-heat load was held as long as a published pair of temperature and time asks, and its maker's program",
	Why: "Hot air needs far longer than steam, and published texts give it in pairs: so hot, for so long. The pairs are not equally lethal, so no time between two of them is worked out here: " +
		"the pair with the greatest temperature that was reached is the one that counts. FH, the sum of dry heat, is not asked either: lethality is a second opinion and never a ground for release. Air that a fan drives hands its heat over faster than air that stands, and wrapping slows it.",
	Grades:  []audit.Grade{audit.Critical, audit.Observation},
	Subject: "sterilizers", Thing: "released load", Things: "released loads",
	Needs: []string{"loads", "sterilizers"},
	Helps: []string{"loads.temperature", "loads.exposure", "loads.wrapped", "loads.decision", "loads.program", "sterilizers.air", "sterilizers.sensor_tolerance", "programs"},
	Uses:  []string{"cycles.dry-heat"},
	Fix: []string{
		"Set aside and mark every pack of the loads named here that is still closed; use none until this is settled.",
		"Keep the log, printouts, strips and packs as they are.",
		"Look at the printout, the display's history or the logger file of each load: a value misread or mistyped explains some of these. Where it does, write the correction as a new row with today's date.",
		"Where packs of such a load were used, telephone public health and your regulator today and ask what to do. Contact no client about it on your own.",
		"Ask the maker of the sterilizer which temperature and time are meant for your loads, wrapped or not, and set those.",
		"From today on, count the time only from when the load itself has reached the temperature, not from when the heat was switched on; do not open the door before the time is over, and begin anew if it was opened.",
	},
	Verify: "The next loads are written with a temperature and a time, counted from when the load was hot, that match a published pair and the maker's program.",
	Run: func(x *audit.Examination) {
		known := cyclesDryHeatKnown{}
		cyclesDryHeatEach(x, func(subject audit.Subject, l *practice.Load, s *practice.Sterilizer) {
			a := cyclesAgainstPrograms(x.P, l, s)
			switch {
			case a.verdict == audit.Fail:
				f := cyclesProgramFault(l, a.program)
				f.Matter += " of its program"
				if l.Decision == "" {
					cyclesUndecided(x, subject, f)
				} else {
					x.NotMet(subject, f)
				}
			case l.Temperature.Written() && l.Exposure.Written():
				cyclesDryHeatOf(x, subject, l, s, a, known)
			case !cyclesContract(x, subject, l, s):
				a.lacking(l)
				x.Unclear(subject, a.why, a.missing...)
			}
		})
	},
})

// cyclesDryHeatEach calls look for every load of a dry-heat sterilizer that was
// not rejected and does not wait for a decision. Loads whose sterilizer cannot be
// told are unclear only where a dry-heat sterilizer is written at all.
func cyclesDryHeatEach(x *audit.Examination, look func(audit.Subject, *practice.Load, *practice.Sterilizer)) {
	x.Nothing("no load of a dry-heat sterilizer is written but rejected or pending ones")
	some := slices.ContainsFunc(x.P.Sterilizers, func(s practice.Sterilizer) bool { return s.Method == "dry-heat" })
	for _, l := range x.P.LoadsByTime() {
		s, state := x.P.Sterilizer(l.Sterilizer)
		switch {
		case !some || l.Decision == "rejected" || l.Decision == "pending":
			x.Pass()
		case l.Sterilizer == "":
			x.Unclear(cyclesSubject(l), "which sterilizer ran the load is not written", audit.Field{Kind: "loads", Name: "sterilizer"})
		case state != practice.One:
			x.Unclear(cyclesSubject(l), "the sterilizer that the load names is not in the records as one row", audit.Field{Kind: "sterilizers"})
		case s.Method != "dry-heat":
			x.Pass()
		default:
			look(cyclesSubject(l), l, s)
		}
	}
}

// cyclesDryHeatOf judges one load whose temperature and hold are written, under
// each circumstance that may have held.
func cyclesDryHeatOf(x *audit.Examination, subject audit.Subject, l *practice.Load, s *practice.Sterilizer, a cyclesAgainst, known cyclesDryHeatKnown) {
	t := known.trial(x, l, s)
	t.settle(subject, l, a, cyclesExposureWords{
		blank: cyclesDryHeatBlank(l, s),
		cool:  "held cooler than the coolest published pair that could hold, which is at " + t.coldest.String() + ", so there is no time to compare with",
		// The texts call their pairs the most common ones, or a reference: a maker's own
		// cycle may be another, so it is no fault unless the practice's own rule says so.
		excuse: t.ruling.Criterion.Set != audit.Yours,
		steps: []string{
			"Ask the maker for the instructions of this program and for what shows that it does what it should, and keep both with the log.",
			"Look up which rule holds where you practise, and write it into rules.yaml or practice.rule_set; then audit again.",
		},
	})
}

// cyclesDryHeatKnown keeps what was answered: most loads of a log read alike.
type cyclesDryHeatKnown map[cyclesExposureKey]*cyclesExposureTrial

// trial puts one load to the tables, once for each way in which the air may move
// and each way in which the load may have been wrapped.
func (k cyclesDryHeatKnown) trial(x *audit.Examination, l *practice.Load, s *practice.Sterilizer) *cyclesExposureTrial {
	key := cyclesExposureKey{temperature: l.Temperature, exposure: l.Exposure, tolerance: s.SensorTolerance, wrapped: l.Wrapped, air: s.Air}
	if t := k[key]; t != nil {
		return t
	}
	t := &cyclesExposureTrial{x: x, l: l, s: s}
	for _, air := range cyclesDryHeatAir(s) {
		for _, wrapped := range cyclesExposureWrapped(l) {
			t.rulings = append(t.rulings, x.Ask("cycles.dry-heat", audit.When{"air": air, "wrapped": wrapped}, t.judge))
		}
	}
	t.ruling = t.result()
	k[key] = t
	return t
}

func cyclesDryHeatAir(s *practice.Sterilizer) []string {
	if s.Air != "" {
		return []string{s.Air}
	}
	return []string{"static", "forced"}
}

// cyclesDryHeatBlank names what would settle which circumstance held.
func cyclesDryHeatBlank(l *practice.Load, s *practice.Sterilizer) (missing []audit.Field) {
	if s.Air == "" {
		missing = append(missing, audit.Field{Kind: "sterilizers", Name: "air"})
	}
	if l.Wrapped == quantity.NotWritten {
		missing = append(missing, audit.Field{Kind: "loads", Name: "wrapped"})
	}
	return missing
}
