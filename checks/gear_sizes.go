package checks

import (
	"fmt"
	"slices"

	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/quantity"
)

var _ = define(audit.Check{
	ID:    "gear/sizes",
	Title: "Every glove size and material that the people of a site need is in stock there",
	Why: "A glove that does not fit tears or slips, and the one who wears it goes without. Each clinic, vehicle and bag needs its own boxes, in the size of everyone who works there, and free of latex where a client or worker reacts to it or is unsure. " +
		"Stock is read as an upper bound: what was used without being written still counts as there, and a size that was never counted is not judged.",
	Grades:  []audit.Grade{audit.Major, audit.Minor},
	Subject: "sites",
	Thing:   "need for gloves",
	Things:  "needs for gloves",
	Needs:   []string{"people", "stock"},
	Helps:   []string{"people.sites", "people.glove_size", "people.latex_sensitive", "screens.latex", "stock.material", "visits.person"},
	Uses:    []string{"gear.latex-free", "gear.works-there"},
	Fix: []string{
		"Look for the box first: if gloves of that size or material were bought or found, add the purchase or the count to stock, and audit again.",
		"If there are none: buy or borrow them before the next visit there; until then whoever wears that size observes, or the visit moves.",
		"Where latex is the matter: nobody who reacts to it, or may, wears latex gloves or is touched with them. Trouble with breathing or swelling of the face is an emergency call; write any reaction into incidents.",
		"If someone no longer works there, put their sites or their last day into people.",
		"From today on, count each size at each site and in each bag on one fixed day a month, and write the count on the day it is made.",
	},
	Verify: "the next count has every size that people there wear, and gloves free of latex where someone needs them",
	Run: func(x *audit.Examination) {
		free, _ := x.Criterion("gear.latex-free", nil)
		g := gearNewStock(x.P)
		needs := gearNeeds(x)
		for _, n := range needs {
			n.look = g.look(n.site, n.size, nil)
			gearSizesJudge(x, n)
		}
		for _, n := range needs {
			gearSizesWorkers(x, g, n, free)
		}
		gearSizesClients(x, g, needs, free)
		gearTable(x, g, needs, free)
	},
})

// gearSizesJudge says whether a size that people of a site wear is there.
func gearSizesJudge(x *audit.Examination, n *gearNeed) {
	l, s := n.look, gearSite(n.site)
	switch l.left {
	case quantity.Yes:
		x.Met(s)
		return
	case quantity.Unsure:
		x.Unclear(s, l.why, l.missing)
		return
	}
	f := audit.Fault{Grade: audit.Minor, Matter: "size " + n.size, Day: l.since, Evidence: gearSizesRows(l),
		Needed: "each size that people there wear is needed; if some were bought or counted since, add the row"}
	f.Found = fmt.Sprintf("no gloves of size %s are left there since %s, by the rows of stock", n.size, l.since.Words())
	if l.absent {
		f.Found = fmt.Sprintf("no row of stock there speaks of gloves of size %s, which is worn there, and other sizes were counted on %s", n.size, l.since.Words())
	}
	f.Evidence = append(f.Evidence, n.evidence...)
	wears := func(v *practice.Visit) bool {
		return n.wears(v.Person) && v.Gloves != "none" && (v.GloveSize == "" || gearSize(v.GloveSize) == n.size)
	}
	gearSizesWentOn(x, n.site, l, &f, wears)
	x.NotMet(s, f)
}

// gearSizesWorkers says whether the people of a site who react to latex, or are
// unsure, have gloves of their own size without it.
func gearSizesWorkers(x *audit.Examination, g *gearStock, n *gearNeed, free audit.Criterion) {
	var who []string
	var evidence []audit.Evidence
	for _, p := range n.people {
		if p.LatexSensitive == "yes" || p.LatexSensitive == "unsure" {
			who = append(who, practice.Key(&p.Row))
			evidence = append(evidence, audit.At(&p.Row, "latex_sensitive"))
		}
	}
	if len(who) == 0 || n.look.left != quantity.Yes {
		return
	}
	f := audit.Fault{Matter: "latex-free size " + n.size, Evidence: evidence}
	f.Found = "in size " + n.size + " only gloves with latex are left there, by the rows of stock, and someone who wears it is written as reacting to latex or unsure"
	gearSizesLatex(x, n.site, g.look(n.site, n.size, gearFree(free)), free, f, func(v *practice.Visit) bool { return slices.Contains(who, v.Person) })
}

