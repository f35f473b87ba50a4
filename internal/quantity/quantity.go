package quantity

import (
	"math"
	"strconv"
)

// Quantity is a value as written: the number, half of its last digit, both in
// Unit, and for a pressure what it counts from. The zero value means not written.
type Quantity struct {
	Value, Half float64
	Unit        Unit
	Ref         Reference
}

// Fallback is the unit, and for pressures the reference, of a bare number.
type Fallback struct {
	Unit Unit
	Ref  Reference
}

// Exact returns v in unit u, without the doubt of a last digit.
func Exact(v float64, u Unit) Quantity { return Quantity{Value: v, Unit: u} }

// Parse reads a value of dimension d as people write it: "121 °C", "3,5 min",
// "15 psig", "2 h 30 min", "75%". A bare number takes the fallback; a value with
// a unit of its own ignores it, so that a pressure with a unit but without gauge
// or absolute stays Unsaid. The error is an *Error: no unit and no fallback, a
// unit of another dimension, a number that could mean two, or anything left over.
func Parse(s string, d Dimension, fallback Fallback) (Quantity, error) {
	t := trim(s)
	if t == "" {
		return Quantity{}, &Error{Found: s, Why: "is empty", Allowed: allowed[d], Todo: "write a number with its unit, or leave it out"}
	}
	if d == Span {
		return parseSpan(s, t, fallback)
	}
	n, rest, why, todo := scan(t)
	if why != "" {
		return Quantity{}, unread(s, why, todo, d)
	}
	var u Unit
	var r Reference
	if rest != "" {
		var ok bool
		if u, r, ok = unitOf(rest, d); !ok {
			return Quantity{}, unknownUnit(s, rest, n.text, d)
		}
	}
	if u == NoUnit && d != Plain {
		var err error
		if u, r, err = fallback.fill(s, rest, n, r, d); err != nil {
			return Quantity{}, err
		}
	}
	q := Quantity{Value: n.value(), Half: n.half(), Unit: u, Ref: r}
	if why := q.impossible(); why != "" {
		return Quantity{}, &Error{Found: s, Why: why, Todo: "look at what the paper says"}
	}
	return q, nil
}

// fill gives a bare number its unit. r is what was said with it ("15 gauge").
func (f Fallback) fill(s, rest string, n decimal, r Reference, d Dimension) (Unit, Reference, error) {
	u := f.Unit
	if d == Difference {
		u = asDifference(u)
	}
	if u == NoUnit || u > lastUnit || u.Dimension() != d {
		if rest != "" && d == Temperature {
			return 0, 0, unknownUnit(s, "°", n.text, d)
		}
		todo := "write the unit with it, as in " + n.text + example[d] + ", or once in the heading"
		if d == Pressure {
			todo = pressureTodo + ", or once in the heading"
		}
		return 0, 0, &Error{Found: s, Why: "has no unit", Allowed: allowed[d], Todo: todo}
	}
	if d != Pressure {
		return u, Unsaid, nil
	}
	if r == Unsaid {
		r = f.Ref
	}
	return u, r, nil
}

func unread(s, why, todo string, d Dimension) error {
	if todo == "" {
		todo = "write one number with its unit, as in 30" + example[d]
		switch d {
		case Plain:
			todo = "write one number"
		case Pressure:
			todo = pressureTodo
		}
	}
	return &Error{Found: s, Why: why, Allowed: allowed[d], Todo: todo}
}

// impossible says in words why no such value can have been read off anything.
func (q Quantity) impossible() string {
	switch q.Dimension() {
	case Temperature:
		if q.High(Celsius) < -273.15 {
			return "is colder than anything can be"
		}
	case Pressure:
		if q.Ref == Absolute && q.Value+q.Half < 0 {
			return "is below nought, which an absolute pressure cannot be"
		}
	case Span, Percent:
		if q.Value < 0 {
			return "is below nought"
		}
	}
	return ""
}

// Written reports whether there is a value at all.
func (q Quantity) Written() bool { return q != Quantity{} }

// Dimension returns what the quantity measures; of one not written, Plain.
func (q Quantity) Dimension() Dimension { return q.Unit.Dimension() }

// In returns the value in unit u. Gauge and absolute are not converted. It
// panics where u is of another dimension, and between months or years and
// spans of a fixed length.
func (q Quantity) In(u Unit) float64 { return convert(q.Value, q.Unit, u) }

// Low returns the least value the writing can stand for, in u; High the
// greatest. "121 °C" is 120.5 to 121.5 °C. They panic as In does.
func (q Quantity) Low(u Unit) float64 { return convert(q.Value-q.Half, q.Unit, u) }

// High is told at Low.
func (q Quantity) High(u Unit) float64 { return convert(q.Value+q.Half, q.Unit, u) }

// places returns how many decimals were written, from Half; -1 for an exact value.
func (q Quantity) places() int {
	if q.Half <= 0 {
		return -1
	}
	for i := range powers {
		if q.Half >= 0.4/powers[i] {
			return i
		}
	}
	return mostDigits
}

// String prints the quantity as written, in the spelling that all units share:
// "121 °C", "205 kPa absolute", "2 h 30 min", "" where nothing is written. What
// Parse read prints to something that Parse reads to the same quantity.
func (q Quantity) String() string {
	if !q.Written() {
		return ""
	}
	if q.Unit >= firstMixed && q.Unit <= lastUnit {
		return q.mixedString()
	}
	b := make([]byte, 0, 32)
	v := q.Value
	b = strconv.AppendFloat(b, math.Abs(v), 'f', q.places(), 64)
	if v < 0 {
		b = append([]byte{'-'}, b...)
	}
	if q.Unit == NoUnit {
		return string(b)
	}
	b = append(b, ' ')
	if v == 1 {
		b = append(b, units[min(q.Unit, lastUnit)].name...)
	} else {
		b = append(b, q.Unit.String()...)
	}
	if q.Ref != Unsaid {
		b = append(b, ' ')
		b = append(b, q.Ref.String()...)
	}
	return string(b)
}
