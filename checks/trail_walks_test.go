package checks

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"footing/internal/audit"
	"footing/internal/result"
)

const drawer = `
-- practice.yaml --
name: T
regulator: R
-- sterilizers.csv --
id,method
S1,steam
-- loads.csv --
id,started,sterilizer,decision,counter
L-1,2026-11-02 17:00,S1,released,41
L-2,2026-11-09 17:00,S1,rejected,42
-- packs.csv --
id,load,opened_at,discarded_on
K-1,L-1,,
K-2,L-1,2026-11-03 09:00,
K-3,L-1,,2026-11-03
K-4,L-1,,
-- visits.csv --
id,client,started,procedures,packs
V-1,C-1,2026-11-09 10:00,nail-trim,K-1
V-2,C-2,2026-11-16 10:00,nail-trim,
V-3,C-3,2026-11-10 10:00,nail-trim,
V-4,C-4,2026-11-17 10:00,assessment,
`

func walksOf(t testing.TB, text string, seed int64) (w audit.Walks) {
	t.Helper()
	p := folder(t, text)
	criteria, err := Criteria()
	require.NoError(t, err)
	require.NoError(t, audit.Put(t.Context(), p, All(), criteria, audit.Options{Seed: seed, Workers: 1}, TrailCheck(), func(x *audit.Examination, _ *audit.Book) { w = TrailWalks(x) }))
	return w
}

// The pack drawn is one that is closed still: not opened, thrown away, nor named by a
// visit. The visit is one with treatment, of the seven days that end with the last one.
func TestWalksDrawFromTheDrawerAndTheLastWeek(t *testing.T) {
	seen := map[string]bool{}
	for seed := range int64(40) {
		w := walksOf(t, drawer, seed)
		require.Equal(t, "K-4", w.Pack.Record.ID)
		require.Equal(t, 1, w.Packs)
		require.Equal(t, 2, w.Visits, "of V-2 and V-3; V-1 was eight days before the last, V-4 was an assessment")
		seen[w.Visit.Visit] = true
	}
	require.Equal(t, map[string]bool{"V-2": true, "V-3": true}, seen)

	used := strings.ReplaceAll(drawer, "K-4,L-1,,\n", "")
	w := walksOf(t, used, 1)
	require.Equal(t, 3, w.Packs, "with none closed, any pack")
	require.Equal(t, "packs", w.PackOf)
	none := walksOf(t, "-- practice.yaml --\nname: T\nregulator: R\n", 1)
	require.Nil(t, none.Pack)
	require.Nil(t, none.Visit)
}

// What lies behind a pack, by what its row says of its load.
func TestThePackOfAWalk(t *testing.T) {
	for _, c := range []struct{ name, load, state, what string }{
		{"its load", "L-2", result.LinkFound, "L-2, 9 Nov 2026 17:00"},
		{"no load named", "", result.LinkMissing, "the pack's row names no load"},
		{"a load that has no row", "L-9", result.LinkMissing, "load L-9 has no row here"},
		{"the number on the sterilizer's counter", "42", result.LinkPart, "load 42 has no row here, but one whose number or counter is the same"},
	} {
		t.Run(c.name, func(t *testing.T) {
			w := walksOf(t, strings.Replace(drawer, "K-4,L-1,,", "K-4,"+c.load+",,", 1), 1)
			load := w.Pack.Links[1]
			require.Equal(t, []string{"load", c.state, c.what}, []string{load.Name, load.State, load.What})
			require.Equal(t, c.state == result.LinkFound || c.state == result.LinkPart, w.Pack.Links[2].What == "written as rejected", "its release is that of the load: %+v", w.Pack.Links[2])
		})
	}
	nothing := strings.Replace(drawer[:strings.Index(drawer, "-- loads.csv")]+drawer[strings.Index(drawer, "-- packs.csv"):], "K-4,L-1,,", "K-4,L-7,,", 1)
	require.Equal(t, result.LinkUnkept, walksOf(t, nothing, 1).Pack.Links[1].State)
}

// In which order the rows stand in their files does not matter.
func TestWalksDoNotHangOnTheOrderOfRows(t *testing.T) {
	var packs, visits []string
	for _, id := range []string{"1", "2", "3", "4", "5", "6"} {
		packs = append(packs, "K-"+id+",L-1")
		visits = append(visits, "V-"+id+",C-"+id+",2026-11-1"+id+" 10:00,nail-trim")
	}
	text := func(packs, visits []string) string {
		return "-- practice.yaml --\nname: T\nregulator: R\n-- packs.csv --\nid,load\n" + strings.Join(packs, "\n") + "\n-- visits.csv --\nid,client,started,procedures\n" + strings.Join(visits, "\n") + "\n"
	}
	rapid.Check(t, func(r *rapid.T) {
		seed := rapid.Int64().Draw(r, "seed")
		want := walksOf(t, text(packs, visits), seed)
		got := walksOf(t, text(rapid.Permutation(slices.Clone(packs)).Draw(r, "packs"), rapid.Permutation(slices.Clone(visits)).Draw(r, "visits")), seed)
		require.Equal(r, want.Pack.Record.ID, got.Pack.Record.ID)
		require.Equal(r, want.Visit.Visit, got.Visit.Visit)
	})
}
