package checks

import (
	"fmt"
	"slices"

	"footing/internal/audit"
	"footing/internal/chain"
	"footing/internal/practice"
	"footing/internal/quantity"
)

var _ = define(audit.Check{
	ID:    "monitoring/exposed",
	Title: "if a sterilizer failed today, the question would reach back no further than twice the interval between spore tests",
	Why: "A spore test that fails puts in question every load since the last one that passed: how bad that is hangs on how far back it goes, and on whether visits say which pack they used. This is counted for each sterilizer as if it failed at the end of the audit day. " +
		"The wide window begins with a spore test that was read in time, in date, with a growing control; without one, with a technician's passed visit, the installation or the first record. The narrow one takes a pass too of which something is not written, and a load with passed indicators and a data-logger file that was held. Nothing here says that anything failed.",
	Grades:  []audit.Grade{audit.Major, audit.Observation},
	Subject: "sterilizers", Thing: "sterilizer in use", Things: "sterilizers in use",
	Needs: []string{"sterilizers", "loads"},
	Helps: []string{"tests", "tests.control", "tests.read_at", "visits.packs", "packs.load", "packs.counted_on", "packs.opened_at", "loads.packs_made", "upkeep", "traces", "practice.coverage"},
	Uses:  []string{"monitoring.spore-interval", "monitoring.repeats", "records.clock", "packs.procedures", "traces.error", "cycles.exposure", "cycles.dry-heat"},
	Fix: []string{
		"Look for spore-test reports that are not typed, and for the control's result on those that are: a report that is found makes the window smaller, and nothing need be run.",
		"Run a spore test in the next load, with a control of the same lot; read it in time, and write both results down.",
		"From today on, write the pack's number from its label into each visit's note: ten seconds a visit, and a failure reaches the clients of those packs alone.",
		"Count the shelves and the mobile bag once a week, and write the date beside each pack that you see.",
		"footing lookback FOLDER --sterilizer ID lists the loads, packs and visits behind these figures; keep it for the day on which a test fails.",
	},
	Verify: "The next audit finds fewer days, and visits that name their packs.",
	Watch:  tracesSetting,
	Run: func(x *audit.Examination) {
		e := &monitoringExposedRun{lookbackRun: lookbackBegin(x).forwards(), typed: monitoringTypedOf(x.P, "spore")}
		monitoringEach(x, e.look)
		e.figures()
	},
})

// monitoringExposedRun is the check at work.
type monitoringExposedRun struct {
	*lookbackRun
	typed  monitoringTyped
	widest *audit.Lookback // today, of any sterilizer
	ever   int             // days of the widest look-back on any day of use
}

func (e *monitoringExposedRun) look(subject audit.Subject, s *practice.Sterilizer) {
	loads := e.P.LoadsOf(subject.ID)
	switch {
	case s.RetiredOn.Written() && s.RetiredOn <= e.P.AsOf:
		e.Nothing("each sterilizer that works by steam or dry heat and is run by the practice itself is retired")
		e.Pass()
		return
	case len(loads) == 0:
		e.Unclear(subject, "no load names the sterilizer, so how far back a failure would reach cannot be counted", audit.Field{Kind: "loads", Name: "sterilizer"})
		return
	}
	l, w := e.around(s, chain.Event{})
	e.Examination.Lookback(l)
	if e.widest == nil || l.Windows[0].Days > e.widest.Windows[0].Days {
		e.widest = &l
	}
	for _, d := range monitoringDays(loads) {
		wide, _ := e.history(s).On(d.on)
		e.ever = max(e.ever, wide.Days)
	}
	tonight, _ := e.history(s).Around(chain.Event{})
	e.judge(subject, monitoringExposedOf{s, l, w.wide, tonight, monitoringDays(tonight.Loads), e.unseenBefore(tonight)})
}

// monitoringExposedOf is one sterilizer with its look-back, what that is shown with, and
// the time since the last good evidence with its days of use: judged is that time alone.
type monitoringExposedOf struct {
	s           *practice.Sterilizer
	l           audit.Lookback
	shown, wide chain.Window
	days        []monitoringDay
	unseen      bool // use before the records may belong to that time
}

// unseenBefore reports whether use before the records may belong to a window: it begins
// before them, or with nothing but the first of them in a log not said to be all here.
func (e *monitoringExposedRun) unseenBefore(w chain.Window) bool {
	day := w.From.Day
	return e.unseen(w) != "" || w.From.Kind == chain.Begun && !e.logged(day.AddDays(-1), day)
}

