package checks

import (
	"slices"
	"sort"

	"footing/internal/audit"
	"footing/internal/chain"
	"footing/internal/practice"
	"footing/internal/quantity"
)

var _ = define(audit.Check{
	ID:    "monitoring/air-removal",
	Title: "each day on which a sterilizer drew its air out began with a passed air-removal test",
	Why: "A sterilizer that draws its air out by pumps or pulses can do so well one day and badly the next. The test pack shows, in a cycle of its own before the first load, whether steam reached the middle of it. " +
		"Steam does not get to where air is left.",
	Grades:  []audit.Grade{audit.Major, audit.Observation},
	Subject: "sterilizers", Thing: "day with loads from which air was drawn out", Things: "days with loads from which air was drawn out",
	Needs: []string{"loads", "sterilizers"},
	Helps: []string{"sterilizers.air_removal", "tests", "tests.result", "tests.run_at", "tests.equipment", "programs.pulses", "practice.coverage"},
	Uses:  []string{"monitoring.air-removal", "records.clock"},
	Fix: []string{
		"Look for the test sheets of these days: they are often glued into the log or kept in a folder of their own. Type each that you find as a row of tests with its own day and hour.",
		"Where none was run, leave it so, and write down what you know of the reason. Run no test under an earlier date.",
		"After a failed test, do not use the sterilizer: run the test once more; if it fails again, call the service firm. Set aside the packs of loads that were run after the failure, and ask your regulator or public health about those that were used.",
		"Look into the maker's instructions: which test, in which program, and how often?",
		"From today on, run the test in the first cycle of each day, and write its result before the first load goes in.",
	},
	Verify: "Each later day of use has a passed air-removal test before its first load.",
	Run: func(x *audit.Examination) {
		r := monitoringAirRun{x: x, clock: monitoringClock(x), typed: monitoringTypedOf(x.P, "air-removal")}
		monitoringEachDynamic(x, func(subject audit.Subject, s *practice.Sterilizer) {
			r.subject, r.s, r.tests = subject, s, monitoringTests(x.P, subject.ID, "air-removal")
			r.last = monitoringLastFailed(x.P, s, r.tests)
			loads := monitoringAirLoads(x.P, s, subject.ID)
			for _, d := range monitoringDays(loads) {
				r.day(d, loads)
			}
			if r.last != nil {
				monitoringStopped(x, subject, r.last, "air-removal")
			}
		})
	},
})

// monitoringAirRun judges the days of one sterilizer.
type monitoringAirRun struct {
	x       *audit.Examination
	clock   chain.Clock
	typed   monitoringTyped
	subject audit.Subject
	s       *practice.Sterilizer
	tests   []*practice.Test
	last    *practice.Test // that failed with none that passed since, and is not told of yet
}

// monitoringAirLoads are the loads of a sterilizer but those whose program draws no air
// out, and those that made no pack: the test's own, and warm-ups.
func monitoringAirLoads(p *practice.Practice, s *practice.Sterilizer, key string) (loads []*practice.Load) {
	var all []*practice.Program
	for i := range p.Programs {
		if p.Programs[i].Sterilizer == key {
			all = append(all, &p.Programs[i])
		}
	}
	for _, l := range p.LoadsOf(key) {
		g, state := p.Program(l.Program)
		if state == practice.Absent && l.Program != "" {
			g = cyclesByName(all, l.Program)
		}
		empty := l.PacksMade.Written && l.PacksMade.Value == 0
		if !empty && !slices.Contains(cyclesAir(s, g), "gravity") {
			loads = append(loads, l)
		}
	}
	return loads
}

// of are the tests of one day.
func (r *monitoringAirRun) of(on quantity.Day) []*practice.Test {
	from := sort.Search(len(r.tests), func(i int) bool { return r.tests[i].RunAt.Day() >= on })
	until := sort.Search(len(r.tests), func(i int) bool { return r.tests[i].RunAt.Day() > on })
	return r.tests[from:until]
}

