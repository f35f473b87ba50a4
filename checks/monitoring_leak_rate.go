package checks

import (
	"sort"

	"footing/internal/audit"
	"footing/internal/chain"
	"footing/internal/practice"
	"footing/internal/quantity"
)

var _ = define(audit.Check{
	ID:    "monitoring/leak-rate",
	Title: "leak tests were run in time while a sterilizer was in use, and stayed below the limit",
	Why: "A sterilizer that draws its air out must hold its vacuum: through a leak, air comes back into the chamber and keeps the steam from the load. A leak test measures how fast the vacuum is lost. " +
		"Some rules ask for it daily, or weekly where an air detector watches each cycle; others do not ask for it. Days are counted over use.",
	Grades:  []audit.Grade{audit.Major, audit.Minor, audit.Observation},
	Subject: "sterilizers", Thing: "leak test or day of use", Things: "leak tests and days of use",
	Needs: []string{"loads", "sterilizers"},
	Helps: []string{"tests", "tests.leak_rate", "tests.result", "sterilizers.air_removal", "sterilizers.air_detector", "practice.coverage"},
	Uses:  []string{"monitoring.leak", "monitoring.leak-interval", "records.clock"},
	Fix: []string{
		"Compare the rate and its unit with the printout: 1.3 mbar a minute are 0.13 kPa a minute, and 13 mbar in 10 minutes.",
		"Where the rate was too high, do not use the sterilizer until a test has passed: clean the door seal as the maker says, test again, and else call the service firm.",
		"Set aside the packs of loads that were run after it and are still closed, and ask the maker or the service firm what it means for them. If such packs were used, ask your regulator or public health; contact no client about it on your own.",
		"Where tests are missing, look for their printouts, and type those that you find with their own days.",
		"Look into the maker's instructions whether the sterilizer has a leak test, and how often it asks for one. From today on, run it so.",
	},
	Verify: "The next leak tests lie within the interval and below the limit.",
	Run: func(x *audit.Examination) {
		r := monitoringLeakRun{x: x, clock: monitoringClock(x), typed: monitoringTypedOf(x.P, "leak")}
		monitoringEachDynamic(x, func(subject audit.Subject, s *practice.Sterilizer) {
			r.subject, r.s = subject, s
			r.tests, r.loads = monitoringTests(x.P, subject.ID, "leak"), x.P.LoadsOf(subject.ID)
			r.last = monitoringLastFailed(x.P, s, r.tests)
			for i, t := range r.tests {
				r.test(i, t)
			}
			if r.last != nil {
				monitoringStopped(x, subject, r.last, "leak")
			}
			r.days(monitoringDays(r.loads))
		})
		if r.unasked {
			x.Nothing("the rule that is chosen asks for no leak test, and none is typed")
		}
	},
})

// monitoringLeakRun judges the leak tests and days of use of one sterilizer.
type monitoringLeakRun struct {
	x       *audit.Examination
	clock   chain.Clock
	typed   monitoringTyped
	subject audit.Subject
	s       *practice.Sterilizer
	tests   []*practice.Test
	loads   []*practice.Load
	last    *practice.Test // that failed with none that passed since, and is not told of yet
	unasked bool           // a sterilizer has no test, and no rule asks for one
}

// rate puts the rate of a test to every rule set.
func (r *monitoringLeakRun) rate(t *practice.Test) audit.Ruling {
	return r.x.Ask("monitoring.leak", nil, func(c audit.Criterion) audit.Verdict {
		most := quantity.Exact(c.Number(), quantity.MbarPerMinute)
		switch t.LeakRate.AtMost(most, quantity.Quantity{}) {
		case quantity.Yes:
			return audit.Meets
		case quantity.No:
			return audit.Fail
		}
		return audit.CannotTell
	})
}

