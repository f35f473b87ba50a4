package checks

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestBackwards(t *testing.T) {
	p := folder(t, week)
	for _, c := range []struct {
		q    LookbackQuestion
		want []string
	}{
		{LookbackQuestion{Kind: "visits", ID: "V-3"}, []string{"V-3"}},
		{LookbackQuestion{Kind: "clients", ID: "C-1"}, []string{"V-1", "V-4"}},
		{LookbackQuestion{Kind: "clients", ID: "C-1", Since: isoDay(t, "2026-11-04")}, []string{"V-4"}},
		{LookbackQuestion{Kind: "clients", ID: "C-2"}, []string{"V-2"}},
		{LookbackQuestion{Kind: "clients", ID: "C-9"}, nil},
	} {
		a, err := asked(t, p, c.q)
		require.NoError(t, err)
		var got []string
		for _, ch := range a.Chains {
			got = append(got, ch.Visit)
			assert.NotEmpty(t, ch.Links)
		}
		assert.Equal(t, c.want, got, c.q)
		assert.Empty(t, a.Lookbacks)
		assert.Contains(t, strings.Join(a.Limits, "\n"), "does not mean not done")
	}
	a, err := asked(t, p, LookbackQuestion{Kind: "clients", ID: "C-1"})
	require.NoError(t, err)
	assert.Equal(t, 1, a.Others.Clients, "C-2 had a pack of L-1; V-3 names no load")
	assert.Equal(t, []string{"1 other client had packs of the same loads"}, a.Others.Shares)
	assert.Equal(t, "Look at this first: spore test T-3 of 16 Nov 2026, around a load behind it, is written as failed. A row mistyped would explain it; until that is clear take it as it stands, and ask for the look-back of that test or load.", a.Says[1])
	for _, c := range []string{"C-2", "C-3"} {
		assert.NotContains(t, strings.Join(slices.Concat(a.Says, a.Now, a.Missing, a.Limits, a.Others.Shares), " "), c, "other clients as counts only")
	}
	_, err = asked(t, p, LookbackQuestion{Kind: "clients", ID: "C-4"})
	assert.Error(t, err)
}

// A client's own name, typed for a pseudonym, stands in no sentence.
func TestANameIsKeptOut(t *testing.T) {
	p := folder(t, strings.ReplaceAll(week, "C-1,", "Ada Vale,"))
	for _, q := range []LookbackQuestion{{Kind: "clients", ID: "Ada Vale"}, {Kind: "visits", ID: "V-1"}, {Kind: "complaints", ID: "Q-1"}, {Kind: "complaints", ID: "Q-3"}} {
		a, err := asked(t, p, q)
		require.NoError(t, err)
		require.NotEmpty(t, a.Chains)
		assert.NotContains(t, strings.Join(slices.Concat(a.Says, a.Now, a.Missing, a.Limits, []string{a.Asked.Words}), " "), "Vale")
	}
}

func TestAComplaint(t *testing.T) {
	p := folder(t, week)
	a, err := asked(t, p, LookbackQuestion{Kind: "complaints", ID: "Q-1"})
	require.NoError(t, err)
	require.Len(t, a.Chains, 1)
	assert.Equal(t, "V-4", a.Chains[0].Visit)
	require.NotEmpty(t, a.Chains[0].Copies, "V-4 was typed on 21 November, two days after the letter")
	assert.Contains(t, a.Chains[0].Copies[0].Note, "a later copy")
	assert.Contains(t, a.Now[1], "Tell your insurer")
	assert.Contains(t, a.Now[2], "Find the reply date in the letter (none is typed)")
	assert.Contains(t, strings.Join(a.Says, "\n"), "the paper is the record")

	a, err = asked(t, p, LookbackQuestion{Kind: "complaints", ID: "Q-2"})
	require.NoError(t, err)
	assert.Contains(t, a.Says[0], "which visits is not written, so all up to that day are here")
	assert.Contains(t, a.Now[2], "A reply is asked for by 1 Dec 2026")
	assert.Len(t, a.Chains, 1)

	a, err = asked(t, p, LookbackQuestion{Kind: "complaints", ID: "Q-3"})
	require.NoError(t, err)
	assert.Equal(t, "V-1", a.Chains[0].Visit)
	assert.Empty(t, a.Chains[0].Copies)

	a, err = asked(t, p, LookbackQuestion{Kind: "complaints", ID: "Q-5"})
	require.NoError(t, err)
	assert.Contains(t, a.Says[0], "it names visit V-77, which does not stand once in the folder")
	assert.Len(t, a.Chains, 2)
	assert.Contains(t, a.Now[2], "A reply was asked for by 20 Nov 2026, which has passed, and none is written")

	_, err = asked(t, p, LookbackQuestion{Kind: "complaints", ID: "Q-4"})
	assert.ErrorContains(t, err, "names no client")
}
