package steam

import "math"

// Scale counts heat by what it does to microbes: so many seconds at Reference,
// ten times as many for each Z kelvin more.
type Scale struct {
	Name      string  // "F0"
	Reference float64 // °C
	Z         float64 // K
	From      float64 // °C below which heat does not count; 0 for no such limit
}

// Scales in use. F0 and FH are mostly told in minutes, A0 in seconds; all are in
// seconds here.
//
// F0, moist heat: z 10 K; 121.1 °C is 250 °F, by which the trade's tables go. Some go
// by 121.0 °C, which counts 2.3 % more: copy F0 and change Reference.
// FH, dry heat: z 20 K, 170 °C (British Pharmacopoeia 1993, second hand). Pairs of time
// and temperature that are published for dry heat are not equally lethal by it.
// A0, washers with hot water: z 10 K, 80 °C, counted from 65 °C up (ISO 15883-1, annex
// B; the definition was read second hand, the 65 °C are from memory).
var (
	F0 = Scale{Name: "F0", Reference: 121.1, Z: 10}
	FH = Scale{Name: "FH", Reference: 170, Z: 20}
	A0 = Scale{Name: "A0", Reference: 80, Z: 10, From: 65}
)

// What Rate takes. No sterilizer runs outside, and a rate still is a number there.
const (
	absoluteZero  = -zero  // °C
	hottest       = 1000.0 // °C
	zLeast, zMost = 1.0, 100.0
)

// Rate returns the lethal rate at a temperature in °C: how many seconds at the
// reference one second there is worth,
//
//	L = 10^((T − Reference) / Z)
//
// and 0 below From. The error is a *RangeError where the temperature is no number, below
// absolute zero or above 1000 °C, or Z lies outside 1 to 100 K. That the rate stays
// log-linear far from the reference is assumed by the definition, not shown: a few tens
// of kelvin either way is what is published. Source: the definition of the F value, as in
// Ph. Eur. 5.1.5 (from memory).
func (s Scale) Rate(celsius float64) (float64, error) {
	if !(celsius >= absoluteZero && celsius <= hottest) {
		return 0, &RangeError{"a temperature", celsius, absoluteZero, hottest, "°C"}
	}
	if !(s.Z >= zLeast && s.Z <= zMost) {
		return 0, &RangeError{"a z value", s.Z, zLeast, zMost, "K"}
	}
	if s.cold(celsius) {
		return 0, nil
	}
	return s.rate(celsius), nil
}

// Segment returns the seconds at the reference temperature that are worth as much
// as a straight line from one temperature in °C to another over some seconds.
//
// On a straight line the rate is exponential, and its integral is exactly
//
//	Z · seconds · (L1 − L0) / (ln 10 · (T1 − T0))
//
// or L0 · seconds where both are alike. What lies below From is cut off where the line
// crosses it. The trapezoid rule, seconds · (L0 + L1) / 2, reads as much or more, which
// is the unsafe side: 4 % more where the ends lie 3 K apart and z is 10 K.
//
// It holds where Rate holds and judges nothing: what is no number comes out as no
// number (NaN), and seconds below 0 count backwards.
func (s Scale) Segment(from, to, seconds float64) float64 {
	switch {
	case s.cold(from) && s.cold(to):
		return 0
	case s.cold(from):
		from, seconds = s.From, seconds*(to-s.From)/(to-from)
	case s.cold(to):
		to, seconds = s.From, seconds*(from-s.From)/(from-to)
	}
	return seconds * average(s.rate(from), s.rate(to), math.Ln10/s.Z*(to-from))
}

func (s Scale) cold(celsius float64) bool { return s.From != 0 && celsius < s.From }

func (s Scale) rate(celsius float64) float64 {
	return math.Exp(math.Ln10 / s.Z * (celsius - s.Reference))
}

// average is the mean of a rate that goes exponentially from one value to another,
// given the logarithm of their ratio: (r1−r0)/x. Where they are near each other the
// difference would lose its figures; then it is √(r0·r1) · sinh(x/2)/(x/2) by its
// series, whose first term left out is less than 1 in 10^16.
func average(r0, r1, x float64) float64 {
	if x > 0.1 || x < -0.1 {
		return (r1 - r0) / x
	}
	y := x * x / 4
	return math.Sqrt(r0*r1) * (1 + y/6*(1+y/20*(1+y/42)))
}
