package chain

import (
	"slices"

	"footing/internal/practice"
	"footing/internal/quantity"
)

// Around is what a failure could have reached. The wide window is by the strict rule:
// from the last strict spore test before the event, until the first of a run of them
// after it (see Terms.Ends). The narrow one lies within it: lenient spore tests count for both ends, and
// good loads for its beginning, unless the event is a spore test, which no physical
// record overrules. The zero Event is a failure that shows at the end of the audit day.
// Loads whose order to an end of a window cannot be told are inside.
func (h *History) Around(e Event) (wide, narrow Window) {
	at := h.at(e)
	strict, lenient := h.opens(at, e.Test == nil || e.Test.Type != "spore")
	var strictEnd, lenientEnd closing
	if at.until.at.Written() {
		strictEnd, lenientEnd = h.closes(e, at, &strict)
	}
	return h.window(at, &strict, &strictEnd), h.window(at, &lenient, &lenientEnd)
}

// at is where an event stands.
func (h *History) at(e Event) *witness {
	w := witness{day: h.p.AsOf}
	switch {
	case e.Test != nil:
		w = linker(h, h.p.LoadsOf(h.key))(e.Test)
	case e.Load != nil:
		w = h.ofLoad(e.Load)
	}
	return &w
}

// precedes reports whether evidence surely came before an event.
func (h *History) precedes(w, event *witness) bool {
	switch {
	case !event.from.at.Written(), w.first: // the end of the event's day; nothing can come before w
		return w.day <= event.day
	case !w.until.at.Written():
		return w.day < event.day
	}
	return h.before(w.until, event.from)
}

// last is the last day on which evidence can stand.
func (w *witness) last() quantity.Day { return max(w.day, w.until.at.Day()) }

// opens is where the two windows around an event begin.
func (h *History) opens(event *witness, physical bool) (wide, narrow opening) {
	take := func(o *opening, all []witness) {
		for i := range all {
			if h.precedes(&all[i], event) {
				o.add(&all[i])
			}
		}
	}
	take(&wide, h.strict)
	for _, all := range h.lesser {
		if wide.best == nil {
			take(&wide, all)
		}
	}
	var soft opening
	take(&soft, h.lenient)
	if physical {
		take(&soft, h.good)
	}
	return wide, wide.and(soft)
}

// closes is where they end: at the first of a run of strict tests, with no failed one
// that may lie between; at the first passed test.
func (h *History) closes(e Event, event *witness, from *opening) (wide, narrow closing) {
	var after []*witness
	for i := range h.strict {
		if w := &h.strict[i]; h.before(event.until, w.from) {
			after = append(after, w)
			narrow.add(w)
		}
	}
	for i := range h.lenient {
		if w := &h.lenient[i]; h.before(event.until, w.from) {
			narrow.add(w)
		}
	}
	sides := make([]string, len(after))
	for i, w := range after {
		sides[i] = h.side(w, e.Test)
	}
	for i, w := range after {
		run := 0
		for j, x := range after {
			if sides[j] == sides[i] && (i == j || !h.before(x.until, w.from)) {
				run++
			}
		}
		ends := h.terms.Ends(e)
		if h.failedIn(from, w) {
			ends = h.terms.Repeats
		}
		if !unclear(sides[i]) && run >= ends {
			wide.add(w)
		}
	}
	return wide, narrow
}

// failedIn reports whether a spore test may have failed between the beginning of a
// window and a test that passed.
func (h *History) failedIn(from *opening, passed *witness) bool {
	return slices.ContainsFunc(h.failed, func(f witness) bool {
		return !h.earlier(&f, from) && !h.before(passed.until, f.from)
	})
}

// earlier reports whether a test surely came before the beginning of a window.
func (h *History) earlier(w *witness, from *opening) bool {
	switch {
	case from.best == nil:
		return false
	case from.best.first || !from.best.from.at.Written():
		return w.last() < from.day
	}
	return h.before(w.until, from.best.from)
}

// Open is the first failed spore test of the sterilizer after which no run of passed
// ones is written that would end it; nil where there is none.
func (h *History) Open() *practice.Test {
	return h.open(func(t *practice.Test, _ Window) bool { return h.p.EquipmentOf(t) == h.key })
}

// OpenStray is Open for tests of which no sterilizer is told: they may be of this one,
// where something of it is written by then.
func (h *History) OpenStray() *practice.Test {
	return h.open(func(t *practice.Test, wide Window) bool {
		return h.p.EquipmentOf(t) != h.key && wide.From.Kind != NoProof && !wide.Unbegun
	})
}

func (h *History) open(counts func(t *practice.Test, wide Window) bool) (first *practice.Test) {
	var at *witness
	for i := range h.failed {
		w := &h.failed[i]
		t := w.proof.Assay.Test
		if at != nil && instant(at) <= instant(w) {
			continue
		}
		if wide, _ := h.Around(Event{Test: t}); wide.Until.Kind == NoProof && counts(t, wide) {
			first, at = t, w
		}
	}
	return first
}

// side says of each failed test but one whether it came before w, after it, or
// whether that cannot be told. Tests of one side have no failed one between them.
func (h *History) side(w *witness, but *practice.Test) string {
	var b []byte
	for i := range h.failed {
		f := &h.failed[i]
		switch {
		case f.proof.Assay.Test == but:
		case h.before(f.until, w.from):
			b = append(b, '<')
		case h.before(w.until, f.from):
			b = append(b, '>')
		default:
			b = append(b, '?')
		}
	}
	return string(b)
}

func unclear(side string) bool { return slices.Contains([]byte(side), '?') }

// window is the loads that evidence neither shows good before the event nor after, and
// the load that the event itself names.
func (h *History) window(event *witness, from *opening, until *closing) (w Window) {
	for _, l := range h.loads {
		inside := !h.shows(from, l) && !h.clears(until, l)
		if inside || event.named && slices.Contains(event.ran, l) {
			w.Loads = append(w.Loads, l)
		}
	}
	w.Unplaced, w.Days = h.count(w.Loads), -1
	w.Unbegun = from.best != nil && from.best.proof.Kind == Begun && from.day >= event.day
	end := h.p.AsOf
	if until.best != nil {
		w.Until = until.best.ends()
		end = w.Until.Day
	}
	if from.best != nil {
		w.From = from.best.begins()
		w.Days = int(end - w.From.Day)
	}
	return w
}