// test judges one leak test. One that failed, and after which nothing was used until
// another passed, did what it is for.
func (r *monitoringLeakRun) test(i int, t *practice.Test) {
	by := audit.Ruling{Verdict: audit.Silent}
	if t.LeakRate.Written() {
		by = r.rate(t)
	}
	failed := t.Result == "fail" && by.Verdict != audit.Fail
	switch {
	case by.Verdict == audit.CannotTell && !failed:
		r.x.Unclear(r.subject, "whether the leak was below the limit hangs on less than half of its last digit", audit.Field{Kind: "tests", Name: "leak_rate"})
		return
	case by.Verdict == audit.Silent && t.Result != "pass" && !failed:
		r.x.Unclear(r.subject, "neither the rate nor the result of the leak test is written", audit.Field{Kind: "tests", Name: "leak_rate"}, audit.Field{Kind: "tests", Name: "result"})
		return
	case by.Verdict != audit.Fail && !failed:
		r.x.Met(r.subject)
		return
	}
	sure, maybe := monitoringUsedAfter(r.clock, r.loads, t, r.passed(i))
	l := monitoringReleased(sure)
	var f audit.Fault
	var mended *practice.Upkeep
	if l != nil {
		f, mended = r.fault(t, l, by), monitoringMended(r.x.P, r.subject.ID, t, l)
	}
	switch {
	case l == nil && len(maybe) > 0:
		r.x.Unclear(r.subject, "a leak test failed, and the hours that are written do not tell whether a load was run before one passed", audit.Field{Kind: "tests", Name: "run_at"})
	case l == nil:
		r.x.Met(r.subject)
	case mended != nil:
		f.Evidence = append(f.Evidence, audit.At(&mended.Row, "task", "work between them"))
		monitoringDoubt(r.x, r.subject, f, monitoringMendedWhy, audit.Field{Kind: "tests"})
	case !r.typed.whole(t.RunAt.Day(), l.Started.Day()):
		monitoringDoubt(r.x, r.subject, f, "a repeat of the failed test that passed would explain the loads after it, and "+r.typed.why(), r.typed.missing())
	case !l.Released():
		monitoringDoubt(r.x, r.subject, f, monitoringUndecided, audit.Field{Kind: "loads", Name: "decision"})
	case failed:
		r.x.NotMet(r.subject, f)
	default:
		r.x.Settle(r.subject, by, f, monitoringLeakMost, "")
	}
}

// passed is the next test after one that passed; nil where none did.
func (r *monitoringLeakRun) passed(i int) *practice.Test {
	for _, t := range r.tests[i+1:] {
		if t.Result == "pass" && !(t.LeakRate.Written() && r.rate(t).Verdict == audit.Fail) {
			return t
		}
		if t.Result == "" && t.LeakRate.Written() && r.rate(t).Verdict == audit.Meets {
			return t
		}
	}
	return nil
}

func monitoringLeakMost(c audit.Criterion) string {
	return "no more than " + c.Value() + " mbar a minute, and no use after a higher one until a test passes; a unit or a point in the wrong place would explain it"
}

// fault tells of a test that failed, with a load that followed.
func (r *monitoringLeakRun) fault(t *practice.Test, l *practice.Load, by audit.Ruling) audit.Fault {
	f := audit.Fault{Grade: audit.Major, Matter: "above", Day: t.RunAt.Day(),
		Evidence: []audit.Evidence{audit.At(&t.Row, "leak_rate", "the test"), audit.At(&l.Row, "started", "a load after it")}}
	if t == r.last {
		f.Stop, f.Steps, r.last = true, monitoringStop("leak"), nil
	}
	if by.Verdict == audit.Fail {
		f.Weight = t.LeakRate.In(quantity.MbarPerMinute)
		f.Found, f.Needed = "a leak of "+t.LeakRate.String()+", and loads run after it before a test passed, as written", monitoringLeakMost(by.Criterion)
		return f
	}
	f.Matter, f.Evidence[0].Field = "failed", "result"
	f.Found, f.Needed = "a leak test failed, and loads were run after it before one passed, as written", "a sterilizer is not used after a failed test until one passes; a repeat that is not typed would explain it"
	return f
}

