package chain

import "math"

// Exact is the exact interval of Clopper and Pearson (1934) for the share that x of n
// drawn at random come from: Low and High are shares, 0 to 1. Level is how sure, 0 to
// 1. Of nothing drawn, it is all shares.
func Exact(x, n int, level float64) (low, high float64) {
	if n <= 0 || x < 0 || x > n {
		return 0, 1
	}
	tail := (1 - level) / 2
	low, high = 0, 1
	if x > 0 {
		low = betaInverse(tail, float64(x), float64(n-x+1))
	}
	if x < n {
		// By symmetry, so that x of n and n-x of n are mirrors to the last digit.
		high = 1 - betaInverse(tail, float64(n-x), float64(x+1))
	}
	return low, high
}

// Percent is x of n as per cent.
func Percent(x, n int) float64 { return 100 * float64(x) / float64(n) }

// Share is per cent as a share, 0 to 1.
func Share(percent float64) float64 { return percent / 100 }

// ExactPercent is Exact with the level and both ends as per cent, 0 to 100. A level
// of a hundred or more leaves all shares.
func ExactPercent(x, n int, level float64) (low, high float64) {
	low, high = Exact(x, n, min(1, Share(level)))
	return 100 * low, 100 * high
}

// betaInverse is the p at which betaUpTo is share, found by halving until two
// neighbouring numbers enclose it.
func betaInverse(share, a, b float64) float64 {
	low, high := 0.0, 1.0
	for {
		mid := low + (high-low)/2
		if mid <= low || mid >= high {
			return mid
		}
		if betaUpTo(mid, a, b) < share {
			low = mid
		} else {
			high = mid
		}
	}
}

// betaUpTo is the regularized incomplete beta function (NIST Digital Library of
// Mathematical Functions, 8.17), by its continued fraction 8.17.22 on the side on which
// that converges fast.
func betaUpTo(p, a, b float64) float64 {
	switch {
	case p <= 0:
		return 0
	case p >= 1:
		return 1
	case p > (a+1)/(a+b+2):
		return 1 - betaSide(1-p, math.Log1p(-p), math.Log(p), b, a)
	}
	return betaSide(p, math.Log(p), math.Log1p(-p), a, b)
}

// betaSide is the function where p lies below its mean: p^a q^b / (a B(a, b)) over the
// fraction, evaluated from its head with the ratios of successive convergents.
func betaSide(p, logP, logQ, a, b float64) float64 {
	whole, _ := math.Lgamma(a + b)
	left, _ := math.Lgamma(a)
	right, _ := math.Lgamma(b)
	front := math.Exp(a*logP+b*logQ+whole-left-right) / a
	const tiny = 1e-300
	value, up, down := 1.0, 1.0, 0.0
	for step := 1; step < 100_000; step++ {
		m := float64(step / 2)
		var d float64
		if step%2 == 0 {
			d = m * (b - m) * p / ((a + 2*m - 1) * (a + 2*m))
		} else {
			d = -(a + m) * (a + b + m) * p / ((a + 2*m) * (a + 2*m + 1))
		}
		down = 1 + d*down
		if math.Abs(down) < tiny {
			down = tiny
		}
		up = 1 + d/up
		if math.Abs(up) < tiny {
			up = tiny
		}
		down = 1 / down
		change := up * down
		value *= change
		if math.Abs(change-1) < 1e-16 {
			break
		}
	}
	return front / value
}
