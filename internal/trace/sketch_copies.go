package trace

import (
	"bytes"
	"cmp"
	"math"
	"slices"
)

// Pair names two of a list of sketches that are alike, by their places; A < B.
type Pair struct {
	A, B  int
	Share float64 // as of Alike
	Same  bool    // all readings are the same, to 0.01 K and 0.01 kPa, whatever the clock
}

const (
	fewMarks = 16  // below it nothing is said of a share
	crowd    = 32  // of so many with the same readings, or the same mark, all pairs are looked at
	family   = 128 // where one mark stands in more, each is held only against crowd others
)

// Telling reports whether a trace moves enough, on a display fine enough, to be told
// from another; without it, that two are the same says nothing.
func (s Sketch) Telling() bool { return len(s.Marks) >= fewMarks }

// Alike estimates how much of the movement of the shorter of two traces is in the other
// too, 0 to 1. Of two of one length it reads up to 0.03 high. It is 0 where fewer than 16 marks of either can be compared: too little
// movement, or one more than about three times as long as the other.
//
// The marks are the least of all, so that below the lesser of the two highest marks both
// sketches are whole, and there the shares are those of a fair sample.
func Alike(a, b Sketch) float64 {
	top := min(reach(a), reach(b))
	of, other, both := 0, 0, 0
	for i, j := 0, 0; i < len(a.Marks) && a.Marks[i] <= top || j < len(b.Marks) && b.Marks[j] <= top; {
		switch {
		case j == len(b.Marks) || i < len(a.Marks) && a.Marks[i] < b.Marks[j]:
			i, of = i+1, of+1
		case i == len(a.Marks) || a.Marks[i] > b.Marks[j]:
			j, other = j+1, other+1
		default:
			i, j, of, other, both = i+1, j+1, of+1, other+1, both+1
		}
	}
	if min(of, other) < fewMarks {
		return 0
	}
	return float64(both) / float64(min(of, other))
}

// reach is up to where a sketch has all marks of its trace.
func reach(s Sketch) uint64 {
	if len(s.Marks) < mostMarks {
		return math.MaxUint64
	}
	return s.Marks[len(s.Marks)-1]
}

// Copies lists the pairs with the same readings and those whose share is at least as
// given (above 0), by A, then B. On a coarse display, all readings of two honest cycles may
// be the same: where a pair is Same and its Share is 0, there is too little movement to say more.
//
// No pair is looked at that has nothing in common. Not all pairs are listed where very
// many are alike: of more than 32 traces with the same readings, the first is paired with
// each other one, and stands for them beside other traces; where one mark stands in more
// than 128 different traces, each is held against the 32 before it in the order of Hash.
func Copies(list []Sketch, least float64) []Pair {
	groups := sameReadings(list)
	var pairs []Pair
	for _, g := range groups {
		for i, a := range shown(g) {
			for _, b := range g[i+1:] {
				pairs = append(pairs, Pair{a, b, Alike(list[a], list[b]), true})
			}
		}
	}
	for x, near := range candidates(list, groups, least) {
		for _, y := range near {
			share := Alike(list[groups[x][0]], list[groups[y][0]])
			if share < least || share == 0 {
				continue
			}
			for _, a := range shown(groups[x]) {
				for _, b := range shown(groups[y]) {
					pairs = append(pairs, Pair{min(a, b), max(a, b), share, false})
				}
			}
		}
	}
	slices.SortFunc(pairs, func(p, q Pair) int { return cmp.Or(cmp.Compare(p.A, q.A), cmp.Compare(p.B, q.B)) })
	return pairs
}

// sameReadings groups the places of the sketches by Hash, in the order of Hash.
// Traces without readings are in no group.
func sameReadings(list []Sketch) (groups [][]int) {
	var order []int
	for i := range list {
		if list[i].Hash != ([32]byte{}) {
			order = append(order, i)
		}
	}
	slices.SortStableFunc(order, func(i, j int) int { return bytes.Compare(list[i].Hash[:], list[j].Hash[:]) })
	for from, i := 0, 1; i <= len(order); i++ {
		if i == len(order) || list[order[i]].Hash != list[order[from]].Hash {
			groups = append(groups, order[from:i:i])
			from = i
		}
	}
	return groups
}

// shown are those of a group that are paired with others.
func shown(group []int) []int {
	if len(group) > crowd {
		return group[:1]
	}
	return group
}

// candidates lists, for each group, those before it that share enough marks with it to
// be alike, or a mark that very many have.
func candidates(list []Sketch, groups [][]int, least float64) [][]int {
	holders := holdersOf(list, groups)
	enough := max(1, int(math.Ceil(least*fewMarks)))
	near, shared := make([][]int, len(groups)), make([]int, len(groups))
	for x, g := range groups {
		var met []int
		for _, m := range list[g[0]].Marks {
			with := holders[m]
			at, _ := slices.BinarySearch(with, x)
			from, worth := 0, 1
			if len(with) > family {
				from, worth = max(0, at-crowd), enough
			}
			for _, y := range with[from:at] {
				if shared[y] == 0 {
					met = append(met, y)
				}
				shared[y] += worth
			}
		}
		for _, y := range met {
			if shared[y] >= enough {
				near[x] = append(near[x], y)
			}
			shared[y] = 0
		}
	}
	return near
}

// holdersOf gives, for each mark of more than one group, these groups, rising.
func holdersOf(list []Sketch, groups [][]int) map[uint64][]int {
	type held struct {
		mark  uint64
		group int
	}
	all := make([]held, 0, len(groups)*mostMarks)
	for x, g := range groups {
		if s := list[g[0]]; s.Telling() {
			for _, m := range s.Marks {
				all = append(all, held{m, x})
			}
		}
	}
	slices.SortFunc(all, func(a, b held) int { return cmp.Compare(a.mark, b.mark) })
	holders := map[uint64][]int{}
	for from, i := 0, 1; i <= len(all); i++ {
		if i < len(all) && all[i].mark == all[from].mark {
			continue
		}
		if i > from+1 {
			groups := make([]int, 0, i-from)
			for _, h := range all[from:i] {
				groups = append(groups, h.group)
			}
			slices.Sort(groups)
			holders[all[from].mark] = groups
		}
		from = i
	}
	return holders
}
