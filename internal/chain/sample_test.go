package chain

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"footing/internal/practice"
	"footing/internal/quantity"
)

// TestDrawIsTheSameEverywhere holds the draws of a few seeds: a report that says its
// seed can be drawn again years later.
func TestDrawIsTheSameEverywhere(t *testing.T) {
	assert.Equal(t, []int{82, 2, 99, 94, 48, 51, 54, 89, 18, 95}, Draw(10, 100, 1))
	assert.Equal(t, []int{955, 966, 818, 312, 611}, Draw(5, 1000, 20261125))
	assert.Equal(t, []int{0, 3, 1, 2}, Draw(4, 4, -7))
}

func TestDrawProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		of := rapid.IntRange(0, 300).Draw(t, "of")
		n := rapid.IntRange(-1, 310).Draw(t, "n")
		seed := rapid.Int64().Draw(t, "seed")
		got := Draw(n, of, seed)
		if len(got) != max(0, min(n, of)) {
			t.Fatalf("%d drawn of %d, %d wanted", len(got), of, n)
		}
		sorted := slices.Sorted(slices.Values(got))
		if len(slices.Compact(sorted)) != len(got) {
			t.Fatal("one was drawn twice")
		}
		for _, i := range got {
			if i < 0 || i >= of {
				t.Fatalf("%d is none of %d", i, of)
			}
		}
		if more := Draw(n+1, of, seed); !slices.Equal(more[:len(got)], got) {
			t.Fatal("a larger draw does not begin with the smaller one")
		}
	})
}

// TestDrawIsFair draws 2 of 5 with twenty thousand seeds: each of the ten pairs, in
// either order, is expected a thousand times. Chi-square with 19 degrees of freedom is
// below 43.82 with 99.9 % (tables of the chi-square distribution, from memory).
func TestDrawIsFair(t *testing.T) {
	const seeds = 20_000
	seen := map[[2]int]int{}
	for seed := range int64(seeds) {
		d := Draw(2, 5, seed)
		seen[[2]int(d)]++
	}
	require.Len(t, seen, 20)
	chi, expected := 0.0, float64(seeds)/20
	for _, n := range seen {
		chi += (float64(n) - expected) * (float64(n) - expected) / expected
	}
	assert.Less(t, chi, 43.82)
}

// TestDrawVisitsWhateverTheOrder shuffles the rows, and draws the same visits.
func TestDrawVisitsWhateverTheOrder(t *testing.T) {
	day, _ := quantity.ParseDay("2026-03-02", quantity.ISO)
	var all []*practice.Visit
	for i := range 60 {
		v := &practice.Visit{Client: fmt.Sprint("C-", i%7), Procedures: quantity.List{Items: []string{fmt.Sprint("other:", i)}}}
		if i%3 > 0 {
			v.ID = fmt.Sprint("V-", i)
		}
		v.Started, _ = quantity.ParseMoment(day.AddDays(i%5).String(), quantity.ISO, time.UTC)
		all = append(all, v)
	}
	want := DrawVisits(all, 12, 3)
	require.Len(t, want, 12)
	assert.True(t, slices.IsSortedFunc(want, func(a, b *practice.Visit) int { return int(a.Started.First() - b.Started.First()) }))
	rapid.Check(t, func(t *rapid.T) {
		if got := DrawVisits(rapid.Permutation(all).Draw(t, "order"), 12, 3); !slices.Equal(got, want) {
			t.Fatal("another order of rows gives another draw")
		}
	})
}
