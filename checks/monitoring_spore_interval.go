package checks

import (
	"fmt"
	"slices"
	"strings"

	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/quantity"
)

var _ = define(audit.Check{
	ID:    "monitoring/spore-interval",
	Title: "no time in use longer than the interval passed without a spore test",
	Why: "A spore test puts live spores through a cycle and then tries to grow them: it is the one check that asks whether the sterilizer kills. If one fails, everything since the last passed test is in question, so the longer the interval, the more clients. " +
		"Rules differ from each day of use to no routine test at all. Days are counted by the local date and over use: a closed fortnight is no gap, and after a break longer than the interval the first day of use holds a test.",
	Grades:  []audit.Grade{audit.Major, audit.Observation},
	Subject: "sterilizers", Thing: "stretch of use between two spore tests", Things: "stretches of use between spore tests",
	Needs: []string{"loads", "sterilizers"},
	Helps: []string{"tests", "tests.equipment", "tests.result", "tests.control", "loads.decision", "sterilizers.installed_on", "practice.coverage"},
	Uses:  []string{"monitoring.spore-interval"},
	Fix: []string{
		"Look for the missing reports first: the laboratory's e-mails, its web page, the folder of strips. A test whose row is not typed, or is typed under another sterilizer, explains some gaps; write each that you find as a row with its own date.",
		"Where none was run, leave the gap as it is, and write down today what you know of the reason. Run no test under an earlier date.",
		"Run a spore test in the next load, before the interval runs out again.",
		"Put the day of the test on the calendar, with a second person who sees that it is done; after a break, run it in the first cycle.",
	},
	Verify: "Each later stretch of use has a spore test within the interval, and the first day of use after a break holds one.",
	Run: func(x *audit.Examination) {
		typed := monitoringTypedOf(x.P, "spore")
		var shown [][]string
		monitoringEach(x, func(subject audit.Subject, s *practice.Sterilizer) {
			x.Nothing("no load of a sterilizer of the practice's own is written but rejected or pending ones")
			days, tests := monitoringDays(x.P.LoadsOf(subject.ID)), monitoringTests(x.P, subject.ID, "spore")
			r := monitoringIntervalRun{x: x, typed: typed, subject: subject, counts: map[string]int{}}
			r.all = monitoringStretches(days, tests)
			if len(r.all) > 0 && r.all[0].before == nil && s.InstalledOn <= r.all[0].days[0].on {
				r.all[0].installed = s.InstalledOn
			}
			r.settle()
			shown = append(shown, r.shown...)
		})
		if len(shown) > 0 {
			x.Show("Stretches of use in which no spore test is written within the interval", []string{"sterilizer", "test before", "first day past due", "last day of use", "next test"}, shown)
		}
	},
})

// monitoringIntervalRun judges the stretches of one sterilizer.
type monitoringIntervalRun struct {
	x       *audit.Examination
	typed   monitoringTyped
	subject audit.Subject
	all     []monitoringStretch
	counts  map[string]int // gaps as typed, by rule set
	untyped []monitoringIntervalGap
	shown   [][]string
}

// monitoringIntervalGap is a stretch with its days past due, under the shortest
// interval that could hold, and the rulings on it.
type monitoringIntervalGap struct {
	s     *monitoringStretch
	late  []monitoringDay
	short quantity.Quantity
	by    audit.Ruling // as typed
}

// judge puts one stretch to every rule set: once as typed, and once where only
// what coverage bears out counts as a gap.
func (r *monitoringIntervalRun) judge(s *monitoringStretch) (sure, asTyped audit.Ruling) {
	asTyped = r.x.Ask("monitoring.spore-interval", nil, func(c audit.Criterion) audit.Verdict {
		interval, limited := c.Limit()
		if !limited {
			return audit.Meets
		}
		switch late, open := s.late(interval); {
		case len(late) > 0:
			return audit.Fail
		case len(open) > 0:
			return audit.CannotTell
		}
		return audit.Meets
	})
	sure = r.x.Ask("monitoring.spore-interval", nil, func(c audit.Criterion) audit.Verdict {
		interval, limited := c.Limit()
		if !limited {
			return audit.Meets
		}
		switch late, open := s.late(interval); {
		case len(r.typed.sure(late, interval)) > 0:
			return audit.Fail
		case len(late) > 0 || len(open) > 0:
			return audit.CannotTell
		}
		return audit.Meets
	})
	return sure, asTyped
}

// shortest is the shortest interval under which a ruling is not met.
func (r *monitoringIntervalRun) shortest(s *monitoringStretch, sure bool) (interval quantity.Quantity, late []monitoringDay, ok bool) {
	for _, c := range r.x.Every("monitoring.spore-interval") {
		span, limited := c.Limit()
		if !limited {
			continue
		}
		days, _ := s.late(span)
		if sure {
			days = r.typed.sure(days, span)
		}
		if len(days) > 0 && (!ok || len(days) > len(late)) {
			interval, late, ok = span, days, true
		}
	}
	return interval, late, ok
}

