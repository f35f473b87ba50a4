package record

import (
	"cmp"
	"errors"

	"footing/internal/quantity"
)

// toQuantity takes a number with its unit, or a bare number where the heading or the
// practice gives the unit. A pressure that does not say gauge or absolute takes it from there too.
func (l *lane) toQuantity(dst *quantity.Quantity, sh shape, text string) *fault {
	if sh != isText && sh != isNumber {
		return l.refused(plainValue(sh, text), text)
	}
	if l.unsaid(text) {
		return nil
	}
	given := l.unit
	if given.Unit == quantity.NoUnit {
		given = l.sheet.set.units.fallback(l.col.dim)
	}
	q, err := quantity.Read(text, l.col.dim, given)
	if err != nil {
		return l.unread(err, text)
	}
	if q.Dimension() == quantity.Temperature && q.Low(quantity.Celsius) > hottest {
		return l.fault("too-hot", text, "is hotter than anything here can be").do("look whether a nought stands where the sign of degrees was meant, as in 121 °C")
	}
	if q.Dimension() == quantity.Pressure && q.Ref == quantity.Unsaid {
		q.Ref = cmp.Or(l.unit.Ref, l.sheet.set.units.Reference) // what the dial shows, in whatever unit
	}
	if l.unit.Unit != quantity.NoUnit {
		if q.Unit.String() != l.unit.Unit.String() || l.unit.Ref != quantity.Unsaid && q.Ref != l.unit.Ref {
			return l.fault("unit-clash", text, "does not agree with the heading, which says "+l.unitText).
				do("look at the original and correct the one that is wrong")
		}
	}
	if s := q.String(); !l.col.judge.word(s) {
		return l.refused(s, text)
	}
	*dst = q
	return nil
}

// hottest in °C: above what any sterilizer or oven of a practice reaches. "1210C" is 121 °C
// with a nought for its sign. Common practice, no source.
const hottest = 500

// fallback is what practice.units gives to bare numbers of a dimension.
func (u Units) fallback(d quantity.Dimension) quantity.Fallback {
	switch d {
	case quantity.Temperature, quantity.Difference:
		return quantity.Fallback{Unit: u.Temperature}
	case quantity.Pressure:
		return quantity.Fallback{Unit: u.Pressure, Ref: u.Reference}
	}
	return quantity.Fallback{}
}

// example units to show for each dimension, and where practice can give it once for all.
var unitHints = map[quantity.Dimension]struct{ unit, practice string }{
	quantity.Temperature:  {"°C", "temperature"},
	quantity.Difference:   {"K", "temperature"},
	quantity.PressureRate: {"mbar/min", ""},
	quantity.Span:         {"min", ""},
	quantity.Length:       {"m", ""},
	quantity.Percent:      {"%", ""},
}

const (
	noUnit   = "has no unit"
	noNumber = "does not begin with a number"
)

// unread makes a fault of what quantity says about a text.
func (l *lane) unread(err error, text string) *fault {
	var wrong *quantity.Error
	if !errors.As(err, &wrong) {
		return l.fault("unreadable", text, "cannot be read")
	}
	f := l.fault(slug(wrong.Why), text, wrong.Why).allow(wrong.Allowed).do(wrong.Todo)
	if hint, ok := unitHints[l.col.dim]; ok && wrong.Why == noNumber {
		return f.do("look at what the paper says, and write one number with its unit, in the form 1 " + hint.unit)
	}
	if l.col.dim == quantity.Pressure && wrong.Why == noUnit {
		return f.do(`write the unit, and gauge or absolute as the dial shows, in the form "1.05 bar gauge"; or once in the heading, in the form "` + l.plainHeading() + ` [bar gauge]", or in the practice file at units, pressure`)
	}
	if hint, ok := unitHints[l.col.dim]; ok && wrong.Why == noUnit {
		f.do(`write the unit that was meant, as in "` + text + " " + hint.unit + `", or put it in the heading as "` + l.plainHeading() + " [" + hint.unit + `]"`)
		if hint.practice != "" {
			f.do(f.todo + `, or once in the practice file at units, ` + hint.practice)
		}
	}
	return f
}

// unitOf finds the unit that a heading gives in brackets.
func unitOf(inside string, d quantity.Dimension) (quantity.Fallback, bool) {
	u, ref, err := quantity.ParseUnit(inside, d)
	return quantity.Fallback{Unit: u, Ref: ref}, err == nil
}