func (r *monitoringAirRun) day(d monitoringDay, loads []*practice.Load) {
	today := r.of(d.on)
	if r.failed(d, today, loads) {
		return
	}
	judge := func(c audit.Criterion) audit.Verdict {
		span, limited := c.Limit()
		if !limited {
			return audit.Meets
		}
		return r.judge(d, span)
	}
	by := r.x.Ask("monitoring.air-removal", nil, judge)
	f := r.fault(d, today)
	switch {
	case by.Verdict == audit.CannotTell && r.open(d, by.Criterion):
		r.x.Unclear(r.subject, monitoringAirOpen, audit.Field{Kind: "tests", Name: "result"})
	case by.Verdict == audit.CannotTell && f.Matter != "none":
		f.Needed = "another that passed before the first load, and is not typed, would explain it"
		monitoringDoubt(r.x, r.subject, f, "no air-removal test that passed before the first load is typed, and "+r.typed.why(), r.typed.missing())
	case by.Verdict == audit.CannotTell:
		r.x.Unclear(r.subject, "no air-removal test of the day is typed, and "+r.typed.why(), r.typed.missing())
	case by.Verdict == audit.Fail && !by.Depends && !monitoringReleased(r.used(d, loads)).Released():
		f.Needed = monitoringAirNeeded(by.Criterion)
		monitoringDoubt(r.x, r.subject, f, monitoringUndecided, audit.Field{Kind: "loads", Name: "decision"})
	default:
		r.x.Settle(r.subject, by, f, monitoringAirNeeded, "")
	}
}

// near are the tests that could cover a day, of the day itself or not further back than
// a span; without those that surely came after its first load, if they did not run in it.
func (r *monitoringAirRun) near(d monitoringDay, span quantity.Quantity) (tests []*practice.Test) {
	from := monitoringBack(d.on, span)
	at := sort.Search(len(r.tests), func(i int) bool { return r.tests[i].RunAt.Day() >= from })
	for _, t := range r.tests[at:] {
		if t.RunAt.Day() > d.on {
			break
		}
		if t.RunAt.Day() < d.on || monitoringRanIn(t, d.first) || r.clock.Before(d.first.Started, t.RunAt) != quantity.Yes {
			tests = append(tests, t)
		}
	}
	return tests
}

// judge says whether a passed test covers a day.
func (r *monitoringAirRun) judge(d monitoringDay, span quantity.Quantity) audit.Verdict {
	open := false
	for _, t := range r.near(d, span) {
		if t.Result == "pass" {
			return audit.Meets
		}
		open = open || t.Result != "fail"
	}
	if open || !r.typed.whole(monitoringBack(d.on, span), d.on) {
		return audit.CannotTell
	}
	return audit.Fail
}

// open reports whether a test that could cover a day has no result.
func (r *monitoringAirRun) open(d monitoringDay, c audit.Criterion) bool {
	span, _ := c.Limit()
	return slices.ContainsFunc(r.near(d, span), func(t *practice.Test) bool { return t.Result != "pass" && t.Result != "fail" })
}

func monitoringAirNeeded(c audit.Criterion) string {
	span, limited := c.Limit()
	switch {
	case !limited:
		return "no air-removal test is asked for"
	case span.Value == 0:
		return "one that passed before the first load of each day of use; a sheet that is not typed, or an hour written when the sheet was read, would explain it"
	}
	return "one that passed at least every " + span.String() + " of use; a sheet that is not typed would explain it"
}

// fault tells of a day without a passed test before its first load.
func (r *monitoringAirRun) fault(d monitoringDay, today []*practice.Test) audit.Fault {
	f := audit.Fault{Grade: audit.Major, Matter: "none", Day: d.on, Found: "in use with no air-removal test written for the day",
		Evidence: []audit.Evidence{audit.At(&d.first.Row, "started", "the first load of the day")}}
	if len(r.tests) == 0 && r.s.Class != "B" {
		f.Found += " or for any other (where pulses of steam alone drive the air out, the maker may ask for none)"
	}
	for _, t := range today {
		if t.Result == "pass" {
			f.Matter, f.Found = "late", "the air-removal test of the day was run after its first load, as written"
		}
		if t.Result == "fail" && f.Matter == "none" {
			f.Matter, f.Found = "none passed", "in use with no air-removal test of the day that passed"
		}
		f.Evidence = append(f.Evidence, audit.At(&t.Row, "run_at", "the test"))
	}
	return f
}

