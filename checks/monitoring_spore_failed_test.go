package checks

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"footing/internal/audit"
	"footing/internal/result"
)

func monitoringAudit(t *testing.T, id string, files map[string]string) *result.Result {
	t.Helper()
	criteria, err := Criteria()
	require.NoError(t, err)
	if files["sterilizers.csv"] == "" {
		files["sterilizers.csv"] = "id,method\nS1,steam\n"
	}
	r, err := audit.Run(context.Background(), openCase(t, id, files).practice, battery(t, id), criteria, audit.Options{Workers: 1})
	require.NoError(t, err)
	require.Zero(t, r.Counts.Broken)
	return r
}

// A failed spore test says stop on the first page, with data-logger files or without,
// whatever its grade; one after which a test passed does not.
func TestMonitoringFailedStops(t *testing.T) {
	files := map[string]string{"tests.csv": "id,kind,run_at,control,result\nT-1,spore,2026-03-02,growth,fail\n"}
	r := monitoringAudit(t, "monitoring/spore-failed", files)
	require.Len(t, r.Findings, 1)
	f := r.Findings[0]
	assert.Equal(t, result.Observation, f.Grade)
	assert.Equal(t, []string{f.Fingerprint}, r.Conclusion.Stops)
	assert.NotContains(t, r.Conclusion.Sentence, "Nothing typed here")
	assert.Contains(t, f.Verify, "Repeated tests that passed")
	all := strings.Join(f.Steps, " ")
	for _, words := range []string{"Stop using the sterilizer", "on hold every pack", "Telephone public health and your regulator", "They decide whether clients are told",
		"Repeat the test", "Keep everything as it is", "footing lookback FOLDER --test T-1"} {
		assert.Contains(t, all, words)
	}

	files["tests.csv"] += "T-2,spore,2026-03-02,growth,pass\nT-3,spore,2026-02-23,growth,pass\n"
	assert.True(t, monitoringAudit(t, "monitoring/spore-failed", files).Conclusion.Stop, "a pass of that day or before settles nothing")

	files["tests.csv"] += "T-5,spore,2026-03-08,no-growth,pass\n"
	assert.True(t, monitoringAudit(t, "monitoring/spore-failed", files).Conclusion.Stop, "nor does one whose control did not grow")

	files["tests.csv"] += "T-4,spore,2026-03-09,,pass\n"
	r = monitoringAudit(t, "monitoring/spore-failed", files)
	require.Len(t, r.Findings, 1)
	assert.False(t, r.Conclusion.Stop)
	assert.Contains(t, r.Findings[0].Summary, "a test that passed since is written, of 9 Mar 2026")
	assert.Contains(t, strings.Join(r.Findings[0].Steps, " "), "telephone them now and ask")
}

// Of two failures of one day the one that no pass followed says stop.
func TestMonitoringFailedTwiceADay(t *testing.T) {
	r := monitoringAudit(t, "monitoring/spore-failed", map[string]string{
		"tests.csv": "kind,run_at,control,result\nspore,2026-03-02 09:00,growth,fail\nspore,2026-03-02 10:00,growth,pass\nspore,2026-03-02 11:00,growth,fail\n"})
	require.Len(t, r.Findings, 2)
	require.Len(t, r.Conclusion.Stops, 1)
	for _, f := range r.Findings {
		if f.Fingerprint == r.Conclusion.Stops[0] {
			assert.Contains(t, f.Matter, "11:00")
			assert.Contains(t, f.Summary, "no test that passed since is written")
			assert.Contains(t, strings.Join(f.Steps, " "), "--sterilizer S1", "a test without an id is looked up by its sterilizer")
		}
	}
}

