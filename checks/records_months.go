package checks

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/quantity"
)

var _ = define(audit.Check{
	ID:    "records/months",
	Title: "each month of a sterilizer's use has exposure, indicators and release for every load, and its spore tests",
	Why: "Inspectors page through the log month by month. A month in which some cell is blank is ordinary, and other checks look at each load. " +
		"A month of use in which nothing at all shows that any load worked (no exposure, no indicator, no spore test that covers a day of it) in a log that has these before and after is a gap that one asks about.",
	Grades:  []audit.Grade{audit.Major, audit.Observation},
	Subject: "sterilizers", Thing: "month of use", Things: "months of use",
	Needs: []string{"loads", "sterilizers"},
	Helps: []string{"loads.exposure", "loads.inside_indicator", "loads.outside_indicator", "loads.decision", "tests", "practice.coverage"},
	Uses:  []string{"monitoring.spore-interval"},
	Fix: []string{
		"Look for the month's pages, printouts, strips and laboratory reports. Type what is found, with its own dates and today's date under entered_on.",
		"Where nothing is found, leave the month as it is, and write down today what you know of the reason. Fill in nothing from memory.",
		"From today on, close each month with one look: every load has its exposure, its indicators and its release, and the spore tests are there.",
	},
	Verify: "Each later month has the exposure, indicators and release of every load, and its spore tests in time.",
	Run: func(x *audit.Examination) {
		r := &recordsMonthsRun{Examination: x, typed: monitoringTypedOf(x.P, "spore"), stray: recordsMonthsStray(x.P), columns: map[string]cyclesColumn{}, written: recordsMonthsWritten(x.P)}
		for name, written := range r.written {
			r.columns[name] = cyclesColumnOf(x.P, written)
		}
		monitoringEach(x, func(subject audit.Subject, _ *practice.Sterilizer) {
			x.Nothing("no load of a sterilizer of the practice's own is written but rejected or pending ones")
			r.sterilizer(subject)
		})
	},
})

// recordsMonthsNames are what is looked for on each load, as sentences name it.
var recordsMonthsNames = []string{"exposure", "indicators", "release"}

// recordsMonthsWritten says of a load whether each stands written: the hold, or a
// printout or data-logger file that has it; the result of an indicator, its own or of a
// pack of it; a decision.
func recordsMonthsWritten(p *practice.Practice) map[string]func(*practice.Load) bool {
	result := func(s string) bool { return s == "pass" || s == "fail" }
	return map[string]func(*practice.Load) bool{
		"exposure": func(l *practice.Load) bool {
			return l.Exposure.Written() || l.Trace != "" || l.Printout == quantity.IsYes || len(p.TracesOf(l)) > 0
		},
		"indicators": func(l *practice.Load) bool {
			if result(l.InsideIndicator) || result(l.OutsideIndicator) {
				return true
			}
			for _, k := range p.PacksOf(practice.Key(&l.Row)) {
				if result(k.InsideIndicator) || result(k.OutsideIndicator) {
					return true
				}
			}
			return false
		},
		"release": func(l *practice.Load) bool { return l.Decision != "" },
	}
}

type recordsMonthsRun struct {
	*audit.Examination
	typed   monitoringTyped
	stray   []*practice.Test // spore tests that may have been of any sterilizer
	columns map[string]cyclesColumn
	written map[string]func(*practice.Load) bool
}

// recordsMonth is one month of use of one sterilizer.
type recordsMonth struct {
	name    string
	loads   []*practice.Load
	written map[string]int
	blank   map[string][]*practice.Load
	sure    bool // some blank is a gap of the log itself
}

// sterilizer settles the months of one sterilizer, by time.
func (r *recordsMonthsRun) sterilizer(subject audit.Subject) {
	loads := r.P.LoadsOf(subject.ID)
	tests := r.covers(loads, monitoringTests(r.P, subject.ID, "spore"))
	var month *recordsMonth
	end := func() {
		if month != nil {
			r.settle(subject, month, tests)
		}
	}
	for _, l := range loads {
		if !monitoringInUse(l) {
			continue
		}
		if name := recordsMonthsName(l.Started.Day()); month == nil || month.name != name {
			end()
			month = &recordsMonth{name: name, written: map[string]int{}, blank: map[string][]*practice.Load{}}
		}
		month.add(r, l)
	}
	end()
}

func recordsMonthsName(d quantity.Day) string {
	y, m, _ := d.Date()
	return fmt.Sprintf("%04d-%02d", y, int(m))
}

func (m *recordsMonth) add(r *recordsMonthsRun, l *practice.Load) {
	m.loads = append(m.loads, l)
	for _, name := range recordsMonthsNames {
		if r.written[name](l) {
			m.written[name]++
			continue
		}
		m.blank[name] = append(m.blank[name], l)
		m.sure = m.sure || r.columns[name].gap(r.P, l)
	}
}

// words is the month in a sentence: "March 2026".
func (m *recordsMonth) words() string {
	y, month, _ := m.loads[0].Started.Day().Date()
	return fmt.Sprintf("%s %d", time.Month(month), y)
}

