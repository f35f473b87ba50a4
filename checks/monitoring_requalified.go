package checks

import (
	"cmp"
	"fmt"
	"slices"
	"sort"

	"footing/internal/audit"
	"footing/internal/chain"
	"footing/internal/practice"
	"footing/internal/quantity"
)

var _ = define(audit.Check{
	ID:    "monitoring/requalified",
	Title: "no load was released after an installation, a move or a repair before repeated spore tests had passed",
	Why: "A sterilizer that was newly put up, moved or repaired may not work as it did before: a hose, a seal or the slope of the floor is enough. " +
		"So it is tried with spore tests, several in a row, before its packs are used again.",
	Grades:  []audit.Grade{audit.Major, audit.Observation},
	Subject: "sterilizers", Thing: "installation, move or repair", Things: "installations, moves and repairs",
	Needs: []string{"loads", "sterilizers"},
	Helps: []string{"upkeep.task", "upkeep.done_on", "sterilizers.installed_on", "tests", "tests.result", "loads.released_at", "practice.coverage", "practice.records_from"},
	Uses:  []string{"monitoring.repeats", "monitoring.spore-interval", "records.clock"},
	Fix: []string{
		"Look for the test reports of that time, and for the firm's report: tests that the technician ran are often in it. Type each spore test that you find as a row with its own date.",
		"Look at what was repaired: where it touched neither chamber, steam, vacuum nor controls, write so into its note, and ask the maker whether tests were called for.",
		"Where the tests were not run, run them now, in a row, as the maker and your rule say, and keep the packs of those cycles back until all are read.",
		"Ask your regulator whether anything is to be done about the packs of the loads in between. Contact no client about it on your own.",
		"From today on, agree with the service firm that each visit ends with these tests, and release nothing before they are read.",
	},
	Verify: "After the next move or repair, the log shows the passed spore tests before the first released load.",
	Run: func(x *audit.Examination) {
		r := monitoringAgainRun{x: x, clock: monitoringClock(x), typed: monitoringTypedOf(x.P, "spore")}
		r.begin, _ = x.P.Period()
		if from := x.P.Profile.RecordsFrom; from.Written() {
			r.begin = from
		}
		monitoringEach(x, func(subject audit.Subject, s *practice.Sterilizer) {
			r.subject, r.loads = subject, x.P.LoadsOf(subject.ID)
			r.tests = monitoringTests(x.P, subject.ID, "spore")
			all := monitoringAgainEvents(x.P, s, subject.ID)
			for i, e := range all {
				until := x.P.AsOf
				if i+1 < len(all) {
					until = all[i+1].on
				}
				r.event(e, until)
			}
		})
		x.Nothing("no installation, move or repair of a sterilizer of the practice's own lies within the records, with loads after it")
	},
})

// monitoringAgainRun judges what was done to one sterilizer.
type monitoringAgainRun struct {
	x       *audit.Examination
	clock   chain.Clock
	typed   monitoringTyped
	begin   quantity.Day // of the records
	subject audit.Subject
	loads   []*practice.Load
	tests   []*practice.Test
}

// monitoringAgainEvent is one installation, move or repair.
type monitoringAgainEvent struct {
	on   quantity.Day
	what string
	at   audit.Evidence
}

// monitoringAgainEvents are those of one sterilizer, by day; of one day, the last.
func monitoringAgainEvents(p *practice.Practice, s *practice.Sterilizer, key string) (all []monitoringAgainEvent) {
	if s.InstalledOn.Written() {
		all = append(all, monitoringAgainEvent{s.InstalledOn, "installation", audit.At(&s.Row, "installed_on", "the installation")})
	}
	for _, u := range p.UpkeepOf(key) {
		switch u.Task {
		case "relocation":
			all = append(all, monitoringAgainEvent{u.DoneOn, "move", audit.At(&u.Row, "done_on", "the move")})
		case "repair":
			all = append(all, monitoringAgainEvent{u.DoneOn, "repair", audit.At(&u.Row, "done_on", "the repair")})
		}
	}
	slices.SortStableFunc(all, func(a, b monitoringAgainEvent) int { return cmp.Compare(a.on, b.on) })
	return all
}

