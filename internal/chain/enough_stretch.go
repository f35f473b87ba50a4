package chain

import (
	"cmp"
	"math"
	"slices"

	"footing/internal/practice"
)

// settle balances one stretch; next is the count that ends it, nil without one.
func (s *part) settle(g *packing, r *Rack, tallies []*tally, next *tally) *Stretch {
	out := &Stretch{From: s.from, Until: s.until, Opening: OpenCounted}
	if s.tally != nil {
		out.Open, out.Counts, out.Lost = s.open, s.rows, s.lost
	} else {
		out.opened(g, r, tallies)
	}
	uses := s.uses(out)
	sure, waiting := s.supplies(out)
	if out.Opening == OpenUnknown {
		return out
	}
	all := append(slices.Clone(sure), waiting...)
	tight := shortfall(cancelled(sure, s.gone), uses)
	if out.Tight = tight.Least; tight.Least == 0 {
		return out
	}
	// What a count found beyond all that is written was there at some time: in favour,
	// from the start.
	all = cancelled(all, s.gone)
	out.Found = s.found(all, uses, tallies, next)
	all = append(all, supply{math.MinInt64, out.Found})
	out.Waiting = len(waiting) > 0
	short := shortfall(all, uses)
	out.short(short, s, uses)
	out.Short.Firm = short.Least > 0 && s.firm(append(sure, waiting...), out.Found) >= short.Least
	day := s.until
	if short.Least > 0 {
		day = s.drawings[short.Falls[0]].day
	}
	out.Covered = g.p.Whole("loads", s.first(), day) && (!g.bought || g.p.Whole("stock", s.first(), day))
	return out
}

// opened says what the first stretch starts with.
func (out *Stretch) opened(g *packing, r *Rack, tallies []*tally) {
	if out.Opening = g.opening; g.opening != OpenGreatest {
		return
	}
	n, ok := g.greatest(r, tallies)
	if !ok {
		out.Opening = OpenUnknown
		return
	}
	out.Open = n
	for _, t := range tallies {
		out.Counts = append(out.Counts, t.rows...)
	}
}

// uses are the packs of each visit, by the time of use; those of several sets are
// one visit's.
func (s *part) uses(out *Stretch) (uses []use) {
	merged := s.drawings[:0]
	for _, d := range s.drawings {
		if last := len(merged) - 1; last >= 0 && merged[last].visit == d.visit {
			merged[last].n += d.n
			merged[last].traced = merged[last].traced && d.traced
			continue
		}
		merged = append(merged, d)
	}
	slices.SortStableFunc(merged, func(a, b drawing) int { return cmp.Compare(a.at, b.at) })
	s.drawings = merged
	uses, out.Visits = make([]use, 0, len(merged)), make([]*practice.Visit, 0, len(merged))
	for _, d := range merged {
		uses = append(uses, use{d.at, d.n})
		out.Visits = append(out.Visits, d.visit)
		out.Packs += d.n
	}
	return uses
}

// supplies are the packs of the stretch: those that are sure, and those of loads that
// still wait for their release.
func (s *part) supplies(out *Stretch) (sure, waiting []supply) {
	sure = []supply{{math.MinInt64, out.Open}}
	for _, m := range s.makings {
		if m.n >= endless && m.load != nil {
			out.Untold = append(out.Untold, m.load)
		}
		if m.waits {
			waiting = append(waiting, supply{m.first, m.n})
		} else {
			sure = append(sure, supply{m.first, m.n})
		}
	}
	return sure, waiting
}

// found is how many packs counts found beyond what is written: what they counted,
// less what was there then by all rows; the most that any count found. Where by the
// rows nothing was left, or less, all that was counted was found.
func (s *part) found(supplies []supply, uses []use, tallies []*tally, next *tally) (n int) {
	slices.SortStableFunc(supplies, func(a, b supply) int { return cmp.Compare(a.at, b.at) })
	had, used, i, j := 0, 0, 0, 0
	for _, t := range tallies {
		if t.day <= s.from && s.tally != nil || t.day < s.from || t.day > s.until || t.full && t != next {
			continue
		}
		for ; i < len(supplies) && supplies[i].at <= t.end; i++ {
			had = min(had+supplies[i].n, endless)
		}
		for ; j < len(uses) && s.drawings[j].day <= t.day; j++ {
			used += uses[j].n
		}
		n = max(n, t.n-max(0, had-used))
	}
	return n
}

// firm is the least number of visits that cannot all have had their packs where each
// whose every pack leads to a load had them: then these were there, and no other visit
// used them.
func (s *part) firm(supplies []supply, found int) int {
	gone, uses := slices.Clone(s.gone), []use(nil)
	for _, d := range s.drawings {
		if d.traced {
			gone = append(gone, use{d.at, d.n})
		} else {
			uses = append(uses, use{d.at, d.n})
		}
	}
	return shortfall(append(cancelled(supplies, gone), supply{math.MinInt64, found}), uses).Least
}

func (out *Stretch) short(d deficit, s *part, uses []use) {
	out.Short = Short{Least: d.Least, Used: d.Used, Had: d.Had}
	if d.Least == 0 {
		return
	}
	for _, i := range d.Falls {
		out.Short.Falls = append(out.Short.Falls, s.drawings[i].visit)
	}
	at := uses[d.Falls[0]].at
	out.Short.By = d.Falls[0] + 1
	var last *making
	for _, m := range s.makings {
		if m.load != nil && m.first <= at && (last == nil || m.first >= last.first) {
			last = m
		}
	}
	if last != nil {
		out.Short.Last = last.load
	}
}
