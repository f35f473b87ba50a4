package chain

import (
	"cmp"
	"slices"

	"footing/internal/practice"
)

// ofTests takes each spore test that would be a strict one, were all of it written,
// as if it were; the few best, without whom they reach.
func (h *History) ofTests(e Event, wide Window) (all []Narrowing) {
	for _, m := range h.maybes(e) {
		with := *h
		with.strict = append(slices.Clone(h.strict), m.witness)
		n := m.Narrowing
		n.Window, _ = with.Around(e)
		if byWindow(n, Narrowing{Window: wide}) < 0 {
			all = append(all, n)
		}
	}
	slices.SortStableFunc(all, byWindow)
	return all[:min(len(all), narrowings)]
}

// maybe is a test that would be a strict one, were it written.
type maybe struct {
	Narrowing
	witness
}

// maybes lists such tests. Of those before the event only the last can make the window
// smallest; twice as many as are told leaves room for those of one day.
func (h *History) maybes(e Event) (all []maybe) {
	find, at := linker(h, h.p.LoadsOf(h.key)), h.at(e)
	var before []maybe
	for i := range h.p.Tests {
		t := &h.p.Tests[i]
		of := h.p.EquipmentOf(t)
		if t == e.Test || t.Type != "spore" || of != h.key && h.named(of) || AssayOf(t).Worth == Strict && of == h.key {
			continue
		}
		a, field, what, ok := written(t, of == h.key)
		if !ok {
			continue
		}
		m := maybe{Narrowing{Kind: "tests", Field: field, Row: &t.Row, What: what + " the spore test run on " + t.RunAt.Words()}, find(t).of(&a)}
		if of != h.key {
			m.What += " was of"
		}
		if h.precedes(&m.witness, at) {
			before = append(before, m)
		} else {
			all = append(all, m)
		}
	}
	slices.SortStableFunc(before, func(a, b maybe) int {
		return cmp.Or(cmp.Compare(b.day, a.day), rank(&b.witness, &a.witness))
	})
	return append(all, before[:min(len(before), 2*narrowings)]...)
}

// written is a test as if what is not written of it were, and well: what it would
// show, the field to fill and what to look for. Of a test that may be of another
// sterilizer no more than that may be missing.
func written(t *practice.Test, placed bool) (a Assay, field, what string, ok bool) {
	if !placed {
		a = AssayOf(t)
		return a, "equipment", "which sterilizer", a.Worth == Strict
	}
	full := *t
	if t.Result == "" || t.Result == "pending" {
		full.Result, field, what = "pass", "result", "the result of"
	}
	if lacking := AssayOf(&full).Lacking; len(lacking) > 0 && full.Control == "" {
		full.Control = "growth"
		if field == "" {
			field, what = "control", "the control's result of"
		} else {
			what = "the result, and the control's, of"
		}
	}
	a = AssayOf(&full)
	a.Test = t
	return a, field, what, a.Worth == Strict && field != ""
}