// settle says how one month stands. It is a major gap only where five things hold:
// all loads and all spore tests of the month are said to be in the folder; no load of
// it shows an exposure or an indicator, in columns that the log fills before and
// after; no data-logger file of no load can be of the month; some load was released;
// and no day of use in it is covered by a spore test, under the rule that holds. All else that is missing is an observation at most, since
// other checks judge each load and each interval.
func (r *recordsMonthsRun) settle(subject audit.Subject, m *recordsMonth, tests recordsMonthsTests) {
	asTyped, some, none := r.spore(m, tests)
	first, last := m.loads[0], m.loads[len(m.loads)-1]
	out := audit.Month{Month: m.name, Sterilizer: subject.ID, Loads: len(m.loads), Exposure: m.written["exposure"], Indicators: m.written["indicators"], Release: m.written["release"], Spore: "not told"}
	noTest := none.Verdict == audit.Fail && !none.Depends
	switch {
	case asTyped.Verdict == audit.Meets:
		out.Spore = "yes"
	case noTest, asTyped.Verdict == audit.Fail && !asTyped.Depends:
		out.Spore = "no"
	}
	out.Missing = m.missing(out.Spore, m.lateDays(asTyped.Criterion, tests))
	r.Month(out)
	whole := r.P.Whole("loads", first.Started.Day(), last.Started.Day())
	released := false
	for _, l := range m.loads {
		released = released || l.Released()
	}
	f := audit.Fault{Matter: "missing", Day: first.Started.Day(), Weight: float64(len(m.blank["exposure"]) + len(m.blank["indicators"]) + len(m.blank["release"])), Found: m.words() + ": not written: " + out.Missing,
		Evidence: []audit.Evidence{audit.At(&first.Row, "started", "the first load of the month")}}
	if last != first {
		f.Evidence = append(f.Evidence, audit.At(&last.Row, "started", "the last load of the month"))
	}
	switch {
	case out.Missing == "":
		r.Met(subject)
	case whole && released && noTest && out.Exposure == 0 && out.Indicators == 0 && r.gap(m, "exposure") && r.gap(m, "indicators") && !r.loose(m):
		c := none.Criterion
		f.Grade, f.Matter, f.Criterion, f.Weight = audit.Major, "nothing", &c, float64(len(m.loads))
		f.Found = fmt.Sprintf("%s: nothing written shows that any of its %s worked: no exposure, no indicator, and no spore test that covers a day of use, in a log that has these at other times", m.words(), audit.Plural(len(m.loads), "load", "loads"))
		f.Needed = "each load needs its values and indicators, and no more than " + c.Value() + " may lie between a spore test and a day of use"
		r.NotMet(subject, f)
	case m.sure, some.Verdict == audit.Fail && !some.Depends:
		f.Grade, f.Needed = audit.Observation, "each month needs the exposure, indicators and release of every load, and spore tests in time for each day of use"
		r.NotMet(subject, f)
	case len(m.blank) == 0:
		r.Unclear(subject, "whether spore tests were in time in the month depends on your rule, or on tests that are not typed, or do not say of which sterilizer they were", audit.Field{Kind: "tests"})
	default:
		r.Unclear(subject, "something of the month is not typed, and the log is not said to be all here: not typed, so not judged", audit.Field{Kind: "loads"})
	}
}

// gap reports whether the log fills a column both before and after each blank of the
// month. Where nothing follows, the values may be typed last.
func (r *recordsMonthsRun) gap(m *recordsMonth, name string) bool {
	for _, l := range m.blank[name] {
		d, kept := r.columns[name][l.Sterilizer]
		if day := l.Started.Day(); !kept || day < d.first || d.last < day {
			return false
		}
	}
	return true
}

// loose reports whether a data-logger file that belongs to no load and no test may be of
// a load of the month.
func (r *recordsMonthsRun) loose(m *recordsMonth) bool {
	return slices.ContainsFunc(r.P.Traces(), func(t *practice.Traced) bool {
		day := tracesDay(t)
		return t.Load == nil && !t.OfTest && (!day.Written() || recordsMonthsName(day) == m.name)
	})
}

// missing names what keeps a month from being whole; "" for nothing. Days are those of
// use that no spore test is in time for, in words.
func (m *recordsMonth) missing(spore, days string) string {
	var parts []string
	for _, name := range recordsMonthsNames {
		switch n := len(m.blank[name]); {
		case n == 0:
		case n == len(m.loads):
			parts = append(parts, "the "+name+" of every load")
		default:
			parts = append(parts, fmt.Sprintf("the %s of %s", name, audit.Plural(n, "load", "loads")))
		}
	}
	if spore == "no" {
		parts = append(parts, "a spore test in time for "+days)
	}
	words := strings.Join(parts, ", ")
	switch {
	case spore == "not told" && words == "":
		return "whether spore tests were in time cannot be told"
	case spore == "not told":
		return words + "; whether spore tests were in time cannot be told"
	}
	return words
}
