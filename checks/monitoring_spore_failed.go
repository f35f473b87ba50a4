package checks

import (
	"fmt"

	"footing/internal/audit"
	"footing/internal/chain"
	"footing/internal/practice"
	"footing/internal/quantity"
)

var _ = define(audit.Check{
	ID:    "monitoring/spore-failed",
	Title: "after a failed spore test became known the sterilizer was out of use until repeats passed",
	Why: "Growth in a spore test means that live spores came through the cycle. From the moment that it is known, nothing more is released from the sterilizer until repeated tests have passed, as many as the rule, the maker and public health ask for. " +
		"Loads before that moment are a matter for a look-back, not for this check. A data-logger file does not overrule a spore test.",
	Grades:  []audit.Grade{audit.Critical, audit.Observation},
	Subject: "sterilizers", Thing: "failed spore test", Things: "failed spore tests",
	Needs:  []string{"tests"},
	Helps:  []string{"sterilizers", "tests.read_at", "tests.reported_on", "tests.load", "loads.decision", "loads.released_at", "practice.coverage"},
	Uses:   []string{"monitoring.repeats", "records.clock"},
	Fix:    monitoringFailedFix,
	Verify: monitoringFailedVerify,
	Run: func(x *audit.Examination) {
		typed := monitoringTypedOf(x.P, "spore")
		clock := monitoringClock(x)
		x.Nothing("no failed spore test is written")
		for i := range x.P.Sterilizers {
			s := &x.P.Sterilizers[i]
			subject := audit.About("sterilizers", &s.Row)
			if _, state := x.P.Sterilizer(subject.ID); state != practice.One {
				continue
			}
			r := monitoringFailedRun{x: x, typed: typed, clock: clock, subject: subject, s: s, tests: monitoringTests(x.P, subject.ID, "spore")}
			for i, t := range r.tests {
				if t.Result == "fail" {
					r.one(i)
				}
			}
		}
		monitoringFailedStray(x)
	},
})

const monitoringFailedVerify = "Repeated tests that passed, as many as the maker and public health ask for, and their word in writing that the sterilizer may be used."

// monitoringFailedRun judges the failed tests of one sterilizer.
type monitoringFailedRun struct {
	x       *audit.Examination
	typed   monitoringTyped
	clock   chain.Clock
	subject audit.Subject
	s       *practice.Sterilizer
	tests   []*practice.Test // spore tests, by time
	own     *monitoringOwn
}

func (r *monitoringFailedRun) one(i int) {
	t := r.tests[i]
	w := r.window(i)
	if r.s.OperatedBy == "contractor" {
		r.x.Unclear(r.subject, "the sterilizer is a contractor's, who keeps its log")
		r.tell(t, w, monitoringReleases{})
		return
	}
	if !w.known.Written() {
		r.x.Unclear(r.subject, "when the failed test became known is not written, lies after the audit day, or is before it was run", audit.Field{Kind: "tests", Name: "read_at"}, audit.Field{Kind: "tests", Name: "reported_on"})
		r.tell(t, w, monitoringReleases{})
		return
	}
	loads := r.releases(w)
	repeats, chosen := r.repeats()
	sure := r.sure(w, loads.none)
	if chosen {
		sure = append(sure, r.sure(w, loads.few)...)
	}
	switch {
	case len(sure) > 0:
		r.x.NotMet(r.subject, r.critical(t, w, sure, repeats))
		return
	case w.validated != nil && (len(loads.none) > 0 || chosen && len(loads.few) > 0):
		r.x.Unclear(r.subject, "loads are written as released after the failure was known and a validation had passed; repeats that passed may stand in its report", audit.Field{Kind: "tests"})
	case len(loads.none) > 0 || chosen && len(loads.few) > 0:
		r.x.Unclear(r.subject, "loads are written as released after the failure was known, and repeats that passed may have been run; "+r.typed.why(), r.typed.missing())
	case len(loads.few) > 0:
		r.x.NotMet(r.subject, r.fewer(t, w, loads.few, repeats))
	case len(loads.undecided) > 0:
		r.x.Unclear(r.subject, "no release is written of the loads after the failure was known, so whether they were used cannot be told", audit.Field{Kind: "loads", Name: "decision"})
	case len(loads.unsure) > 0:
		r.x.Unclear(r.subject, "whether a load was released before or after the failure was known, or before "+r.asked(repeats)+", cannot be told", audit.Field{Kind: "loads", Name: "released_at"})
	case len(w.passes) == 0 && w.next == nil && !r.x.P.Whole("loads", w.known.Day(), r.x.P.AsOf):
		r.x.Unclear(r.subject, "no load is typed from the time after the failure was known, and not all loads are said to be here: not typed, so not judged", audit.Field{Kind: "loads"})
	default:
		r.x.Met(r.subject)
	}
	r.tell(t, w, loads)
}

// repeats is how many tests are to pass one after the other, and whether the practice
// itself chose the rule that says so.
func (r *monitoringFailedRun) repeats() (c audit.Criterion, chosen bool) {
	c, ok := r.x.Criterion("monitoring.repeats", nil)
	return c, ok && cyclesChosen(r.x, c)
}

