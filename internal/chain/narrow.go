package chain

import (
	"cmp"
	"fmt"
	"slices"

	"footing/internal/practice"
)

// narrowings is how many are told.
const narrowings = 5

// Narrowings are records that, if they were found and written, would make the wide
// window around an event, or whom it reaches, smaller: at most five, best first.
func (h *History) Narrowings(e Event) []Narrowing {
	wide, _ := h.Around(e)
	base := Narrowing{Window: wide, Reach: ReachOfWindow(h.p, h.terms, wide)}
	all := h.ofTests(e, wide)
	if n, ok := h.ofPlaces(wide); ok {
		all = append(all, n)
	}
	for i := range all {
		all[i].Reach = ReachOfWindow(h.p, h.terms, all[i].Window)
	}
	all = append(all, h.ofPacks(base)...)
	all = slices.DeleteFunc(all, func(n Narrowing) bool { return !n.smaller(&base) })
	slices.SortStableFunc(all, func(a, b Narrowing) int { return slices.Compare(a.size(), b.size()) })
	if len(wide.Loads) == 0 {
		return all[:min(len(all), narrowings)]
	}
	return append(all[:min(len(all), narrowings-1)], unheard(wide))
}

// size is what narrowings are ordered by: clients, visits, loads, days.
func (n *Narrowing) size() []int {
	return []int{len(n.Reach.MostClients), len(n.Reach.Visits) + len(n.Reach.Possible), len(n.Window.Loads), n.Window.Days}
}

// smaller reports whether n is smaller than base in something, and larger in nothing.
func (n *Narrowing) smaller(base *Narrowing) bool {
	less := false
	b := base.size()
	for i, v := range n.size() {
		if v > b[i] {
			return false
		}
		less = less || v < b[i]
	}
	return less
}

// unheard is what to look for beside what is written: what it would bring cannot be told.
func unheard(wide Window) Narrowing {
	when := ""
	switch from, until := wide.From.Day, wide.Until.Day; {
	case from.Written() && wide.Until.Kind != NoProof:
		when = " run between " + from.Words() + " and " + until.Words()
	case from.Written():
		when = " run after " + from.Words()
	}
	return Narrowing{Kind: "tests", What: "reports of spore tests" + when + " that are not typed"}
}

// ofPlaces takes the loads that may be of another sterilizer as if they were.
func (h *History) ofPlaces(wide Window) (n Narrowing, ok bool) {
	if wide.Unplaced == 0 {
		return n, false
	}
	n = Narrowing{Kind: "loads", Field: "sterilizer", Window: wide,
		What: "which sterilizer " + counted(wide.Unplaced, "load was of", "loads were of")}
	n.Window.Loads = slices.DeleteFunc(slices.Clone(wide.Loads), func(l *practice.Load) bool { return h.unplaced[l] })
	n.Window.Unplaced = 0
	return n, true
}

// ofPacks takes what is not written of packs and their uses as if it were found, and
// were of other loads.
func (h *History) ofPacks(base Narrowing) []Narrowing {
	var blank []*practice.Visit // that name nothing, or too few
	var rest []*practice.Visit
	for _, v := range base.Reach.Possible {
		if len(v.Packs.Items) == 0 && len(v.Loads.Items) == 0 || namesTooFew(v) {
			blank = append(blank, v)
		} else {
			rest = append(rest, v)
		}
	}
	var all []Narrowing
	add := func(kind, field, what string, r Reach) {
		all = append(all, Narrowing{Kind: kind, Field: field, What: what, Window: base.Window, Reach: r})
	}
	if len(blank) > 0 {
		r := base.Reach
		r.Possible, r.MostClients = rest, clients(r.Visits, rest)
		add("visits", "packs", "the pack numbers of "+counted(len(blank), "visit that does not name them", "visits that do not name them"), r)
	}
	again := newReaching(h.p, h.terms)
	again.told = true
	if n := len(again.lost()); n > 0 {
		add("packs", "load", "the load that "+counted(n, "pack came from", "packs came from"), again.ofWindow(base.Window))
	}
	again = newReaching(h.p, h.terms)
	gone := 0
	again.found = func(f *Fate) bool {
		here := !f.Shared && (f.Where == NotWritten || f.Where == OnShelf && f.Pack.CountedOn < h.p.AsOf)
		if here {
			gone++
		}
		return here
	}
	if r := again.ofWindow(base.Window); gone > 0 {
		add("packs", "counted_on", "whether "+counted(gone, "pack still stands on a shelf", "packs still stand on a shelf"), r)
	}
	return all
}

// counted is a number with the word for one or for several.
func counted(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprint(n, " ", many)
}

// byWindow orders narrowings before it is known whom they reach.
func byWindow(a, b Narrowing) int {
	return cmp.Or(cmp.Compare(len(a.Window.Loads), len(b.Window.Loads)), cmp.Compare(a.Window.Days, b.Window.Days))
}
