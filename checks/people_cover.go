package checks

import (
	"slices"
	"strings"

	"footing/internal/audit"
	"footing/internal/practice"
)

var _ = define(audit.Check{
	ID:    "people/cover",
	Title: "Each visit fell within liability cover, and within its procedures and sites where these are written",
	Why: "Liability cover is the insurance against claims of clients. A claim over a visit on a day, at a place or for a procedure that the cover leaves out is the practitioner's own to pay. " +
		"An empty list of procedures or sites means not written: then the dates alone are judged. Only gaps between two typed certificates and time after the last one count.",
	Grades:  []audit.Grade{audit.Major},
	Subject: "people",
	Thing:   "visit",
	Things:  "visits",
	Needs:   []string{"visits", "credentials"},
	Helps:   []string{"people", "visits.person", "visits.site", "visits.procedures", "credentials.procedures", "credentials.sites"},
	Uses:    []string{"scope.implied"},
	Fix: []string{
		"Look for the certificate first: if the cover was renewed or is wider than typed, add its row, or a new row with the whole list of procedures and sites, or \"all\".",
		"If there is a gap, or a procedure or site is left out, stop that work until the insurer has confirmed cover in writing.",
		"Tell the insurer the dates as they are, and ask before anything is sent to anyone else.",
		"Keep the certificates and visit notes as they are.",
		"From today on, when cover is renewed, type its first and last day, procedures and sites as the certificate has them.",
	},
	Verify: "every visit lies within the days, procedures and sites of a cover that is typed",
	Run: func(x *audit.Examination) {
		implied, _ := x.Criterion("scope.implied", nil)
		lapse := audit.Fault{Grade: audit.Major, Needed: "cover in force is needed on the day; if it was renewed, add the certificate's row"}
		peopleEachVisit(x, "liability-cover", "liability cover", lapse, func(v *practice.Visit, w peopleView) {
			peopleCoverLists(x, v, w, implied.Items())
		})
	},
})

// peopleCoverLists compares a visit with the procedures and sites of the cover in force.
func peopleCoverLists(x *audit.Examination, v *practice.Visit, w peopleView, implied []string) {
	left, own := peopleCoverLeft(v, w.held, implied)
	site, misspelt := peopleCoverSite(x.P, v, w.held)
	f := audit.Fault{Grade: audit.Major, Day: v.Started.Day(), Evidence: []audit.Evidence{audit.At(&v.Row, "started")}}
	switch {
	case len(left) > 0:
		f.Matter, f.Found = "procedure", strings.Join(left, ", ")+" done, which the list of the liability cover in force leaves out"
		f.Needed = "cover for each procedure; if the certificate names it, add it to the list"
		f.Evidence = append(f.Evidence, audit.At(&v.Row, "procedures"))
		for _, c := range w.held {
			f.Evidence = append(f.Evidence, audit.At(&c.Row, "procedures"))
		}
		x.NotMet(w.subject, f)
	case site && misspelt:
		x.Unclear(w.subject, "the site of the visit is not among those of the cover, but an id among them leads to no site", audit.Field{Kind: "sites"})
	case site:
		f.Matter, f.Found = "site", "visit at a site that the list of the liability cover in force leaves out"
		f.Needed = "cover for each site; if the certificate names it, add it to the list"
		f.Evidence = append(f.Evidence, audit.At(&v.Row, "site"))
		for _, c := range w.held {
			f.Evidence = append(f.Evidence, audit.At(&c.Row, "sites"))
		}
		x.NotMet(w.subject, f)
	case own:
		x.Unclear(w.subject, "a procedure stands in words of your own, in the visit or in the list of the cover, so the two cannot be compared", audit.Field{Kind: "visits", Name: "procedures"})
	default:
		x.Met(w.subject)
	}
}

// peopleCoverLeft lists the procedures of a visit that no list in force names,
// where every list is written; own reports words of the practice's own in the
// visit or in a list, which cannot be compared.
func peopleCoverLeft(v *practice.Visit, held []*practice.Credential, implied []string) (left []string, own bool) {
	for _, c := range held {
		if c.Procedures.All || len(c.Procedures.Items) == 0 {
			return nil, false
		}
	}
	words := func(item string) bool { return strings.HasPrefix(item, "other:") }
	loose := slices.ContainsFunc(held, func(c *practice.Credential) bool { return slices.ContainsFunc(c.Procedures.Items, words) })
	for _, procedure := range v.Procedures.Items {
		named := slices.Contains(implied, procedure) || slices.ContainsFunc(held, func(c *practice.Credential) bool { return c.Procedures.Has(procedure) })
		switch {
		case named:
		case words(procedure) || loose:
			own = true
		default:
			left = append(left, procedure)
		}
	}
	return left, own
}

// peopleCoverSite reports whether every cover in force lists its sites and none
// lists the visit's; misspelt, whether one of their ids, or the visit's, leads nowhere.
func peopleCoverSite(p *practice.Practice, v *practice.Visit, held []*practice.Credential) (outside, misspelt bool) {
	if v.Site == "" {
		return false, false
	}
	_, state := p.Site(v.Site)
	misspelt = state != practice.One
	for _, c := range held {
		if len(c.Sites.Items) == 0 || c.Sites.Has(v.Site) {
			return false, false
		}
		for _, id := range c.Sites.Items {
			_, state := p.Site(id)
			misspelt = misspelt || state != practice.One
		}
	}
	return true, misspelt
}
