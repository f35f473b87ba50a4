package trace

import (
	"cmp"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// bottom is the sketch of a trace with these runs.
func bottom(name byte, runs []uint64) Sketch {
	s := Sketch{Marks: slices.Compact(slices.Sorted(slices.Values(runs)))}
	s.Marks = s.Marks[:min(len(s.Marks), mostMarks)]
	s.Hash[0], s.Hash[31] = name, 1
	return s
}

// Of two traces with runs of known number in common, the mean of many estimates is the
// share, and with equal lengths a little more. The spread is that of a sample of 48: by
// the binomial law at most 0.072, of the mean of 150 such at most 0.006.
func TestAlikeEstimatesTheShare(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 1))
	for _, c := range []struct {
		a, b, both int
		want       float64
	}{
		{1000, 1000, 0, 0}, {1000, 1000, 100, 0.1}, {1000, 1000, 500, 0.5}, {1000, 1000, 900, 0.9}, {1000, 1000, 1000, 1},
		{1000, 600, 600, 1}, {1000, 600, 300, 0.5}, {600, 1000, 300, 0.5}, {40, 40, 20, 0.5}, {16, 16, 16, 1}, {15, 15, 15, 0}, {20, 30, 10, 0.5},
	} {
		const trials = 150
		sum := 0.0
		for range trials {
			runs := make([]uint64, c.a+c.b-c.both)
			for i := range runs {
				runs[i] = r.Uint64()
			}
			a, b := bottom(1, runs[:c.a]), bottom(2, runs[c.a-c.both:])
			sum += Alike(a, b)
			require.Equal(t, Alike(a, b), Alike(b, a))
		}
		assert.GreaterOrEqual(t, sum/trials, c.want-0.018, "%+v", c)
		assert.LessOrEqual(t, sum/trials, c.want+0.05, "%+v", c)
	}
}

func TestAlikeOfVeryUnlikeLengths(t *testing.T) {
	r := rand.New(rand.NewPCG(2, 2))
	runs := make([]uint64, 10_000)
	for i := range runs {
		runs[i] = r.Uint64()
	}
	assert.Zero(t, Alike(bottom(1, runs), bottom(2, runs[:1000])), "the sample of the shorter is too small")
	assert.Zero(t, Alike(Sketch{}, bottom(1, runs)))
	assert.Zero(t, Alike(Sketch{}, Sketch{}))
}

// pool draws sketches that share many marks and hashes.
func pool(t *rapid.T) []Sketch {
	some := make([]Sketch, rapid.IntRange(1, 12).Draw(t, "kinds"))
	for i := range some {
		var runs []uint64
		for range rapid.SampledFrom([]int{0, 10, 20, 70, 200}).Draw(t, "runs") {
			runs = append(runs, 1+rapid.Uint64Range(0, 150).Draw(t, "run"))
		}
		some[i] = bottom(byte(i), runs)
	}
	some = append(some, Sketch{})
	list := make([]Sketch, rapid.IntRange(0, 40).Draw(t, "traces"))
	for i := range list {
		list[i] = some[rapid.IntRange(0, len(some)-1).Draw(t, "kind")]
	}
	return list
}

// every looks at all pairs.
func every(list []Sketch, least float64) (pairs []Pair) {
	for a := range list {
		for b := a + 1; b < len(list); b++ {
			same := list[a].Hash == list[b].Hash && list[a].Hash != [32]byte{}
			if share := Alike(list[a], list[b]); same || share > 0 && share >= least {
				pairs = append(pairs, Pair{a, b, share, same})
			}
		}
	}
	return pairs
}

func TestCopiesAreThoseOfAllPairs(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		list := pool(t)
		least := rapid.SampledFrom([]float64{0.05, 0.3, 0.5, 0.75, 1}).Draw(t, "least")
		require.Equal(t, every(list, least), Copies(list, least))
	})
}

