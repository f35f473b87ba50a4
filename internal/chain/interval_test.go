package chain

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// TestExactAgainstReferences compares with values from outside: the source stands in
// each row of the file. Values printed to a few digits agree to half the last of them.
func TestExactAgainstReferences(t *testing.T) {
	f, err := os.Open("../../testdata/reference/clopper-pearson.csv")
	require.NoError(t, err)
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	require.NoError(t, err)
	require.Greater(t, len(rows), 100)
	for _, row := range rows[1:] {
		x, _ := strconv.Atoi(row[0])
		n, _ := strconv.Atoi(row[1])
		level, _ := strconv.ParseFloat(row[2], 64)
		low, high := Exact(x, n, level)
		for i, got := range []float64{low, high} {
			text := row[3+i]
			want, err := strconv.ParseFloat(text, 64)
			require.NoError(t, err)
			near := 2e-12 // of what is given to 15 digits or more; logarithms of factorials of thousands lose some
			if len(text) < 14 {
				near = 0.51 * math.Pow10(-(len(text) - 2))
			}
			assert.InDelta(t, want, got, near, "%d of %d at %s", x, n, row[2])
		}
	}
}

// TestExactEnds holds the closed forms of the ends: (α/2)^(1/n) for n of n, and its mirror.
func TestExactEnds(t *testing.T) {
	for _, n := range []int{1, 2, 3, 10, 59, 1000} {
		low, high := Exact(n, n, 0.95)
		assert.InDelta(t, math.Pow(0.025, 1/float64(n)), low, 1e-14)
		assert.Equal(t, 1.0, high)
		low, high = Exact(0, n, 0.95)
		assert.Equal(t, 0.0, low)
		assert.InDelta(t, 1-math.Pow(0.025, 1/float64(n)), high, 1e-14)
	}
	for _, odd := range [][2]int{{0, 0}, {1, 0}, {-1, 5}, {6, 5}} {
		low, high := Exact(odd[0], odd[1], 0.95)
		assert.Equal(t, [2]float64{0, 1}, [2]float64{low, high}, "%v tells nothing", odd)
	}
}

// TestExactCovers sums the binomial distribution itself: for whatever the true share
// is, the intervals that hold it are drawn at least as often as the level says. That
// is what "exact" promises (Clopper and Pearson, 1934).
func TestExactCovers(t *testing.T) {
	for _, n := range []int{1, 2, 5, 10, 23, 50} {
		for _, level := range []float64{0.80, 0.95, 0.99} {
			lows, highs := make([]float64, n+1), make([]float64, n+1)
			for x := range lows {
				lows[x], highs[x] = Exact(x, n, level)
			}
			for at := 1; at < 400; at++ {
				p, held, mass := float64(at)/400, 0.0, math.Pow(1-float64(at)/400, float64(n))
				for x := 0; x <= n; x++ {
					if lows[x] <= p && p <= highs[x] {
						held += mass
					}
					mass *= float64(n-x) / float64(x+1) * p / (1 - p)
				}
				require.GreaterOrEqual(t, held, level-1e-12, "n %d, p %g, level %g", n, p, level)
			}
		}
	}
}

// tailFrom is P(X >= x) for n draws, by plain addition.
func tailFrom(x, n int, p float64) float64 {
	sum := 0.0
	for k := x; k <= n; k++ {
		a, _ := math.Lgamma(float64(n + 1))
		b, _ := math.Lgamma(float64(k + 1))
		c, _ := math.Lgamma(float64(n - k + 1))
		sum += math.Exp(a - b - c + float64(k)*math.Log(p) + float64(n-k)*math.Log1p(-p))
	}
	return sum
}

func TestExactProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 400).Draw(t, "n")
		x := rapid.IntRange(0, n).Draw(t, "x")
		level := rapid.Float64Range(0.5, 0.999).Draw(t, "level")
		low, high := Exact(x, n, level)
		share := float64(x) / float64(n)
		if low > share || high < share || low < 0 || high > 1 {
			t.Fatalf("%d of %d: %g to %g", x, n, low, high)
		}
		if l, h := Exact(n-x, n, level); math.Abs(l-(1-high)) > 1e-12 || math.Abs(h-(1-low)) > 1e-12 {
			t.Fatalf("%d of %d has no mirror", x, n)
		}
		if x > 0 {
			if l, h := Exact(x-1, n, level); l >= low || h > high {
				t.Fatalf("fewer of %d do not lie lower", n)
			}
			if got := tailFrom(x, n, low); math.Abs(got-(1-level)/2) > 1e-10 {
				t.Fatalf("the lower end of %d of %d leaves %g", x, n, got)
			}
		}
		if wideLow, wideHigh := Exact(x, n, level+(1-level)/2); wideLow > low || wideHigh < high {
			t.Fatalf("a surer interval of %d of %d is narrower", x, n)
		}
	})
}
