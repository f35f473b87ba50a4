package checks

import (
	"fmt"
	"slices"

	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/quantity"
)

var _ = define(audit.Check{
	ID:    "monitoring/programs",
	Title: "each program that a sterilizer is used with was tested with spores within the interval",
	Why: "A spore test speaks for the program it was run in. A sterilizer that is tested every week at 134 °C, and used at 121 °C as well, is tested for half of its work. " +
		"Few rules say in so many words that each program is to be tested, and not only each sterilizer, so it is a fault only where yours does. " +
		"Use for which no spore test of the sterilizer is written at all is told once, under monitoring/spore-interval.",
	Grades:  []audit.Grade{audit.Minor, audit.Observation},
	Subject: "sterilizers", Thing: "program in use", Things: "programs in use",
	Needs: []string{"loads", "sterilizers", "tests", "programs"},
	Helps: []string{"loads.program", "tests.program", "tests.load", "practice.coverage"},
	Uses:  []string{"monitoring.spore-interval", "monitoring.each-program"},
	Fix: []string{
		"Look at the reports and the log: which program did each test run in? One that was typed wrong, or not at all, explains some of these; write the correction as a new row with today's date.",
		"Run the next spore test in the program that is named here, and write the program into its row.",
		"Take turns from then on, or test each program in the same week; ask your regulator or the maker how often each is to be tested.",
	},
	Verify: "Each program that loads name has a spore test of its own within the interval.",
	Run: func(x *audit.Examination) {
		typed := monitoringTypedOf(x.P, "spore")
		each, alone := monitoringEachProgram(x), "each sterilizer has one program"
		if each == quantity.No {
			alone = "your rule asks for a test of each sterilizer rather than of each program"
		}
		monitoringEach(x, func(subject audit.Subject, _ *practice.Sterilizer) {
			x.Nothing(alone + ", and monitoring/spore-interval judges it")
			r := monitoringProgramsRun{x: x, typed: typed, subject: subject, each: each}
			r.sort()
			r.settle()
		})
	},
})

// monitoringProgramsRun puts the loads and spore tests of one sterilizer beside each
// other, program by program.
type monitoringProgramsRun struct {
	x       *audit.Examination
	typed   monitoringTyped
	subject audit.Subject
	each    quantity.Tri // a rule that holds asks for a test of each program
	used    []*monitoringProgram
	tests   []*practice.Test // that count, of any program
	untold  []*practice.Test // of which the program, or the result, is not told
}

// monitoringEachProgram says whether a rule that the practice chose asks for a spore test
// of each program, and not only of each sterilizer. No only where its own rule says so.
func monitoringEachProgram(x *audit.Examination) quantity.Tri {
	c, ok := x.Criterion("monitoring.each-program", nil)
	switch {
	case ok && c.Yes() && cyclesChosen(x, c):
		return quantity.Yes
	case ok && !c.Yes() && c.Set == audit.Yours:
		return quantity.No
	}
	return quantity.Unsure
}

// monitoringProgram is one program with its days of use and its tests that count.
type monitoringProgram struct {
	program *practice.Program
	days    []monitoringDay
	tests   []*practice.Test
	lone    bool // no other is typed for the sterilizer, or named by its loads
}

// sort puts each load and test to its program, and tests of one that is no harder on
// spores to it too. Where the sterilizer has only one, a test that names none was of it.
func (r *monitoringProgramsRun) sort() {
	named := monitoringProgramNames{p: r.x.P, sterilizer: r.subject.ID, known: map[string]*practice.Program{}}
	for i := range r.x.P.Programs {
		if g := &r.x.P.Programs[i]; g.Sterilizer == r.subject.ID {
			named.all = append(named.all, g)
		}
	}
	loads, unnamed := map[*practice.Program][]*practice.Load{}, 0
	var order []*practice.Program
	for _, l := range r.x.P.LoadsOf(r.subject.ID) {
		g := named.of(l.Program)
		switch {
		case !monitoringInUse(l):
		case g == nil:
			unnamed++
		default:
			if loads[g] == nil {
				order = append(order, g)
			}
			loads[g] = append(loads[g], l)
		}
	}
	if unnamed > 0 {
		r.x.Unclear(r.subject, "the program that loads ran in is not written, or is not in the records as one row", audit.Field{Kind: "loads", Name: "program"})
	}
	type run struct {
		t *practice.Test
		g *practice.Program
	}
	var told []run
	for _, t := range monitoringTests(r.x.P, r.subject.ID, "spore") {
		g := named.ofTest(t)
		counts := monitoringCounts(t)
		if counts == quantity.No {
			continue
		}
		if counts == quantity.Yes {
			r.tests = append(r.tests, t)
		}
		if g == nil || counts == quantity.Unsure {
			r.untold = append(r.untold, t)
			continue
		}
		told = append(told, run{t, g})
	}
	s, _ := r.x.P.Sterilizer(r.subject.ID)
	for _, g := range order {
		speaks := map[*practice.Program]bool{g: true}
		for _, h := range named.all {
			speaks[h] = speaks[h] || monitoringSpeaksFor(s, h, g)
		}
		own := &monitoringProgram{program: g, days: monitoringDays(loads[g]), lone: named.only() == g}
		for _, o := range told {
			if speaks[o.g] {
				own.tests = append(own.tests, o.t)
			}
		}
		r.used = append(r.used, own)
	}
}

