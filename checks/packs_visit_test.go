package checks

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/quantity"
	"footing/internal/result"
)

// What a visit needs, by what is written of it. Which procedures need instruments that
// went through a sterilizer is our judgement; no source.
func TestPacksNeeds(t *testing.T) {
	criteria, err := Criteria()
	require.NoError(t, err)
	c := openCase(t, "needs", map[string]string{"visits.csv": "client,started\nC-1,2026-03-02\n"})
	list := func(items ...string) quantity.List { return quantity.List{Items: items, Written: true} }
	check := audit.Check{ID: "packs/needs", Title: "t", Why: "w", Grades: []audit.Grade{audit.Minor}, Subject: "practice", Thing: "visit", Things: "visits", Uses: []string{"packs.procedures"}, Fix: []string{"f"}, Verify: "v"}
	check.Run = func(x *audit.Examination) {
		needs := packsNeeds(x)
		for _, want := range []struct {
			visit practice.Visit
			need  quantity.Tri
		}{
			{practice.Visit{Procedures: list("nail-trim")}, quantity.Yes},
			{practice.Visit{Procedures: list("assessment", "callus-reduction")}, quantity.Yes},
			{practice.Visit{Procedures: list("other:heel cream", "injection"), Status: "done"}, quantity.Yes},
			{practice.Visit{Procedures: list("nail-trim"), Status: "cancelled"}, quantity.No},
			{practice.Visit{Procedures: list("nail-trim"), Status: "booked"}, quantity.No},
			{practice.Visit{Procedures: list("assessment", "padding", "foot-bath")}, quantity.No},
			{practice.Visit{Procedures: list()}, quantity.No},
			{practice.Visit{Procedures: list("padding", "other:heel cream")}, quantity.Unsure},
			{practice.Visit{}, quantity.Unsure},
		} {
			assert.Equal(t, want.need, needs(&want.visit), "%v %s", want.visit.Procedures, want.visit.Status)
		}
		x.Pass()
	}
	r := run(t, c, []audit.Check{check}, criteria)
	require.Equal(t, result.NotApplicable, r.Checks[0].Outcome)
}

// Against brute force: a visit is a gap if it names no pack and one on its day or
// before, and one on its day or after, does.
func TestPacksVisitByBruteForce(t *testing.T) {
	criteria, err := Criteria()
	require.NoError(t, err)
	rapid.Check(t, func(rt *rapid.T) {
		type visit struct {
			day   int
			named bool
		}
		all := rapid.SliceOfN(rapid.Custom(func(rt *rapid.T) visit {
			return visit{rapid.IntRange(1, 28).Draw(rt, "day"), rapid.IntRange(0, 9).Draw(rt, "named") > 2}
		}), 1, 40).Draw(rt, "visits")
		var rows strings.Builder
		gaps, named := 0, 0
		for _, v := range all {
			pack := ""
			if v.named {
				named, pack = named+1, "K"
			} else {
				before, after := false, false
				for _, o := range all {
					before = before || o.named && o.day <= v.day
					after = after || o.named && o.day >= v.day
				}
				if before && after {
					gaps++
				}
			}
			fmt.Fprintf(&rows, "C-1,2026-03-%02d,nail-trim,%s\n", v.day, pack)
		}
		kept := named*2 > named+gaps
		want := map[string]int{}
		switch {
		case gaps == 0 || !kept:
		case gaps > 1 && gaps*20 > named+gaps: // more than 5 in a hundred
			want[result.Major] = gaps
		default:
			want[result.Minor] = gaps
		}
		got := map[string]int{}
		c := openCase(t, "drawn", map[string]string{"visits.csv": "client,started,procedures,packs\n" + rows.String()})
		for _, f := range run(t, c, battery(t, "packs/visit"), criteria).Findings {
			if f.Grade != result.Observation {
				got[f.Grade] += f.Extent.N
			}
		}
		if fmt.Sprint(got) != fmt.Sprint(want) {
			rt.Fatalf("%s: %v by brute force, the check says %v", rows.String(), want, got)
		}
	})
}
