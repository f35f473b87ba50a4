package checks

import (
	"slices"
	"sort"

	"footing/internal/practice"
	"footing/internal/quantity"
)

// monitoringWindow is the time from when a failed test was known to the repeats that
// ended it, or to the next failure.
type monitoringWindow struct {
	failed *practice.Test
	since  quantity.Day     // the day of the test before: loads from then on may be released late
	known  quantity.Moment  // the latest that the failure can have become known here; not written where nothing tells
	field  string           // the field of tests that says so
	passes []*practice.Test // that passed, or may have, after it and before next
	next   *practice.Test   // the next that failed
	// validated is the first validation after it that passed: spore tests may stand in its report.
	validated *practice.Upkeep
}

func (r *monitoringFailedRun) window(i int) (w monitoringWindow) {
	t := r.tests[i]
	if i > 0 {
		w.since = r.tests[i-1].RunAt.Day()
	}
	w.failed = t
	w.known, w.field = r.known(t)
	w.validated = monitoringValidated(r.x.P, r.subject.ID, t.RunAt.Day(), r.x.P.AsOf)
	for _, o := range r.tests[i+1:] {
		if o.Result == "fail" {
			w.next = o
			break
		}
		if monitoringCounts(o) != quantity.No {
			w.passes = append(w.passes, o)
		}
	}
	return w
}

// known is the latest that a test's result can have become known here: a laboratory
// reads it before it reports it.
func (r *monitoringFailedRun) known(t *practice.Test) (known quantity.Moment, field string) {
	known, field = t.ReadAt, "read_at"
	if t.ReportedOn.Written() {
		on := r.wholeDay(t.ReportedOn)
		if !known.Written() || on.Last() >= known.First() {
			known, field = on, "reported_on"
		}
	}
	if known.Written() && known.Day() < t.RunAt.Day() || !known.Written() {
		return quantity.Moment{}, ""
	}
	return known, field
}

// wholeDay is a day as a moment without an hour.
func (r *monitoringFailedRun) wholeDay(d quantity.Day) quantity.Moment {
	m, _ := quantity.ParseMoment(d.String(), quantity.ISO, r.x.P.Zone) // a day is always read back
	return m
}

// monitoringReleases are the loads that fall into a window.
type monitoringReleases struct {
	none, few []*practice.Load // released when no repeat, or fewer than asked for, can have passed
	undecided []*practice.Load
	unsure    []*practice.Load
}

// releases sorts the loads that may have been released in the window. Not looked at are
// rejected and pending ones, those of tests, and those that made no pack.
func (r *monitoringFailedRun) releases(w monitoringWindow) (out monitoringReleases) {
	all := r.x.P.LoadsOf(r.subject.ID)
	from := sort.Search(len(all), func(i int) bool { return all[i].Started.Day() >= w.since })
	enough := r.enough()
	_, chosen := r.repeats()
	for _, l := range all[from:] {
		if r.over(w, l) || r.ended(w, l.Started) {
			break
		}
		own := r.tested(w.failed, l)
		if !monitoringInUse(l) || own == quantity.Yes || l.PacksMade.Written && l.PacksMade.Value == 0 {
			continue
		}
		after := r.after(w, l)
		if after == quantity.No {
			continue
		}
		switch least, most := r.passed(w, l); {
		case float64(least) >= enough: // out of use until they had passed
		case after == quantity.Unsure || float64(most) >= enough || own == quantity.Unsure, least == 0 && most > 0 && !chosen:
			out.unsure = append(out.unsure, l)
		case l.Decision == "":
			out.undecided = append(out.undecided, l)
		case most == 0:
			out.none = append(out.none, l)
		default:
			out.few = append(out.few, l)
		}
	}
	return out
}

// enough is how many passes end a failure; one where no rule speaks.
func (r *monitoringFailedRun) enough() float64 {
	if c, ok := r.x.Criterion("monitoring.repeats", nil); ok {
		return c.Number()
	}
	return 1
}

// over says whether a load, and each that began after it, falls to a later failure.
func (r *monitoringFailedRun) over(w monitoringWindow, l *practice.Load) bool {
	if w.next == nil {
		return false
	}
	end, _ := r.known(w.next)
	if !end.Written() {
		end = w.next.RunAt
	}
	return quantity.Before(end, l.Started) == quantity.Yes
}

// after says whether a load was released after the failure was known. One that began
// after it was; one that began before, with no time of release, was released in the
// ordinary run of work, before it.
func (r *monitoringFailedRun) after(w monitoringWindow, l *practice.Load) quantity.Tri {
	began, released := r.clock.Before(w.known, l.Started), r.clock.Before(w.known, l.ReleasedAt)
	switch {
	case !l.ReleasedAt.Written():
		return began
	case began == quantity.Yes && released == quantity.No:
		return quantity.Unsure // the two contradict each other
	case began == quantity.Yes || released == quantity.Yes:
		return quantity.Yes
	}
	return released
}

