package chain

import (
	"cmp"
	"fmt"
	"slices"
	"sort"

	"footing/internal/practice"
)

// ofTests takes each spore test that would be a strict one, were all of it written,
// as if it were; the few best, without whom they reach.
func (h *History) ofTests(e Event, wide Window) (all []Narrowing) {
	maybes := h.maybes(e)
	from, until := h.ends(e)
	for _, m := range maybes {
		if f, u := h.plus(m).ends(e); f.same(&from) && u.same(&until) {
			continue // the window would stay as it is, and need not be counted
		}
		n := m.Narrowing
		n.Window = h.with(e, m)
		if byWindow(n, Narrowing{Window: wide}) < 0 {
			all = append(all, n)
		}
	}
	if n, ok := h.ofRun(e, wide, maybes); ok {
		all = append(all, n)
	}
	slices.SortStableFunc(all, byWindow)
	return all[:min(len(all), narrowings)]
}

// with is the wide window around an event as it were, if tests were strict ones.
func (h *History) with(e Event, maybes ...maybe) Window {
	wide, _ := h.plus(maybes...).Around(e)
	return wide
}

// plus is the history as it were, if tests were strict ones.
func (h *History) plus(maybes ...maybe) *History {
	with := *h
	with.strict = slices.Clone(h.strict)
	for _, m := range maybes {
		with.strict = append(with.strict, m.witness)
	}
	return &with
}

// ends is where the wide window around an event begins and ends.
func (h *History) ends(e Event) (from opening, until closing) {
	at := h.at(e)
	from, _ = h.opens(at, false)
	if at.until.at.Written() {
		until, _ = h.closes(e, at, &from)
	}
	return from, until
}

// ofRun takes the first tests after an event together: where no one of them ends its
// window, a run of them may.
func (h *History) ofRun(e Event, wide Window, maybes []maybe) (n Narrowing, ok bool) {
	at := h.at(e)
	if wide.Until.Kind != NoProof || !at.until.at.Written() {
		return n, false
	}
	var after []maybe
	for _, m := range maybes {
		if h.before(at.until, m.from) {
			after = append(after, m)
		}
	}
	slices.SortStableFunc(after, func(a, b maybe) int { return cmp.Compare(instant(&a.witness), instant(&b.witness)) })
	many := sort.Search(len(after), func(i int) bool { return h.with(e, after[:i+1]...).Until.Kind != NoProof }) + 1
	if many == 1 || many > len(after) {
		return n, false
	}
	run := after[:many]
	n = Narrowing{Kind: "tests", Field: "control", Window: h.with(e, run...), What: fmt.Sprintf("what is not written of the %d spore tests run from %s to %s",
		many, run[0].day.Words(), run[many-1].day.Words())}
	return n, true
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