// Nothing but a whole record makes a release critical: take coverage of the tests away,
// leave a row unread, or let a test leave its sterilizer open, and the same records are
// an observation that says stop.
func TestMonitoringFailedNeedsAWholeRecord(t *testing.T) {
	const self = "name: Practice of the case\nregulator: Council of the case\nrecords_from: 2026-01-01\nrule_set: cdc-2008\n"
	const all = "coverage:\n  - {kind: tests, share: all%s}\n"
	tests := "id,kind,run_at,equipment,read_at,control,result\nT-1,spore,2026-03-02 09:00,S1,2026-03-03 09:00,growth,fail\n"
	for _, c := range []struct {
		name, self, tests string
		grade             string
	}{
		{"all tests are here", self + fmt.Sprintf(all, ""), tests, result.Critical},
		{"nobody says so", self, tests, result.Observation},
		{"they are here up to the day before", self + fmt.Sprintf(all, ", until: 2026-03-03"), tests, result.Observation},
		{"up to the day of the release", self + fmt.Sprintf(all, ", until: 2026-03-04"), tests, result.Critical},
		{"from the day after the test", self + fmt.Sprintf(all, ", from: 2026-03-03"), tests, result.Observation},
		{"a row cannot be read", self + fmt.Sprintf(all, ""), tests + "T-2,spore,last week,S1,,growth,pass\n", result.Observation},
		{"a test of no sterilizer", self + fmt.Sprintf(all, ""), tests + "T-2,spore,2026-03-03 12:00,S9,,growth,pass\n", result.Observation},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := monitoringAudit(t, "monitoring/spore-failed", map[string]string{"practice.yaml": c.self, "tests.csv": c.tests,
				"loads.csv": "id,started,sterilizer,released_at,decision\nL-1,2026-03-04 09:00,S1,2026-03-04 10:00,released\n"})
			require.NotEmpty(t, r.Findings)
			assert.Equal(t, c.grade, r.Findings[0].Grade)
			assert.True(t, r.Conclusion.Stop)
		})
	}
}

// monitoringStory is a small practice told in days: its spore tests, with the day on
// which each was read, and its loads, with the day on which each was released.
type monitoringStory struct {
	tests []monitoringStoryTest
	loads []monitoringStoryLoad
}

type monitoringStoryTest struct {
	on, read int
	fail     bool
}

type monitoringStoryLoad struct{ on, released int }

// released lists, for each failed test, the loads that the rule forbids, by its words: released after
// the day on which the failure was known, and before the day on which the third pass after it
// was known. A load falls to the last failure that was known when it began.
func (s monitoringStory) released(repeats int) (all [][]int) {
	for i, f := range s.tests {
		if !f.fail {
			continue
		}
		since, next := -1, len(s.tests)
		if i > 0 {
			since = s.tests[i-1].on
		}
		for j := len(s.tests) - 1; j > i; j-- {
			if s.tests[j].fail {
				next = j
			}
		}
		var loads []int
		for n, l := range s.loads {
			passed := 0
			for _, p := range s.tests[i+1 : next] {
				if p.read <= l.released {
					passed++
				}
			}
			later := next < len(s.tests) && l.on > s.tests[next].read
			if l.on >= since && l.released > f.read && passed < repeats && !later {
				loads = append(loads, n)
			}
		}
		all = append(all, loads)
	}
	return all
}

func (s monitoringStory) files() map[string]string {
	tests, loads := "id,kind,run_at,counter,read_at,control,result\n", "id,started,released_at,decision\n"
	day := func(n int) string { return monitoringFirst.AddDays(n).String() }
	for i, x := range s.tests {
		result := "pass"
		if x.fail {
			result = "fail"
		}
		tests += fmt.Sprintf("T-%d,spore,%s,%d,%s,growth,%s\n", i, day(x.on), i+1, day(x.read), result)
	}
	for i, l := range s.loads {
		loads += fmt.Sprintf("L-%d,%s,%s,released\n", i, day(l.on), day(l.released))
	}
	return map[string]string{"tests.csv": tests, "loads.csv": loads, "practice.yaml": "name: Practice of the case\nregulator: Council of the case\nrecords_from: 2025-01-01\n" +
		"rule_set: cdc-2008\ncoverage:\n  - {kind: tests, share: all}\n  - {kind: loads, share: all}\n"}
}

