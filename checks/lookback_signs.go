package checks

import (
	"fmt"
	"slices"
	"strings"

	"footing/internal/audit"
	"footing/internal/chain"
	"footing/internal/practice"
	"footing/internal/quantity"
)

// whole reports whether each pack of a load has a row, as the practice says.
func (r *lookbackRun) whole(l *practice.Load) bool {
	day := l.Started.Day()
	return !r.P.Unread("packs") && r.P.Covered("packs", day, day)
}

// logged reports whether each load from one day until another has a row, as the practice
// says.
func (r *lookbackRun) logged(from, until quantity.Day) bool {
	return from.Written() && !r.P.Unread("loads") && r.P.Covered("loads", from, until)
}

// loggedIn is logged for the time of a window.
func (r *lookbackRun) loggedIn(w chain.Window) bool {
	until := w.Until.Day
	if !until.Written() {
		until = r.P.AsOf
	}
	return r.logged(w.From.Day, until)
}

// unseen says from when on the loads of a window are in the folder, where that is more
// than the day after it begins; "" where it is not.
func (r *lookbackRun) unseen(w chain.Window) string {
	loads, visits := r.begins("loads"), r.begins("visits")
	if !w.From.Day.Written() || w.Unbegun || !loads.Written() || w.From.Day.AddDays(1) >= loads || r.loggedIn(w) {
		return ""
	}
	words := "the loads typed begin on " + loads.Words()
	switch first := r.P.LoadsByTime(); {
	case loads == r.P.Profile.RecordsFrom:
		words = "the records begin on " + loads.Words()
	case len(first) == 0 || first[0].Started.Day() > loads:
		words = "the log is said to be here from " + loads.Words() + " on"
	}
	words += ", and what was run before is in no figure"
	if visits.Written() && visits < loads {
		words += " but the upper limits of visits"
	}
	return words
}

// begins is the first day of which rows of loads or of visits are in the folder, as
// written or as said; 0 where neither tells.
func (r *lookbackRun) begins(kind string) (first quantity.Day) {
	see := func(d quantity.Day) {
		if d.Written() && (!first.Written() || d < first) {
			first = d
		}
	}
	see(r.P.Profile.RecordsFrom)
	for _, c := range r.P.Profile.Coverage {
		if c.Kind == kind {
			see(c.From)
		}
	}
	if kind == "loads" {
		for i := range r.P.Loads {
			see(r.P.Loads[i].Started.Day())
		}
		return first
	}
	for i := range r.P.Visits {
		see(r.P.Visits[i].Started.Day())
	}
	return first
}

// against reports whether what is typed of a load, or of a test that ran with it, speaks
// against it.
func (r *lookbackRun) against(l *practice.Load) bool {
	for i := range r.P.Tests {
		if t := &r.P.Tests[i]; t.Result == "fail" && t.Load == practice.Key(&l.Row) {
			return true
		}
	}
	return r.isGood(l) == quantity.No || r.heldOf(l) == quantity.No
}

// failedAround are the spore tests that failed around some loads, as far back and on as
// each would reach.
func (r *lookbackRun) failedAround(loads []*practice.Load) (failed []*practice.Test) {
	for _, l := range loads {
		s, state := r.P.Sterilizer(l.Sterilizer)
		if state != practice.One {
			continue
		}
		wide, _ := r.history(s).Around(chain.Event{Load: l})
		if t := r.lastFailedBut(nil, s, wide); t != nil && !slices.Contains(failed, t) {
			failed = append(failed, t)
		}
	}
	return failed
}

// sayBehind tells what speaks against some loads, and reports whether anything does.
func (r *lookbackRun) sayBehind(loads []*practice.Load) (some bool) {
	n := 0
	for _, l := range loads {
		if r.against(l) {
			n++
		}
	}
	if n > 0 {
		r.says("Of the loads behind it, %s a failed indicator or test, wet packs, a rejection or a data-logger file that was not held long enough: look at that first.", audit.Plural(n, "has", "have"))
	}
	around := "its load"
	if len(loads) > 1 {
		around = "one of them"
	}
	failed := r.failedAround(loads)
	for _, t := range failed {
		r.says("A spore test that failed is written around %s, run on %s: ask with --test %s too.", around, lookbackWords(t.RunAt.Day()), practice.Key(&t.Row))
	}
	return n+len(failed) > 0
}