// event judges one, by the loads after its day and up to that of the next. What was run
// on its own day may have been before or after it.
func (r *monitoringAgainRun) event(e monitoringAgainEvent, until quantity.Day) {
	from := sort.Search(len(r.loads), func(i int) bool { return r.loads[i].Started.Day() > e.on })
	var used []*practice.Load
	for _, l := range r.loads[from:] {
		if l.Started.Day() > until {
			break
		}
		if monitoringInUse(l) {
			used = append(used, l)
		}
	}
	if e.on < r.begin || len(used) == 0 {
		r.x.Pass()
		return
	}
	var early, open []*practice.Load // under the rule that counts
	by := r.x.Ask("monitoring.repeats", nil, func(c audit.Criterion) audit.Verdict {
		early, open = r.sort(e.on, used, c.Number())
		switch {
		case len(early) > 0:
			return audit.Fail
		case len(open) > 0:
			return audit.CannotTell
		}
		return audit.Meets
	})
	if by.Verdict == audit.Meets || by.Verdict == audit.Silent {
		r.x.Settle(r.subject, by, audit.Fault{}, e.needed, "")
		return
	}
	if len(early) == 0 {
		early = open
	}
	l := monitoringReleased(early)
	f := r.fault(e, early, l, by.Criterion)
	switch proof := monitoringValidated(r.x.P, r.subject.ID, e.on, l.Started.Day()); {
	case by.Verdict == audit.CannotTell && !r.typed.whole(e.on, l.Started.Day()):
		monitoringDoubt(r.x, r.subject, f, "the spore tests after an installation, move or repair are not typed, and "+r.typed.why(), r.typed.missing())
	case by.Verdict == audit.CannotTell:
		r.x.Unclear(r.subject, "whether the loads in between were released before the spore tests had passed is not written", audit.Field{Kind: "loads", Name: "released_at"}, audit.Field{Kind: "tests", Name: "result"})
	case r.failedBefore(e.on, by.Criterion.Number()):
		monitoringDoubt(r.x, r.subject, f, "a spore test had failed before, so the loads since are judged under monitoring/spore-failed, and not a second time", audit.Field{Kind: "tests"})
	case proof != nil:
		f.Evidence = append(f.Evidence, audit.At(&proof.Row, "result", "a validation that passed"))
		f.Needed += "; a validation passed on " + proof.DoneOn.Words() + ", and whether it stands in their place is for your rule to say"
		monitoringDoubt(r.x, r.subject, f, "a validation passed in place of the spore tests", audit.Field{Kind: "tests"})
	case !l.Released():
		monitoringDoubt(r.x, r.subject, f, monitoringUndecided, audit.Field{Kind: "loads", Name: "decision"})
	case r.unasked(by.Criterion):
		f.Needed += "; the rule that was chosen asks for no spore tests at set times, and whether it asks for them here, or for a validation in their place, is to be looked up"
		monitoringDoubt(r.x, r.subject, f, "the rule that was chosen asks for no spore tests at set times, and does not speak of those after an installation, move or repair", audit.Field{Kind: "rules"})
	default:
		r.x.Settle(r.subject, by, f, e.needed, "")
	}
}

// unasked reports whether the repeats are another rule's than the one that was chosen,
// which does without spore tests at set times.
func (r *monitoringAgainRun) unasked(repeats audit.Criterion) bool {
	c, ok := r.x.Criterion("monitoring.spore-interval", nil)
	if !ok || !cyclesChosen(r.x, c) || cyclesChosen(r.x, repeats) {
		return false
	}
	_, limited := c.Limit()
	return !limited
}