// monitoringSpeaksFor reports whether a spore test in one program speaks for another: it
// draws the air out as the other does, and holds no hotter and no longer, so that what it
// kills the other kills. Drying kills nothing.
func monitoringSpeaksFor(s *practice.Sterilizer, tested, other *practice.Program) bool {
	return tested.Pulses == other.Pulses && slices.Equal(cyclesAir(s, tested), cyclesAir(s, other)) &&
		tested.Temperature.AtMost(other.Temperature, quantity.Quantity{}) == quantity.Yes &&
		tested.Exposure.AtMost(other.Exposure, quantity.Quantity{}) == quantity.Yes
}

// settle judges each program over its own days of use.
func (r *monitoringProgramsRun) settle() {
	for _, g := range r.used {
		if g.lone || r.each == quantity.No {
			r.x.Pass()
			continue
		}
		var missed []monitoringDay // under the shortest interval that is broken
		ruling := r.x.Ask("monitoring.spore-interval", nil, func(c audit.Criterion) audit.Verdict {
			interval, limited := c.Limit()
			if !limited {
				return audit.Meets
			}
			sure, open := r.missed(g, interval)
			switch {
			case len(sure) > 0:
				if len(sure) > len(missed) {
					missed = sure
				}
				return audit.Fail
			case open:
				return audit.CannotTell
			}
			return audit.Meets
		})
		var f audit.Fault
		if len(missed) > 0 {
			f = r.fault(g, missed)
		}
		if monitoringOneEach(ruling, g.tests, missed) {
			f.Grade, f.Matter = audit.Observation, f.Matter+" one each week"
			f.Found += ", and yet each week from Monday to Sunday holds one"
		}
		if ruling.Verdict == audit.Fail && r.each != quantity.Yes {
			r.x.NotMet(r.subject, monitoringUnasked(ruling, f))
			continue
		}
		r.x.Settle(r.subject, ruling, f, monitoringProgramsNeeded,
			"no spore test in that program is typed for a time of its use, and one may not be typed, has no result yet, or names no program", audit.Field{Kind: "tests", Name: "program"})
	}
}

// monitoringUnasked is a program without a test of its own where no rule that was chosen
// asks for one: worth knowing.
func monitoringUnasked(interval audit.Ruling, f audit.Fault) audit.Fault {
	f.Grade, f.Steps = audit.Observation, monitoringUnaskedSteps
	f.Needed = "whether each program is to be tested, or only each sterilizer, depends on your rule, and no rule that was chosen asks for each program"
	if !interval.Depends {
		c := interval.Criterion
		f.Criterion = &c
	}
	return f
}

var monitoringUnaskedSteps = []string{
	"Look at the reports and the log: which program did each test run in? One that was typed wrong, or not at all, explains some of these.",
	"Ask your regulator or the maker whether a spore test is asked for in each program or of each sterilizer, and write the answer into rules.yaml (monitoring.each-program: yes or no).",
	"A test run in this program now and then shows that it kills too; write the program into the test's row.",
}

