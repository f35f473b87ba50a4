package steam

// warmth adds up lethality, and temperature while at or above a level.
type warmth struct {
	scale        Scale
	per          float64 // ln 10 / z
	rate         float64 // of the last reading, whatever Scale.From
	lethal       float64 // s at the reference, since the lowest level was last reached
	lethalBefore float64 // s at the reference, before that
	sum          float64 // K·s
}

// near is the greatest change of the logarithm of a rate for which grown goes: 1.7 K
// where z is 10 K.
const near = 0.4

// begin sets the rate.
func (w *warmth) begin(celsius float64) { w.rate = w.scale.rate(min(celsius, hottest)) }

// add takes a straight line, as Scale.Segment does.
//
// An exponential costs more than all else that is done with a reading. Most readings lie
// near the one before; then the rate is that one's, grown.
func (w *warmth) add(from, to, seconds float64) {
	x := w.per * (to - from)
	if x < near && x > -near && from >= w.scale.From && to >= w.scale.From && to < hottest {
		g := grown(x)
		w.lethal += seconds * w.rate * g
		w.rate += w.rate * x * g
		return
	}
	before := w.rate
	w.begin(to)
	if from < w.scale.From || to < w.scale.From || from > hottest || to > hottest {
		// A reading above 1000 °C counts as 1000 °C, so that what a broken sensor shows
		// still gives a number.
		w.lethal += w.scale.Segment(min(from, hottest), min(to, hottest), seconds)
		return
	}
	w.lethal += seconds * average(before, w.rate, x)
}

// grown is (eˣ−1)/x for x within ±0.4: by its series, for a quarter of x, of which the
// first term left out is less than 3 in 10^14; and doubled twice by
// e²ˣ−1 = (eˣ−1)(eˣ+1).
func grown(x float64) float64 {
	x /= 4
	y := x * x
	low := 1 + x*(1./2) + y*(1./6+x*(1./24))
	high := 1./120 + x*(1./720) + y*(1./5040+x*(1./40320))
	g := low + y*y*high
	e := 1 + x*g
	return g * (e + 1) * (e*e + 1) / 4
}
