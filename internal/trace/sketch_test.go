package trace

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// The main promise: no two honest cycles are taken for copies, whatever the display
// and however quiet the controller; here in more than 60,000 pairs.
func TestHonestCyclesAreNotAlike(t *testing.T) {
	const seeds = 20
	told, pairs, again := 0, 0, 0
	for _, noise := range []float64{0.0005, 0.003, 0.01, 0.03, 0.1, 0.3} {
		for _, punctual := range []bool{false, true} {
			var cycles [][]reading
			for seed := range uint64(seeds) {
				cycles = append(cycles, madeUp{noise, punctual}.run(seed))
			}
			for _, every := range []int{1, 10, 60} {
				for _, d := range []display{{celsius: 1}, {celsius: 0.1}, {celsius: 0.01}, {celsius: 1, kPa: 1}, {celsius: 0.1, kPa: 1},
					{celsius: 0.1, kPa: 0.1}, {celsius: 0.01, kPa: 0.1}, {celsius: 0.01, kPa: 0.01}, {celsius: 0.1, kPa: 0.6895, fahrenheits: true}} {
					d.every = every
					var list []Sketch
					for i, c := range cycles {
						list = append(list, sketchOf(d.of(c, i), 0))
					}
					for i, a := range list {
						if a.Telling() {
							told++
						}
						for _, b := range list[:i] {
							pairs++
							require.Less(t, Alike(a, b), 0.35, "noise %v, %+v, punctual %v", noise, d, punctual)
							if a.Hash == b.Hash { // on a coarse display every reading may honestly come again
								again++
								require.False(t, a.Telling() || b.Telling(), "noise %v, %+v, punctual %v", noise, d, punctual)
							}
						}
					}
				}
			}
		}
	}
	assert.Greater(t, pairs, 60_000)
	assert.NotZero(t, again, "a display so coarse is among them")
	assert.Greater(t, told, 1200, "of 6,480 traces, too few can be told from others at all")
}

// A thermostat's ripple comes again within a cycle and in every other one.
func TestHonestRippleIsNotAlike(t *testing.T) {
	told := 0
	for _, m := range []madeUp{{0, false}, {0.0005, true}, {0.003, false}, {0.003, true}, {0.01, false}, {0.1, false}} {
		for _, hours := range []int{2, 4, 10} {
			var cycles [][]reading
			for seed := range uint64(10) {
				cycles = append(cycles, m.dry(seed, hours))
			}
			for _, d := range []display{{celsius: 1}, {celsius: 0.1}, {celsius: 0.01}, {celsius: 0.1, fahrenheits: true}} {
				for _, every := range []int{1, 10, 45, 60} {
					d.every = every
					var list []Sketch
					for i, c := range cycles {
						list = append(list, sketchOf(d.of(c, i), 0))
					}
					for i, a := range list {
						if a.Telling() {
							told++
						}
						for _, b := range list[:i] {
							require.Less(t, Alike(a, b), 0.35, "%+v, %+v, %d hours", m, d, hours)
						}
					}
				}
			}
		}
	}
	assert.NotZero(t, told)
}

// A copy with a constant offset, its first minute cut off and one reading in twenty
// altered, for hundreds of cycles.
func TestCopiesAreAlike(t *testing.T) {
	for _, d := range []display{{celsius: 0.01, kPa: 0.01}, {celsius: 0.01}, {celsius: 0.1, kPa: 0.1}, {celsius: 0.01, kPa: 1},
		{celsius: 0.1, kPa: 0.6895, fahrenheits: true}} {
		d.every = 1
		for seed := range uint64(60) {
			original := d.of(madeUp{noise: 0.05}.run(seed), 0)
			of := sketchOf(original, 0)
			name := fmt.Sprintf("%+v, seed %d", d, seed)
			assert.Equal(t, of, sketchOf(original, 0), name)
			assert.EqualValues(t, 1, Alike(of, of), name)
			assert.EqualValues(t, 1, Alike(of, sketchOf(original, 0.1)), "an offset alone, %s", name)
			assert.Greater(t, Alike(of, sketchOf(original[60:len(original)-600], -0.3)), 0.9, "cut off at both ends, %s", name)

			copied := slices.Clone(original)[60:]
			r := rand.New(rand.NewPCG(seed, 99))
			for i := range copied {
				if r.Float64() < 0.05 {
					copied[i].celsius += 0.1 * float64(1+r.IntN(5))
				}
			}
			assert.GreaterOrEqual(t, Alike(of, sketchOf(copied, 0.1)), 0.5, name)
			other := d.of(madeUp{noise: 0.05}.run(seed+1000), 0)
			assert.Less(t, Alike(of, sketchOf(other, 0)), 0.2, name)
		}
	}
}

// The hold alone made up anew: the rest of the cycle still shows where it is from.
func TestCopyWithAnotherHold(t *testing.T) {
	original := display{every: 1, celsius: 0.01, kPa: 0.01}.of(madeUp{noise: 0.03}.run(1), 0)
	other := display{every: 1, celsius: 0.01, kPa: 0.01}.of(madeUp{noise: 0.03}.run(2), 0)
	copied := slices.Clone(original)
	copy(copied[1100:1360], other[1100:1360])
	assert.Greater(t, Alike(sketchOf(original, 0), sketchOf(copied, 0)), 0.75)
}