func TestOrderOfListChangesNoPair(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		list := pool(t)
		order := rapid.Permutation(places(len(list))).Draw(t, "order")
		shuffled := make([]Sketch, len(list))
		for i, from := range order {
			shuffled[i] = list[from]
		}
		back := Copies(shuffled, 0.5)
		for i, p := range back {
			a, b := order[p.A], order[p.B]
			back[i].A, back[i].B = min(a, b), max(a, b)
		}
		slices.SortFunc(back, func(p, q Pair) int { return cmp.Or(cmp.Compare(p.A, q.A), cmp.Compare(p.B, q.B)) })
		require.Equal(t, Copies(list, 0.5), back)
	})
}

func places(n int) []int {
	list := make([]int, n)
	for i := range list {
		list[i] = i
	}
	return list
}

// Real sketches: each copy is found beside its original among honest cycles, and nothing else.
func TestCopiesAmongHonestCycles(t *testing.T) {
	d := display{every: 1, celsius: 0.01, kPa: 0.01}
	var list []Sketch
	for seed := range uint64(60) {
		list = append(list, sketchOf(d.of(madeUp{noise: 0.03}.run(seed), 0), 0))
	}
	assert.Empty(t, Copies(list, 0.2))
	third, ninth := d.of(madeUp{noise: 0.03}.run(3), 0), d.of(madeUp{noise: 0.03}.run(9), 0)
	list = append(list, sketchOf(third, 0.1), sketchOf(ninth[100:], 0), list[20])
	got := Copies(list, 0.5)
	require.Len(t, got, 3)
	assert.Equal(t, Pair{3, 60, 1, false}, got[0])
	assert.Equal(t, [2]int{9, 61}, [2]int{got[1].A, got[1].B})
	assert.Equal(t, Pair{20, 62, 1, true}, got[2])
}

// At, just under and just over the number from which not all pairs are listed.
func TestCrowdOfSameReadings(t *testing.T) {
	for _, c := range []struct{ n, want int }{{crowd - 1, (crowd - 1) * (crowd - 2) / 2}, {crowd, crowd * (crowd - 1) / 2}, {crowd + 1, crowd}, {3000, 2999}} {
		one := bottom(1, places64(100))
		list := slices.Repeat([]Sketch{one}, c.n)
		assert.Len(t, Copies(list, 0.5), c.want, "%d", c.n)
		beside := Copies(append(list, bottom(2, places64(100))), 0.5)
		assert.True(t, slices.ContainsFunc(beside, func(p Pair) bool { return p.B == c.n && !p.Same }), "%d", c.n)
	}
}

func places64(n int) (list []uint64) {
	for i := range uint64(n) {
		list = append(list, i+1)
	}
	return list
}

// Thousands of near-copies of one cycle: each is found beside another, and the pairs
// stay few.
func TestCrowdOfNearCopies(t *testing.T) {
	for _, n := range []int{family - 1, family, family + 1, 2600} {
		r := rand.New(rand.NewPCG(4, uint64(n)))
		list := make([]Sketch, n)
		for i := range list {
			runs := places64(60)
			for range 5 {
				runs[r.IntN(len(runs))] = 100 + r.Uint64N(1<<40)
			}
			list[i] = bottom(1, runs)
			list[i].Hash[1], list[i].Hash[2] = byte(i), byte(i>>8)
		}
		found := map[int]bool{}
		pairs := Copies(list, 0.5)
		for _, p := range pairs {
			found[p.A], found[p.B] = true, true
		}
		assert.Len(t, found, n)
		assert.LessOrEqual(t, len(pairs), n*family/2)
	}
}

func BenchmarkCopies(b *testing.B) {
	r := rand.New(rand.NewPCG(1, 1))
	list := make([]Sketch, 2600)
	for i := range list {
		var runs []uint64
		for range 1500 {
			runs = append(runs, r.Uint64())
		}
		list[i] = bottom(byte(i), runs)
		list[i].Hash[1] = byte(i >> 8)
	}
	for b.Loop() {
		Copies(list, 0.5)
	}
}