// mayBeyond is beyond, as if use that is not in the records was on each day before them.
func (m monitoringExposedOf) mayBeyond(c audit.Criterion) audit.Verdict {
	interval, limited := c.Limit()
	if limited && m.unseen && (m.wide.From.Kind == chain.Begun || m.wide.Days > m.allowed(interval)) {
		return audit.Fail
	}
	return audit.Meets
}

// judge says whether the time in use since the last good evidence is beyond twice the
// interval between spore tests. Only that is graded which no test that may not be typed,
// and none whose result is not written or whose control is in doubt, could explain.
func (e *monitoringExposedRun) judge(subject audit.Subject, m monitoringExposedOf) {
	f := e.fault(m)
	known := e.covered(m)
	sure := e.Ask("monitoring.spore-interval", nil, known.beyond)
	needs := func(words string) {
		if f.Needed == "" { // of a failed test stands what matters more
			f.Needed = words
		}
		e.Remark(subject, f)
	}
	switch {
	case !monitoringFails(e.Ask("monitoring.spore-interval", nil, m.beyond)):
		if monitoringFails(e.Ask("monitoring.spore-interval", nil, m.mayBeyond)) {
			e.Unclear(subject, "what was run before the records begin may be in question too, and is not in the figures: not typed, so not judged", audit.Field{Kind: "loads"})
		} else {
			e.Met(subject)
			if f.Steps == nil {
				f.Steps = monitoringExposedSmall
			}
		}
		needs("a spore test each interval, and visits that name their packs, keep it small")
	case !monitoringFails(sure):
		e.Unclear(subject, "a spore test that is not typed would make it smaller, and not all tests are said to be here: not typed, so not judged", audit.Field{Kind: "tests"})
		needs("look for spore-test reports that are not typed before you call it wide")
	case e.mayBeSmaller(subject.ID, known):
		e.Unclear(subject, "a spore test of that time has no result yet, or counts for the narrow window alone", audit.Field{Kind: "tests", Name: "result"}, audit.Field{Kind: "tests", Name: "control"})
		needs("find the missing results, or the control's, before you call it wide")
	default:
		e.Settle(subject, sure, f, monitoringExposedNeeded, "")
	}
}

// covered is the same sterilizer as if the window began no earlier than the first day
// from which all tests are in the folder: the day after the last of use, where none is.
func (e *monitoringExposedRun) covered(m monitoringExposedOf) monitoringExposedOf {
	since := []quantity.Day{m.wide.From.Day, e.P.Profile.RecordsFrom}
	for _, c := range e.P.Profile.Coverage {
		since = append(since, c.From)
	}
	slices.Sort(since)
	for _, day := range since {
		if day >= m.wide.From.Day && e.typed.whole(day, e.P.AsOf) {
			m.wide.From.Day = day
			return m
		}
	}
	m.wide.From.Day = e.P.AsOf.AddDays(1)
	return m
}

// mayBeSmaller reports whether the time would be within every limit, if the last spore
// test without a result, or that counts by the lenient rule alone, were good evidence.
func (e *monitoringExposedRun) mayBeSmaller(sterilizer string, m monitoringExposedOf) bool {
	for _, t := range monitoringTests(e.P, sterilizer, "spore") {
		open := t.Result != "fail" && t.Result != "pass" || chain.AssayOf(t).Worth == chain.Lenient
		if day := t.RunAt.Day(); open && day > m.wide.From.Day {
			m.wide.From.Day = day
		}
	}
	return !monitoringFails(e.Ask("monitoring.spore-interval", nil, m.beyond))
}

// beyond compares the time in use since the window began with twice an interval. A
// stretch in which nothing was run counts with no more than one interval; where each day
// of use is to hold a test, days of use are counted.
func (m monitoringExposedOf) beyond(c audit.Criterion) audit.Verdict {
	interval, limited := c.Limit()
	if !limited {
		return audit.Meets
	}
	if m.inUse(interval) > m.allowed(interval) {
		return audit.Fail
	}
	return audit.Meets
}

func (m monitoringExposedOf) allowed(interval quantity.Quantity) int {
	if interval.Value == 0 {
		return 1 + 1
	}
	from := m.wide.From.Day
	return int(from.Add(interval).Add(interval) - from)
}