// What does not move, moves in a line, or in a smooth curve has no marks at all.
func TestPlainMovementHasNoMarks(t *testing.T) {
	for name, at := range map[string]func(x float64) float64{
		"flat":                  func(float64) float64 { return 134 },
		"line":                  func(x float64) float64 { return 20 + 0.07*x },
		"curve, to a hundredth": func(x float64) float64 { return math.Round(100*(134-114*math.Exp(-x/300))) / 100 },
		"there and back":        func(x float64) float64 { return 134 + math.Mod(x, 2) },
		"four steps":            func(x float64) float64 { return 134 + math.Mod(x, 4)*math.Mod(x, 4) },
	} {
		var list []reading
		for i := range 3000 {
			list = append(list, reading{at(float64(i)), math.NaN()})
		}
		s := sketchOf(list, 0)
		assert.Empty(t, s.Marks, name)
		assert.Zero(t, Alike(s, s), name)
	}
}

func TestSketchOfFewReadings(t *testing.T) {
	assert.Equal(t, Sketch{}, sketchOf(nil, 0))
	var list []reading
	seen := map[[32]byte]bool{}
	for i := range 40 {
		list = append(list, reading{100 + float64(mix(uint64(i))%900)/100, 200})
		s := sketchOf(list, 0)
		assert.False(t, seen[s.Hash], "%d readings", i+1)
		seen[s.Hash] = true
	}
}

// The hash is of readings in steps of a hundredth, of both values, in order.
func TestHash(t *testing.T) {
	of := func(list ...reading) [32]byte { return sketchOf(list, 0).Hash }
	a, b := reading{121.5, 205}, reading{121.75, 206}
	assert.Equal(t, of(a, b), of(reading{121.5004, 205.0003}, reading{121.7501, 206}), "less than a step apart")
	blank := reading{121.5, math.NaN()}
	all := [][32]byte{of(a), of(b), of(a, b), of(b, a), of(a, a), of(reading{121.51, 205}, b), of(a, reading{121.75, 206.01}), of(blank), of(blank, b), of(a, blank),
		of(reading{205, 121.5}, b)}
	for i := range all {
		for j := range all[:i] {
			assert.NotEqual(t, all[i], all[j], "%d and %d", j, i)
		}
	}
	for _, odd := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), 1e300, -1e300} {
		assert.NotEqual(t, of(a, b), of(a, reading{odd, 206}))
		assert.NotPanics(t, func() { of(reading{odd, odd}, reading{-odd, -odd}, a) })
	}
}

// However the readings are cut into blocks, the marks are those of a plain reckoning.
func TestMarksByPlainReckoning(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		list := make([]reading, rapid.IntRange(0, 700).Draw(t, "n"))
		seed, wide := rapid.Uint64().Draw(t, "seed"), rapid.SampledFrom([]uint64{2, 5, 40, 1000}).Draw(t, "wide")
		for i := range list {
			list[i] = reading{120 + float64(mix(seed+uint64(2*i))%wide)/100, 200 + float64(mix(seed+uint64(2*i+1))%wide)/100}
		}
		var k sketcher
		for _, x := range list {
			k.add(x.celsius, x.kPa)
		}
		s := k.sketch()
		marks, rich, again := plainMarks(list)
		require.ElementsMatch(t, marks, k.marks[:k.kept])
		// The share of rich runs is told by those looked at, of which there are a few hundred.
		runs := float64(max(len(list)-runLength, 1))
		if share := float64(rich) / runs; math.Abs(share-1./richShare) > 0.15 {
			if len(list) <= leastChanges || share < 1./richShare || again*againShare > len(marks)+again {
				marks = nil
			}
			require.ElementsMatch(t, marks, s.Marks)
		}
		require.True(t, slices.IsSorted(s.Marks))
	})
}

// plainMarks reckons the marks anew for each run, and how often they come again.
func plainMarks(list []reading) (marks []uint64, rich, again int) {
	step := func(a, b float64) uint64 { return uint64(uint32(int32(math.Round(100 * (b - a))))) }
	for end := runLength; end < len(list); end++ {
		var run, rolled uint64
		var c [runLength][2]int32
		different := map[uint64]bool{}
		for i := range runLength {
			from := end - runLength + i
			t, p := step(list[from].celsius, list[from+1].celsius), step(list[from].kPa, list[from+1].kPa)
			run = mix(t<<32 | p)
			rolled = rolled<<1 | rolled>>63
			rolled ^= run
			if c[i] = [2]int32{int32(t), int32(p)}; t|p != 0 {
				different[t<<32|p] = true
			}
		}
		var turns [2]int
		for v := range 2 {
			for i := 2; i < runLength; i++ {
				if d, e := c[i-1][v]-c[i-2][v], c[i][v]-c[i-1][v]; d < 0 && e > 0 || d > 0 && e < 0 {
					turns[v]++
				}
			}
		}
		if len(different) >= runVariety && max(turns[0], turns[1]) >= runTurns {
			rich++
			marks = append(marks, rolled)
		}
	}
	slices.Sort(marks)
	all := slices.Clone(marks)
	marks = slices.Compact(marks)
	marks = marks[:min(len(marks), mostMarks)]
	for _, m := range all {
		if len(marks) > 0 && m <= marks[len(marks)-1] {
			again++
		}
	}
	return marks, rich, again - len(marks)
}

func TestSketcherTakesNoMemory(t *testing.T) {
	var s sketcher
	i := uint64(0)
	assert.Zero(t, testing.AllocsPerRun(20_000, func() {
		i++
		s.add(float64(mix(i)%3000)/100, 101)
	}))
	assert.NotZero(t, s.rich)
}
