package chain

import (
	"slices"

	"footing/internal/practice"
	"footing/internal/quantity"
)

// visit adds what a visit used: the packs it names, or how many it says, the lesser
// where both are written; one where it names a load alone.
func (g *packing) visit(v *practice.Visit) {
	for _, id := range v.Loads.Items {
		if !g.typed(id) {
			return
		}
	}
	day := v.Started.Day()
	at := g.dayEnd(day)
	if v.Ended.Written() && v.Ended.Last() >= v.Started.First() {
		at = v.Ended.Last()
	}
	switch {
	case len(v.Packs.Items) > 0:
		g.numbered(v, day, at)
	case v.PacksUsed.Written:
		g.unnumbered(v, day, at, int(v.PacksUsed.Value))
	case len(v.Loads.Items) > 0:
		g.unnumbered(v, day, at, 1)
	}
}

// twice is what two rows have in common that may be one visit, typed twice.
type twice struct {
	client, site string
	start        int64
	n            int
}

// unnumbered adds a visit that says how many packs it used. Two rows of one client, start
// and number may be one visit; they count once.
func (g *packing) unnumbered(v *practice.Visit, day quantity.Day, at int64, n int) {
	row := twice{v.Client, v.Site, v.Started.First(), n}
	if !g.once[row] {
		g.once[row] = true
		g.draw(v, day, at, "", n)
	}
}

// typed reports whether an id is that of one load, and not a rejected one.
func (g *packing) typed(id string) bool {
	l, state := g.p.Load(id)
	return state == practice.One && l.Decision != "rejected"
}

// numbered adds a visit that names its packs.
func (g *packing) numbered(v *practice.Visit, day quantity.Day, at int64) {
	var sets []string
	opened, all := int64(0), true
	for i, id := range v.Packs.Items {
		if slices.Contains(v.Packs.Items[:i], id) {
			continue
		}
		k, state := g.p.Pack(id)
		switch {
		case state == practice.Absent:
			sets, all = append(sets, ""), false
			continue
		case state != practice.One || !g.typed(k.Load):
			return
		}
		sets = append(sets, fold(k.Set))
		if k.OpenedAt.HasClock() && k.OpenedAt.Day() == day {
			opened = max(opened, k.OpenedAt.Last())
		} else {
			all = false
		}
	}
	if all {
		at = min(at, opened)
	}
	if v.PacksUsed.Written && int(v.PacksUsed.Value) < len(sets) {
		g.draw(v, day, at, "", int(v.PacksUsed.Value))
		return
	}
	slices.Sort(sets)
	for from := 0; from < len(sets); {
		until := from
		for until < len(sets) && sets[until] == sets[from] {
			until++
		}
		g.draw(v, day, at, sets[from], until-from)
		from = until
	}
}

func (g *packing) draw(v *practice.Visit, day quantity.Day, at int64, set string, n int) {
	if n <= 0 {
		return
	}
	if set == "" {
		g.setless = true
	} else {
		g.drawn[set] = true
	}
	g.drawings = append(g.drawings, drawing{v, v.Site, set, at, day, n})
}

// discarded adds the packs that were thrown away unopened, by their numbers.
func (g *packing) discarded() {
	for i := range g.p.Packs {
		k := &g.p.Packs[i]
		if !k.DiscardedOn.Written() || k.OpenedAt.Written() || !g.typed(k.Load) {
			continue
		}
		key := practice.Key(&k.Row)
		if _, state := g.p.Pack(key); state == practice.One && len(g.p.UsesOf(key)) == 0 {
			g.thrown[0] = append(g.thrown[0], g.leave(k.StoredAt, fold(k.Set), k.DiscardedOn, 1))
		}
	}
}

func (g *packing) leave(site, set string, on quantity.Day, n int) leaving {
	return leaving{site, set, g.dayEnd(on), on, n}
}

// arrive adds packs that came to a site on a day, or to any where it is "".
func (g *packing) arrive(site, set string, on quantity.Day, n int) {
	m := &making{set: set, first: g.dayStart(on), last: g.dayEnd(on.AddDays(1)), n: n}
	if site != "" {
		m.sites = []string{site}
	}
	g.makings = append(g.makings, m)
}

// stock adds counts, deliveries, discards and moves of packs. What is written as
// taken for use is in the visits, and not taken twice.
func (g *packing) stock() {
	for i := range g.p.Stock {
		r := &g.p.Stock[i]
		if r.Item != "sterile-pack" {
			continue
		}
		set, n := fold(r.Set), piecesOf(r)
		g.setless = g.setless || set == ""
		switch r.Reason {
		case "count":
			g.counts = append(g.counts, r)
		case "purchase":
			g.bought = true
			g.arrive(r.Site, g.named(r.Set), r.On, n)
		case "discard":
			g.thrown[1] = append(g.thrown[1], g.leave(r.Site, set, r.On, n))
		case "transfer":
			if g.bySite && r.ToSite != r.Site {
				g.arrive(r.ToSite, set, r.On, n)
				g.moved = append(g.moved, g.leave(r.Site, set, r.On, n))
			}
		}
	}
}

// trips adds what went out, came back and was spoiled.
func (g *packing) trips() {
	for i := range g.p.Trips {
		t := &g.p.Trips[i]
		if g.bySite {
			g.shift(t.PacksOut, t.FromSite, t.ToSite, t.On)
			g.shift(t.PacksBack, t.ToSite, t.FromSite, t.On)
		}
		if n := t.PacksSpoiled.Number(); n.Written && n.Value > 0 {
			g.thrown[2] = append(g.thrown[2], g.leave(t.ToSite, "", t.On, int(n.Value)))
		}
	}
}

// shift moves packs from one site to another on a day: by number where they have
// one, so that their sets are known.
func (g *packing) shift(packs quantity.CountOrList, from, to string, on quantity.Day) {
	n := packs.Number()
	if !n.Written || n.Value <= 0 || from == to {
		return
	}
	if len(packs.Items) == 0 {
		g.arrive(to, "", on, int(n.Value))
		g.moved = append(g.moved, g.leave(from, "", on, int(n.Value)))
		return
	}
	for _, id := range packs.Items {
		set := ""
		if k, state := g.p.Pack(id); state == practice.One {
			set = fold(k.Set)
		}
		g.arrive(to, set, on, 1)
		g.moved = append(g.moved, g.leave(from, set, on, 1))
	}
}

// leavings are the packs that surely left a rack unused: those that moved, and
// those thrown away as the one way of writing it tells that tells of the most, since two
// may tell of the same packs.
func (g *packing) leavings(r *Rack) (all []leaving) {
	most := 0
	for _, ways := range g.thrown {
		var these []leaving
		n := 0
		for _, l := range ways {
			if r.of(l.site, l.set, false) {
				these = append(these, l)
				n += l.n
			}
		}
		if n > most {
			most, all = n, these
		}
	}
	for _, l := range g.moved {
		if r.of(l.site, l.set, false) {
			all = append(all, l)
		}
	}
	return all
}