// days judges the days of use by the leak tests before them.
func (r *monitoringLeakRun) days(days []monitoringDay) {
	told := false
	for _, d := range days {
		until := sort.Search(len(r.tests), func(i int) bool { return r.tests[i].RunAt.Day() > d.on })
		var last *practice.Test
		if until > 0 {
			last = r.tests[until-1]
		}
		by, same := r.interval(d, last)
		switch {
		case !same:
			r.x.Unclear(r.subject, "in time or too late by whether the sterilizer has an air detector, which is not written", audit.Field{Kind: "sterilizers", Name: "air_detector"})
		case len(r.tests) == 0 && (by.Verdict == audit.Fail || by.Verdict == audit.CannotTell):
			r.x.Unclear(r.subject, "no leak test of the sterilizer is typed; it may have no such cycle", audit.Field{Kind: "tests"})
			if by.Verdict == audit.Fail && !told {
				told = true
				r.x.Remark(r.subject, monitoringLeakNever(r.s))
			}
		case len(r.tests) == 0 && !by.Depends && monitoringLeakUnasked(by):
			r.x.Pass()
			r.unasked = true
		default:
			f := r.late(d, last)
			if by.Verdict == audit.Fail && monitoringOneEach(by, r.near(until), []monitoringDay{d}) {
				f.Grade, f.Matter = audit.Observation, "one each week"
				f.Found += ", and yet its week, from Monday to Sunday, holds one"
			}
			r.x.Settle(r.subject, by, f, monitoringLeakInterval, "no leak test of that time is typed, and "+r.typed.why(), r.typed.missing())
		}
	}
}

// monitoringLeakUnasked reports whether nothing is asked for.
func monitoringLeakUnasked(by audit.Ruling) bool {
	_, limited := by.Criterion.Limit()
	return by.Verdict == audit.Meets && !limited
}

// near are the tests on both sides of a place among them.
func (r *monitoringLeakRun) near(until int) []*practice.Test {
	return r.tests[max(until-1, 0):min(until+1, len(r.tests))]
}

// monitoringLeakNever tells of a sterilizer of which no leak test was ever typed.
func monitoringLeakNever(s *practice.Sterilizer) audit.Fault {
	return audit.Fault{Matter: "never", Found: "no leak test of this sterilizer is written, though it draws its air out", Needed: "some rules ask for one where the sterilizer has it as a cycle of its own; not every sterilizer has",
		Evidence: []audit.Evidence{audit.At(&s.Row, "air_removal")},
		Steps: []string{
			"Look into the maker's instructions: does it have a leak test, and how often is it to be run?",
			"If it has none, write so into the note of the sterilizer. If it has one, run it as they say, and type each result.",
		}}
}

// interval puts a day of use to every rule set. Where it is not written whether the
// sterilizer has an air detector, both answers must come to the same.
func (r *monitoringLeakRun) interval(d monitoringDay, last *practice.Test) (by audit.Ruling, same bool) {
	judge := func(c audit.Criterion) audit.Verdict {
		span, limited := c.Limit()
		switch {
		case !limited, last != nil && d.on <= last.RunAt.Day().Add(span):
			return audit.Meets
		case !r.typed.whole(monitoringBack(d.on, span), d.on):
			return audit.CannotTell
		}
		return audit.Fail
	}
	ask := func(detector string) audit.Ruling {
		return r.x.Ask("monitoring.leak-interval", audit.When{"air_detector": detector}, judge)
	}
	switch r.s.AirDetector {
	case quantity.IsYes:
		return ask("yes"), true
	case quantity.IsNo:
		return ask("no"), true
	}
	yes, no := ask("yes"), ask("no")
	return yes, yes.Verdict == no.Verdict && yes.Depends == no.Depends
}

func monitoringLeakInterval(c audit.Criterion) string {
	span, limited := c.Limit()
	switch {
	case !limited:
		return "no leak test is asked for"
	case span.Value == 0:
		return "a leak test on each day of use"
	}
	return "a leak test at least every " + span.String() + " of use"
}

// late tells of a day of use that no leak test covers.
func (r *monitoringLeakRun) late(d monitoringDay, last *practice.Test) audit.Fault {
	f := audit.Fault{Grade: audit.Minor, Matter: "late", Day: d.on, Found: "in use on " + d.on.Words() + ", with no leak test written before (a printout that is not typed would explain it)"}
	if last != nil {
		f.Weight = float64(d.on - last.RunAt.Day())
		f.Found = "in use on " + d.on.Words() + ", with the last leak test that is written " + packsDays(last.RunAt.Day(), d.on) + " before (a printout that is not typed would explain it)"
		f.Evidence = append(f.Evidence, audit.At(&last.Row, "run_at", "the last leak test before"))
	}
	f.Evidence = append(f.Evidence, audit.At(&d.first.Row, "started", "the first load of the day"))
	return f
}