// signs are what is typed of a sterilizer in the time of a window that speaks against
// it, beside failed spore tests, in words; "" where nothing is.
func (r *lookbackRun) signs(s *practice.Sterilizer, w chain.Window) string {
	inside := func(day quantity.Day) bool {
		return day >= w.From.Day && (w.Until.Kind == chain.NoProof || day <= w.Until.Day)
	}
	loads, tests, visits := 0, 0, 0
	for _, l := range w.Loads {
		if r.isGood(l) == quantity.No || r.heldOf(l) == quantity.No {
			loads++
		}
	}
	for _, t := range r.P.TestsOf(practice.Key(&s.Row)) {
		if t.Type != "spore" && t.Result == "fail" && inside(t.RunAt.Day()) {
			tests++
		}
	}
	for _, u := range r.P.UpkeepOf(practice.Key(&s.Row)) {
		if u.Result == "fail" && inside(u.DoneOn) {
			visits++
		}
	}
	var parts []string
	for _, of := range []struct {
		n         int
		one, many string
	}{
		{loads, "load with a failed indicator, wet packs or a data-logger file that was not held long enough", "loads with a failed indicator, wet packs or a data-logger file that was not held long enough"},
		{tests, "other test that failed", "other tests that failed"},
		{visits, "service, validation or calibration that failed", "services, validations or calibrations that failed"},
	} {
		if of.n > 0 {
			parts = append(parts, audit.Plural(of.n, of.one, of.many))
		}
	}
	return strings.Join(parts, "; ")
}

// saySigns names what speaks against a sterilizer in the time of a window; first to look
// at where no spore test failed.
func (r *lookbackRun) saySigns(s *practice.Sterilizer, w chain.Window, failed bool) (some bool) {
	signs := r.signs(s, w)
	switch {
	case signs == "":
		return false
	case failed:
		r.says("Typed of this time too: %s.", signs)
	default:
		r.says("Typed of this time all the same: %s. Look at that first.", signs)
	}
	return true
}

// sayService names the last service or validation that a window leaves aside because a
// spore test, however old, comes before it.
func (r *lookbackRun) sayService(w chain.Window, p lookbackPlan) {
	if p.sterilizer == nil || w.From.Kind != chain.Spores {
		return
	}
	before := r.P.AsOf.AddDays(1)
	switch {
	case p.test != nil:
		before = p.test.RunAt.Day()
	case p.load != nil:
		before = p.load.Started.Day()
	}
	var last *practice.Upkeep
	for _, u := range r.P.UpkeepOf(practice.Key(&p.sterilizer.Row)) {
		known := (u.Task == "service" || u.Task == "validation") && u.Result != "fail"
		if known && u.DoneOn > w.From.Day && u.DoneOn < before && (last == nil || u.DoneOn > last.DoneOn) {
			last = u
		}
	}
	if last == nil {
		return
	}
	how := "as passed"
	if last.Result == "" {
		how = "without a result"
	}
	r.says("A %s of %s is written %s. It does not stand in for a spore test here, so it makes neither window smaller; have its report at hand when you ask public health.", last.Task, last.DoneOn.Words(), how)
}

// passedSince is how many spore tests of a sterilizer passed, as written, since one that
// failed and any that failed after it, and the day of the first of them; 0 where they
// are fewer than the repeats.
func (r *lookbackRun) passedSince(s *practice.Sterilizer, failed *practice.Test) (n int, first quantity.Day) {
	if n, first = r.passesSince(s, failed); n < max(r.terms.Repeats, 1) {
		return 0, 0
	}
	return n, first
}

// passesSince is passedSince, however few they are.
func (r *lookbackRun) passesSince(s *practice.Sterilizer, failed *practice.Test) (n int, first quantity.Day) {
	tests := slices.Clone(r.P.TestsOf(practice.Key(&s.Row)))
	slices.Reverse(tests)
	for _, t := range tests {
		day := t.RunAt.Day()
		switch {
		case t.Type != "spore":
		case t.Result == "fail" || day <= failed.RunAt.Day():
			if first <= day {
				return 0, 0
			}
			return n, first
		case chain.AssayOf(t).Worth > chain.Nothing:
			n, first = n+1, day
		}
	}
	return 0, 0
}

// passes is passedSince, with how many passed where they are fewer.
func (r *lookbackRun) passes(s *practice.Sterilizer, failed *practice.Test) (n int, first quantity.Day, few int) {
	if n, first = r.passedSince(s, failed); n == 0 {
		few, _ = r.passesSince(s, failed)
	}
	return n, first, few
}

// lookbackSince says how many spore tests passed since a failure.
func lookbackSince(n int, first quantity.Day) string {
	return fmt.Sprintf("%s passed since, as written, the first on %s", audit.Plural(n, "spore test", "spore tests"), first.Words())
}
