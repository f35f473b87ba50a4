package audit

import (
	"slices"
	"strings"

	"footing/internal/quantity"
)

// baseline lists the shipped values in whose place one of a practice's own is put:
// the one that holds in the same circumstances, and those of cases that it takes
// in. They are the baseline set's; where it is silent the foot-care list's, else
// the first other set's that speaks.
func (c *criterion) baseline(when When) (held []Criterion) {
	for _, set := range append([]string{Baseline, FootCare}, setOrder...) {
		var of []Criterion
		for _, v := range c.values {
			if v.Set == set {
				of = append(of, v)
			}
		}
		if v, ok := closest(of, when); ok {
			held = append(held, v)
		}
		for _, v := range of {
			if !covers(v.When, when) && meet(v.When, when) {
				held = append(held, v)
			}
		}
		if len(held) > 0 {
			return held
		}
	}
	return nil
}

// meet reports whether some case can have the circumstances of both.
func meet(a, b When) bool {
	for k, v := range a {
		if w, ok := b[k]; ok && w != v {
			return false
		}
	}
	return true
}

// listed is several values in words, each with its circumstances; one stands alone.
func listed(values []Criterion) string {
	if len(values) == 1 {
		return values[0].Value()
	}
	var parts []string
	for _, v := range values {
		parts = append(parts, v.Value()+forCase(v.When))
	}
	return strings.Join(parts, "; ")
}

func forCase(w When) string {
	if len(w) == 0 {
		return ""
	}
	return " (" + w.String() + ")"
}

// looser reports whether ours asks for less than theirs.
func looser(stricter string, ours, theirs value) bool {
	switch stricter {
	case "superset":
		for _, word := range theirs.items {
			if !slices.Contains(ours.items, word) {
				return true
			}
		}
		return false
	case "higher", "lower":
		return less(ours, theirs, stricter == "higher")
	}
	return false
}

// less compares two values of one form; where higher is stricter, ours is looser
// if it is smaller. A table is looser where, at
// some temperature, it asks for less or accepts what theirs does not.
func less(ours, theirs value, higher bool) bool {
	smaller := func(a, b float64) bool { return higher && a < b || !higher && a > b }
	switch ours.form {
	case "number":
		return smaller(ours.number, theirs.number)
	case "yes-no":
		return higher && theirs.yes && !ours.yes || !higher && ours.yes && !theirs.yes
	case "table":
		mine, shipped := Criterion{value: ours}, Criterion{value: theirs}
		return slices.ContainsFunc(slices.Concat(ours.table, theirs.table), func(s step) bool {
			_, a, ok := mine.At(s.at)
			_, b, asked := shipped.At(s.at)
			return ok && (!asked || smaller(seconds(a), seconds(b)))
		})
	case "limit":
		if ours.endless || theirs.endless {
			return !higher && ours.endless && !theirs.endless || higher && theirs.endless && !ours.endless
		}
		return smaller(seconds(ours.quantity), seconds(theirs.quantity))
	case "span":
		return smaller(seconds(ours.quantity), seconds(theirs.quantity))
	case "temperature":
		return smaller(ours.quantity.In(quantity.Celsius), theirs.quantity.In(quantity.Celsius))
	case "difference":
		return smaller(ours.quantity.In(quantity.KelvinD), theirs.quantity.In(quantity.KelvinD))
	case "length":
		return smaller(ours.quantity.In(quantity.Metre), theirs.quantity.In(quantity.Metre))
	case "percent":
		return smaller(ours.quantity.Value, theirs.quantity.Value)
	}
	return false
}

// seconds makes any two spans comparable for "looser" alone; months count as
// the days that they have on average.
func seconds(q quantity.Quantity) float64 {
	const day = 24 * 60 * 60
	switch q.Unit {
	case quantity.Month:
		return q.Value * day * 365.25 / 12
	case quantity.Year:
		return q.Value * day * 365.25
	}
	return q.In(quantity.Second)
}
