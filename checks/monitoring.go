package checks

import (
	"cmp"
	"slices"

	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/quantity"
)

// monitoringEach calls look for each sterilizer of the practice's own that works by
// steam or dry heat. A contractor's, and what only boils, beads or shines, lie outside;
// one whose id several rows have is unclear.
func monitoringEach(x *audit.Examination, look func(audit.Subject, *practice.Sterilizer)) {
	x.Nothing("no sterilizer that works by steam or dry heat is run by the practice itself")
	for i := range x.P.Sterilizers {
		s := &x.P.Sterilizers[i]
		subject := audit.About("sterilizers", &s.Row)
		_, state := x.P.Sterilizer(subject.ID)
		switch {
		case s.OperatedBy == "contractor", s.Method != "steam" && s.Method != "dry-heat":
			x.Pass()
		case state != practice.One:
			x.Unclear(subject, "several rows have the sterilizer's id, so what was run in which cannot be told", audit.Field{Kind: "sterilizers", Name: "id"})
		default:
			look(subject, s)
		}
	}
}

// monitoringInUse says whether a load put a sterilizer to use: it was not rejected, and
// does not wait for its release.
func monitoringInUse(l *practice.Load) bool {
	return l.Decision != "rejected" && l.Decision != "pending"
}

// monitoringDay is one local day on which a sterilizer was in use.
type monitoringDay struct {
	on          quantity.Day
	first, last *practice.Load
}

// monitoringDays are the days of use in some loads of one sterilizer, which stand by
// their start. A load counts on the day on which it began.
func monitoringDays(loads []*practice.Load) (days []monitoringDay) {
	for _, l := range loads {
		on := l.Started.Day()
		switch {
		case !monitoringInUse(l):
		case len(days) == 0 || days[len(days)-1].on != on:
			days = append(days, monitoringDay{on, l, l})
		default:
			days[len(days)-1].last = l
		}
	}
	return days
}

// monitoringTests are the tests of one kind ("spore", "air-removal", "leak") of a
// sterilizer, by the time they were run.
func monitoringTests(p *practice.Practice, sterilizer, kind string) (tests []*practice.Test) {
	for _, t := range p.TestsOf(sterilizer) {
		if t.Type == kind {
			tests = append(tests, t)
		}
	}
	return tests
}

// monitoringStray are the tests of one kind that leave untold which sterilizer they were
// of, by time: each may have been of any.
func monitoringStray(p *practice.Practice, kind string) (tests []*practice.Test) {
	for i := range p.Tests {
		t := &p.Tests[i]
		if t.Type != kind {
			continue
		}
		if _, state := p.Sterilizer(p.EquipmentOf(t)); state != practice.One {
			tests = append(tests, t)
		}
	}
	slices.SortStableFunc(tests, func(a, b *practice.Test) int { return cmp.Compare(a.RunAt.First(), b.RunAt.First()) })
	return tests
}

// monitoringTyped says when the lack of a row of tests says something.
type monitoringTyped struct {
	p     *practice.Practice
	doubt bool         // a row of tests was not read, or one leaves its sterilizer untold
	begin quantity.Day // of the records: a coverage without a first day claims nothing before it
}

func monitoringTypedOf(p *practice.Practice, kind string) monitoringTyped {
	doubt := p.Unread("tests") || len(monitoringStray(p, kind)) > 0
	begin := p.Profile.RecordsFrom
	if !begin.Written() {
		begin, _ = p.Period()
		for _, c := range p.Profile.Coverage {
			if c.Kind == "tests" && c.From.Written() {
				begin = min(begin, c.From)
			}
		}
	}
	return monitoringTyped{p, doubt, begin}
}

// missing is what would let the lack of a row say something.
func (m monitoringTyped) missing() audit.Field {
	if m.doubt {
		return audit.Field{Kind: "tests", Name: "equipment"}
	}
	return audit.Field{Kind: "tests"}
}

// why says why the lack of a row says nothing.
func (m monitoringTyped) why() string {
	if m.doubt {
		return "a row of tests could not be read, or leaves open which sterilizer it was of"
	}
	return "not all tests are said to be here: not typed, so not judged"
}

// whole reports whether all tests of that time are in the folder, each with the
// sterilizer it was of.
func (m monitoringTyped) whole(from, until quantity.Day) bool {
	return !m.doubt && from >= m.begin && m.p.Covered("tests", from, until)
}
