package checks

import (
	"slices"
	"sort"

	"footing/internal/audit"
	"footing/internal/chain"
	"footing/internal/practice"
	"footing/internal/quantity"
)

// monitoringRanIn reports whether a test ran in a load: the one that it names, by its id
// or by its number of that day.
func monitoringRanIn(t *practice.Test, l *practice.Load) bool {
	if t.Load != "" {
		return t.Load == practice.Key(&l.Row)
	}
	return t.Counter.Written && l.Counter.Written && t.Counter.Value == l.Counter.Value && t.RunAt.Day() == l.Started.Day()
}

// monitoringUsedAfter are the loads put to use after a test and before a later one, or
// up to the last where that is nil, without those in which the two ran; maybe are those
// of which the hours do not tell.
func monitoringUsedAfter(clock chain.Clock, loads []*practice.Load, t, next *practice.Test) (sure, maybe []*practice.Load) {
	from := sort.Search(len(loads), func(i int) bool { return loads[i].Started.Day() >= t.RunAt.Day() })
	for _, l := range loads[from:] {
		if next != nil && l.Started.Day() > next.RunAt.Day() {
			break
		}
		if !monitoringInUse(l) || monitoringRanIn(t, l) || next != nil && monitoringRanIn(next, l) {
			continue
		}
		after, before := clock.Before(t.RunAt, l.Started), quantity.Yes
		if next != nil {
			before = clock.Before(l.Started, next.RunAt)
		}
		switch {
		case after == quantity.Yes && before == quantity.Yes:
			sure = append(sure, l)
		case after != quantity.No && before != quantity.No:
			maybe = append(maybe, l)
		}
	}
	return sure, maybe
}

// monitoringReleased is the first of some loads that is written as released, else the
// first of all; nil of none.
func monitoringReleased(loads []*practice.Load) *practice.Load {
	for _, l := range loads {
		if l.Released() {
			return l
		}
	}
	if len(loads) > 0 {
		return loads[0]
	}
	return nil
}

// monitoringEachDynamic calls look for each steam sterilizer of the practice's own that
// draws its air out. One of which that is not written is unclear; where it has a test of
// how it does, that is looked at too.
func monitoringEachDynamic(x *audit.Examination, look func(audit.Subject, *practice.Sterilizer)) {
	monitoringEach(x, func(subject audit.Subject, s *practice.Sterilizer) {
		air := cyclesAir(s, nil)
		switch {
		case s.Method != "steam" || len(air) == 1 && air[0] != "dynamic":
			x.Pass()
		case len(air) > 1:
			x.Unclear(subject, "how the sterilizer gets the air out of its chamber is not written", audit.Field{Kind: "sterilizers", Name: "air_removal"})
			if slices.ContainsFunc(x.P.TestsOf(subject.ID), func(t *practice.Test) bool { return t.Type == "air-removal" || t.Type == "leak" }) {
				look(subject, s)
			}
		default:
			look(subject, s)
		}
	})
	x.Nothing("no sterilizer of the practice's own draws its air out by pumps or pulses, or none was used")
}

// monitoringClock is how far clocks may differ; a check that uses it uses records.clock.
func monitoringClock(x *audit.Examination) (c chain.Clock) {
	if limit, ok := x.Criterion("records.clock", nil); ok {
		c.Tolerance = limit.Quantity()
	}
	return c
}

// monitoringLastFailed is the first test that failed after which none of a sterilizer's
// tests of its kind passed; nil where one did, or may have by its hour, or where the
// sterilizer is written as out of use since.
func monitoringLastFailed(p *practice.Practice, s *practice.Sterilizer, tests []*practice.Test) *practice.Test {
	var failed, passed *practice.Test
	for _, t := range tests {
		switch {
		case t.Result == "pass":
			failed, passed = nil, t
		case t.Result == "fail" && failed == nil && (passed == nil || quantity.Before(passed.RunAt, t.RunAt) == quantity.Yes):
			failed = t
		}
	}
	if failed == nil || s.RetiredOn.Written() && s.RetiredOn <= p.AsOf {
		return nil
	}
	rests := false
	for _, u := range p.UpkeepOf(practice.Key(&s.Row)) {
		rests = u.Task == "out-of-use" && u.DoneOn >= failed.RunAt.Day() || rests && u.Task != "back-in-use"
	}
	if rests {
		return nil
	}
	return failed
}

// monitoringStop are the steps where no test has passed since one failed.
func monitoringStop(test string) []string {
	return []string{
		"Do not use the sterilizer until a test has passed. Run the " + test + " test once more, as its maker says; if it fails again, call the service firm.",
		"If a repeat that passed is on a printout or in the firm's report, write it as a row with its own date, and audit again.",
		"Set aside the packs of loads that were run after the failure and are still closed. If such packs were used, ask your regulator or public health; contact no client about it on your own.",
	}
}

// monitoringStopped tells of a test that failed and was followed by none that passed.
func monitoringStopped(x *audit.Examination, s audit.Subject, t *practice.Test, test string) {
	x.Remark(s, audit.Fault{Matter: "stop", Day: t.RunAt.Day(), Stop: true, Steps: monitoringStop(test),
		Found:    "its " + test + " test of " + t.RunAt.Day().Words() + " failed, and none that passed since is written",
		Needed:   "a sterilizer is not used after a failed test until one passes; a result mistyped, or a repeat that is not typed, would explain it",
		Evidence: []audit.Evidence{audit.At(&t.Row, "result", "the test that failed")}})
}

// monitoringMended is work on a sterilizer between a test that failed and a load, in the
// report of which a test that passed may stand; nil where none is written.
func monitoringMended(p *practice.Practice, sterilizer string, t *practice.Test, l *practice.Load) *practice.Upkeep {
	for _, u := range p.UpkeepOf(sterilizer) {
		switch u.Task {
		case "service", "repair", "validation", "gasket":
			if u.Result != "fail" && u.DoneOn >= t.RunAt.Day() && u.DoneOn <= l.Started.Day() {
				return u
			}
		}
	}
	return nil
}

// monitoringMendedWhy is why loads after such work are not assessed.
const monitoringMendedWhy = "a test failed and the sterilizer was worked on before the next load; a test that passed may stand in the firm's report"

// monitoringValidated is the first validation of a sterilizer that passed from one day to
// another; nil where none did.
func monitoringValidated(p *practice.Practice, sterilizer string, from, until quantity.Day) *practice.Upkeep {
	for _, u := range p.UpkeepOf(sterilizer) {
		if u.Task == "validation" && u.Result == "pass" && u.DoneOn >= from && u.DoneOn <= until {
			return u
		}
	}
	return nil
}

// monitoringDoubt tells of a fault that rests on something not known for sure: it is not
// assessed, and an observation.
func monitoringDoubt(x *audit.Examination, s audit.Subject, f audit.Fault, why string, missing audit.Field) {
	x.Unclear(s, why, missing)
	f.Grade, f.Weight, f.Criterion = audit.Observation, 0, nil
	f.Matter += " perhaps"
	x.Remark(s, f)
}

// monitoringUndecided is why a fault in loads that have no release written is not assessed.
const monitoringUndecided = "no release of the loads is written, so whether they were used cannot be told"