// sure are the loads of which all tests from the failed one to their release are in
// the folder, and before which no validation passed, so that a repeat that is not
// written was not run.
func (r *monitoringFailedRun) sure(w monitoringWindow, loads []*practice.Load) (sure []*practice.Load) {
	for _, l := range loads {
		if w.validated != nil && w.validated.DoneOn <= l.Started.Day() {
			continue
		}
		until := r.x.P.AsOf
		if l.ReleasedAt.Written() {
			until = l.ReleasedAt.Day()
		}
		if r.typed.whole(w.failed.RunAt.Day(), until) {
			sure = append(sure, l)
		}
	}
	return sure
}

func (r *monitoringFailedRun) critical(t *practice.Test, w monitoringWindow, loads []*practice.Load, repeats audit.Criterion) audit.Fault {
	f := audit.Fault{Grade: audit.Critical, Matter: "released after " + t.RunAt.String(), Day: loads[0].Started.Day(),
		Needed:   "the sterilizer is to stay out of use until repeated tests have passed",
		Evidence: r.line(t, w, loads), Steps: r.steps(w), Verify: monitoringFailedVerify}
	if _, chosen := r.repeats(); chosen {
		f.Criterion = &repeats
		f.Needed = fmt.Sprintf("the sterilizer is to stay out of use until repeats have passed, one after the other: %s by %s", repeats.Value(), repeats.Set)
	}
	f.Found = fmt.Sprintf("a spore test failed (run on %s, known by %s); after that, and before %s, %s released",
		t.RunAt.Day().Words(), w.known.Words(), r.asked(repeats), monitoringLoads(len(loads)))
	if since := r.passedSince(w); since != nil {
		many := "as many are"
		if _, chosen := r.repeats(); !chosen || repeats.Number() == 1 {
			many = "one is"
		}
		f.Found += "; " + many + " written as passed by now, run by " + since.RunAt.Day().Words()
	}
	return f
}

// passedSince is the repeat with which as many had passed as the rule that was chosen asks
// for, or the first where none was; nil where fewer have passed, or one failed again.
func (r *monitoringFailedRun) passedSince(w monitoringWindow) *practice.Test {
	var needed, n float64 = 1, 0
	if c, chosen := r.repeats(); chosen {
		needed = c.Number()
	}
	for _, p := range w.passes {
		if monitoringCounts(p) == quantity.Yes {
			n++
		}
		if n >= needed && w.next == nil {
			return p
		}
	}
	return nil
}

// asked is how many repeats a sentence speaks of: those of the rule that was chosen, or any.
func (r *monitoringFailedRun) asked(repeats audit.Criterion) string {
	switch _, chosen := r.repeats(); {
	case !chosen:
		return "any repeat was known to have passed"
	case repeats.Number() == 1:
		return "a repeat was known to have passed"
	}
	return repeats.Value() + " repeats were known to have passed"
}

// fewer tells of loads released after some repeats, and fewer than a rule asks for that
// nobody chose.
func (r *monitoringFailedRun) fewer(t *practice.Test, w monitoringWindow, loads []*practice.Load, repeats audit.Criterion) audit.Fault {
	return audit.Fault{Grade: audit.Observation, Matter: "fewer repeats by rule after " + t.RunAt.String(), Day: t.RunAt.Day(),
		Found: fmt.Sprintf("after a spore test failed (run on %s) %s released when repeats had passed, as written, but fewer than %s", t.RunAt.Day().Words(), monitoringLoads(len(loads)), repeats.Value()),
		Needed: fmt.Sprintf("how many are to pass one after the other depends on your rule: %s asks for %s; public health and the maker may ask for more or fewer",
			repeats.Set, repeats.Value()),
		Evidence: r.line(t, w, loads), Steps: monitoringFailedThen(t, r.subject.ID), Verify: monitoringFailedVerify}
}

func monitoringLoads(n int) string {
	if n == 1 {
		return "a load is written as"
	}
	return fmt.Sprintf("%d loads are written as", n)
}

// line is one failure as a chain: the test, when it was known, the loads, the repeats.
func (r *monitoringFailedRun) line(t *practice.Test, w monitoringWindow, loads []*practice.Load) []audit.Evidence {
	list := []audit.Evidence{audit.At(&t.Row, "result", "the failed test")}
	if w.field != "" {
		list = append(list, audit.At(&t.Row, w.field, "when it was known"))
	}
	for _, l := range loads {
		field, note := "released_at", "a load released after it"
		switch {
		case l.Decision == "":
			field, note = "started", "a load started after it, with no release written"
		case !l.ReleasedAt.Written():
			field, note = "started", "a load started after it, and released"
		}
		list = append(list, audit.At(&l.Row, field, note))
	}
	if w.validated != nil {
		list = append(list, audit.At(&w.validated.Row, "done_on", "a validation that passed"))
	}
	enough := r.enough()
	for i, p := range w.passes {
		if float64(i) >= enough {
			break
		}
		note := "a repeat that passed"
		if monitoringCounts(p) != quantity.Yes {
			note = "a test since, with no result yet"
		}
		list = append(list, audit.At(&p.Row, "run_at", note))
	}
	if w.next != nil {
		list = append(list, audit.At(&w.next.Row, "result", "the next test that failed"))
	}
	return list
}
