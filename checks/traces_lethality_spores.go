package checks

import (
	"fmt"

	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/quantity"
)

// tracesLethalitySpores says, of each failed spore test whose sterilizer has files,
// that they do not overrule it.
func tracesLethalitySpores(x *audit.Examination) {
	run := &tracesHoldRun{Examination: x}
	for i := range x.P.Tests {
		test := &x.P.Tests[i]
		if test.Type != "spore" || test.Result != "fail" {
			continue
		}
		s := tracesSporeSterilizer(x.P, test)
		if s == nil {
			continue
		}
		w := tracesSporeWindow(x.P, s, test)
		near, judged := w.files(x.P)
		if judged == 0 {
			continue
		}
		tracesSporeRemark(run, s, test, w, near)
	}
}

// tracesSporeSterilizer is the one that a test is of: as it says, else that of the load it names.
func tracesSporeSterilizer(p *practice.Practice, test *practice.Test) *practice.Sterilizer {
	id := test.Equipment
	if l, state := p.Load(test.Load); id == "" && state == practice.One {
		id = l.Sterilizer
	}
	if s, state := p.Sterilizer(id); state == practice.One {
		return s
	}
	return nil
}

// tracesSporeTime is the time in which files lie near a failed test of a sterilizer:
// from the last test before it that passed with a growing control, or from the
// first record, to the day on which the failure was known, or the audit day.
type tracesSporeTime struct {
	sterilizer  *practice.Sterilizer
	from, until quantity.Day
	passed      bool
}

func tracesSporeWindow(p *practice.Practice, s *practice.Sterilizer, failed *practice.Test) tracesSporeTime {
	w := tracesSporeTime{sterilizer: s, until: p.AsOf}
	for i := range p.Tests {
		o := &p.Tests[i]
		day := o.RunAt.Day()
		if o.Type == "spore" && o.Result == "pass" && o.Control == "growth" && tracesSporeSterilizer(p, o) == s && day < failed.RunAt.Day() && day > w.from {
			w.from, w.passed = day, true
		}
	}
	switch {
	case failed.ReportedOn.Written():
		w.until = failed.ReportedOn
	case failed.ReadAt.Written():
		w.until = failed.ReadAt.Day()
	}
	return w
}

// files are the judged files of that time but those of leak and air-removal tests,
// and how many the sterilizer has in all.
func (w tracesSporeTime) files(p *practice.Practice) (near []*practice.Traced, judged int) {
	for _, t := range p.Traces() {
		if t.Sterilizer != w.sterilizer || t.Unread != "" || t.Unusable != "" || t.Load != nil && t.Load.Decision == "rejected" {
			continue
		}
		judged++
		if day := tracesDay(t); day.Written() && !t.OfTest && w.from <= day && day <= w.until {
			near = append(near, t)
		}
	}
	return near, judged
}

func (w tracesSporeTime) words() string {
	if w.passed {
		return "since the last test that passed with a growing control"
	}
	return "up to then (no earlier test is written that passed with a growing control)"
}

func tracesSporeRemark(r *tracesHoldRun, s *practice.Sterilizer, test *practice.Test, w tracesSporeTime, near []*practice.Traced) {
	short := 0
	for _, t := range near {
		if !r.question(t).holds() {
			short++
		}
	}
	found := fmt.Sprintf("a spore test of the sterilizer failed (run on %s); ", test.RunAt.Day().Words())
	switch {
	case len(near) == 0:
		found += "no data-logger file of its time is here"
	case short > 0:
		found += fmt.Sprintf("holds that are short in %s %s: %d (see traces/hold)", tracesSporeCount(len(near)), w.words(), short)
	default:
		found += fmt.Sprintf("in %s %s no hold is short", tracesSporeCount(len(near)), w.words())
	}
	f := audit.Fault{Matter: "spore test of " + test.RunAt.String(), Day: test.RunAt.Day(), Found: found,
		Needed:   "a data-logger file does not overrule a spore test: take the failure as real until public health, your regulator or the maker tells you otherwise",
		Evidence: append([]audit.Evidence{audit.At(&test.Row, "result")}, tracesSporeEvidence(test, near)...),
		Steps:    tracesSporeSteps, Verify: monitoringFailedVerify}
	if passed := monitoringPassedSince(monitoringTests(r.P, practice.Key(&s.Row), "spore"), test); passed != nil {
		f.Found += fmt.Sprintf("; a test that passed since is written, of %s", passed.RunAt.Day().Words())
		f.Evidence = append(f.Evidence, audit.At(&passed.Row, "result", "passed since"))
	}
	r.Remark(audit.About("sterilizers", &s.Row), f)
}

// tracesSporeSteps leave what to do about the failure itself to monitoring/spore-failed,
// which says it with files or without.
var tracesSporeSteps = []string{
	"Do what stands under monitoring/spore-failed for this test; the files change nothing in it.",
	"Keep the data-logger files as they are, and show them to the maker's or service firm's engineer, and to public health if they ask.",
}

func tracesSporeCount(n int) string {
	if n == 1 {
		return "the one data-logger file"
	}
	return fmt.Sprintf("the %d data-logger files", n)
}

// tracesSporeEvidence is the files of the loads of the test's day, that of the
// load which the test names first.
func tracesSporeEvidence(test *practice.Test, near []*practice.Traced) (list []audit.Evidence) {
	named := func(t *practice.Traced) bool {
		return t.Load != nil && test.Load != "" && practice.Key(&t.Load.Row) == test.Load
	}
	for _, t := range near {
		if named(t) {
			list = append(list, audit.InTrace(t, 0, "the load that the failed spore test names"))
		}
	}
	for _, t := range near {
		if !named(t) && tracesDay(t) == test.RunAt.Day() {
			list = append(list, audit.InTrace(t, 0, "a load of the test's day"))
		}
	}
	return list
}