// used are the loads of one day.
func (r *monitoringAirRun) used(d monitoringDay, loads []*practice.Load) (used []*practice.Load) {
	from := sort.Search(len(loads), func(i int) bool { return loads[i].Started.Day() >= d.on })
	for _, l := range loads[from:] {
		if l.Started.Day() > d.on {
			break
		}
		if monitoringInUse(l) {
			used = append(used, l)
		}
	}
	return used
}

// failed tells of a test that failed, of the day or the last one before it, after which
// loads of the day followed before one passed.
func (r *monitoringAirRun) failed(d monitoringDay, today []*practice.Test, loads []*practice.Load) bool {
	used := r.used(d, loads)
	if before := r.before(d.on); before != nil && before.Result == "fail" {
		today = append([]*practice.Test{before}, today...)
	}
	for i, t := range today {
		if t.Result != "fail" {
			continue
		}
		var next *practice.Test
		for j, o := range today {
			if o.Result == "pass" && (j > i || r.clock.Before(o.RunAt, t.RunAt) != quantity.Yes) {
				next = o // the rows stand by their hours; where those do not tell, the pass came after
				break
			}
		}
		sure, maybe := monitoringUsedAfter(r.clock, used, t, next)
		if l := monitoringReleased(sure); l != nil && !r.mayPass(today[i+1:], l) {
			r.usedAfter(d, t, l)
			return true
		} else if l != nil {
			r.x.Unclear(r.subject, monitoringAirOpen, audit.Field{Kind: "tests", Name: "result"})
			return true
		}
		if next == nil && len(maybe) > 0 {
			r.x.Unclear(r.subject, "an air-removal test of the day failed, and the hours that are written do not tell whether a load followed it", audit.Field{Kind: "tests", Name: "run_at"})
			return true
		}
	}
	return false
}

// monitoringAirOpen is why a day is not assessed whose test has no result.
const monitoringAirOpen = "the air-removal test of the day has no result typed yet"

// mayPass reports whether one of some tests has no result, and may have passed before a load.
func (r *monitoringAirRun) mayPass(tests []*practice.Test, l *practice.Load) bool {
	return slices.ContainsFunc(tests, func(t *practice.Test) bool {
		return t.Result != "pass" && t.Result != "fail" && r.clock.Before(l.Started, t.RunAt) != quantity.Yes
	})
}

// before is the last test before a day; nil where none is.
func (r *monitoringAirRun) before(on quantity.Day) *practice.Test {
	at := sort.Search(len(r.tests), func(i int) bool { return r.tests[i].RunAt.Day() >= on })
	if at == 0 {
		return nil
	}
	return r.tests[at-1]
}

// usedAfter tells of a load of a day after a test that failed.
func (r *monitoringAirRun) usedAfter(d monitoringDay, t *practice.Test, l *practice.Load) {
	f := audit.Fault{Grade: audit.Major, Matter: "failed", Day: d.on,
		Found:    "loads were run after an air-removal test of the day that failed, with none that passed written between",
		Needed:   "a sterilizer is not used after a failed test until one passes; a result mistyped, or a repeat that is not typed, would explain it",
		Evidence: []audit.Evidence{audit.At(&t.Row, "result", "the test that failed"), audit.At(&l.Row, "started", "a load after it")}}
	if t.RunAt.Day() < d.on {
		f.Found = "loads were run after the air-removal test of " + t.RunAt.Day().Words() + " failed, with none that passed written between"
	}
	if r.last != nil && t.RunAt.Day() >= r.last.RunAt.Day() {
		f.Stop, f.Steps, r.last = true, monitoringStop("air-removal"), nil
	}
	mended := monitoringMended(r.x.P, r.subject.ID, t, l)
	switch {
	case mended != nil:
		f.Evidence = append(f.Evidence, audit.At(&mended.Row, "task", "work between them"))
		monitoringDoubt(r.x, r.subject, f, monitoringMendedWhy, audit.Field{Kind: "tests"})
	case !r.typed.whole(t.RunAt.Day(), d.on):
		monitoringDoubt(r.x, r.subject, f, "a repeat of the failed test that passed would explain the loads after it, and "+r.typed.why(), r.typed.missing())
	case !l.Released():
		monitoringDoubt(r.x, r.subject, f, monitoringUndecided, audit.Field{Kind: "loads", Name: "decision"})
	default:
		r.x.NotMet(r.subject, f)
	}
}
