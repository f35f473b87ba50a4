package checks

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"footing/internal/audit"
	"footing/internal/chain"
	"footing/internal/practice"
	"footing/internal/quantity"
)

// monitoringFailedStray tells of failed tests that leave open which sterilizer they
// were of, or whose sterilizer is not typed, and says stop where no passed ones follow:
// it may be any.
func monitoringFailedStray(x *audit.Examination) {
	for i := range x.P.Tests {
		t := &x.P.Tests[i]
		if t.Type != "spore" || t.Result != "fail" {
			continue
		}
		id := x.P.EquipmentOf(t)
		if _, state := x.P.Sterilizer(id); state == practice.One {
			continue
		}
		x.Unclear(audit.Whole, "which sterilizer the failed spore test was of cannot be told, or it is not in the records as one row",
			audit.Field{Kind: "tests", Name: "equipment"}, audit.Field{Kind: "sterilizers"})
		f := audit.Fault{Matter: "spore test of " + t.RunAt.String(), Day: t.RunAt.Day(), Stop: true,
			Found:    "a spore test failed (run on " + t.RunAt.Day().Words() + "), and which sterilizer it was of cannot be told from the records",
			Needed:   "look at the report or the strip for the sterilizer; until you know, treat each that it may be as the one that failed, and take it as real until public health, your regulator or the maker tells you otherwise",
			Evidence: []audit.Evidence{audit.At(&t.Row, "result", "the failed test")}, Steps: monitoringFailedNow(t, id), Verify: monitoringFailedVerify}
		if passed := monitoringPassedSince(monitoringStrayTests(x.P, id), t); passed != nil {
			f.Found += "; a test that passed since is written, of " + passed.RunAt.Day().Words()
			f.Needed = "what lies before is a matter for a look-back"
			f.Evidence = append(f.Evidence, audit.At(&passed.Row, "result", "passed since"))
			f.Steps, f.Stop = monitoringFailedThen(t, id), false
		} else if ends := monitoringStrayEnds(x, t, id); len(ends) > 0 {
			f.Found += "; each sterilizer that it may be of has passed as many spore tests in a row since as end a failure, as written"
			f.Needed = "what lies before is a matter for a look-back"
			f.Evidence = append(f.Evidence, ends...)
			f.Steps, f.Stop = monitoringFailedThen(t, id), false
		}
		x.Remark(audit.Whole, f)
	}
}

// monitoringStrayEnds are the first of the passed tests that end a failure of a sterilizer
// that is not named, for each that it may be of; nil where one of them has none.
func monitoringStrayEnds(x *audit.Examination, t *practice.Test, id string) (ends []audit.Evidence) {
	repeats, ok := x.Criterion("monitoring.repeats", nil)
	if !ok || id != "" {
		return nil
	}
	day, terms := t.RunAt.Day(), chain.Terms{Clock: monitoringClock(x), Repeats: int(math.Ceil(repeats.Number()))}
	for i := range x.P.Sterilizers {
		s := &x.P.Sterilizers[i]
		gone := s.RetiredOn.Written() && s.RetiredOn <= x.P.AsOf
		if gone || s.InstalledOn.Written() && s.InstalledOn > day {
			continue
		}
		wide, _ := chain.HistoryOf(x.P, s, terms).Around(chain.Event{Test: t})
		if wide.Until.Kind == chain.NoProof {
			return nil
		}
		ends = append(ends, audit.At(wide.Until.Row, wide.Until.Field, "the first of those that passed since"))
	}
	return ends
}

// monitoringStrayTests are the spore tests that name the same sterilizer, which is not
// typed; or all that name none, where none is typed at all.
func monitoringStrayTests(p *practice.Practice, id string) (tests []*practice.Test) {
	if id != "" {
		return monitoringTests(p, id, "spore")
	}
	for i := range p.Tests {
		if t := &p.Tests[i]; t.Type == "spore" && len(p.Sterilizers) == 0 && p.EquipmentOf(t) == "" {
			tests = append(tests, t)
		}
	}
	slices.SortStableFunc(tests, func(a, b *practice.Test) int { return cmp.Compare(a.RunAt.First(), b.RunAt.First()) })
	return tests
}

