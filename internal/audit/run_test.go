package audit

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"footing/internal/practice"
	"footing/internal/quantity"
	"footing/internal/record"
	"footing/internal/result"
)

func checkOfTest(id string, run func(*Examination)) Check {
	return Check{ID: id, Title: "t", Why: "w", Grades: []Grade{Critical, Major, Minor, Observation}, Subject: "people", Thing: "visit", Things: "visits",
		Fix: []string{"mend it"}, Verify: "it is mended", Run: run}
}

func runOfTest(t *testing.T, battery ...Check) *result.Result {
	t.Helper()
	p := &practice.Practice{AsOf: quantity.NewDay(2026, 11, 24), Intake: &record.Intake{}}
	r, err := Run(context.Background(), p, battery, shippedOfTest(t), Options{})
	require.NoError(t, err)
	return r
}

var ada, bea = Subject{"people", "P-01"}, Subject{"people", "P-02"}

func TestOutcomes(t *testing.T) {
	fault := func(g Grade) Fault { return Fault{Grade: g, Matter: "m", Found: "found", Needed: "needed"} }
	for _, c := range []struct {
		name string
		run  func(*Examination)
		want string
	}{
		{"met", func(x *Examination) { x.Met(ada) }, result.Conforming},
		{"not met", func(x *Examination) { x.Met(ada); x.NotMet(ada, fault(Minor)) }, result.Nonconforming},
		{"observations alone conform", func(x *Examination) { x.NotMet(ada, fault(Observation)) }, result.Conforming},
		{"cannot be told", func(x *Examination) { x.Unclear(ada, "not typed", Field{"visits", "started"}) }, result.NotAssessed},
		{"partly", func(x *Examination) { x.Unclear(ada, "not typed"); x.Met(bea) }, result.Conforming},
		{"nothing to examine", func(x *Examination) { x.Nothing("there is none") }, result.NotApplicable},
		{"all outside", func(x *Examination) { x.Pass() }, result.NotApplicable},
		{"silence is never success", func(*Examination) {}, result.Broken},
		{"a panic breaks it", func(*Examination) { panic("oops") }, result.Broken},
		{"an undeclared grade breaks it", func(x *Examination) { x.NotMet(ada, fault(0)) }, result.Broken},
		{"an undeclared criterion breaks it", func(x *Examination) { x.Criterion("t.age", nil) }, result.Broken},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := runOfTest(t, checkOfTest("a/b", c.run), checkOfTest("a/c", func(x *Examination) { x.Met(ada) }))
			assert.Equal(t, c.want, r.Checks[0].Outcome)
			assert.Equal(t, result.Conforming, r.Checks[1].Outcome, "no check harms another")
			n := r.Checks[0].Counts
			assert.Equal(t, n.Examined, n.Conforming+n.Nonconforming+n.NotAssessed)
		})
	}
}

func TestARemarkNeedsTheGradeDeclared(t *testing.T) {
	c := checkOfTest("a/b", func(x *Examination) { x.Met(ada); x.Remark(ada, Fault{Matter: "m", Found: "f"}) })
	assert.Equal(t, result.Conforming, runOfTest(t, c).Checks[0].Outcome)
	c.Grades = []Grade{Critical, Minor}
	assert.Equal(t, result.Broken, runOfTest(t, c).Checks[0].Outcome)
}

func TestABrokenCheckLeavesNothingHalfSaid(t *testing.T) {
	r := runOfTest(t, checkOfTest("a/b", func(x *Examination) {
		x.NotMet(ada, Fault{Grade: Critical, Matter: "m", Found: "f"})
		panic("oops")
	}))
	assert.Empty(t, r.Findings)
	assert.Equal(t, result.Broken, r.Checks[0].Outcome)
	assert.Contains(t, r.Checks[0].Reason, "oops")
}

func TestNeedsAreAskedFirst(t *testing.T) {
	c := checkOfTest("a/b", func(x *Examination) { panic("must not run") })
	c.Needs = []string{"visits", "people"}
	r := runOfTest(t, c)
	assert.Equal(t, result.NotAssessed, r.Checks[0].Outcome)
	assert.Equal(t, []result.Missing{{Kind: "people"}, {Kind: "visits"}}, r.Checks[0].Missing)
	require.NotNil(t, r.NextField)
	assert.Equal(t, "people", r.NextField.Kind)
}

func TestFindingsAreGrouped(t *testing.T) {
	day := quantity.NewDay(2026, 3, 1)
	r := runOfTest(t, checkOfTest("a/b", func(x *Examination) {
		for i := range 100 {
			x.NotMet(ada, Fault{Grade: Major, Matter: "late", Found: "late by some days", Needed: "on time", Weight: float64(i), Day: day.AddDays(i)})
			x.Met(ada)
		}
		x.NotMet(ada, Fault{Grade: Minor, Matter: "late", Found: "late", Needed: "on time"})
		x.NotMet(bea, Fault{Grade: Major, Matter: "late", Found: "late", Needed: "on time"})
	}))
	require.Len(t, r.Findings, 3)
	f := r.Findings[0]
	assert.Equal(t, result.Extent{N: 100, Of: 201, First: "2026-03-01", Last: "2026-06-08"}, f.Extent)
	assert.Equal(t, "P-01", f.Subject.ID)
	assert.Equal(t, "P-02", r.Findings[1].Subject.ID)
	assert.Equal(t, result.Minor, r.Findings[2].Grade, "findings are ordered by grade")
	assert.Contains(t, f.Summary, "the furthest off of 100 visits")
}

