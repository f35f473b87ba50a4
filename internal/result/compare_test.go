package result

import (
	"bytes"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// one is a finding with a name, a grade and a number of things.
func one(check, grade string, n int) Finding {
	f := finding(grade, check, "S1")
	f.Extent.N = n
	return f
}

func names(all []Finding) (out []string) {
	for _, f := range all {
		out = append(out, f.Check+" "+f.Grade)
	}
	return out
}

func TestCompareFindings(t *testing.T) {
	before := &Result{Findings: []Finding{one("a/open", Major, 1), one("b/closed", Minor, 2), one("c/raised", Minor, 1), one("d/more", Major, 1), one("e/reworded", Minor, 1), one("f/of", Minor, 1)}}
	after := &Result{Findings: []Finding{one("c/raised", Critical, 1), one("a/open", Major, 1), one("d/more", Major, 3), one("g/new", Minor, 1), one("e/reworded", Minor, 1), one("f/of", Minor, 1)}}
	after.Findings[4].Summary = "other words"
	after.Findings[5].Extent.Of++
	after.Findings[5].Evidence = nil
	c := Compare(before, after)
	assert.Equal(t, []string{"g/new minor"}, names(c.New))
	assert.Equal(t, []string{"a/open major", "f/of minor"}, names(c.Open), "a place or a total that moved changes no finding")
	require.Len(t, c.Closed, 1)
	assert.Equal(t, "b/closed", c.Closed[0].Check)
	require.Len(t, c.Graded, 1)
	assert.Equal(t, []string{Minor, Critical}, []string{c.Graded[0].Before.Grade, c.Graded[0].After.Grade})
	require.Len(t, c.Resized, 2)
	assert.Equal(t, []int{1, 3}, []int{c.Resized[0].Before.Extent.N, c.Resized[0].After.Extent.N})
	assert.False(t, c.Same())
}

// Findings of one name at two grades are told apart by the grade first.
func TestCompareOneNameAtTwoGrades(t *testing.T) {
	two := &Result{Findings: []Finding{one("a/a", Critical, 1), one("a/a", Minor, 1)}}
	fewer := &Result{Findings: []Finding{one("a/a", Minor, 1)}}
	c := Compare(two, fewer)
	assert.Equal(t, []string{"a/a minor"}, names(c.Open))
	assert.Equal(t, "critical", c.Closed[0].Grade)
	assert.Empty(t, c.Graded)
	c = Compare(fewer, two)
	assert.Equal(t, []string{"a/a critical"}, names(c.New))
}

// Nor where fewer things are there to be judged, beyond those that fell short: words taken out
// of rows that stay would close a finding else.
func TestCompareSaysWhereFewerAreJudged(t *testing.T) {
	check := func(met, not int) Check {
		return Check{ID: "a/a", Outcome: Conforming, Counts: CheckCounts{Conforming: met, Nonconforming: not}}
	}
	before := &Result{Findings: []Finding{one("a/a", Major, 2)}, Checks: []Check{check(8, 2)}}
	for met, unseen := range map[int]bool{11: false, 10: false, 9: false, 8: false, 7: true, 1: true} {
		got := Compare(before, &Result{Checks: []Check{check(met, 0)}})
		require.Len(t, got.Closed, 1)
		assert.Equal(t, unseen, got.Closed[0].Unseen, met)
	}
}

// That a finding is gone is no good news where its check sees less.
func TestCompareSaysWhereACheckSeesLess(t *testing.T) {
	check := func(outcome string, unjudged int) Check {
		return Check{ID: "a/a", Title: "title", Outcome: outcome, Counts: CheckCounts{NotAssessed: unjudged}}
	}
	before := &Result{Findings: []Finding{one("a/a", Major, 1)}, Checks: []Check{check(Nonconforming, 2)}}
	for name, c := range map[string]struct {
		after  []Check
		unseen bool
	}{
		"met":              {[]Check{check(Conforming, 2)}, false},
		"met, more seen":   {[]Check{check(Conforming, 1)}, false},
		"others not met":   {[]Check{check(Nonconforming, 2)}, false},
		"one more unseen":  {[]Check{check(Conforming, 3)}, true},
		"not assessed":     {[]Check{check(NotAssessed, 0)}, true},
		"broken":           {[]Check{check(Broken, 0)}, true},
		"does not apply":   {[]Check{check(NotApplicable, 0)}, true},
		"no longer there":  {nil, true},
		"another in place": {[]Check{{ID: "b/b", Outcome: Conforming}}, true},
	} {
		got := Compare(before, &Result{Checks: c.after})
		require.Len(t, got.Closed, 1, name)
		assert.Equal(t, c.unseen, got.Closed[0].Unseen, name)
	}
}

func TestCompareChecksFilesAndConclusion(t *testing.T) {
	before, after := whole(), whole()
	after.Checks[0].Outcome = Conforming
	after.Checks = append(after.Checks, Check{ID: "n/new", Title: "t", Outcome: NotAssessed})
	before.Checks = append(before.Checks, Check{ID: "o/old", Title: "t", Outcome: Conforming})
	after.Conclusion.Stop = false
	after.Intake[0].SHA256, after.Intake[0].Rows = strings.Repeat("ee", 32), 5
	after.Intake = append(after.Intake, File{File: "book.xlsx, sheet tests", Rows: 2, SetAside: 1}, File{File: "book.xlsx, sheet tests", Rows: 1, SetAside: 1})
	after.NotRead = after.NotRead[:1]
	after.Traces = after.Traces[:1]
	c := Compare(before, after)
	assert.Equal(t, []CheckPair{{"cycles/exposure", "", Nonconforming, Conforming}, {"n/new", "t", "", NotAssessed}, {"o/old", "t", Conforming, ""}}, c.Checks)
	require.NotNil(t, c.Conclusion)
	var changed []string
	for _, f := range c.Files {
		changed = append(changed, f.Name)
	}
	require.Equal(t, []string{"book.xlsx", "loads.csv", "sketch.png", "traces/b.csv"}, changed)
	assert.Equal(t, FileState{Rows: 3, SetAside: 2}, *c.Files[0].After, "lists of one file add up")
	assert.Nil(t, c.Files[0].Before)
	assert.Equal(t, []int{3, 5}, []int{c.Files[1].Before.Rows, c.Files[1].After.Rows})
	assert.Equal(t, "a picture", c.Files[2].Before.Unread)
	assert.Nil(t, c.Files[2].After)
	assert.True(t, c.Files[3].Before.Trace)
}

// A file whose bytes changed and nothing else says so, and that all is the same.
func TestCompareSame(t *testing.T) {
	before, after := whole(), whole()
	c := Compare(before, after)
	assert.True(t, c.Same())
	assert.Empty(t, c.Files)
	assert.Equal(t, before.Findings, c.Open)
	after.Intake[0].SHA256 = "x"
	c = Compare(before, after)
	assert.True(t, c.Same())
	assert.Len(t, c.Files, 1)
	after.Counts.SetAside++
	c = Compare(before, after)
	assert.False(t, c.Same())
}

// some draws an audit of few names, so that they meet.
func some(t *rapid.T, label string) *Result {
	r := &Result{}
	for range rapid.IntRange(0, 7).Draw(t, label) {
		check := rapid.SampledFrom([]string{"a/a", "b/b", "c/c"}).Draw(t, "check")
		grade := rapid.SampledFrom([]string{Critical, Minor, Observation}).Draw(t, "grade")
		r.Findings = append(r.Findings, one(check, grade, rapid.IntRange(1, 2).Draw(t, "n")))
	}
	for _, id := range []string{"a/a", "b/b", "c/c"} {
		if outcome := rapid.SampledFrom([]string{"", Conforming, Nonconforming, NotAssessed}).Draw(t, id); outcome != "" {
			r.Checks = append(r.Checks, Check{ID: id, Outcome: outcome})
		}
	}
	for _, name := range []string{"a.csv", "b.csv"} {
		if rapid.Bool().Draw(t, name) {
			r.Intake = append(r.Intake, File{File: name, Rows: rapid.IntRange(0, 1).Draw(t, "rows")})
		}
	}
	r.Conclusion.Sentence = rapid.SampledFrom([]string{"go on", "stop"}).Draw(t, "sentence")
	return r
}

// Whatever two audits hold: no finding is lost or told twice; the way back mirrors the way
// there; an audit is the same as itself; neither audit is touched.
func TestCompareProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := some(t, "a"), some(t, "b")
		textA, textB := dump(t, a), dump(t, b)
		there, back := Compare(a, b), Compare(b, a)
		if self := Compare(a, a); !self.Same() || len(self.Files) > 0 || !slices.Equal(names(self.Open), names(a.Findings)) {
			t.Fatalf("an audit differs from itself: %+v", self)
		}
		if n := len(there.New) + len(there.Graded) + len(there.Resized) + len(there.Open); n != len(b.Findings) {
			t.Fatalf("%d later findings, %d told", len(b.Findings), n)
		}
		if n := len(there.Closed) + len(there.Graded) + len(there.Resized) + len(there.Open); n != len(a.Findings) {
			t.Fatalf("%d earlier findings, %d told", len(a.Findings), n)
		}
		var closed []Finding
		for _, f := range back.Closed {
			closed = append(closed, f.Finding)
		}
		sameNames(t, there.New, closed)
		sameNames(t, befores(there.Graded), afters(back.Graded))
		sameNames(t, befores(there.Resized), afters(back.Resized))
		sameNames(t, there.Open, back.Open)
		if len(there.Files) != len(back.Files) || len(there.Checks) != len(back.Checks) || (there.Conclusion == nil) != (back.Conclusion == nil) || there.Same() != back.Same() {
			t.Fatalf("%+v\n%+v", there, back)
		}
		for i := range there.Files {
			if there.Files[i].Name != back.Files[i].Name || there.Files[i].Before != nil != (back.Files[i].After != nil) {
				t.Fatalf("%+v\n%+v", there.Files[i], back.Files[i])
			}
		}
		if dump(t, a) != textA || dump(t, b) != textB {
			t.Fatal("an audit was changed")
		}
	})
}

func sameNames(t *rapid.T, a, b []Finding) {
	x, y := names(a), names(b)
	slices.Sort(x)
	slices.Sort(y)
	if !slices.Equal(x, y) {
		t.Fatalf("%v and %v", x, y)
	}
}

func befores(all []Pair) (out []Finding) {
	for _, p := range all {
		out = append(out, p.Before)
	}
	return out
}

func afters(all []Pair) (out []Finding) {
	for _, p := range all {
		out = append(out, p.After)
	}
	return out
}

func dump(t *rapid.T, r *Result) string {
	var b bytes.Buffer
	if err := Write(&b, r); err != nil {
		t.Fatal(err)
	}
	return b.String()
}
