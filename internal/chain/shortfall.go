package chain

import (
	"cmp"
	"container/heap"
	"math"
	"slices"
)

// endless stands for a number of packs that nobody wrote down. It is far above
// any count, and sums of it do not run over.
const endless = math.MaxInt32

// supply is so many packs that may have been there from a second on, at the earliest.
type supply struct {
	at int64
	n  int
}

// use is so many packs that one visit took, by a second at the latest.
type use struct {
	at int64
	n  int
}

// deficit is what a balance of supplies and uses comes to.
type deficit struct {
	Least int   // visits that cannot all have had their packs: at least so many
	Falls []int // the uses at which the balance fell below nought, in order; one for each of Least
	Used  int   // packs used by all visits up to and with the first of them
	Had   int   // packs that may have been there by then; endless where nobody wrote how many
}

// shortfall is the least number of uses that cannot have been served.
//
// Why it is a lower bound. Let each supply stand at the earliest second at which it
// can have been there, each use at the latest second by which it was over, and S(t)
// be the packs supplied by t. Take the visits that in truth had all their packs, and
// call them served. Fix any second t. The served uses that stand at t or before were
// over by t, no pack serves twice, and each pack that they took was there by then; so
// their sum is at most what was truly supplied by t, which is at most S(t). Hence the
// truth is one of the choices of served uses with
//
//	for each use i that is served:  the sum of served uses up to i  ≤  S(at i)      (*)
//
// and the number not served is at least the smallest that any choice with (*) leaves
// out.
//
// Why the loop finds that smallest number. It is Moore's and Hodgson's rule (J. M. Moore,
// An n job, one machine sequencing algorithm, Management Science 15, 1968; from memory):
// uses are jobs, packs their length, S(at i) the due date; since S never falls, the order
// of time is the order of due dates. The loop goes through the uses in that order and,
// when the sum is above S, takes out the greatest use kept so far. Let f(m) be the least
// sum of any choice of m of the uses so far that has (*); none where no choice has. Claim:
// f(m) is the sum of the m smallest that are kept, for each m up to the number kept, and
// beyond it there is none. With no uses it holds. Let it hold for the kept a1 ≤ … ≤ ak, and
// let a use of n packs come at t. The choices of m are the old ones, and the old ones
// of m − 1 with the new use, if their sum is at most S(t). So the new f(m) is the lesser of
// a1 + … + am and a1 + … + a(m−1) + n, which is the sum of the m smallest of a1, …, ak, n:
//   - for m ≤ k the second, where it is the lesser, is at most a1 + … + ak, which was at most
//     an earlier S, and so at most S(t): it is allowed;
//   - for m = k + 1 there is only the sum of all, allowed if it is at most S(t). Then all are
//     kept; else one too many is kept, and without the greatest the k smallest remain.
//
// Either way the claim holds again, so the loop keeps as many as any choice can.
//
// The rule is tried against every choice of served uses on thousands of small cases.
// Ties: a use that stands at the same second as a supply comes after it. Time: n log n.
func shortfall(supplies []supply, uses []use) (d deficit) {
	slices.SortStableFunc(supplies, func(a, b supply) int { return cmp.Compare(a.at, b.at) })
	order := make([]int, len(uses))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(uses[a].at, uses[b].at) })
	var kept greatest
	had, sum, all, next := 0, 0, 0, 0
	for _, i := range order {
		for next < len(supplies) && supplies[next].at <= uses[i].at {
			had = min(had+supplies[next].n, endless)
			next++
		}
		all += uses[i].n
		sum += uses[i].n
		heap.Push(&kept, uses[i].n)
		if sum <= had {
			continue
		}
		if d.Least == 0 {
			d.Used, d.Had = all, had
		}
		d.Least++
		d.Falls = append(d.Falls, i)
		sum -= heap.Pop(&kept).(int)
	}
	return d
}

// cancelled takes packs that were thrown away or taken elsewhere out of the
// supplies: each was surely there by its own second, and no visit there used it. Which
// of the packs it was is not written; the latest that can be meant are taken, since that
// leaves the most for every visit before. What was taken beyond all that was supplied
// by then was never written as supplied, and takes nothing.
func cancelled(supplies []supply, gone []use) []supply {
	left := slices.Clone(supplies)
	slices.SortStableFunc(left, func(a, b supply) int { return cmp.Compare(a.at, b.at) })
	gone = slices.Clone(gone)
	slices.SortStableFunc(gone, func(a, b use) int { return cmp.Compare(a.at, b.at) })
	var open []int // supplies by then that have packs left, the latest last
	next := 0
	for _, g := range gone {
		for ; next < len(left) && left[next].at <= g.at; next++ {
			open = append(open, next)
		}
		for n := g.n; n > 0 && len(open) > 0; {
			last := &left[open[len(open)-1]]
			if last.n >= endless {
				break // from an unknown number any can be taken
			}
			took := min(n, last.n)
			last.n -= took
			n -= took
			if last.n == 0 {
				open = open[:len(open)-1]
			}
		}
	}
	return left
}

// greatest is a heap with the greatest number on top.
type greatest []int

func (g greatest) Len() int           { return len(g) }
func (g greatest) Less(a, b int) bool { return g[a] > g[b] }
func (g greatest) Swap(a, b int)      { g[a], g[b] = g[b], g[a] }

// Push and Pop are as container/heap asks for them.
func (g *greatest) Push(n any) { *g = append(*g, n.(int)) }

// Pop takes the last off.
func (g *greatest) Pop() any {
	old := *g
	n := old[len(old)-1]
	*g = old[:len(old)-1]
	return n
}