// missed are the days of use of a program of which the sterilizer was tested within the
// interval, and all that was tested was other programs. Open: one more may be such.
func (r *monitoringProgramsRun) missed(g *monitoringProgram, interval quantity.Quantity) (sure []monitoringDay, open bool) {
	own, all, untold := monitoringReach{tests: g.tests}, monitoringReach{tests: r.tests}, monitoringReach{tests: r.untold}
	for _, d := range g.days {
		if own.covers(d.on, interval) || !all.covers(d.on, interval) {
			continue
		}
		if untold.covers(d.on, interval) || !r.typed.whole(monitoringBack(d.on, interval), d.on) {
			open = true
			continue
		}
		sure = append(sure, d)
	}
	return sure, open
}

// monitoringReach walks tests beside days that only go on.
type monitoringReach struct {
	tests []*practice.Test
	next  int // the first that is after the day
}

// covers reports whether a test of the day, or not further back than the interval, is there.
func (m *monitoringReach) covers(d quantity.Day, interval quantity.Quantity) bool {
	for m.next < len(m.tests) && m.tests[m.next].RunAt.Day() <= d {
		m.next++
	}
	return m.next > 0 && d <= m.tests[m.next-1].RunAt.Day().Add(interval)
}

func (r *monitoringProgramsRun) fault(g *monitoringProgram, missed []monitoringDay) audit.Fault {
	first, last := missed[0], missed[len(missed)-1]
	name := g.program.Temperature.String() + " for " + g.program.Exposure.String()
	f := audit.Fault{Grade: audit.Minor, Matter: "program " + practice.Key(&g.program.Row), Day: first.on, Weight: float64(len(missed)),
		Found: fmt.Sprintf("a program (%s) was used %s (%s) with no spore test run in it within the interval, while other programs of the sterilizer were tested",
			name, monitoringFromTo(first.on, last.on), monitoringDaysWords(len(missed))),
		Evidence: []audit.Evidence{audit.At(&g.program.Row, "temperature", "the program")}}
	add := func(t *practice.Test, note string) {
		if t != nil {
			f.Evidence = append(f.Evidence, audit.At(&t.Row, "run_at", note))
		}
	}
	before, after := monitoringAround(g.tests, first.on)
	add(before, "the last test in it before")
	f.Evidence = append(f.Evidence, audit.At(&first.first.Row, "started", "the first load in it past due"))
	if last.last != first.first {
		f.Evidence = append(f.Evidence, audit.At(&last.last.Row, "started", "the last load in it past due"))
	}
	other, _ := monitoringAround(r.tests, last.on)
	add(other, "a test in another program")
	add(after, "the next test in it")
	return f
}

// monitoringAround are the last test on a day or before it, and the first after it.
func monitoringAround(tests []*practice.Test, on quantity.Day) (before, after *practice.Test) {
	for _, t := range tests {
		if t.RunAt.Day() <= on {
			before = t
		} else if after == nil {
			after = t
		}
	}
	return before, after
}

func monitoringDaysWords(n int) string {
	if n == 1 {
		return "1 day"
	}
	return fmt.Sprintf("%d days", n)
}

func monitoringProgramsNeeded(c audit.Criterion) string {
	span, limited := c.Limit()
	switch {
	case !limited:
		return "no limit"
	case span.Value == 0:
		return "a spore test on each day of use, here for each program"
	}
	return "a spore test at least every " + span.String() + " of use, here for each program"
}

// monitoringProgramNames finds the program that a load or test means, by its id or by
// its name on the display.
type monitoringProgramNames struct {
	p          *practice.Practice
	sterilizer string
	all        []*practice.Program // typed for the sterilizer
	known      map[string]*practice.Program
}

// only is the sterilizer's one program; nil where it has none or several.
func (n *monitoringProgramNames) only() *practice.Program {
	if len(n.all) == 1 {
		return n.all[0]
	}
	return nil
}

// of is the program of that id or name; nil where none or several have it.
func (n *monitoringProgramNames) of(name string) *practice.Program {
	if name == "" {
		return n.only()
	}
	if g, seen := n.known[name]; seen {
		return g
	}
	g, state := n.p.Program(name)
	if state == practice.Absent {
		g = cyclesByName(n.all, name)
	}
	if g != nil && g.Sterilizer != n.sterilizer {
		g = nil
	}
	n.known[name] = g
	return g
}

// ofTest is the program of a test: as it says, else that of the load it names.
func (n *monitoringProgramNames) ofTest(t *practice.Test) *practice.Program {
	if t.Program != "" {
		return n.of(t.Program)
	}
	if l, state := n.p.Load(t.Load); state == practice.One {
		return n.of(l.Program)
	}
	return n.only()
}
