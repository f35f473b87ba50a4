package result

import (
	"math/rand/v2"
	"slices"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func itoa(n int) string { return strconv.Itoa(n) }

func TestFindingsStandInTheOrderOfReports(t *testing.T) {
	place := func(f Finding, file string, row int) Finding {
		f.Evidence = []Evidence{{File: file, Row: row}}
		return f
	}
	with := func(f Finding, matter string) Finding { f.Matter = matter; return f }
	want := []Finding{
		finding(Critical, "cycles/program", "S1"),
		finding(Critical, "people/registered", "P1"),
		finding(Major, "cycles/drying", "S1"),
		with(finding(Major, "cycles/drying", "S2"), "released wet"),
		with(place(finding(Major, "cycles/drying", "S2"), "a.csv", 9), "too short"),
		with(place(finding(Major, "cycles/drying", "S2"), "a.csv", 10), "too short"),
		with(place(finding(Major, "cycles/drying", "S2"), "b.csv", 1), "too short"),
		finding(Minor, "a/a", "S1"),
		finding(Observation, "a/a", "S1"),
	}
	r := &Result{Findings: slices.Clone(want)}
	for range 20 {
		rand.Shuffle(len(r.Findings), func(i, j int) { r.Findings[i], r.Findings[j] = r.Findings[j], r.Findings[i] })
		Sort(r)
		require.Equal(t, want, r.Findings)
	}
}

func TestOtherListsStandByStableKeys(t *testing.T) {
	r := whole()
	require.Equal(t, []string{Critical, Minor}, r.Checks[0].Grades)
	require.Equal(t, []string{"a", "z"}, r.Checks[0].Criteria)
	require.Equal(t, "tests", r.Checks[0].Missing[0].Kind)
	require.Equal(t, "many", r.Checks[0].Reasons[0].Text)
	require.Equal(t, "a", r.Findings[0].Verdicts[0].Set)
	require.Equal(t, "a", r.Sources[0].ID)
	require.Equal(t, "readme.txt", r.NotRead[0].File)
	require.Equal(t, "d1", r.Due[0].ID)
	require.Equal(t, "ACT-1", r.Actions[0].ID)
	require.Equal(t, "traces/a.csv", r.Traces[0].File)
	require.Equal(t, []string{"packs/date", "packs/once"}, r.NextField.Checks)
}

func TestStopsFollowTheirFindings(t *testing.T) {
	a, b := finding(Critical, "a/a", "S1"), finding(Critical, "b/b", "S1")
	r := &Result{Findings: []Finding{b, a}}
	r.Conclusion.Stops = []string{"ffffffffffff", b.Fingerprint, "000000000000", a.Fingerprint}
	Sort(r)
	require.Equal(t, []string{a.Fingerprint, b.Fingerprint, "000000000000", "ffffffffffff"}, r.Conclusion.Stops)
}

func TestFingerprint(t *testing.T) {
	f := Fingerprint("cycles/exposure", "sterilizers", "S1", "")
	require.Regexp(t, "^[0-9a-f]{12}$", f)
	// Kept for good: a changed value would cut every practice off from its own
	// earlier audits. SHA-256 of "15:cycles/exposure11:sterilizers2:S10:", from sha256sum.
	require.Equal(t, "ef76bc9c221a", f)
	require.NotEqual(t, f, Fingerprint("cycles/exposure", "sterilizers", "S1", "released"))
	rapid.Check(t, func(t *rapid.T) {
		part := rapid.SliceOfN(rapid.StringOfN(rapid.RuneFrom([]rune("a:1/")), 0, 4, -1), 4, 4)
		x, y := part.Draw(t, "x"), part.Draw(t, "y")
		same := slices.Equal(x, y)
		if (Fingerprint(x[0], x[1], x[2], x[3]) == Fingerprint(y[0], y[1], y[2], y[3])) != same {
			t.Fatalf("%q and %q", x, y)
		}
	})
}

// Charts come worst first from the audit; tables stand before them, by check.
func TestChartsKeepTheirOrder(t *testing.T) {
	table, drawn := func(check string) Exhibit { return Exhibit{Kind: "table", Check: check} }, func(id string) Exhibit { return Exhibit{Kind: Drawn, ID: id} }
	r := &Result{Exhibits: []Exhibit{drawn("worst"), table("b/b"), drawn("bad"), table("a/a"), drawn("all right")}}
	Sort(r)
	require.Equal(t, []Exhibit{table("a/a"), table("b/b"), drawn("worst"), drawn("bad"), drawn("all right")}, r.Exhibits)
}

func TestGradeWeight(t *testing.T) {
	for grade, want := range map[string]float64{Critical: 8, Major: 4, Minor: 2, Observation: 1, "": 0, "other": 0} {
		require.Equal(t, want, GradeWeight(grade), grade)
	}
}