func (r *monitoringIntervalRun) settle() {
	type judged struct{ sure, typed audit.Ruling }
	rulings := make([]judged, len(r.all))
	for i := range r.all {
		s := &r.all[i]
		rulings[i].sure, rulings[i].typed = r.judge(s)
		by := rulings[i].typed
		if s.before == nil && !monitoringFails(rulings[i].sure) {
			continue
		}
		for _, v := range by.By {
			if v.Verdict == audit.Fail {
				r.counts[v.Criterion.Set]++
			}
		}
		if by.By == nil && by.Verdict == audit.Fail {
			r.counts[by.Criterion.Set]++
		}
	}
	for i := range r.all {
		r.one(&r.all[i], rulings[i].sure, rulings[i].typed)
	}
	r.remark()
}

// monitoringFails reports whether some rule set that could hold is not met.
func monitoringFails(r audit.Ruling) bool {
	if r.Verdict == audit.Fail {
		return true
	}
	for _, v := range r.By {
		if v.Verdict == audit.Fail {
			return true
		}
	}
	return false
}

func (r *monitoringIntervalRun) one(s *monitoringStretch, sure, asTyped audit.Ruling) {
	tests := audit.Field{Kind: "tests"}
	interval, late, gap := r.shortest(s, sure.Verdict == audit.Fail)
	switch {
	case sure.Verdict == audit.Fail && gap:
		r.mark(s, late)
		f := r.fault(s, late, interval)
		if !sure.Depends && s.weekly(late) && monitoringIsWeek(interval) && f.Matter == "gap" {
			f.Grade, f.Matter = audit.Observation, "one each week"
			f.Found += ", and yet each week from Monday to Sunday holds one"
		}
		r.x.Settle(r.subject, sure, f, r.needed, "")
	case s.before == nil && s.after == nil && len(s.maybe) == 0 && sure.Verdict == audit.CannotTell:
		r.x.Unclear(r.subject, "no spore test of the sterilizer is typed that counts, and "+r.typed.why(), r.typed.missing())
	case s.before == nil && sure.Verdict == audit.CannotTell:
		r.x.Unclear(r.subject, "use before the first spore test that is typed is not judged", tests)
	case monitoringFails(asTyped) && gap && sure.Verdict == audit.CannotTell:
		r.mark(s, late)
		r.untyped = append(r.untyped, monitoringIntervalGap{s, late, interval, asTyped})
		r.x.Unclear(r.subject, "no spore test of that time is typed, and "+r.typed.why(), r.typed.missing())
	default:
		r.x.Settle(r.subject, sure, audit.Fault{}, r.needed, "a spore test of that time has no result typed yet", audit.Field{Kind: "tests", Name: "result"})
	}
}

// monitoringIsWeek reports whether an interval is one week, however it is written.
func monitoringIsWeek(interval quantity.Quantity) bool {
	week := quantity.Exact(1, quantity.Week)
	day := quantity.NewDay(1, 1, 1)
	return day.Add(interval) == day.Add(week)
}

// fault is one gap: the days past due under the shortest interval that it breaks. One
// that is none if a test counts which does not weighs nothing beside those that are sure.
func (r *monitoringIntervalRun) fault(s *monitoringStretch, late []monitoringDay, interval quantity.Quantity) audit.Fault {
	first, last := late[0], late[len(late)-1]
	f := audit.Fault{Grade: audit.Major, Matter: "gap", Day: first.on, Evidence: r.evidence(s, late)}
	test, since := "spore test", ", with none written since"
	if len(s.spoiled) > 0 {
		test, since = "spore test that counts", ""
	}
	f.Found = "in use " + monitoringFromTo(first.on, last.on)
	if s.before != nil {
		f.Weight = float64(last.on - s.before.RunAt.Day())
		f.Found += fmt.Sprintf(", up to %s after the last %s (%s)%s", monitoringDaysWords(int(last.on-s.before.RunAt.Day())), test, s.before.RunAt.Day().Words(), since)
	} else {
		f.Weight = float64(last.on - first.on + 1)
		f.Found += ", with no " + test + " written before"
	}
	if rest, ok := s.rested(first.on, interval); ok {
		f.Matter = "after a break"
		f.Found = fmt.Sprintf("in use %s after %s in which nothing was run, with no %s on the first day", monitoringFromTo(first.on, last.on), monitoringDaysWords(rest), test)
	}
	if s.spoiledCover(late, interval) {
		f.Weight = 0
	}
	switch n := len(s.spoiled); {
	case n == 1:
		f.Found += "; one was run that does not count"
	case n > 1:
		f.Found += fmt.Sprintf("; %d were run that do not count", n)
	}
	return f
}

