package checks

import (
	"strings"

	"footing/internal/audit"
	"footing/internal/practice"
)

var _ = define(audit.Check{
	ID:    "cycles/indicators",
	Title: "no load was released with a failed chemical indicator, and each released load has its results",
	Why: "A chemical indicator changes colour with heat, time and steam: outside a pack it tells that the pack has been through a cycle, inside that the cycle reached the instruments. " +
		"One that did not change is reason enough to hold the load back.",
	Grades:  []audit.Grade{audit.Critical, audit.Minor, audit.Observation},
	Subject: "sterilizers", Thing: "released load", Things: "released loads",
	Needs: []string{"loads"},
	Helps: []string{"loads.inside_indicator", "loads.outside_indicator", "loads.decision", "practice.coverage"},
	Uses:  []string{"cycles.indicators"},
	Fix: []string{
		"Set aside and mark every pack of a load whose indicator failed; use none until this is settled.",
		"Keep the strips, log, printouts and packs as they are.",
		"Look at the strips of these loads: a result misread or mistyped explains some. Where it does, write the correction as a new row with today's date.",
		"Where packs of a load with a failed indicator were used, telephone public health and your regulator today and ask what to do. Contact no client about it on your own.",
		"Leave the sterilizer out of use until the cause is known: overloading, the wrong program, a fault, or indicators that are out of date or meant for another process.",
		"From today on, put an indicator into each pack, write its result before the load is released, and reject a load with one that failed.",
	},
	Verify: "Each later load has a result written, and no load with a failed one was released.",
	Run: func(x *audit.Examination) {
		x.Nothing("no load is written but rejected or pending ones")
		in := cyclesColumnOf(x.P, func(l *practice.Load) bool { return l.InsideIndicator != "" })
		out := cyclesColumnOf(x.P, func(l *practice.Load) bool { return l.OutsideIndicator != "" })
		for _, l := range x.P.LoadsByTime() {
			if l.Decision == "rejected" || l.Decision == "pending" {
				x.Pass()
				continue
			}
			cyclesIndicatorsOf(x, l, in.gap(x.P, l), out.gap(x.P, l))
		}
	},
})

// cyclesIndicatorsOf judges one load; the two flags say whether a blank result
// is a gap in the log itself.
func cyclesIndicatorsOf(x *audit.Examination, l *practice.Load, inGap, outGap bool) {
	subject := cyclesSubject(l)
	failed := false
	evidence := []audit.Evidence{audit.At(&l.Row, "decision")}
	if l.InsideIndicator == "fail" {
		failed = true
		evidence = append(evidence, audit.At(&l.Row, "inside_indicator"))
	}
	if l.OutsideIndicator == "fail" {
		failed = true
		evidence = append(evidence, audit.At(&l.Row, "outside_indicator"))
	}
	if failed {
		f := audit.Fault{Grade: audit.Critical, Matter: "failed", Found: "released with an indicator written as failed", Needed: "a load with a failed indicator is rejected", Day: l.Started.Day(), Evidence: evidence}
		if l.Decision == "" {
			f.Found = "an indicator written as failed"
			cyclesUndecided(x, subject, f)
			return
		}
		x.NotMet(subject, f)
		return
	}
	s, _ := x.P.Sterilizer(l.Sterilizer)
	if l.InsideIndicator == "" && l.OutsideIndicator == "" && cyclesContract(x, subject, l, s) {
		return
	}
	var none, blank []string
	var missing []audit.Field
	r := x.Ask("cycles.indicators", nil, func(c audit.Criterion) audit.Verdict {
		none, blank, missing = nil, nil, nil
		verdict := audit.Meets
		for _, item := range c.Items() {
			written, gap := l.InsideIndicator, inGap
			if item == "outside" {
				written, gap = l.OutsideIndicator, outGap
			}
			switch {
			case written == "none":
				none = append(none, item)
			case written == "" && gap && l.Released():
				blank = append(blank, item)
			case written == "":
				verdict = audit.CannotTell
				missing = append(missing, audit.Field{Kind: "loads", Name: item + "_indicator"})
			}
		}
		if none != nil || blank != nil {
			return audit.Fail
		}
		return verdict
	})
	if r.Verdict == audit.Fail && !l.Released() {
		x.Unclear(subject, "no release is written, so whether a result was needed cannot be told", audit.Field{Kind: "loads", Name: "decision"})
		return
	}
	f := audit.Fault{Grade: audit.Minor, Matter: "none", Day: l.Started.Day(), Found: "released with no " + strings.Join(none, " and ") + " indicator used, as written"}
	if none == nil {
		f.Matter, f.Found = "blank", "released with no result of the "+strings.Join(blank, " and ")+" indicator written, in a log that has it for other loads"
	}
	for _, item := range append(none, blank...) {
		f.Evidence = append(f.Evidence, audit.At(&l.Row, item+"_indicator"))
	}
	f.Steps = []string{
		"Look at the strips and the log book of these loads; where a result stands there, add it as a late entry with today's date.",
		"What was not written or not used then stays so: fill in nothing from memory.",
		"From today on, put an indicator into each pack and write its result before the load is released.",
	}
	x.Settle(subject, r, f, func(c audit.Criterion) string {
		return "the result of the " + strings.Join(c.Items(), " and ") + " indicator is written before a load is released"
	}, "the result of the indicator is not written, which does not say that none was used", missing...)
}
