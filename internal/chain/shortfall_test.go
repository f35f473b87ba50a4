package chain

import (
	"math/bits"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// The least number of late jobs by Moore's and Hodgson's rule; worked by hand.
func TestShortfall(t *testing.T) {
	for _, c := range []struct {
		name     string
		supplies []supply
		uses     []use
		want     deficit
	}{
		{"nothing", nil, nil, deficit{}},
		{"just enough", []supply{{0, 2}}, []use{{1, 1}, {2, 1}}, deficit{}},
		{"one more", []supply{{0, 2}}, []use{{1, 1}, {2, 1}, {3, 1}}, deficit{Least: 1, Falls: []int{2}, Used: 3, Had: 2}},
		{"one fewer", []supply{{0, 3}}, []use{{1, 1}, {2, 1}}, deficit{}},
		{"at the same second the supply comes first", []supply{{1, 1}}, []use{{1, 1}}, deficit{}},
		{"a second too late", []supply{{2, 1}}, []use{{1, 1}}, deficit{Least: 1, Falls: []int{0}, Used: 1}},
		{"what comes later does not serve what was before", []supply{{0, 1}, {5, 9}}, []use{{1, 1}, {2, 1}, {6, 1}}, deficit{Least: 1, Falls: []int{1}, Used: 2, Had: 1}},
		{"one great use stands for many small ones", []supply{{0, 3}}, []use{{1, 3}, {2, 1}, {3, 1}, {4, 1}}, deficit{Least: 1, Falls: []int{1}, Used: 4, Had: 3}},
		{"in whatever order they stand", []supply{{5, 9}, {0, 1}}, []use{{6, 1}, {2, 1}, {1, 1}}, deficit{Least: 1, Falls: []int{1}, Used: 2, Had: 1}},
		{"an unknown number bounds nothing", []supply{{0, endless}, {0, endless}}, []use{{1, 1000000}}, deficit{}},
		{"a use of none", nil, []use{{1, 0}}, deficit{}},
	} {
		t.Run(c.name, func(t *testing.T) { assert.Equal(t, c.want, shortfall(c.supplies, c.uses)) })
	}
}

func TestCancelled(t *testing.T) {
	for _, c := range []struct {
		name     string
		supplies []supply
		gone     []use
		want     []supply
	}{
		{"the latest are taken", []supply{{0, 2}, {1, 2}}, []use{{2, 1}}, []supply{{0, 2}, {1, 1}}},
		{"and then those before", []supply{{0, 2}, {1, 2}}, []use{{2, 3}}, []supply{{0, 1}, {1, 0}}},
		{"none that came later", []supply{{0, 2}, {3, 2}}, []use{{2, 1}}, []supply{{0, 1}, {3, 2}}},
		{"no more than there were", []supply{{0, 2}, {3, 2}}, []use{{2, 9}}, []supply{{0, 0}, {3, 2}}},
		{"of an unknown number any", []supply{{0, 1}, {1, endless}}, []use{{2, 9}}, []supply{{0, 1}, {1, endless}}},
	} {
		t.Run(c.name, func(t *testing.T) { assert.Equal(t, c.want, cancelled(c.supplies, c.gone)) })
	}
}

func drawSupplies(t *rapid.T) []supply {
	return rapid.SliceOfN(rapid.Custom(func(t *rapid.T) supply {
		return supply{int64(rapid.IntRange(0, 9).Draw(t, "at")), rapid.IntRange(0, 5).Draw(t, "n")}
	}), 0, 4).Draw(t, "supplies")
}

func drawUses(t *rapid.T, most int) []use {
	return rapid.SliceOfN(rapid.Custom(func(t *rapid.T) use {
		return use{int64(rapid.IntRange(0, 9).Draw(t, "at")), rapid.IntRange(0, 4).Draw(t, "n")}
	}), 0, most).Draw(t, "uses")
}

// served reports whether the chosen uses can each have had packs of their own.
func served(supplies []supply, uses []use, chosen uint) bool {
	for t := int64(0); t < 10; t++ {
		had, used := 0, 0
		for _, s := range supplies {
			if s.at <= t {
				had += s.n
			}
		}
		for i, u := range uses {
			if chosen&(1<<i) != 0 && u.at <= t {
				used += u.n
			}
		}
		if used > had {
			return false
		}
	}
	return true
}

// bruteForce tries every choice of served uses.
func bruteForce(supplies []supply, uses []use) int {
	least := len(uses)
	for chosen := uint(0); chosen < 1<<len(uses); chosen++ {
		if out := len(uses) - bits.OnesCount(chosen); out < least && served(supplies, uses, chosen) {
			least = out
		}
	}
	return least
}

func TestShortfallAgainstEveryChoice(t *testing.T) {
	for range 50 {
		rapid.Check(t, func(t *rapid.T) {
			supplies, uses := drawSupplies(t), drawUses(t, 9)
			d := shortfall(supplies, uses)
			require.Equal(t, bruteForce(supplies, uses), d.Least)
			require.Len(t, d.Falls, d.Least)
			if d.Least > 0 {
				require.Greater(t, d.Used, d.Had)
			}
		})
	}
}

// units says of each pack supplied when it was there.
func units(supplies []supply) (at []int64) {
	for _, s := range supplies {
		for range s.n {
			at = append(at, s.at)
		}
	}
	return at
}

// Whichever packs were thrown away, of those that were there by then, no visit is
// short that was not before the latest were taken: the bound stays below every truth.
func TestCancelledLeavesTheMost(t *testing.T) {
	for range 20 {
		rapid.Check(t, func(t *rapid.T) {
			supplies, uses, gone := drawSupplies(t), drawUses(t, 6), drawUses(t, 3)
			bound := shortfall(cancelled(supplies, gone), uses).Least
			// A truth: each pack gone is one of those there by its second and not gone before.
			have := units(supplies)
			taken := make([]bool, len(have))
			for _, g := range gone {
				for range g.n {
					var could []int
					for i, at := range have {
						if !taken[i] && at <= g.at {
							could = append(could, i)
						}
					}
					if len(could) == 0 {
						return // more gone than written as supplied: no truth of these records
					}
					taken[rapid.SampledFrom(could).Draw(t, "gone")] = true
				}
			}
			var left []supply
			for i, at := range have {
				if !taken[i] {
					left = append(left, supply{at, 1})
				}
			}
			require.LessOrEqual(t, bound, bruteForce(left, uses))
		})
	}
}
