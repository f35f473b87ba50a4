package quantity

import (
	"fmt"
	"math"
)

// Tri is an answer that may not be known.
type Tri uint8

// The answers.
const (
	Unsure Tri = iota
	Yes
	No
)

// String returns "yes", "no" or "unsure".
func (t Tri) String() string { return [...]string{"unsure", "yes", "no"}[t%3] }

// AtLeast says whether q is least or more. With no tolerance written: Yes if the
// value as written is; No if not even half a last digit more would be; else
// Unsure. With a tolerance (of the sensor, both ways; a Difference for a
// temperature): Yes if value − tolerance is; No if value + half + tolerance is
// not; else Unsure. Unsure too where q or least is not written, where months meet
// days, or where pressures do not both say the same of gauge and absolute. It
// panics on other dimensions.
func (q Quantity) AtLeast(least, tolerance Quantity) Tri {
	v, half, limit, t, ok := align(q, least, tolerance)
	if !ok {
		return Unsure
	}
	return judge(v, half, limit, t)
}

// AtMost says whether q is most or less: the mirror of AtLeast.
func (q Quantity) AtMost(most, tolerance Quantity) Tri {
	v, half, limit, t, ok := align(q, most, tolerance)
	if !ok {
		return Unsure
	}
	return judge(-v, half, -limit, t)
}

func judge(v, half, limit, tolerance float64) Tri {
	// A billionth bridges what a change of units rounds away; no reading is so fine.
	limit -= 1e-9 * math.Max(1, math.Abs(limit))
	switch {
	case v-tolerance >= limit:
		return Yes
	case v+half+tolerance < limit:
		return No
	}
	return Unsure
}

// align brings all to one unit, as numbers.
func align(q, limit, tolerance Quantity) (v, half, l, t float64, ok bool) {
	if !q.Written() || !limit.Written() {
		return 0, 0, 0, 0, false
	}
	if q.Dimension() != limit.Dimension() {
		panic(fmt.Sprintf("quantity: a %s compared with a %s", q.Dimension(), limit.Dimension()))
	}
	if q.Unit.calendar() != limit.Unit.calendar() {
		return 0, 0, 0, 0, false
	}
	if q.Dimension() == Pressure && (q.Ref == Unsaid || q.Ref != limit.Ref) {
		return 0, 0, 0, 0, false
	}
	u := q.Unit.canonical()
	v, l = q.In(u), limit.In(u)
	half = q.High(u) - v
	if tolerance.Written() {
		w := u
		if u == Celsius {
			w = KelvinD
		}
		t = math.Abs(tolerance.In(w))
	}
	return v, half, l, t, true
}