func TestFingerprintForgetsWordingGradeAndNumbers(t *testing.T) {
	at := func(g Grade, found string) string {
		r := runOfTest(t, checkOfTest("a/b", func(x *Examination) { x.NotMet(ada, Fault{Grade: g, Matter: "late", Found: found}) }))
		return r.Findings[0].Fingerprint
	}
	assert.Equal(t, at(Major, "late by 3 days"), at(Minor, "late by 4 days"))
}

func TestNextFieldWeighsByGrade(t *testing.T) {
	minor := checkOfTest("a/minor", func(x *Examination) { x.Unclear(ada, "not typed", Field{"visits", "gloves"}) })
	minor.Grades = []Grade{Minor}
	critical := checkOfTest("a/critical", func(x *Examination) {
		x.Unclear(ada, "not typed", Field{"visits", "packs"})
		x.Met(ada)
	})
	r := runOfTest(t, minor, minor2(minor), critical)
	require.NotNil(t, r.NextField)
	assert.Equal(t, "gloves", r.NextField.Field, "two whole minor checks (2+2) tie with half a critical one (4): the earlier field wins")
	r = runOfTest(t, minor, critical)
	assert.Equal(t, "packs", r.NextField.Field)
	assert.Equal(t, []string{"a/critical"}, r.NextField.Checks)
}

func TestNextFieldOfASingleDocument(t *testing.T) {
	r := runOfTest(t, checkOfTest("a/b", func(x *Examination) { x.Unclear(ada, "not typed", Field{"practice", "altitude"}) }))
	require.NotNil(t, r.NextField)
	assert.Regexp(t, "^with altitude [(].+[)] written in practice, one more check could see more$", r.NextField.Why)
}

func minor2(c Check) Check { c.ID = "a/other"; return c }

func TestSameBytesWhateverTheWorkers(t *testing.T) {
	p := &practice.Practice{AsOf: quantity.NewDay(2026, 11, 24), Intake: &record.Intake{}}
	var battery []Check
	for _, id := range []string{"a/a", "a/b", "a/c", "b/a", "b/b"} {
		battery = append(battery, checkOfTest(id, func(x *Examination) {
			for _, s := range []Subject{bea, ada} {
				x.NotMet(s, Fault{Grade: Minor, Matter: "m", Found: "f"})
				x.Unclear(s, "w", Field{"visits", "gloves"}, Field{"loads", "ended"})
			}
		}))
	}
	var first *result.Result
	for workers := 1; workers <= 5; workers++ {
		r, err := Run(context.Background(), p, battery, shippedOfTest(t), Options{Workers: workers})
		require.NoError(t, err)
		if first == nil {
			first = r
		}
		assert.Equal(t, first, r)
	}
}

func TestValidateRefuses(t *testing.T) {
	good := checkOfTest("cycles/exposure", func(*Examination) {})
	book := shippedOfTest(t)
	require.NoError(t, Validate([]Check{good}, book))
	for name, spoil := range map[string]func(*Check){
		"no title":             func(c *Check) { c.Title = " " },
		"an ID with capitals":  func(c *Check) { c.ID = "Cycles/x" },
		"an ID ending in test": func(c *Check) { c.ID = "monitoring/spore-test" },
		"a system's name":      func(c *Check) { c.ID = "a/linux" },
		"grades out of order":  func(c *Check) { c.Grades = []Grade{Minor, Major} },
		"no such kind":         func(c *Check) { c.Needs = []string{"cats"} },
		"no such field":        func(c *Check) { c.Helps = []string{"loads.colour"} },
		"no such criterion":    func(c *Check) { c.Uses = []string{"t.none"} },
		"no steps":             func(c *Check) { c.Fix = nil },
	} {
		c := good
		spoil(&c)
		assert.Error(t, Validate([]Check{c}, book), name)
	}
	assert.Error(t, Validate([]Check{good, good}, book), "twice")
}

// What a fault says of itself: it may say stop whatever its grade, and have its own proof.
func TestAFaultMaySayStop(t *testing.T) {
	r := runOfTest(t, checkOfTest("a/b", func(x *Examination) {
		x.NotMet(ada, Fault{Grade: Observation, Matter: "stop", Found: "f", Stop: true, Verify: "a passed test"})
		x.NotMet(ada, Fault{Grade: Observation, Matter: "other", Found: "f"})
	}))
	require.Len(t, r.Findings, 2)
	require.Len(t, r.Conclusion.Stops, 1)
	for _, f := range r.Findings {
		stops := f.Fingerprint == r.Conclusion.Stops[0]
		assert.Equal(t, f.Matter == "stop", stops)
		assert.Equal(t, map[bool]string{true: "a passed test", false: "it is mended"}[stops], f.Verify)
	}
	assert.True(t, r.Conclusion.Stop)
	assert.Contains(t, r.Conclusion.Sentence, "1 thing written here says: stop")
}

// Of faults of one finding that weigh alike, one that says stop gives the steps.
func TestStopGivesTheSteps(t *testing.T) {
	r := runOfTest(t, checkOfTest("a/b", func(x *Examination) {
		x.NotMet(ada, Fault{Grade: Observation, Matter: "m", Found: "settled", Steps: []string{"keep it"}})
		x.NotMet(ada, Fault{Grade: Observation, Matter: "m", Found: "open", Steps: []string{"stop"}, Stop: true})
	}))
	require.Len(t, r.Findings, 1)
	assert.Equal(t, []string{"stop"}, r.Findings[0].Steps)
	assert.Equal(t, "open", r.Findings[0].Summary)
	assert.True(t, r.Conclusion.Stop)
}

func TestNoCheckAtAll(t *testing.T) {
	r := runOfTest(t)
	assert.Empty(t, r.Checks)
	assert.Empty(t, r.Exhibits)
}
