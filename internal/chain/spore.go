package chain

import (
	"footing/internal/practice"
	"footing/internal/quantity"
)

// Worth is how far a spore test shows that a sterilizer killed spores on its day.
type Worth uint8

// Worths, least first.
const (
	Nothing Worth = iota // failed, pending or no result; or something written takes the pass away
	Lenient              // passed, and nothing written speaks against it, but something is not written
	Strict               // passed, read after its time where times are written, its control grew, same lot, in date
)

// Assay is one spore test with what it shows.
type Assay struct {
	Test  *practice.Test
	Worth Worth
	// Against is what takes a pass away, or keeps it from counting under the strict
	// rule: something that is written. Lacking is what is not written. Both in words
	// that follow "passed, but": "its control did not grow", "whether its control grew
	// is not written". Field names the field of tests that each is about.
	Against, Lacking []Doubt
}

// Doubt is one thing that a test leaves open, or is against it.
type Doubt struct{ Field, Why string }

// AssayOf judges a spore test by battery.md's rule: a passed, read spore test with a
// growing control of the same lot, in date. "Not written" is not "not run". A test
// that a laboratory reported, and nobody here read, has the laboratory's own control.
func AssayOf(t *practice.Test) (a Assay) {
	a.Test = t
	if t.Type != "spore" || t.Result != "pass" {
		return a
	}
	against := func(field, why string) { a.Against = append(a.Against, Doubt{field, why}) }
	lacking := func(field, why string) { a.Lacking = append(a.Lacking, Doubt{field, why}) }
	mailed := t.ReportedOn.Written() && !t.ReadAt.Written() && t.Control == ""
	gone := false
	switch {
	case t.Control == "no-growth":
		gone = true
		against("control", "its control did not grow, so its spores may have been dead before the cycle")
	case t.Control == "not-run":
		against("control", "it was run without a control, as written")
	case t.Control == "" && !mailed:
		lacking("control", "whether its control grew is not written")
	}
	if t.Lot != "" && t.ControlLot != "" && fold(t.Lot) != fold(t.ControlLot) {
		gone = true
		against("control_lot", "its control was of another lot")
	}
	if t.LotExpiresOn.Written() && t.RunAt.Day() > t.LotExpiresOn {
		against("lot_expires_on", "its lot was past its date when it was run")
	}
	if readEarly(t) == quantity.Yes {
		gone = true
		against("read_at", "it was read before its time, so slow growth may have been missed")
	}
	switch {
	case gone:
	case len(a.Against) > 0 || len(a.Lacking) > 0:
		a.Worth = Lenient
	default:
		a.Worth = Strict
	}
	return a
}

// readEarly says whether a result was read before the time that the test asks for.
func readEarly(t *practice.Test) quantity.Tri {
	from := t.IncubatedAt
	if !from.Written() {
		from = t.RunAt
	}
	if !t.ReadAt.Written() || !t.ReadAfter.Written() {
		return quantity.Unsure
	}
	switch u := t.ReadAfter.Unit; {
	case u == quantity.Month || u == quantity.Year:
		return quantity.Unsure
	}
	least := int64(t.ReadAfter.Low(quantity.Second))
	switch {
	case t.ReadAt.Last() < from.First()+least:
		return quantity.Yes
	case t.ReadAt.First() >= from.Last()+least:
		return quantity.No
	}
	return quantity.Unsure
}

// Known is the day on which a test's result was known here: read, else reported; not
// written where neither is.
func Known(t *practice.Test) quantity.Day {
	if t.ReadAt.Written() {
		return t.ReadAt.Day()
	}
	return t.ReportedOn
}