// tell says of a failed test what to do about it: stop, where no test that passed
// since is written. With repeats it is something to keep the papers of.
func (r *monitoringFailedRun) tell(t *practice.Test, w monitoringWindow, loads monitoringReleases) {
	f := audit.Fault{Matter: "spore test of " + t.RunAt.String(), Day: t.RunAt.Day(), Verify: monitoringFailedVerify,
		Found: "a spore test of the sterilizer failed (run on " + t.RunAt.Day().Words()}
	if w.known.Written() {
		f.Found += ", known by " + w.known.Words()
	}
	f.Found += ")"
	shown := loads.none
	if len(shown) == 0 {
		shown = loads.undecided
	}
	shortened := w
	shortened.passes = nil
	passed := monitoringPassedSince(r.tests, t)
	switch {
	case passed != nil:
		f.Found += "; a test that passed since is written, of " + passed.RunAt.Day().Words()
		f.Needed = "what lies before is a matter for a look-back"
		f.Steps = monitoringFailedThen(t, r.subject.ID)
		shortened.passes = []*practice.Test{passed}
	case r.s.RetiredOn.Written() && r.s.RetiredOn <= r.x.P.AsOf:
		f.Found += "; no test that passed since is written, and the sterilizer was taken out of use for good (" + r.s.RetiredOn.Words() + ")"
		f.Needed = "what lies before is a matter for a look-back"
		f.Steps = monitoringFailedThen(t, r.subject.ID)
	case w.next != nil:
		f.Found += "; the next that counts failed too, run on " + w.next.RunAt.Day().Words()
		f.Needed = "see that one for what to do now"
		f.Steps = monitoringFailedThen(t, r.subject.ID)
	default:
		f.Found += "; no test that passed since is written"
		f.Needed = "take it as real until public health, your regulator or the maker tells you otherwise"
		f.Steps, f.Stop = monitoringFailedNow(t, r.subject.ID), true
	}
	if w.validated != nil && passed == nil {
		f.Found += "; a validation passed on " + w.validated.DoneOn.Words() + ", and whether it stands in the place of repeats is for public health and the maker to say"
	}
	if n := len(loads.none); n > 0 {
		f.Found += fmt.Sprintf("; since it was known %s released, and repeats may not be typed", monitoringLoads(n))
	} else if n := len(loads.undecided); n > 0 {
		f.Found += fmt.Sprintf("; loads since it was known with no release written: %d", n)
	}
	f.Evidence = r.line(t, shortened, shown)
	r.x.Remark(r.subject, f)
}

// monitoringFailedFix is what to do about loads that were released after a failure.
var monitoringFailedFix = []string{
	"Look for the repeats first: the laboratory's e-mails, the folder of strips. If they passed before these loads were released, write each as a row with its own date, and audit again.",
	"If the sterilizer has not passed its repeats, stop using it now, and keep it out of use until they have passed. Use single-use or contracted instruments, or move the visits.",
	"Put on hold every pack of the loads named here, and of all loads since the last passed test with a growing control, at each site and in each bag.",
	"Telephone public health and your regulator today. They decide whether clients are told; ask before you contact anyone.",
	"Run footing lookback FOLDER --test with the id of the test: it lists the loads, packs and visits in question.",
	"Keep everything as it is: the test and its control, strips, log, data-logger files and packs.",
}

// steps are those of the check, but for the first where repeats are typed: then they need
// not be looked for. Enough of them that passed too late put the days in question.
func (r *monitoringFailedRun) steps(w monitoringWindow) []string {
	steps := slices.Clone(monitoringFailedFix)
	switch {
	case r.passedSince(w) != nil:
		copy(steps, []string{
			"Compare the days and hours of the failed test, of its repeats and of these loads with the reports and the log: one that was typed wrong explains some of these. Write the correction as a new row with today's date, and audit again.",
			"The repeats that are written passed after these loads were released. Ask public health and the maker whether they are enough, and keep the sterilizer out of use until they say so.",
		})
	case slices.ContainsFunc(w.passes, func(p *practice.Test) bool { return monitoringCounts(p) == quantity.Yes }):
		steps[0] = "Look for the other repeats first: the laboratory's e-mails, the folder of strips. If as many as are asked for had passed before these loads were released, write each as a row with its own date, and audit again."
	}
	return steps
}

// monitoringFailedNow is what to do about a failure that no passed test ended.
func monitoringFailedNow(t *practice.Test, sterilizer string) []string {
	return []string{
		"Stop using the sterilizer. Use single-use or contracted instruments, or move the visits.",
		"Put on hold every pack of it since the last passed test with a growing control, at each site and in each bag.",
		"Telephone public health and your regulator today. They decide whether clients are told; ask before you contact anyone.",
		"Run " + monitoringLookback(t, sterilizer) + ": it lists the loads, packs and visits in question.",
		"Repeat the test as the maker and public health say, and keep the sterilizer out of use until they and the repeats allow it. If repeats that passed are in the laboratory's e-mails, write each as a row with its own date.",
		"Keep everything as it is: the test and its control, strips, log, data-logger files and packs.",
	}
}

// monitoringFailedThen is what to do about a failure after which a test passed.
func monitoringFailedThen(t *practice.Test, sterilizer string) []string {
	return []string{
		"Keep together what was done then: who was told and when, which packs were put on hold, the repeats, the maker's or service firm's report.",
		"If public health and your regulator were not told of it, telephone them now and ask. They decide whether clients are told; contact no one on your own.",
		"If the maker or public health asked for more repeats than are written, look for their reports; write each that you find as a row with its own date.",
		"Run " + monitoringLookback(t, sterilizer) + " to see which loads, packs and visits were in question.",
	}
}

// monitoringLookback is the command that shows what a failed test puts in question.
func monitoringLookback(t *practice.Test, sterilizer string) string {
	switch {
	case t.Row.ID != "":
		return "footing lookback FOLDER --test " + monitoringArgument(t.Row.ID)
	case sterilizer != "":
		return "footing lookback FOLDER --sterilizer " + monitoringArgument(sterilizer)
	}
	return "footing lookback FOLDER --sterilizer with its id"
}

// monitoringArgument is an id as it is typed on a command line: in quotes where it holds a space.
func monitoringArgument(id string) string {
	if strings.Contains(id, " ") {
		return strconv.Quote(id)
	}
	return id
}
