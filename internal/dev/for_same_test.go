package dev

import (
	"context"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"footing/checks"
	"footing/internal/audit"
	"footing/internal/demo"
	"footing/internal/result"
)

// Whatever a report is made for and whatever is drawn, the findings, counts, conclusion
// and all else that is judged are the same; only the purpose and what belongs to the
// occasion differ.
func TestTheFindingsAreTheSameForEachOccasion(t *testing.T) {
	if testing.Short() {
		t.Skip("each draw audits whole practices")
	}
	criteria, err := checks.Criteria()
	require.NoError(t, err)
	records := t.TempDir()
	require.NoError(t, demo.Write(records))
	practices := []struct{ dir, complaint string }{{records, "CP-1"}, {root + "/testdata/practices/thin", ""}, {root + "/testdata/practices/chain-csv", ""}, {root + "/testdata/practices/stranger-csv", ""}}
	battery := checks.All()
	for _, of := range practices {
		p := read(t, of.dir)
		occasions := []string{result.Inspection}
		if on := p.Profile.RenewalOn; on.Written() && on >= p.AsOf {
			occasions = append(occasions, result.Renewal)
		}
		if of.complaint != "" {
			occasions = append(occasions, result.Complaint)
		}
		for _, seed := range []int64{-1, 1, 1 << 40} {
			run := func(ask audit.Occasion) *result.Result {
				r, err := audit.Run(context.Background(), p, battery, criteria, audit.Options{Tool: "t", Seed: seed, For: ask})
				require.NoError(t, err)
				return r
			}
			plain := run(audit.Occasion{})
			for _, kind := range occasions {
				chosen := run(audit.Occasion{Kind: kind, Complaint: of.complaint, Check: checks.TrailCheck(), Walks: checks.TrailWalks,
					Bundle: func(x *audit.Examination) (audit.Answer, error) {
						return checks.Lookback(x, checks.LookbackQuestion{Kind: "complaints", ID: of.complaint})
					}})
				require.True(t, chosen.Purpose.Chosen)
				require.Equal(t, kind, chosen.Purpose.Kind)
				require.Equal(t, kind == result.Inspection, len(chosen.AskedFor) > 0)
				require.Equal(t, kind == result.Complaint, chosen.Bundle != nil)
				askedHolds(t, chosen.AskedFor)
				chosen.Purpose, chosen.AskedFor, chosen.Bundle = plain.Purpose, nil, nil
				require.Empty(t, cmp.Diff(plain, chosen), "%s, %s, seed %d", of.dir, kind, seed)
			}
		}
	}
}

// askedHolds holds the counts of what may be asked for to their states.
func askedHolds(t *testing.T, list []result.AskedFor) {
	for _, a := range list {
		require.True(t, a.Of == 0 || a.Found <= a.Of, "%+v", a)
		require.Contains(t, []string{result.AskedFound, result.AskedPart, result.AskedUntyped, result.AskedNone}, a.State)
		require.True(t, a.State != result.AskedFound || a.Of == 0 || a.Found == a.Of, "%+v", a)
		require.True(t, a.State != result.AskedUntyped || a.Found == 0 || a.Walk != nil, "%+v", a)
		require.True(t, a.Look == "" || a.State == result.AskedPart || a.State == result.AskedUntyped, "%+v", a)
	}
}