// sort tells the loads that were released before so many spore tests in a row had passed
// from those of which that cannot be told.
func (r *monitoringAgainRun) sort(on quantity.Day, used []*practice.Load, needed float64) (early, open []*practice.Load) {
	done, maybe := r.passed(on, needed)
	for _, l := range used {
		switch {
		case done != nil && r.clock.Before(l.Started, done.RunAt) != quantity.Yes:
			return early, open // it, and all later ones, came after
		case !r.typed.whole(on, l.Started.Day()), maybe != nil && r.clock.Before(l.Started, maybe.RunAt) != quantity.Yes:
			open = append(open, l)
		case done == nil || l.ReleasedAt.Written() && r.clock.Before(l.ReleasedAt, done.RunAt) == quantity.Yes:
			early = append(early, l)
		case !l.ReleasedAt.Written():
			open = append(open, l)
		}
	}
	return early, open
}

// failedBefore reports whether a spore test that failed, and became known, was followed
// by too few that passed up to a day: then what is released since is told once, under it.
func (r *monitoringAgainRun) failedBefore(on quantity.Day, needed float64) bool {
	passed, failed := needed, false
	for _, t := range r.tests {
		switch {
		case t.RunAt.Day() >= on:
		case t.Result == "fail" && chain.Known(t).Written():
			passed, failed = 0, true
		case monitoringCounts(t) == quantity.Yes:
			passed++
		}
	}
	return failed && passed < needed
}

// passed is the spore test with which so many had passed in a row since a day; maybe is
// that with which they would have, if those without a result have passed. Nil where none is.
func (r *monitoringAgainRun) passed(on quantity.Day, needed float64) (done, maybe *practice.Test) {
	n, pending := 0, 0
	from := sort.Search(len(r.tests), func(i int) bool { return r.tests[i].RunAt.Day() >= on })
	for _, t := range r.tests[from:] {
		switch {
		case t.Result == "fail":
			n, pending = 0, 0
		case monitoringCounts(t) == quantity.Yes:
			n++
		case monitoringCounts(t) == quantity.Unsure:
			pending++
		}
		if maybe == nil && float64(n+pending) >= needed {
			maybe = t
		}
		if float64(n) >= needed {
			return t, maybe
		}
	}
	return nil, maybe
}

func (r *monitoringAgainRun) fault(e monitoringAgainEvent, loads []*practice.Load, l *practice.Load, c audit.Criterion) audit.Fault {
	f := audit.Fault{Grade: audit.Major, Matter: e.what, Day: e.on, Weight: float64(len(loads)), Needed: e.needed(c),
		Found:    fmt.Sprintf("%d loads were run after the %s of %s before enough spore tests had passed, as written", len(loads), e.what, e.on.Words()),
		Evidence: []audit.Evidence{e.at, audit.At(&l.Row, "started", "a load after it")}}
	if len(loads) == 1 {
		f.Found = fmt.Sprintf("a load was run after the %s of %s before enough spore tests had passed, as written", e.what, e.on.Words())
	}
	from := sort.Search(len(r.tests), func(i int) bool { return r.tests[i].RunAt.Day() >= e.on })
	for _, t := range r.tests[from:] {
		if t.RunAt.Day() > loads[len(loads)-1].Started.Day() || float64(len(f.Evidence)) > c.Number()+1 {
			break
		}
		f.Evidence = append(f.Evidence, audit.At(&t.Row, "result", "a spore test after it"))
	}
	return f
}

// needed is what a criterion asks after an event, and what would explain its lack.
func (e monitoringAgainEvent) needed(c audit.Criterion) string {
	asked := c.Set + " asks for " + c.Value() + " spore tests in a row that pass before its packs are used"
	if c.Number() == 1 {
		asked = c.Set + " asks for a spore test that passes before its packs are used"
	}
	if e.what == "repair" {
		return asked + "; a small repair that leaves chamber, steam, vacuum and controls alone, or tests in the firm's report, would explain it"
	}
	return asked + "; tests in the firm's report would explain it"
}