// passed counts the repeats that surely passed by the time that a load was released, and
// those that may have. Where that time is not written, its start is the least of it, and
// any may have.
func (r *monitoringFailedRun) passed(w monitoringWindow, l *practice.Load) (least, most int) {
	if l.ReleasedAt.Written() {
		return r.passedBy(w, l.ReleasedAt)
	}
	least, _ = r.passedBy(w, l.Started)
	return least, len(w.passes)
}

// passedBy counts the repeats that surely, and that may, have passed by a time.
func (r *monitoringFailedRun) passedBy(w monitoringWindow, at quantity.Moment) (least, most int) {
	for _, p := range w.passes {
		if r.clock.Before(at, r.readable(p)) == quantity.Yes {
			continue
		}
		most++
		read, _ := r.known(p)
		if !read.Written() {
			read = p.RunAt
		}
		if monitoringCounts(p) == quantity.Yes && r.clock.Before(read, at) == quantity.Yes {
			least++
		}
	}
	return least, most
}

// ended says whether enough repeats had surely passed by a time; so they had for all later.
func (r *monitoringFailedRun) ended(w monitoringWindow, at quantity.Moment) bool {
	least, _ := r.passedBy(w, at)
	return float64(least) >= r.enough()
}

// readable is the earliest that a repeat's result can have been known.
func (r *monitoringFailedRun) readable(p *practice.Test) quantity.Moment {
	switch {
	case p.ReadAt.Written():
		return p.ReadAt
	case p.ReportedOn.Written():
		return r.wholeDay(p.ReportedOn)
	}
	return p.RunAt
}

// monitoringOwn knows which tests of a sterilizer ran in which load.
type monitoringOwn struct {
	loads    map[string][]*practice.Test
	counters map[monitoringCounter][]*practice.Test
	days     map[quantity.Day][]*practice.Test // spore tests that name neither load nor counter
}

type monitoringCounter struct {
	on quantity.Day
	n  float64
}

func monitoringOwnOf(p *practice.Practice, sterilizer string) *monitoringOwn {
	own := &monitoringOwn{map[string][]*practice.Test{}, map[monitoringCounter][]*practice.Test{}, map[quantity.Day][]*practice.Test{}}
	for _, t := range p.TestsOf(sterilizer) {
		on := t.RunAt.Day()
		switch {
		case t.Load != "":
			own.loads[t.Load] = append(own.loads[t.Load], t)
		case t.Counter.Written:
			k := monitoringCounter{on, t.Counter.Value}
			own.counters[k] = append(own.counters[k], t)
		case t.Type == "spore":
			own.days[on] = append(own.days[on], t)
		}
	}
	return own
}

// tested says whether a load was that of a test since the failed one, or of a test
// without spores: what a test names, by id or by the counter of its day. Unsure where a
// repeat names neither, and may have run in it by its time.
func (r *monitoringFailedRun) tested(failed *practice.Test, l *practice.Load) quantity.Tri {
	if r.own == nil {
		r.own = monitoringOwnOf(r.x.P, r.subject.ID)
	}
	since := func(o *practice.Test) bool {
		return o != failed && (o.Type != "spore" || quantity.Before(o.RunAt, failed.RunAt) != quantity.Yes)
	}
	on := l.Started.Day()
	if slices.ContainsFunc(r.own.loads[practice.Key(&l.Row)], since) {
		return quantity.Yes
	}
	if l.Counter.Written && slices.ContainsFunc(r.own.counters[monitoringCounter{on, l.Counter.Value}], since) {
		return quantity.Yes
	}
	if slices.ContainsFunc(r.own.days[on], func(o *practice.Test) bool { return since(o) && r.mayBe(o, l) }) {
		return quantity.Unsure
	}
	return quantity.No
}

// mayBe reports whether a test may have run in a load, by their times.
func (r *monitoringFailedRun) mayBe(t *practice.Test, l *practice.Load) bool {
	return r.clock.Before(t.RunAt, l.Started) != quantity.Yes && (!l.Ended.Written() || r.clock.Before(l.Ended, t.RunAt) != quantity.Yes)
}

// monitoringPassedSince is the first spore test of a sterilizer surely after a failed
// one that passed, and whose control is not written as dead; nil where none is.
func monitoringPassedSince(tests []*practice.Test, failed *practice.Test) *practice.Test {
	i := slices.IndexFunc(tests, func(o *practice.Test) bool {
		return o.Result == "pass" && o.Control != "no-growth" && quantity.Before(failed.RunAt, o.RunAt) == quantity.Yes
	})
	if i < 0 {
		return nil
	}
	return tests[i]
}
