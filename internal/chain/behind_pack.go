package chain

import (
	"footing/internal/practice"
)

// PackLinks lists the links behind a pack on its own, in the order of the chain.
func PackLinks() []string {
	return []string{LinkPack, LinkLoad, LinkRelease, LinkTrace, LinkIndicator, LinkSpore, LinkService, LinkTraining}
}

// BehindPack is what lies behind one pack, whoever it was or will be used for: a link
// each, in the order of PackLinks.
func (f *Follower) BehindPack(k *practice.Pack) []Link {
	names := PackLinks()
	load, of := f.loadOf(k)
	links := []Link{{State: LinkFound, What: label(&k.Row), Seen: []Seen{{Row: &k.Row, Note: "the pack"}}}, load}
	packs := []*practice.Pack{k}
	steps := []func(*practice.Load) Link{f.release, f.printed, func(l *practice.Load) Link { return f.indicated(l, packs) }, f.spores, f.serviced, f.operated}
	for _, step := range steps {
		if of == nil {
			links = append(links, Link{State: load.State, What: "no load is known to follow it from", Sure: load.Sure})
			continue
		}
		links = append(links, step(of))
	}
	for i := range links {
		links[i].Name = names[i]
	}
	return links
}

// loadOf is the link to the load that a pack names; nil where it leads to no single one.
func (f *Follower) loadOf(k *practice.Pack) (Link, *practice.Load) {
	at := Seen{Row: &k.Row, Field: "load", Note: "the load it names"}
	l, state := f.p.LoadOfPack(k)
	meant := f.numbered[numberOf(k.Load)]
	switch {
	case k.Load == "":
		return Link{State: LinkAbsent, What: "the pack's row names no load", Seen: []Seen{at}}, nil
	case state == practice.One:
		return Link{State: LinkFound, What: k.Load + ", " + l.Started.Words(), Seen: []Seen{at, {Row: &l.Row, Field: "started", Note: "its load"}}}, l
	case len(f.p.Loads) == 0:
		return Link{State: LinkUnkept, What: "it names load " + k.Load + "; nothing is typed for loads, so it is not judged", Seen: []Seen{at}}, nil
	case state == practice.Absent && len(meant) == 1:
		return Link{State: LinkPart, What: "load " + k.Load + " " + found(state) + ", but one whose number or counter is the same",
			Seen: []Seen{at, {Row: &meant[0].Row, Field: "started", Note: "could be its load"}}}, meant[0]
	case state == practice.Absent:
		return Link{State: LinkAbsent, What: "load " + k.Load + " " + found(state), Seen: []Seen{at}}, nil
	}
	return Link{State: LinkPart, What: "load " + k.Load + " " + found(state), Seen: []Seen{at}}, nil
}

// LastWeek are, of some visits by time, those of the seven days that end with the last.
func LastWeek(visits []*practice.Visit) (list []*practice.Visit) {
	if len(visits) == 0 {
		return nil
	}
	last := visits[len(visits)-1].Started.Day()
	for _, v := range visits {
		if v.Started.Day() > last.AddDays(-daysOfWeek) {
			list = append(list, v)
		}
	}
	return list
}

const daysOfWeek = 7
