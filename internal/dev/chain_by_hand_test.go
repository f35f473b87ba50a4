package dev

import (
	"context"
	"slices"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"footing/checks"
	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/quantity"
	"footing/internal/record"
	"footing/internal/result"
)

// A practice typed from the docs alone, by someone who knew nothing else of the program:
// each planted fault of the chain is found at its place, and no other nonconformity. The
// week between spore tests, and the three repeats after a failure, are those of the CDC's
// guideline of 2008, recommendations, monitoring of sterilizers.
func TestChainTypedByHand(t *testing.T) {
	r := audited(t, samples+"/chain-csv")
	assert.Zero(t, r.Counts.SetAside)
	planned := map[string]bool{}
	rows := csvRows(t, samples+"/chain-faults.csv")[1:]
	require.Len(t, rows, 13)
	for _, f := range rows {
		assert.True(t, slices.ContainsFunc(r.Findings, func(found result.Finding) bool {
			return found.Check == f[3] && found.Grade == f[4] && slices.ContainsFunc(found.Evidence, func(e result.Evidence) bool {
				return e.File == f[0] && strconv.Itoa(e.Row) == f[1] && e.Field == f[2]
			})
		}), "not found: %v", f)
		planned[f[3]] = true
	}
	assert.Len(t, nonconformities(r), 11, "the planted ones and no other: two rows of loads stand in one finding with their failed test, and packs/released has two")
	for _, f := range r.Findings {
		assert.True(t, f.Grade == result.Observation || planned[f.Check], "%s %s %s", f.Grade, f.Check, f.Summary)
	}
}

// The counts of its look-back, worked out by hand.
//
// The strict rule: T-5 of 5 October was read early and T-6 of 12 October has no
// control, so it goes back to T-4, run in the load L-11 of 28 September, and ends with
// the first repeat of 24 October: L-12 to L-23 are twelve loads of two packs, K-021 to
// K-044. Eleven were counted on the shelf after it (K-021 to 024, 027, 029, 030, 035,
// 036, 041, 042); the other thirteen are named by V-16 to V-27 and V-30, of twelve
// clients, since teal has V-18 and V-30. V-15 names no pack, but each pack that it could
// have had is accounted for. The lenient rule takes T-6, run in L-18: L-19 to L-23, ten
// packs, four of them on the shelf, and V-23 to V-27 and V-30, of six clients.
func TestChainLookbackByHand(t *testing.T) {
	a := handLookback(t, read(t, samples+"/chain-csv"), "T-7")
	require.Len(t, a.Lookbacks, 1)
	wide, narrow := a.Lookbacks[0].Windows[0], a.Lookbacks[0].Windows[1]
	assert.Equal(t, handReach{"2026-09-28", "2026-10-24", 26, 12, 24, 0, 11, 13, 12, 13, 12}, handReachOf(wide))
	assert.Equal(t, handReach{"2026-10-12", "2026-10-24", 12, 5, 10, 0, 4, 6, 6, 6, 6}, handReachOf(narrow))
	var pulled, named []string
	for _, p := range a.Lookbacks[0].Pull {
		pulled = append(pulled, p.Pack)
	}
	for _, v := range a.Lookbacks[0].Affected {
		named = append(named, v.Visit)
	}
	assert.Equal(t, []string{"K-021", "K-022", "K-023", "K-024", "K-027", "K-029", "K-030", "K-035", "K-036", "K-041", "K-042"}, pulled)
	assert.Equal(t, []string{"V-16", "V-17", "V-18", "V-19", "V-20", "V-21", "V-22", "V-23", "V-24", "V-25", "V-26", "V-27", "V-30"}, named)
}

// The same on the evening on which the failure is known. Nothing after it is written, so
// both windows run to that evening: L-12 to L-21, twenty packs, ten of them named by V-16
// to V-25 of ten clients; and L-19 to L-21, six packs, three named by V-23 to V-25. No
// pack of these loads was counted yet, so that V-15, which names none, may have had one
// of L-12 or L-13.
func TestChainLookbackOnTheEvening(t *testing.T) {
	p, err := practice.Read(context.Background(), samples+"/chain-csv", quantity.NewDay(2026, 10, 20), record.Options{})
	require.NoError(t, err)
	a := handLookback(t, p, "T-7")
	require.Len(t, a.Lookbacks, 1)
	wide, narrow := a.Lookbacks[0].Windows[0], a.Lookbacks[0].Windows[1]
	assert.Equal(t, handReach{"2026-09-28", "2026-10-20", 22, 10, 20, 0, 0, 10, 10, 11, 11}, handReachOf(wide))
	assert.Equal(t, handReach{"2026-10-12", "2026-10-20", 8, 3, 6, 0, 0, 3, 3, 3, 3}, handReachOf(narrow))
	assert.Contains(t, a.Now[0], "Stop using sterilizer S1")
}

// The same practice as a thin book has it: nothing to be alarmed at. Its look-back knows
// no control, so that the strict rule goes from the first record to the last, and the
// lenient one from 12 to 24 October. Hours are not written, so the load of the day of a
// test may have run after it: 12, 15, 16 and 19 October. No visit names a pack, so each
// of the thirty, or of the eleven since 12 October, could have had one.
func TestThinChainByHand(t *testing.T) {
	r := audited(t, samples+"/chain-thin")
	assert.Empty(t, nonconformities(r))
	assert.Zero(t, r.Counts.SetAside)
	assert.False(t, r.Conclusion.Stop)
	a := handLookback(t, read(t, samples+"/chain-thin"), "tests.csv row 6")
	require.Len(t, a.Lookbacks, 1)
	wide, narrow := a.Lookbacks[0].Windows[0], a.Lookbacks[0].Windows[1]
	assert.Equal(t, handReach{"2026-09-07", "2026-11-24", 78, 23, 0, 0, 0, 0, 0, 30, 12}, handReachOf(wide))
	assert.Equal(t, handReach{"2026-10-12", "2026-10-24", 12, 4, 0, 0, 0, 0, 0, 11, 11}, handReachOf(narrow))
}

type handReach struct {
	since, until                                                                      string
	days, loads, packs, unnumbered, onShelf, visits, clients, mostVisits, mostClients int
}

func handReachOf(w audit.Window) handReach {
	return handReach{w.Since, w.Until, w.Days, w.Loads, w.Packs, w.Unnumbered, w.OnShelf, w.Visits, w.Clients, w.MostVisits, w.MostClients}
}

// handLookback asks what footing lookback --test asks.
func handLookback(t *testing.T, p *practice.Practice, id string) (a audit.Answer) {
	t.Helper()
	criteria, err := checks.Criteria()
	require.NoError(t, err)
	q := checks.LookbackQuestion{Kind: "tests", ID: id}
	var refused error
	err = audit.Put(context.Background(), p, checks.All(), criteria, audit.Options{}, checks.LookbackCheck(q.Kind), func(x *audit.Examination, _ *audit.Book) {
		a, refused = checks.Lookback(x, q)
	})
	require.NoError(t, err)
	require.NoError(t, refused)
	return a
}
