package checks

import (
	"footing/internal/audit"
	"footing/internal/chain"
	"footing/internal/practice"
	"footing/internal/quantity"
)

// gearTable lists gloves and gowns by site and size beside who needs them: each size
// that someone of a site wears, and each other one of which some may be left there.
func gearTable(x *audit.Examination, g *gearStock, needs []*gearNeed, free audit.Criterion) {
	gearTableOf(x, "gloves", g, needs, gearFree(free))
	gearTableOf(x, "gown", gearStockOf(x.P, "gown"), gearGowns(x), nil)
}

func gearTableOf(x *audit.Examination, item string, g *gearStock, needs []*gearNeed, of func(*chain.Pool) quantity.Tri) {
	type key struct{ site, size string }
	needed := map[key]bool{}
	for _, n := range needs {
		needed[key{n.site, n.size}] = true
		row := gearTableRow(g, item, n.site, n.size, n.look)
		for _, p := range n.people {
			row.People = append(row.People, practice.Key(&p.Row))
			row.LatexFree = row.LatexFree || of != nil && (p.LatexSensitive == "yes" || p.LatexSensitive == "unsure")
		}
		if row.LatexFree {
			row.Free = gearTableLeft(g.look(n.site, n.size, of).left)
		}
		x.Gear(row)
	}
	for site, shelves := range g.gloves {
		for _, s := range shelves {
			if left := g.balances[s].Left(nil); s.Size != "" && left != quantity.No && !needed[key{site, s.Size}] {
				needed[key{site, s.Size}] = true
				x.Gear(gearTableRow(g, item, site, s.Size, gearLook{left: left}))
			}
		}
	}
}

// gearTableRow is what the rows of stock leave of one size at one site.
func gearTableRow(g *gearStock, item, site, size string, l gearLook) audit.Gear {
	row := audit.Gear{Item: item, Site: site, Size: size, Left: gearTableLeft(l.left), Why: l.why}
	for _, s := range g.gloves[site] {
		if s.Size != size {
			continue
		}
		b := g.balances[s]
		row.Counted = max(row.Counted, b.Counted.String())
		for _, p := range b.Pools {
			if p.Amount.Left() != quantity.No {
				row.Pieces += max(0, p.Amount.Pieces)
				row.Boxes += max(0, p.Amount.Units)
			}
		}
	}
	return row
}

func gearTableLeft(left quantity.Tri) string {
	switch left {
	case quantity.Yes:
		return audit.GearLeft
	case quantity.No:
		return audit.GearGone
	}
	return audit.GearUntold
}

// gearGowns lists the gown sizes that people of each open site wear, as written. What
// the rows leave is told and not judged: gowns may be washed, and sizes shared.
func gearGowns(x *audit.Examination) []*gearNeed {
	type key struct{ site, size string }
	byKey := map[key]*gearNeed{}
	var needs []*gearNeed
	work, stock := gearWorks(x), gearStockOf(x.P, "gown")
	for i := range x.P.People {
		person := &x.P.People[i]
		size := gearSize(person.GownSize)
		if size == "" || !person.Works(x.P.AsOf) {
			continue
		}
		for _, id := range gearSitesOf(x.P, person, work[practice.Key(&person.Row)]) {
			if site, state := x.P.Site(id); state == practice.One && site.ClosedOn.Written() {
				continue
			}
			k := key{id, size}
			if byKey[k] == nil {
				byKey[k] = &gearNeed{site: id, size: size, look: gearGownLook(stock, id, size)}
				needs = append(needs, byKey[k])
			}
			byKey[k].people = append(byKey[k].people, person)
		}
	}
	return needs
}

func gearGownLook(g *gearStock, site, size string) gearLook {
	for _, s := range g.gloves[site] {
		if s.Size == size {
			l := gearLook{left: g.balances[s].Left(nil)}
			if l.left == quantity.Unsure {
				l.why = "the rows of that size do not add up there, or no count begins them"
			}
			return l
		}
	}
	return gearUnsure("no row of stock there speaks of gowns of that size", "")
}
