package result

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// Found by removing rows while the folder was watched: a fault whose rows were taken away
// read as one that was mended.
func TestCompareRowsThatVanishAreNoGoodNews(t *testing.T) {
	fault := one("a/a", Major, 1)
	fault.Evidence = []Evidence{{Kind: "tests"}, {Kind: "traces"}}
	of := func(tests, loads, traces int) *Result {
		return &Result{Checks: []Check{{ID: "a/a", Outcome: Conforming}}, Traces: make([]Trace, traces), Intake: []File{{Kind: "tests", Accepted: tests}, {Kind: "loads", Accepted: loads}}}
	}
	before := of(5, 5, 2)
	before.Findings = []Finding{fault}
	for _, c := range []struct {
		after  *Result
		unseen bool
	}{{of(5, 5, 2), false}, {of(6, 5, 2), false}, {of(5, 4, 2), false}, {of(4, 9, 2), true}, {of(5, 5, 1), true}, {&Result{Checks: before.Checks}, true}} {
		got := Compare(before, c.after)
		assert.Equal(t, c.unseen, got.Closed[0].Unseen, "%+v", c.after.Intake)
	}
}

// Of two findings of one name and grade, the one that stays is the one that reads the same.
func TestCompareOneNameTwiceAtOneGrade(t *testing.T) {
	a, b := one("a/a", Minor, 1), one("a/a", Minor, 1)
	a.Summary, b.Summary = "the first", "the second"
	c := Compare(&Result{Findings: []Finding{a, b}}, &Result{Findings: []Finding{b}})
	assert.Empty(t, c.Resized)
	assert.Equal(t, "the first", c.Closed[0].Summary)
}

// Found by damaging a workbook while it was watched: each of its sheets was said to be gone
// from the folder, and after each save all were said to be saved.
func TestCompareWorkbooks(t *testing.T) {
	book := func(sum string, rows ...int) *Result {
		r := &Result{}
		for i, n := range rows {
			r.Intake = append(r.Intake, File{File: "r.xlsx, sheet " + string(rune('a'+i)), SHA256: sum, Rows: n, Accepted: n})
		}
		return r
	}
	damaged := &Result{NotRead: []NotRead{{File: "r.xlsx", Why: "it is damaged"}}}
	for name, c := range map[string]struct {
		before, after *Result
		want          []FilePair
	}{
		"same":            {book("1", 3, 4), book("1", 3, 4), nil},
		"saved":           {book("1", 3, 4), book("2", 3, 4), []FilePair{{"r.xlsx", &FileState{SHA256: "1", Rows: 7}, &FileState{SHA256: "2", Rows: 7}}}},
		"a row more":      {book("1", 3, 4), book("2", 3, 5), []FilePair{{"r.xlsx, sheet b", &FileState{SHA256: "1", Rows: 4}, &FileState{SHA256: "2", Rows: 5}}}},
		"a row moved":     {book("1", 3, 4), book("2", 4, 3), []FilePair{{"r.xlsx, sheet a", &FileState{SHA256: "1", Rows: 3}, &FileState{SHA256: "2", Rows: 4}}, {"r.xlsx, sheet b", &FileState{SHA256: "1", Rows: 4}, &FileState{SHA256: "2", Rows: 3}}}},
		"a sheet gone":    {book("1", 3, 4), book("2", 3), []FilePair{{"r.xlsx, sheet b", &FileState{SHA256: "1", Rows: 4}, nil}}},
		"damaged":         {book("1", 3, 4), damaged, []FilePair{{"r.xlsx", &FileState{SHA256: "1", Rows: 7}, &FileState{Unread: "it is damaged"}}}},
		"mended":          {damaged, book("1", 3, 4), []FilePair{{"r.xlsx", &FileState{Unread: "it is damaged"}, &FileState{SHA256: "1", Rows: 7}}}},
		"gone":            {book("1", 3, 4), &Result{}, []FilePair{{"r.xlsx", &FileState{SHA256: "1", Rows: 7}, nil}}},
		"new":             {&Result{}, book("1", 3, 4), []FilePair{{"r.xlsx", nil, &FileState{SHA256: "1", Rows: 7}}}},
		"damaged as ever": {damaged, damaged, nil},
	} {
		assert.Equal(t, c.want, Compare(c.before, c.after).Files, name)
	}
}
