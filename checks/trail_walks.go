package checks

import (
	"cmp"
	"slices"
	"strings"

	"footing/internal/audit"
	"footing/internal/chain"
	"footing/internal/practice"
)

// TrailWalks draws one pack and one visit, as an inspector would, starting from the
// seed of the examination, and follows each. The pack is one that is closed still, as
// far as is written, else any; the visit is one of those that TrailDraw draws from, of
// the last week in which there is one.
func TrailWalks(x *audit.Examination) (w audit.Walks) {
	r := &trailRun{Examination: x}
	follower := chain.Follow(x.P, trailTerms(x))
	packs, of := trailDrawer(x.P)
	w.Packs, w.PackOf = len(packs), of
	if len(packs) > 0 {
		k := packs[chain.Draw(1, len(packs), x.Seed())[0]]
		c := r.pack(k, follower.BehindPack(k))
		w.Pack = &c
	}
	visits := chain.LastWeek(trailVisits(x.P))
	w.Visits, w.VisitOf = len(visits), "visits of the last week with one"
	if drawn := chain.DrawVisits(visits, 1, x.Seed()); len(drawn) > 0 {
		links := follower.Behind(drawn[0])
		c := r.chain(drawn[0], links, trailTallyOf(links).followed())
		w.Visit = &c
	}
	return w
}

// trailDrawer are the packs of which neither use, opening nor discarding is written,
// by id; where there is none, all packs.
func trailDrawer(p *practice.Practice) (list []*practice.Pack, of string) {
	var all []*practice.Pack
	for i := range p.Packs {
		k := &p.Packs[i]
		all = append(all, k)
		if uses, _ := p.UsesOfPack(k); len(uses) == 0 && !k.OpenedAt.Written() && !k.DiscardedOn.Written() {
			list = append(list, k)
		}
	}
	if of = "packs that are closed still, as written"; len(list) == 0 {
		list, of = all, "packs"
	}
	slices.SortStableFunc(list, func(a, b *practice.Pack) int {
		return cmp.Or(strings.Compare(practice.Key(&a.Row), practice.Key(&b.Row)), strings.Compare(a.Load, b.Load))
	})
	return list, of
}

// pack is one pack with its links, as results have it.
func (r *trailRun) pack(k *practice.Pack, links []chain.Link) audit.Chain {
	c := audit.Chain{Whole: true, Record: r.Locate(audit.At(&k.Row, "")), Links: []audit.Link{}, Copies: []audit.Located{}}
	for _, l := range links {
		out := audit.Link{Name: l.Name, State: l.State.String(), What: l.What, Evidence: []audit.Located{}}
		for _, s := range l.Seen {
			out.Evidence = append(out.Evidence, r.Locate(trailEvidence(s)))
		}
		c.Whole = c.Whole && l.State != chain.LinkAbsent && l.State != chain.LinkPart
		c.Links = append(c.Links, out)
	}
	return c
}
