package steam

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func rate(t require.TestingT, s Scale, celsius float64) float64 {
	v, err := s.Rate(celsius)
	require.NoError(t, err)
	return v
}

// tabledScale is the scale that a row of lethality.csv goes by.
func tabledScale(t *testing.T, r tabled) Scale {
	return Scale{Reference: r.given(t, "t_ref_C"), Z: r.given(t, "z_K")}
}

// Published lethal rates, F and A0 values, and the sums of a handbook; the source and
// how each is known stand beside it in the table.
func TestLethalityAgainstPublishedValues(t *testing.T) {
	at := func(s Scale, r tabled, of float64) float64 {
		c := r.given(t, "t_C")
		return s.Segment(c, c, r.given(t, "min")*60) / of
	}
	worked := map[string]func(r tabled) float64{
		"lethal_rate": func(r tabled) float64 { return rate(t, tabledScale(t, r), r.given(t, "t_C")) },
		"f_value":     func(r tabled) float64 { return at(tabledScale(t, r), r, 60) },
		"a0_s":        func(r tabled) float64 { return at(A0, r, 1) },
		"f_value_rect_1min": func(r tabled) (sum float64) {
			for _, c := range samples(t, r) {
				sum += rate(t, tabledScale(t, r), c)
			}
			return sum
		},
		// The minutes at the reference that kill so many decades.
		"f_bio": func(r tabled) float64 {
			decades := r.given(t, "log10N0") - r.given(t, "log10Nf")
			return F0.Segment(F0.Reference, F0.Reference, 60*decades*r.given(t, "D121_min")) / 60
		},
	}
	seen := map[string]int{}
	for _, r := range table(t, "lethality.csv") {
		require.NotEmpty(t, r["source"], r["id"])
		require.NotEmpty(t, r["known"], r["id"])
		seen[r["quantity"]]++
		f, ok := worked[r["quantity"]]
		if !ok {
			continue // Held against one another in the next two tests.
		}
		if v := f(r); !r.close(t, v) {
			t.Errorf("%s: %s at %s comes to %.9g %s; %s ± %s by %s", r["id"], r["quantity"], r["inputs"], v, r["unit"], r["expected"], r["tolerance"], r["source"])
		}
	}
	assert.Equal(t, map[string]int{"lethal_rate": 6, "f_value": 7, "a0_s": 9, "f_value_rect_1min": 1, "f_bio": 1, "min_F0_general": 1, "dry_heat_min": 4}, seen)
}

func samples(t *testing.T, r tabled) (list []float64) {
	for _, p := range strings.Split(r["inputs"], ";") {
		if rest, ok := strings.CutPrefix(p, "samples_C="); ok {
			for _, v := range strings.Split(rest, "|") {
				list = append(list, number(t, v))
			}
		}
	}
	require.NotEmpty(t, list)
	return list
}

// The decision tree of the European Medicines Agency goes from 121 °C for 15 minutes down
// to F0 of 8 minutes: by either reference the first is more than the second.
func TestReferenceCycleIsMoreThanTheLeastF0(t *testing.T) {
	var least float64
	for _, r := range table(t, "lethality.csv") {
		if r["id"] == "F0-M1" {
			least = number(t, r["expected"])
		}
	}
	require.Equal(t, 8.0, least)
	for _, reference := range []float64{121, 121.1} {
		s := F0
		s.Reference = reference
		assert.Greater(t, s.Segment(121, 121, 15*60)/60, least)
	}
	other := F0
	other.Reference = 121
	assert.InEpsilon(t, 1.0233, other.Segment(130, 130, 1)/F0.Segment(130, 130, 1), 1e-4, "what the two references differ by, in the words of the documentation")
}

// The pairs published for dry heat are not equally lethal by FH: whoever judged one by
// the lethality of another would be wrong by half.
func TestPublishedDryHeatPairsAreNotEquallyLethal(t *testing.T) {
	var fh []float64
	for _, r := range table(t, "lethality.csv") {
		if r["quantity"] == "dry_heat_min" {
			c := r.given(t, "t_C")
			fh = append(fh, FH.Segment(c, c, number(t, r["expected"])*60)/60)
		}
	}
	require.Len(t, fh, 4)
	assert.InDelta(t, 60, fh[0], 1e-9)
	assert.InDelta(t, 37.9, fh[1], 0.1)
	assert.InDelta(t, 15, fh[2], 1e-9)
	assert.InDelta(t, 5.7, fh[3], 0.1)
}

// scale draws one of those in use, or F0 by its other reference.
func scale(t *rapid.T) Scale {
	other := F0
	other.Reference = 121
	return rapid.SampledFrom([]Scale{F0, other, FH, A0}).Draw(t, "scale")
}

var celsius = rapid.Float64Range(20, 200)

func TestSegmentLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := scale(t)
		a, b := celsius.Draw(t, "from"), celsius.Draw(t, "to")
		if rapid.Bool().Draw(t, "nearly level") {
			b = a + rapid.Float64Range(-1e-6, 1e-6).Draw(t, "by")
		}
		d := rapid.Float64Range(0, 1000).Draw(t, "s")
		whole := s.Segment(a, b, d)
		same := func(want, got float64, why string) {
			assert.InDelta(t, want, got, 1e-11*math.Abs(want)+1e-300, why)
		}
		share := rapid.Float64Range(0, 1).Draw(t, "split")
		m := a + (b-a)*share
		// The point of the split is itself rounded: near From that decides what is cut.
		if math.Abs(b-a) > 1e-3 || s.From == 0 {
			assert.InDelta(t, whole, s.Segment(a, m, d*share)+s.Segment(m, b, d*(1-share)), 1e-9*whole+1e-300, "splitting changes nothing")
		}
		same(whole, s.Segment(b, a, d), "either way is alike")
		same(2*whole, s.Segment(a, b, 2*d), "twice the time is twice as much")
		more := rapid.Float64Range(0, 20).Draw(t, "hotter")
		assert.GreaterOrEqual(t, s.Segment(a+more, b+more, d)*(1+1e-12), whole, "hotter never lowers")
		if s.From == 0 {
			same(10*whole, s.Segment(a+s.Z, b+s.Z, d), "z kelvin more is tenfold")
			trapezoid := d * (rate(t, s, a) + rate(t, s, b)) / 2
			assert.LessOrEqual(t, whole, trapezoid*(1+1e-12)+1e-300, "the trapezoid rule reads as much or more")
			assert.GreaterOrEqual(t, whole*(1+1e-12), d*rate(t, s, (a+b)/2), "and the middle as much or less")
		}
	})
}

// Simpson's rule on many short pieces, which knows nothing of the closed form.
func TestSegmentAgainstQuadrature(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := scale(t)
		s.From = 0
		a := celsius.Draw(t, "from")
		b := a + rapid.Float64Range(-40, 40).Draw(t, "by")
		const pieces = 400
		sum := 0.0
		for i := range pieces {
			at := func(x float64) float64 { return rate(t, s, a+(b-a)*(float64(i)+x)/pieces) }
			sum += (at(0) + 4*at(0.5) + at(1)) / 6 / pieces
		}
		assert.InEpsilon(t, sum, s.Segment(a, b, 1), 1e-9)
	})
}

// Where the two forms of the mean meet, neither loses its figures.
func TestAverageIsSmooth(t *testing.T) {
	for _, x := range []float64{0, 1e-300, 1e-16, 1e-9, 1e-4, 0.0999999, 0.1, 0.1000001, 0.5, 5} {
		want := 1.0
		if x != 0 {
			want = math.Expm1(x) / x
		}
		assert.InEpsilon(t, want, average(1, math.Exp(x), x), 1e-14, "%g", x)
		assert.InEpsilon(t, want, average(math.Exp(x), 1, -x), 1e-14, "%g", -x)
		if x <= near {
			assert.InEpsilon(t, want, grown(x), 3e-14, "%g", x)
		}
	}
	assert.InEpsilon(t, -math.Expm1(-0.09)/0.09, grown(-0.09), 3e-14)
}

// What washers' heat counts from: 65 °C, crossed on the way.
func TestFromCutsTheLine(t *testing.T) {
	for _, c := range []struct{ from, to, seconds, like, want float64 }{
		{64.9, 64.9, 60, 0, 0},
		{65, 65, 60, 65, 60},
		{65.1, 65.1, 60, 65.1, 60},
		{20, 64.999, 60, 0, 0},
		{60, 70, 60, 70, 30}, // the second half, from 65 to 70
		{70, 60, 60, 70, 30},
		{65, 70, 30, 70, 30},
	} {
		low := max(min(c.from, c.to), 65)
		want := A0.Segment(low, c.like, c.want)
		if c.want == 0 {
			want = 0
		}
		assert.InDelta(t, want, A0.Segment(c.from, c.to, c.seconds), 1e-12, "%v", c)
	}
	assert.InEpsilon(t, 30*(math.Pow(10, -1)-math.Pow(10, -1.5))/(0.5*math.Ln10), A0.Segment(60, 70, 60), 1e-12, "the closed form by hand")
	assert.Zero(t, rate(t, A0, 64.999))
	assert.InEpsilon(t, math.Pow(10, -1.5), rate(t, A0, 65), 1e-12)
}

func TestRateRefusesNonsense(t *testing.T) {
	for _, c := range []float64{-273.15, 0, 121.1, 1000} {
		rate(t, F0, c)
	}
	for _, c := range []float64{-273.16, 1000.1, math.NaN(), math.Inf(1), math.Inf(-1)} {
		v, err := F0.Rate(c)
		assert.Zero(t, v)
		var e *RangeError
		require.ErrorAs(t, err, &e)
		assert.ErrorContains(t, err, "°C lies outside -273.15 to 1000 °C")
	}
	for _, z := range []float64{0, -10, 0.9, 101, math.NaN()} {
		_, err := Scale{Reference: 121.1, Z: z}.Rate(121)
		assert.ErrorContains(t, err, "a z value")
	}
	for _, z := range []float64{1, 10, 20, 100} {
		rate(t, Scale{Reference: 121.1, Z: z}, 121)
	}
	assert.True(t, math.IsNaN(F0.Segment(math.NaN(), 121, 1)))
	assert.True(t, math.IsNaN(F0.Segment(121, math.NaN(), 1)))
	assert.True(t, math.IsNaN(A0.Segment(60, 70, math.NaN())))
}

// By how much the trapezoid rule reads high, in the words of the documentation.
func TestTrapezoidReadsHigh(t *testing.T) {
	trapezoid := (rate(t, F0, 121) + rate(t, F0, 124)) / 2
	assert.InDelta(t, 1.04, trapezoid/F0.Segment(121, 124, 1), 0.001)
}