// spoiledCover reports whether there is no gap if the tests of the stretch that do not
// count are taken to count.
func (s *monitoringStretch) spoiledCover(late []monitoringDay, interval quantity.Quantity) bool {
	spoiled := monitoringReach{tests: s.spoiled}
	return !slices.ContainsFunc(late, func(d monitoringDay) bool { return !spoiled.covers(d.on, interval) })
}

// monitoringFromTo writes a time: "on 3 Aug 2026", "from 3 Aug 2026 to 7 Aug 2026".
func monitoringFromTo(first, last quantity.Day) string {
	if first == last {
		return "on " + first.Words()
	}
	return "from " + first.Words() + " to " + last.Words()
}

// evidence is a gap as a line: the test before, the use past due, the test after.
func (r *monitoringIntervalRun) evidence(s *monitoringStretch, late []monitoringDay) (list []audit.Evidence) {
	test := func(t *practice.Test, note string) {
		if t != nil {
			list = append(list, audit.At(&t.Row, "run_at", note))
		}
	}
	test(s.before, "the test before")
	for _, t := range s.spoiled {
		test(t, "a test that does not count (see monitoring/spore-valid)")
	}
	for _, t := range s.maybe {
		test(t, "a test with no result yet")
	}
	first, last := late[0].first, late[len(late)-1].last
	list = append(list, audit.At(&first.Row, "started", "the first load past due"))
	if last != first {
		note := "the last load written"
		if s.after != nil {
			note = "the last load before the next test"
		}
		list = append(list, audit.At(&last.Row, "started", note))
	}
	test(s.after, "the test after")
	return list
}

// needed is what a criterion asks, with how many gaps there are under it.
func (r *monitoringIntervalRun) needed(c audit.Criterion) string {
	span, limited := c.Limit()
	switch {
	case !limited:
		return "no limit: no gap"
	case span.Value == 0:
		return "a spore test on each day of use: " + monitoringGaps(r.counts[c.Set])
	}
	return "a spore test at least every " + span.String() + " of use: " + monitoringGaps(r.counts[c.Set])
}

func monitoringGaps(n int) string {
	switch n {
	case 0:
		return "no gap"
	case 1:
		return "1 gap"
	}
	return fmt.Sprintf("%d gaps", n)
}

// mark puts a gap into the calendar and the table.
func (r *monitoringIntervalRun) mark(s *monitoringStretch, late []monitoringDay) {
	first, last := late[0].on, late[len(late)-1].on
	r.x.Gap(audit.Gap{Sterilizer: r.subject.ID, Test: "spore", From: first.String(), Until: last.String(), Days: int(last-first) + 1})
	before, after := "none written", "none written"
	if s.before != nil {
		before = s.before.RunAt.Day().String()
	}
	if s.after != nil {
		after = s.after.RunAt.Day().String()
	}
	r.shown = append(r.shown, []string{r.subject.ID, before, first.String(), last.String(), after})
}

// remark names the times of use for which no test is typed: not a gap yet.
func (r *monitoringIntervalRun) remark() {
	if len(r.untyped) == 0 {
		return
	}
	first, last := r.untyped[0], r.untyped[len(r.untyped)-1]
	found := "no spore test is typed for the use " + first.words()
	if len(r.untyped) > 1 {
		found = fmt.Sprintf("no spore test is typed for %d times of use, the first %s, the last %s", len(r.untyped), first.words(), last.words())
	}
	for _, g := range r.untyped {
		f := audit.Fault{Matter: "not typed", Found: found, Needed: r.under(), Day: g.late[0].on, By: g.by.By, Evidence: r.evidence(g.s, g.late), Steps: monitoringIntervalLook}
		r.x.Remark(r.subject, f)
	}
}

func (g monitoringIntervalGap) words() string {
	return monitoringFromTo(g.late[0].on, g.late[len(g.late)-1].on)
}

// under says how many gaps there would be under each rule that could hold.
func (r *monitoringIntervalRun) under() string {
	var parts []string
	for _, c := range r.x.Every("monitoring.spore-interval") {
		parts = append(parts, c.Set+" ("+r.needed(c)+")")
	}
	return "look for the reports before you call it a gap; as typed, against " + strings.Join(parts, ", ")
}

var monitoringIntervalLook = []string{
	"Look for the reports of these times: the laboratory's e-mails first, its web page, the folder of strips. Write each that you find as a row of tests with its own date.",
	"Look up how often your regulator asks for a spore test, and write it into rules.yaml or practice.rule_set.",
	"If all tests that were run are typed, say so in practice.coverage; then what is missing can be told.",
	"Run no test under an earlier date. Run the next one in the next load.",
}
