package audit

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"footing/internal/quantity"
)

// When names the circumstances of a case, as criteria name theirs: "wrapped": "yes".
type When map[string]string

// String is the circumstances in a fixed order: "air_removal=gravity, wrapped=yes".
func (w When) String() string {
	var parts []string
	for _, k := range slices.Sorted(maps.Keys(w)) {
		parts = append(parts, k+"="+w[k])
	}
	return strings.Join(parts, ", ")
}

// Criterion is one requirement as one rule set has it for some circumstances.
type Criterion struct {
	ID       string
	Set      string // rule set, or Yours for the practice's own
	When     When
	Level    string // must or should
	Known    string // read, computed, memory, or local for the practice's own
	Source   string // id in sources.yaml; for the practice's own, the source as written
	Section  string
	Text     string // our wording
	Stricter string // higher, lower, superset or none
	value    value
}

// Yours names the rule set of rules.yaml.
const Yours = "your rule"

// value is a criterion's value in one of its forms.
type value struct {
	form     string // span, limit, temperature, difference, percent, length, number, list, yes-no, table
	quantity quantity.Quantity
	number   float64
	items    []string
	text     string
	yes      bool
	endless  bool // of a limit
	table    []step
}

// step is one row of a table: from this temperature on, this much.
type step struct{ at, value quantity.Quantity }

// Quantity is the value of a span, temperature, difference or percent criterion.
func (c Criterion) Quantity() quantity.Quantity {
	c.must("span", "temperature", "difference", "percent", "length")
	return c.value.quantity
}

// Limit is the value of a limit criterion: a span that may be "same day", which
// is 0 d, or no limit at all.
func (c Criterion) Limit() (span quantity.Quantity, limited bool) {
	c.must("limit")
	return c.value.quantity, !c.value.endless
}

// Number is the value of a number criterion.
func (c Criterion) Number() float64 { c.must("number"); return c.value.number }

// Items are the words of a list criterion.
func (c Criterion) Items() []string { c.must("list"); return c.value.items }

// Has reports whether a list criterion holds the word.
func (c Criterion) Has(word string) bool { return slices.Contains(c.Items(), word) }

// Yes is the value of a yes-no criterion.
func (c Criterion) Yes() bool { c.must("yes-no"); return c.value.yes }

// At looks a table up: the row with the greatest temperature not above q as
// written, never interpolated. False when the table starts above q.
func (c Criterion) At(q quantity.Quantity) (at, value quantity.Quantity, ok bool) {
	c.must("table")
	for _, s := range c.value.table {
		if s.at.In(q.Unit) <= q.Value {
			at, value, ok = s.at, s.value, true
		}
	}
	return at, value, ok
}

// Steps are the rows of a table criterion, coolest first.
func (c Criterion) Steps() (rows [][2]quantity.Quantity) {
	c.must("table")
	for _, s := range c.value.table {
		rows = append(rows, [2]quantity.Quantity{s.at, s.value})
	}
	return rows
}

func (c Criterion) must(forms ...string) {
	if !slices.Contains(forms, c.value.form) {
		panic(fmt.Sprintf("criterion %s is a %s", c.ID, c.value.form))
	}
}

// Value is the value in words, as reports print it.
func (c Criterion) Value() string { return c.value.String() }

func (v value) String() string {
	switch v.form {
	case "number":
		return fmt.Sprintf("%g", v.number)
	case "list":
		return strings.Join(v.items, ", ")
	case "limit":
		return v.text
	case "yes-no":
		if v.yes {
			return "yes"
		}
		return "no"
	case "table":
		var rows []string
		for _, s := range v.table {
			rows = append(rows, s.value.String()+" at "+s.at.String())
		}
		return strings.Join(rows, ", ")
	}
	return v.quantity.String()
}
