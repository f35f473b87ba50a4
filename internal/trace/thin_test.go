package trace

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func thinned(most int, list []Point) []Point {
	t := newThinner(most)
	for _, p := range list {
		t.add(p.At, p.Coldest, p.Warmest, p.Pressure)
	}
	return t.points()
}

func TestThinnerKeepsAllThatFits(t *testing.T) {
	var list []Point
	for i := range 40 {
		list = append(list, Point{float64(i), 20 + float64(i%7), 21 + float64(i%5), 101 + float64(i%3)})
		for _, most := range []int{44, 45, 1000} { // room for one more bucket is held free
			assert.Equal(t, list, thinned(most, list), "%d of %d", i+1, most)
		}
	}
}

func TestThinnerOfVeryFew(t *testing.T) {
	list := []Point{{0, 20, 20, 101}, {1, 80, 81, 150}, {2, 10, 10, 90}, {3, 30, 30, 101}}
	assert.Empty(t, thinned(-1, list))
	assert.Empty(t, thinned(0, list))
	assert.Equal(t, list[:1], thinned(1, list))
	assert.Equal(t, []Point{list[0], list[3]}, thinned(2, list))
	assert.Equal(t, []Point{list[0], list[3]}, thinned(5, list))
	assert.Equal(t, list, thinned(6, list))
	assert.Empty(t, thinned(1000, nil))
	assert.Equal(t, list[:1], thinned(1000, list[:1]))
	assert.Equal(t, list[:2], thinned(2, list[:2]))
}

// series draws readings whose time is their number, so that one that was never there
// is seen at once.
func series(t *rapid.T) []Point {
	n := rapid.OneOf(rapid.IntRange(0, 50), rapid.IntRange(900, 5000), rapid.IntRange(0, 100_000)).Draw(t, "n")
	coarse := rapid.SampledFrom([]float64{1, 10, 1000}).Draw(t, "steps in one")
	blank := rapid.Bool().Draw(t, "no pressure")
	r := rapid.Uint64().Draw(t, "seed")
	next := func(below uint64) float64 {
		r = mix(r + 1)
		return math.Floor(float64(r%below)*coarse) / coarse
	}
	list := make([]Point, n)
	for i := range list {
		cold := 100 + next(30)
		list[i] = Point{float64(i), cold, cold + next(3), 100 + next(200)}
		if blank || r%11 == 0 {
			list[i].Pressure = math.NaN()
		}
	}
	return list
}

func TestThinnerProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		list := series(t)
		most := rapid.OneOf(rapid.IntRange(6, 60), rapid.Just(1000)).Draw(t, "most")
		got := thinned(most, list)
		require.LessOrEqual(t, len(got), most)
		before := -1.0
		for _, p := range got {
			require.Greater(t, p.At, before, "in order, and none twice")
			want := list[int(p.At)]
			require.Equal(t, []uint64{math.Float64bits(want.Coldest), math.Float64bits(want.Warmest), math.Float64bits(want.Pressure)},
				[]uint64{math.Float64bits(p.Coldest), math.Float64bits(p.Warmest), math.Float64bits(p.Pressure)}, "none is made up")
			before = p.At
		}
		if len(list) == 0 {
			require.Empty(t, got)
			return
		}
		require.Zero(t, got[0].At)
		require.EqualValues(t, len(list)-1, got[len(got)-1].At)
		require.Equal(t, extremes(list), extremes(got))
	})
}

// extremes are lowest coldest, highest warmest, lowest and highest pressure.
func extremes(list []Point) (x [4]float64) {
	x = [4]float64{math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)}
	for _, p := range list {
		x[0], x[1] = min(x[0], p.Coldest), max(x[1], p.Warmest)
		if p.Pressure == p.Pressure {
			x[2], x[3] = min(x[2], p.Pressure), max(x[3], p.Pressure)
		}
	}
	return x
}

// A dip of one reading anywhere in a long hold is kept, however shallow, where nothing in
// its bucket is deeper; and where one is, the dip that is kept stands in the same bucket.
func TestThinnerLosesNoDip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(3, 60_000).Draw(t, "n")
		dips := rapid.SliceOfN(rapid.IntRange(0, n-1), 1, 20).Draw(t, "dips")
		depth := rapid.Float64Range(1e-9, 5).Draw(t, "depth")
		list := make([]Point, n)
		for i := range list {
			list[i] = Point{float64(i), 134, 134, 304}
		}
		for _, d := range dips {
			list[d] = Point{float64(d), 134 - depth, 134 + depth, 304 - depth}
		}
		th := newThinner(1000)
		for _, p := range list {
			th.add(p.At, p.Coldest, p.Warmest, p.Pressure)
		}
		got := th.points()
		for _, d := range dips {
			near := math.Inf(1)
			for _, p := range got {
				if p.Coldest < 134 && p.Warmest > 134 && p.Pressure < 304 {
					near = min(near, math.Abs(p.At-float64(d)))
				}
			}
			require.Less(t, near, float64(th.width), "the dip at %d of %d", d, n)
		}
	})
}

func TestThinnerSettlesWithoutAllocation(t *testing.T) {
	th := newThinner(1000)
	i := 0.0
	assert.Zero(t, testing.AllocsPerRun(20_000, func() {
		i++
		th.add(i, math.Sin(i), math.Cos(i), math.Sin(i*i))
	}))
}

// At ten times and a hundred times as many readings the buckets grow, not the memory.
func TestThinnerUsesItsRoom(t *testing.T) {
	for _, n := range []int{2_800, 28_000, 280_000} {
		th := newThinner(1000)
		for i := range n {
			x := float64(mix(uint64(i)) % 1000)
			th.add(float64(i), x, x, x)
		}
		assert.LessOrEqual(t, cap(th.kept), 1000)
		assert.Greater(t, len(th.points()), 300, "%d", n)
	}
}
