package chain

import (
	"cmp"
	"slices"
	"sort"

	"footing/internal/practice"
	"footing/internal/quantity"
)

// step is a window as it begins from one day until the next step: its loads reach
// to the eve of that.
type step struct {
	day   quantity.Day
	from  Proof
	loads []*practice.Load
	loose []int // of that many first loads, how many may be of another sterilizer; nil for none
}

// On is what a failure that shows at the end of a day could have reached until then.
// It is quick enough to be asked for each day of many years.
func (h *History) On(day quantity.Day) (wide, narrow Window) {
	return on(h.wide, day), on(h.narrow, day)
}

func on(steps []step, day quantity.Day) (w Window) {
	i := sort.Search(len(steps), func(i int) bool { return steps[i].day > day }) - 1
	if i < 0 {
		return Window{Days: -1}
	}
	s := &steps[i]
	n := since(s.loads, day.AddDays(1))
	w = Window{From: s.from, Loads: s.loads[:n:n], Days: int(day - s.from.Day)}
	if s.loose != nil {
		w.Unplaced = s.loose[n]
	}
	return w
}

// dated is evidence with its level: 0 for strict tests, more for what is taken where
// there is none, below 0 for what only the narrow window counts.
type dated struct {
	*witness
	level int
}

func (h *History) byDay(soft bool) (all []dated) {
	take := func(list []witness, level int) {
		for i := range list {
			all = append(all, dated{&list[i], level})
		}
	}
	take(h.strict, 0)
	for i, list := range h.lesser {
		take(list, i+1)
	}
	if soft {
		take(h.lenient, -1)
		take(h.good, -1)
	}
	slices.SortStableFunc(all, func(a, b dated) int { return cmp.Compare(a.last(), b.last()) })
	return all
}

// steps goes through the evidence by day and keeps where the window begins from each.
func (h *History) steps(narrow bool) (steps []step) {
	levels := make([]opening, len(h.lesser)+1)
	var soft opening
	all := h.byDay(narrow)
	for i, d := range all {
		if d.level < 0 {
			soft.add(d.witness)
		} else {
			levels[d.level].add(d.witness)
		}
		next := h.p.AsOf.AddDays(1)
		if i+1 < len(all) {
			next = all[i+1].last()
		}
		if next == d.last() {
			continue
		}
		o := soft
		if k := slices.IndexFunc(levels, func(o opening) bool { return o.best != nil }); k >= 0 {
			o = levels[k].and(soft)
		}
		steps = append(steps, h.step(d.last(), next, &o))
	}
	return steps
}

// step is the window that begins with o, for the days from day to the eve of next.
func (h *History) step(day, next quantity.Day, o *opening) step {
	s := step{day: day, from: o.best.begins()}
	first, end := since(h.loads, o.day), since(h.loads, next)
	for _, l := range h.loads[first:max(first, end)] {
		if !h.shows(o, l) {
			s.loads = append(s.loads, l)
		}
	}
	if len(h.unplaced) > 0 {
		s.loose = make([]int, len(s.loads)+1)
		for i := range s.loads {
			s.loose[i+1] = s.loose[i] + h.count(s.loads[i:i+1])
		}
	}
	return s
}