// inUse is the days of use since the window began.
func (m monitoringExposedOf) inUse(interval quantity.Quantity) (n int) {
	last := m.wide.From.Day
	for _, d := range m.days {
		if d.on <= last {
			continue
		}
		if interval.Value == 0 {
			n++
		} else {
			n += int(min(d.on, last.Add(interval)) - last)
		}
		last = d.on
	}
	return n
}

// fault is the headline with the evidence that it rests on, as a line.
func (e *monitoringExposedRun) fault(m monitoringExposedOf) audit.Fault {
	f := audit.Fault{Grade: audit.Major, Matter: "today", Found: m.l.Summary, Weight: float64(m.shown.Days), Day: m.shown.From.Day}
	if m.shown.From.Row != nil {
		f.Evidence = append(f.Evidence, audit.At(m.shown.From.Row, m.shown.From.Field, "what the wide window begins with"))
	}
	if failed := e.lastFailed(m.s, m.shown); failed != nil {
		f.Evidence = append(f.Evidence, audit.At(&failed.Row, "result", "the spore test that failed"))
		f.Needed = "take the failure as real until public health or the maker tells you otherwise; footing lookback with the test's id says what to do first"
		f.Steps = monitoringExposedFailed(m.l.ID)
	}
	if stray := e.strayFailed(m.s, m.shown); stray != nil && f.Needed == "" {
		f.Evidence = append(f.Evidence, audit.At(&stray.Row, "result", "a spore test that failed, of no sterilizer that is told"))
		f.Needed = "find out which sterilizer the failed test was of: look at the strip, the laboratory's report and the log book"
		f.Steps = monitoringExposedFailed(m.l.ID)
	}
	if days := monitoringDays(m.shown.Loads); len(days) > 0 {
		first, last := days[0].first, days[len(days)-1].last
		f.Evidence = append(f.Evidence, audit.At(&first.Row, "started", "the first load in question"))
		if last != first {
			f.Evidence = append(f.Evidence, audit.At(&last.Row, "started", "the last load in question"))
		}
	}
	return f
}

// monitoringExposedSmall is what keeps a small window small: no report is to be looked for.
var monitoringExposedSmall = []string{
	"From today on, write the pack's number from its label into each visit's note: ten seconds a visit, and a failure reaches the clients of those packs alone.",
	"Go on running a spore test each interval, with a control of the same lot; read it in time, and write both results down.",
	"Count the shelves and the mobile bag once a week, and write the date beside each pack that you see.",
	"footing lookback FOLDER --sterilizer ID lists the loads, packs and visits behind these figures; keep it for the day on which a test fails.",
}

// monitoringExposedFailed is what to do where a failed spore test is or may be behind the
// figures: nothing that has a sterilizer used which is to stand still.
func monitoringExposedFailed(sterilizer string) []string {
	return []string{
		"Run footing lookback FOLDER --sterilizer " + monitoringArgument(sterilizer) + " first: it says what to do now, and lists the loads, packs and visits behind these figures.",
		"Look for the reports of other spore tests, and for the control's result on those that are typed: what is found may make the window smaller, and does not overrule the test that failed.",
		"Run further tests only as public health and the maker say, with a control of the same lot; read each in time, and write both results down.",
		"From today on, write the pack's number from its label into each visit's note.",
	}
}

func monitoringExposedNeeded(c audit.Criterion) string {
	span, limited := c.Limit()
	switch {
	case !limited:
		return "no limit"
	case span.Value == 0:
		return "a spore test each day of use, so no more than two days of use"
	}
	return fmt.Sprintf("a spore test every %s, so no more than twice that in use; a break counts as one interval", span.String())
}

// figures are the widest look-back today, and the widest on any day of use.
func (e *monitoringExposedRun) figures() {
	if e.widest == nil {
		return
	}
	wide, narrow := e.widest.Windows[0], e.widest.Windows[1]
	number := func(name string, value, low int, unit string) {
		e.Range(name, float64(value), float64(min(low, value)), float64(value), unit)
	}
	number("days that a failure today would reach back, of the sterilizer where it is most", wide.Days, narrow.Days, "d")
	number("loads in that time", wide.Loads, narrow.Loads, "")
	number("visits that could be meant", wide.MostVisits, narrow.Visits, "")
	number("clients who could be meant", wide.MostClients, narrow.Clients, "")
	e.Figure("days that a failure would have reached back on the worst day of use", float64(max(e.ever, wide.Days)), "d")
}
