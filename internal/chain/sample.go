package chain

import (
	"cmp"
	"encoding/binary"
	"math"
	"math/rand/v2"
	"slices"
	"strings"

	"footing/internal/practice"
)

// Draw takes n of the numbers 0 to of-1 at random, each as likely as any other, in
// the order drawn: the first of a larger draw with the same seed are those of a
// smaller one. The same arguments give the same draw on every machine: bytes of
// ChaCha8 (C2SP's chacha8rand) keyed with the seed, a number below k being the
// remainder of 64 bits that lie below the greatest multiple of k.
func Draw(n, of int, seed int64) []int {
	n = max(0, min(n, of))
	var key [32]byte
	binary.LittleEndian.PutUint64(key[:], uint64(seed))
	source := rand.NewChaCha8(key)
	below := func(k uint64) uint64 {
		most := math.MaxUint64 - math.MaxUint64%k
		for {
			if v := source.Uint64(); v < most {
				return v % k
			}
		}
	}
	moved := map[int]int{} // what stands in a place of the row of numbers, where it is not its own
	at := func(i int) int {
		if v, ok := moved[i]; ok {
			return v
		}
		return i
	}
	drawn := make([]int, n)
	for i := range drawn {
		j := i + int(below(uint64(of-i)))
		drawn[i] = at(j)
		moved[j] = at(i)
	}
	return drawn
}

// DrawVisits draws n of some visits, and gives them in the order of their times. In
// which order rows stand in their files does not matter.
func DrawVisits(visits []*practice.Visit, n int, seed int64) []*practice.Visit {
	all := slices.Clone(visits)
	slices.SortFunc(all, compareVisits)
	var drawn []*practice.Visit
	for _, i := range Draw(n, len(all), seed) {
		drawn = append(drawn, all[i])
	}
	slices.SortFunc(drawn, compareVisits)
	return drawn
}

// compareVisits orders visits by when they were, their id, and what is written in
// them; the place of a row decides only between two that say the same.
func compareVisits(a, b *practice.Visit) int {
	return cmp.Or(
		cmp.Compare(a.Started.First(), b.Started.First()), cmp.Compare(a.Started.Last(), b.Started.Last()),
		strings.Compare(a.ID, b.ID), strings.Compare(a.Client, b.Client), strings.Compare(a.Person, b.Person), strings.Compare(a.Site, b.Site),
		cmp.Compare(a.Ended.First(), b.Ended.First()), slices.Compare(a.Procedures.Items, b.Procedures.Items), slices.Compare(a.Packs.Items, b.Packs.Items),
		strings.Compare(a.File(), b.File()), cmp.Compare(a.Number(), b.Number()))
}
