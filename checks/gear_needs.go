package checks

import (
	"slices"

	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/quantity"
)

// gearNeed is one size of gloves that people of one site wear.
type gearNeed struct {
	site, size string
	people     []*practice.Person
	evidence   []audit.Evidence // where the size is written
	look       gearLook
}

func (n *gearNeed) wears(person string) bool {
	return slices.ContainsFunc(n.people, func(p *practice.Person) bool { return practice.Key(&p.Row) == person })
}

// gearWork is what the visits say of one person: where they lately treated, and
// the size they last wore.
type gearWork struct {
	sites []string
	size  *practice.Visit
}

// gearRecent reports whether a visit is recent enough to say that its person
// works at its site, and that its client is treated there.
func gearRecent(x *audit.Examination) func(*practice.Visit) bool {
	c, _ := x.Criterion("gear.works-there", nil)
	return func(v *practice.Visit) bool { return v.Started.Day().Add(c.Quantity()) >= x.P.AsOf }
}

// gearNeeds lists each size of each open site, in the order of people, and says
// Unclear where someone's size or site is not written.
func gearNeeds(x *audit.Examination) []*gearNeed {
	p := x.P
	work := gearWorks(x)
	type key struct{ site, size string }
	byKey := map[key]*gearNeed{}
	var needs []*gearNeed
	for i := range p.People {
		person := &p.People[i]
		if !person.Works(p.AsOf) {
			x.Pass()
			continue
		}
		at, evidence := gearSize(person.GloveSize), audit.At(&person.Row, "glove_size")
		w := work[practice.Key(&person.Row)]
		if at == "" && w != nil && w.size != nil {
			at, evidence = gearSize(w.size.GloveSize), audit.At(&w.size.Row, "glove_size")
		}
		sites := gearSitesOf(p, person, w)
		if len(sites) == 0 {
			x.Unclear(audit.About("people", &person.Row), "the sites where someone works are not written", audit.Field{Kind: "people", Name: "sites"})
		}
		for _, id := range sites {
			site, state := p.Site(id)
			switch {
			case state == practice.Shared || state == practice.SetAside:
				x.Unclear(gearSite(id), "the row of a site where someone works could not be read, or several rows have its id", audit.Field{Kind: "sites"})
				continue
			case state == practice.One && site.ClosedOn.Written():
				x.Pass()
				continue
			case at == "":
				x.Unclear(gearSite(id), "the glove size of someone who works there is not written", audit.Field{Kind: "people", Name: "glove_size"})
				continue
			}
			k := key{id, at}
			n := byKey[k]
			if n == nil {
				n = &gearNeed{site: id, size: at}
				byKey[k] = n
				needs = append(needs, n)
			}
			n.people, n.evidence = append(n.people, person), append(n.evidence, evidence)
		}
	}
	return needs
}

// gearSitesOf is where a person works: as written, else where they lately
// treated, else the only site there is: "" where no site is written anywhere.
func gearSitesOf(p *practice.Practice, person *practice.Person, w *gearWork) []string {
	var sites []string
	for _, id := range person.Sites.Items {
		if !slices.Contains(sites, id) {
			sites = append(sites, id)
		}
	}
	switch {
	case len(sites) > 0:
	case w != nil && len(w.sites) > 0:
		sites = w.sites
	case p.Unread("sites"):
	case len(p.Sites) == 1:
		sites = []string{practice.Key(&p.Sites[0].Row)}
	case len(p.Sites) == 0 && !slices.ContainsFunc(p.Stock, func(r practice.Stock) bool { return r.Site != "" || r.ToSite != "" }):
		sites = []string{""}
	}
	return sites
}

func gearWorks(x *audit.Examination) map[string]*gearWork {
	work := map[string]*gearWork{}
	recent := gearRecent(x)
	for _, v := range x.P.VisitsByTime() {
		if !v.Done() || v.Person == "" {
			continue
		}
		w := work[v.Person]
		if w == nil {
			w = &gearWork{}
			work[v.Person] = w
		}
		if v.GloveSize != "" {
			w.size = v
		}
		if v.Site != "" && recent(v) && !slices.Contains(w.sites, v.Site) {
			w.sites = append(w.sites, v.Site)
		}
	}
	return work
}

// gearLatexClients lists, for each site, how the question about latex stands for
// the clients lately treated there for whom it is yes or unsure.
func gearLatexClients(x *audit.Examination) map[string][]practice.Standing {
	type seen struct{ site, client string }
	done := map[seen]bool{}
	bySite := map[string][]practice.Standing{}
	recent := gearRecent(x)
	for _, v := range x.P.VisitsByTime() {
		k := seen{v.Site, v.Client}
		if !v.Done() || v.Treated() == quantity.No || !recent(v) || done[k] {
			continue
		}
		done[k] = true
		at := x.P.AnswerOf(v.Client, "latex", x.P.AsOf)
		if at.Answer == "yes" || at.Answer == "unsure" {
			bySite[v.Site] = append(bySite[v.Site], at)
		}
	}
	return bySite
}