// Load by load, against the rule's own words, over many small practices.
func TestMonitoringFailedByLoad(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		var s monitoringStory
		on := 0
		for range rapid.IntRange(1, 8).Draw(rt, "tests") {
			on += rapid.IntRange(1, 5).Draw(rt, "days on")
			s.tests = append(s.tests, monitoringStoryTest{on, on + rapid.IntRange(0, 4).Draw(rt, "read after"), rapid.IntRange(0, 2).Draw(rt, "fail") == 0})
		}
		at := 0
		for range rapid.IntRange(0, 12).Draw(rt, "loads") {
			at += rapid.IntRange(0, 5).Draw(rt, "later")
			s.loads = append(s.loads, monitoringStoryLoad{at, at + rapid.IntRange(0, 2).Draw(rt, "released after")})
		}
		wanted := map[string]bool{}
		n := 0
		for _, x := range s.tests {
			if !x.fail {
				continue
			}
			for _, l := range s.released(3)[n] {
				wanted[fmt.Sprintf("T-%s L-%d", monitoringFirst.AddDays(x.on), l)] = true
			}
			n++
		}
		got := map[string]bool{}
		for _, f := range monitoringAudit(t, "monitoring/spore-failed", s.files()).Findings {
			for _, e := range f.Evidence {
				if f.Grade == result.Critical && e.Kind == "loads" {
					got["T-"+strings.TrimPrefix(f.Matter, "released after ")+" "+e.ID] = true
				}
			}
		}
		if diff := cmp.Diff(wanted, got); diff != "" {
			rt.Fatalf("%+v: %s", s, diff)
		}
	})
}

// Repeats are looked for where they are not typed; where they are, and passed too late,
// the days are compared first.
func TestMonitoringFailedFirstStep(t *testing.T) {
	const self = "name: Practice of the case\nregulator: Council of the case\nrecords_from: 2026-01-01\nrule_set: cdc-2008\ncoverage:\n  - {kind: tests, share: all}\n"
	const repeat = "spore,2026-03-%02d 09:00,growth,2026-03-%02d 09:00,%s\n"
	for _, c := range []struct {
		name    string
		repeats string
		first   string
	}{
		{"none is typed", "", "Look for the repeats first"},
		{"one waits for its result", fmt.Sprintf(repeat, 9, 10, "pending"), "Look for the repeats first"},
		{"one of three is typed", fmt.Sprintf(repeat, 9, 10, "pass"), "Look for the other repeats first"},
		{"three are typed", fmt.Sprintf(repeat, 9, 10, "pass") + fmt.Sprintf(repeat, 11, 12, "pass") + fmt.Sprintf(repeat, 13, 14, "pass"), "Compare the days and hours"},
		{"one failed again", fmt.Sprintf(repeat, 9, 10, "pass") + fmt.Sprintf(repeat, 11, 12, "fail"), "Look for the other repeats first"},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := monitoringAudit(t, "monitoring/spore-failed", map[string]string{"practice.yaml": self,
				"tests.csv": "kind,run_at,control,read_at,result\nspore,2026-03-02 09:00,growth,2026-03-03 09:00,fail\n" + c.repeats,
				"loads.csv": "id,started,released_at,decision\nL-1,2026-03-04 09:00,2026-03-04 10:00,released\n"})
			require.NotEmpty(t, r.Findings)
			f := r.Findings[0]
			require.Equal(t, result.Critical, f.Grade)
			assert.Contains(t, f.Steps[0], c.first)
			assert.Contains(t, f.Steps[1], "out of use until", "the next says when the sterilizer may be used")
			assert.Len(t, f.Steps, len(monitoringFailedFix))
		})
	}
}