// gearSizesClients says, for each site where a client who reacts to latex or is
// unsure was lately treated, whether any size worn there is in stock without it.
func gearSizesClients(x *audit.Examination, g *gearStock, needs []*gearNeed, free audit.Criterion) {
	bySite := map[string][]*gearNeed{}
	var sites []string
	for _, n := range needs {
		if bySite[n.site] == nil {
			sites = append(sites, n.site)
		}
		bySite[n.site] = append(bySite[n.site], n)
	}
	clients := gearLatexClients(x)
	for _, site := range sites {
		who := clients[site]
		if len(who) == 0 {
			continue
		}
		best := gearLook{}
		tried := false
		for _, n := range bySite[site] {
			if n.look.left == quantity.No {
				continue
			}
			l := g.look(site, n.size, gearFree(free))
			switch {
			case !tried, l.left == quantity.Yes, best.left == quantity.No && l.left == quantity.Unsure:
				best = l
			case best.left == quantity.No && l.left == quantity.No:
				best.since, best.rows = max(best.since, l.since), append(best.rows, l.rows...)
			}
			tried = true
			if best.left == quantity.Yes {
				break
			}
		}
		if !tried {
			continue
		}
		f := audit.Fault{Matter: "latex-free for clients"}
		of := map[string]bool{}
		for _, a := range who {
			of[a.Screen.Client] = true
			f.Evidence = append(f.Evidence, audit.At(&a.Screen.Row, a.Field))
		}
		f.Found = "in the sizes worn there only gloves with latex are left, by the rows of stock, and clients treated there are written as reacting to latex or unsure"
		gearSizesLatex(x, site, best, free, f, func(v *practice.Visit) bool { return of[v.Client] })
	}
}

// gearSizesLatex judges one look for gloves without latex.
func gearSizesLatex(x *audit.Examination, site string, l gearLook, free audit.Criterion, f audit.Fault, concerns func(*practice.Visit) bool) {
	s := gearSite(site)
	switch l.left {
	case quantity.Yes:
		x.Met(s)
		return
	case quantity.Unsure:
		x.Unclear(s, l.why, l.missing)
		return
	}
	f.Grade, f.Day, f.Criterion = audit.Minor, l.since, &free
	f.Needed = "gloves free of latex at hand; if some were bought or counted since, add the row"
	f.Evidence = append(gearSizesRows(l), f.Evidence...)
	gearSizesWentOn(x, site, l, &f, func(v *practice.Visit) bool { return (v.Gloves == "" || v.Gloves == "latex") && concerns(v) })
	x.NotMet(s, f)
}

// gearSizesWentOn tells of the visits that went on after the stock had run out. The
// grade rises only where every row of stock since then is typed: elsewhere some may
// have been bought.
func gearSizesWentOn(x *audit.Examination, site string, l gearLook, f *audit.Fault, concerns func(*practice.Visit) bool) {
	var after []*practice.Visit
	for _, v := range x.P.VisitsByTime() {
		if v.Done() && v.Site == site && v.Started.Day() > l.since && concerns(v) {
			after = append(after, v)
		}
	}
	if len(after) == 0 || l.absent {
		return
	}
	f.Weight = float64(len(after))
	if x.P.Whole("stock", l.since, x.P.AsOf) {
		f.Grade = audit.Major
	}
	went := fmt.Sprintf("%d visits that need them", len(after))
	if len(after) == 1 {
		went = "1 visit that needs them"
	}
	f.Found += ", and " + went + " went on after that day"
	for _, v := range after {
		f.Evidence = append(f.Evidence, audit.At(&v.Row, "started"))
	}
}

func gearSizesRows(l gearLook) (all []audit.Evidence) {
	for _, r := range l.rows {
		all = append(all, audit.At(&r.Row, "quantity"))
	}
	return all
}
