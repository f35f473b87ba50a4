package chain

import (
	"slices"

	"footing/internal/practice"
	"footing/internal/quantity"
)

// holders finds where packs are kept, and whether the sites can be told apart: only
// where moves between them are written, and every move is in the folder. What is
// pooled in one balance needs no moves.
func (g *packing) holders() {
	p, at := g.p, map[string]bool{}
	moves := map[string]bool{}
	for i := range p.Stock {
		if r := &p.Stock[i]; r.Item == "sterile-pack" {
			at[r.Site] = true
			if r.Reason == "transfer" && r.ToSite != "" {
				at[r.ToSite], moves["stock"] = true, true
			}
		}
	}
	for i := range p.Trips {
		if t := &p.Trips[i]; t.PacksOut.Number().Value > 0 {
			at[t.FromSite], at[t.ToSite], moves["trips"] = true, true, true
		}
	}
	for i := range p.Packs {
		at[p.Packs[i].StoredAt] = true
	}
	for i := range p.Sterilizers {
		if s := &p.Sterilizers[i]; s.OperatedBy != "contractor" && len(p.LoadsOf(practice.Key(&s.Row))) > 0 {
			at[s.Site] = true
		}
	}
	for i := range p.Visits {
		if v := &p.Visits[i]; v.Done() && !at[v.Site] && (len(v.Packs.Items) > 0 || v.PacksUsed.Value > 0 || len(v.Loads.Items) > 0) {
			at[v.Site] = g.keeps(v.Site)
		}
	}
	for site, holds := range at {
		if site != "" && holds {
			g.sites = append(g.sites, site)
		}
	}
	slices.Sort(g.sites)
	g.begin()
	g.bySite = len(g.sites) > 1 && len(moves) > 0
	for kind := range moves {
		g.bySite = g.bySite && g.from.Written() && p.Whole(kind, g.from, p.AsOf)
	}
}

// keeps reports whether a site keeps packs of its own: at a care home or a school
// those of a bag are used.
func (g *packing) keeps(site string) bool {
	s, state := g.p.Site(site)
	return state != practice.One || s.Type != "care-home" && s.Type != "school"
}

// begin finds the first day to look at: the first from which all loads are in the
// folder, else that of the first load. And what was there then.
func (g *packing) begin() {
	p := g.p
	first := p.AsOf
	if all := p.LoadsByTime(); len(all) > 0 {
		first = all[0].Started.Day()
	}
	for _, c := range p.Profile.Coverage {
		if c.Kind != "loads" || c.Share != "all" {
			continue
		}
		from := c.From
		if !from.Written() {
			from = p.Profile.RecordsFrom
		}
		if !from.Written() {
			from = first
		}
		if p.Whole("loads", from, from) && (!g.from.Written() || from < g.from) {
			g.from = from
		}
	}
	whole := g.from.Written()
	if !whole {
		g.from = first
	}
	g.opening = OpenGreatest
	if whole && g.founded() {
		g.opening = OpenNone
		if g.anew() {
			g.opening = OpenNew
		}
	}
}

// founded reports whether the records reach back to before any sterilizer, and
// nothing written is older.
func (g *packing) founded() bool {
	p := g.p
	if len(p.Sterilizers) == 0 || p.Unread("sterilizers") || p.Profile.Reprocessing == "contracted" {
		return false
	}
	for i := range p.Sterilizers {
		if on := p.Sterilizers[i].InstalledOn; !on.Written() || on < g.from {
			return false
		}
	}
	older := func(d quantity.Day) bool { return d.Written() && d < g.from }
	return !slices.ContainsFunc(p.Sites, func(s practice.Site) bool { return older(s.OpenedOn) }) &&
		!slices.ContainsFunc(p.Clients, func(c practice.Client) bool { return older(c.FirstVisitOn) }) &&
		!slices.ContainsFunc(p.Visits, func(v practice.Visit) bool { return v.Done() && older(v.Started.Day()) }) &&
		!slices.ContainsFunc(p.Loads, func(l practice.Load) bool { return older(l.Started.Day()) })
}

// anew reports whether every site was opened since the records begin, as written.
func (g *packing) anew() bool {
	return len(g.p.Sites) > 0 && !g.p.Unread("sites") &&
		!slices.ContainsFunc(g.p.Sites, func(s practice.Site) bool { return !s.OpenedOn.Written() || s.OpenedOn < g.from })
}
