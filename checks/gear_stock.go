package checks

import (
	"footing/internal/audit"
	"footing/internal/chain"
	"footing/internal/practice"
	"footing/internal/quantity"
)

// gearStock is the gloves of each site, by size; or another thing that has sizes.
type gearStock struct {
	p        *practice.Practice
	gloves   map[string][]*chain.Shelf
	adrift   []*chain.Shelf                  // with no site, or one that is not in sites
	balances map[*chain.Shelf]*chain.Balance // on the audit day
}

func gearNewStock(p *practice.Practice) *gearStock { return gearStockOf(p, "gloves") }

func gearStockOf(p *practice.Practice, item string) *gearStock {
	g := &gearStock{p: p, gloves: map[string][]*chain.Shelf{}, balances: map[*chain.Shelf]*chain.Balance{}}
	for _, s := range chain.Ledger(p.Stock, gearSize) {
		if s.Item == item {
			if _, state := p.Site(s.Site); s.Site == "" || state == practice.Absent && p.Typed("sites") {
				g.adrift = append(g.adrift, s)
			}
			g.gloves[s.Site] = append(g.gloves[s.Site], s)
			g.balances[s] = s.On(p.AsOf)
		}
	}
	return g
}

// gearLook is whether gloves are left on the audit day; for No, since when not
// and by which rows; for Unsure, why it cannot be told and what would tell.
type gearLook struct {
	left    quantity.Tri
	absent  bool // no row speaks of the size, among counts that are all typed
	since   quantity.Day
	rows    []*practice.Stock
	why     string
	missing audit.Field
}

// look looks for gloves of one size at a site, in the pools that of picks.
func (g *gearStock) look(site, size string, of func(*chain.Pool) quantity.Tri) gearLook {
	var own *chain.Shelf
	for _, s := range g.gloves[site] {
		if s.Size == size {
			own = s
		}
	}
	var l gearLook
	if own == nil {
		l = g.absent(site)
	} else {
		l = gearOwn(own, g.balances[own], of)
	}
	if l.left != quantity.No {
		return l
	}
	if g.p.Unread("stock") {
		return gearUnsure("a row of stock could not be read, and may be of that size", "")
	}
	for _, s := range g.gloves[site] {
		if s == own || gearScale(s.Size) == gearScale(size) || !gearAny(g.balances[s], of) {
			continue
		}
		if s.Size == "" {
			return gearUnsure("gloves are typed there without a size, so which sizes are left cannot be told", "size")
		}
		return gearUnsure("the sizes of the gloves there are typed on another scale than the one people wear by, and the two are not turned into each other", "size")
	}
	for _, s := range g.adrift {
		if site != s.Site && (s.Size == size || gearScale(s.Size) != gearScale(size)) && gearAny(g.balances[s], of) {
			return gearUnsure("gloves are typed without their site, or for one that is not in sites, and may be there", "site")
		}
	}
	return l
}

func gearUnsure(why, field string) gearLook {
	return gearLook{left: quantity.Unsure, why: why, missing: audit.Field{Kind: "stock", Name: field}}
}

// gearOwn looks at the rows of the size itself.
func gearOwn(s *chain.Shelf, b *chain.Balance, of func(*chain.Pool) quantity.Tri) gearLook {
	switch left := b.Left(of); {
	case left == quantity.No:
		l := gearLook{left: left}
		for d, at := range s.Days() {
			switch {
			case at.Left(of) != quantity.No:
				l.since = 0
			case !l.since.Written():
				l.since = d
			}
		}
		for _, p := range b.Pools {
			if p.Moved >= min(l.since, b.Counted) {
				l.rows = append(l.rows, p.Rows...)
			}
		}
		return l
	case left == quantity.Yes:
		return gearLook{left: left}
	case of != nil && gearMay(b, of):
		return gearUnsure("what the gloves there are made of is not written, or is no material that is known", "material")
	case !b.Counted.Written():
		return gearUnsure("no count of that size is typed there, so what was there before the first row is not known", "")
	case b.Over.Written():
		return gearUnsure("more was taken there than is typed as counted or bought, so some row is not typed; a count settles it", "")
	}
	return gearUnsure("boxes and pieces, or counts with and without a lot, do not add up there; a count with the pieces in a box settles it", "each")
}

// absent is the answer for a size that no row of the site names: none, if other
// sizes were counted there and every row from the first on is typed.
func (g *gearStock) absent(site string) gearLook {
	var first, counted quantity.Day
	for _, s := range g.gloves[site] {
		for d := range s.Days() {
			if !first.Written() || d < first {
				first = d
			}
		}
		counted = max(counted, g.balances[s].Counted)
	}
	if !counted.Written() || !g.p.Whole("stock", first, g.p.AsOf) {
		return gearUnsure("no count of that size is typed there, so not judged", "")
	}
	l := gearLook{left: quantity.No, absent: true, since: counted}
	for _, s := range g.gloves[site] {
		for _, p := range g.balances[s].Pools {
			if p.Counted == counted {
				l.rows = append(l.rows, p.Rows...)
			}
		}
	}
	return l
}

// gearAny reports whether something may be left in a pool that of does not leave out.
func gearAny(b *chain.Balance, of func(*chain.Pool) quantity.Tri) bool {
	for _, p := range b.Pools {
		if p.Amount.Left() != quantity.No && (of == nil || of(p) != quantity.No) {
			return true
		}
	}
	return false
}

// gearMay reports whether something is left in a pool of which of cannot tell.
func gearMay(b *chain.Balance, of func(*chain.Pool) quantity.Tri) bool {
	for _, p := range b.Pools {
		if p.Amount.Left() != quantity.No && of(p) == quantity.Unsure {
			return true
		}
	}
	return false
}
