package chain

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"footing/internal/practice"
	"footing/internal/quantity"
	"footing/internal/record"
)

// ofInstruments is the part of a chain that goes through the sterilizer, and what
// happened at the visit.
func (f *Follower) ofInstruments(v *practice.Visit) []Link {
	names := LinkNames()[len(LinkNames())-9:]
	links := make([]Link, 0, len(names))
	if why := f.without(v); why != "" {
		for _, name := range names[:8] {
			links = append(links, Link{Name: name, What: why})
		}
	} else {
		links = f.supplied(v, names)
	}
	l := f.happened(v)
	l.Name = names[8]
	return append(links, l)
}

// without says why no sterilizer stands behind a visit; "" where one does, or may.
func (f *Follower) without(v *practice.Visit) string {
	switch {
	case named(v):
		return ""
	case f.p.Profile.Reprocessing == "single-use-only":
		return "the practice uses single-use instruments only, as written"
	case v.PacksUsed.Written && v.PacksUsed.Value == 0:
		return "no pack was opened, as written"
	case f.needs(v) == quantity.No:
		return "what was done calls for no instruments from a sterilizer"
	}
	return WithoutPack(f.p, v)
}

// WithoutPack says that a visit needed no pack by what it names: instruments that are
// all single-use or a client's own, or, where a contractor does the processing,
// single-use items; "" otherwise.
func WithoutPack(p *practice.Practice, v *practice.Visit) string {
	if p.Profile.Reprocessing == "contracted" && len(v.SingleUse.Items) > 0 {
		return "single-use items were used, as written"
	}
	for _, id := range v.Instruments.Items {
		if i, state := p.Instrument(id); state != practice.One || i.Reuse != "single-use" && i.Reuse != "client-owned" {
			return ""
		}
	}
	if len(v.Instruments.Items) == 0 {
		return ""
	}
	return "its instruments are single-use or the client's own, as written"
}

func (f *Follower) needs(v *practice.Visit) quantity.Tri {
	if f.terms.Needs == nil {
		return quantity.Unsure
	}
	return f.terms.Needs(v)
}

// supplied follows a visit from its packs to the sterilizer's papers.
func (f *Follower) supplied(v *practice.Visit, names []string) []Link {
	pack, packs := f.packs(v)
	load, loads := f.loads(v, pack, packs)
	steps := []func(*practice.Load) Link{f.release, f.printed, func(l *practice.Load) Link { return f.indicated(l, packs) }, f.spores, f.serviced, f.operated}
	links := []Link{pack, load}
	for _, step := range steps {
		if len(loads) == 0 {
			links = append(links, Link{State: load.State, What: "no load is known to follow it from", Sure: load.Sure, Guessed: load.Guessed})
			continue
		}
		each := make([]Link, len(loads))
		for i, l := range loads {
			each[i] = step(l)
		}
		links = append(links, f.guess(join(each, loads), load, loads))
	}
	for i := range links {
		links[i].Name = names[i]
	}
	return links
}

func label(r *record.Row) string { return practice.Key(r) }

// packs is the link to the packs that a visit names, and those of them that are one row.
func (f *Follower) packs(v *practice.Visit) (Link, []*practice.Pack) {
	at := Seen{Row: &v.Row, Field: "packs", Note: "the packs it names"}
	switch {
	case len(v.Packs.Items) == 0 && len(v.Loads.Items) > 0:
		at.Field, at.Note = "loads", "the load it names"
		return Link{State: LinkFound, What: "the visit names the load in place of a pack number", Seen: []Seen{at}}, nil
	case len(v.Packs.Items) == 0:
		return f.unnamed(v), nil
	case len(f.p.Packs) == 0:
		return Link{State: LinkUnkept, What: "the visit names " + listed(v.Packs.Items) + "; nothing is typed for packs, so it is not judged", Seen: []Seen{at}}, nil
	}
	l := Link{State: LinkFound, Seen: []Seen{at}}
	day := v.Started.Day()
	absent := 0
	var said []string
	var packs []*practice.Pack
	for _, id := range v.Packs.Items {
		k, state := f.p.Pack(id)
		if state == practice.One {
			packs = append(packs, k)
			l.Seen = append(l.Seen, Seen{Row: &k.Row, Note: "the pack"})
			said = append(said, id+opened(k))
			continue
		}
		l.State = LinkPart
		if state == practice.Absent {
			absent++
			l.Sure = l.Sure || f.p.Whole("packs", 1, day)
		}
		said = append(said, id+" is named and "+found(state))
	}
	l.What = listed(said)
	switch {
	case absent < len(v.Packs.Items):
	case f.early("packs", day):
		l.State, l.What = LinkUnkept, "the visit names "+listed(v.Packs.Items)+"; nothing is typed for packs before "+f.since["packs"].Words()+", so it is not judged before then"
	default:
		l.State = LinkAbsent
	}
	return l, packs
}

// unnamed is the link of a visit that names neither a pack nor a load.
func (f *Follower) unnamed(v *practice.Visit) Link {
	seen := []Seen{{Row: &v.Row, Field: "packs"}}
	if v.PacksUsed.Written {
		return Link{State: LinkPart, What: "packs were used, as a count alone: " + strconv.FormatFloat(v.PacksUsed.Value, 'f', -1, 64), Seen: []Seen{{Row: &v.Row, Field: "packs_used"}}}
	}
	site := ""
	if v.Site != "" {
		site = " at this site"
	}
	day, names := v.Started.Day(), f.naming[v.Site]
	l := f.gap("visits", names, day, "the visit names no pack and no load", "no visit"+site+" names a pack or a load")
	switch {
	case l.State != LinkAbsent:
	case day > names.last: // names were given up, or are typed in another way since
		l = Link{State: LinkUnkept, What: "no visit" + site + " after " + names.last.Words() + " names a pack or a load, so it is not judged"}
	case f.needs(v) == quantity.Unsure:
		l = Link{State: LinkUnkept, What: "the visit names no pack, and what was done is not written, so whether one was needed cannot be told"}
	case f.sparse[v.Site]:
		l = Link{State: LinkUnkept, What: "so few visits" + site + " name a pack or a load that this does not seem to be kept, so it is not judged"}
	}
	l.Seen = seen
	return l
}

func opened(k *practice.Pack) string {
	if !k.OpenedAt.Written() {
		return ""
	}
	return ", opened " + k.OpenedAt.Words()
}

// found says how an id that leads to no single row is known.
func found(s practice.State) string {
	switch s {
	case practice.Shared:
		return "stands on several rows"
	case practice.SetAside:
		return "stands only on a row that was set aside or lies after the day of the audit"
	}
	return "has no row here"
}

// listed joins a few words, and counts the rest.
func listed(words []string) string {
	if more := len(words) - someIDs; more > 0 {
		return strings.Join(words[:someIDs], "; ") + fmt.Sprintf("; and %d more", more)
	}
	return strings.Join(words, "; ")
}

// loads is the link to the loads behind a visit, and those of them to follow further.
func (f *Follower) loads(v *practice.Visit, pack Link, packs []*practice.Pack) (Link, []*practice.Load) {
	switch {
	case !named(v):
		return f.candidates(v, pack)
	case len(f.p.Loads) == 0:
		return Link{State: LinkUnkept, What: "nothing is typed for loads, so it is not judged"}, nil
	case len(v.Packs.Items) > 0 && len(packs) == 0 && len(v.Loads.Items) == 0:
		return Link{State: pack.State, What: "which load made the packs cannot be told without their rows", Sure: pack.Sure}, nil
	}
	l := Link{State: LinkFound, Sure: pack.State == LinkPart && pack.Sure}
	var loads []*practice.Load
	var said []string
	whole, unclear := pack.State == LinkFound, false
	day := v.Started.Day()
	blank := f.gap("packs", f.packLoad, day, "is not written", "no pack says which load made it")
	lost := func(what string, sure bool) { whole, said, l.Sure = false, append(said, what), l.Sure || sure }
	add := func(id string) {
		load, state := f.p.Load(id)
		meant := f.numbered[numberOf(id)]
		switch {
		case state == practice.Absent && len(meant) > 0:
			lost("load "+id+" "+found(state)+", but one whose number or counter is the same", false)
			if len(meant) == 1 && !slices.Contains(loads, meant[0]) {
				loads = append(loads, meant[0])
				l.Seen = append(l.Seen, Seen{Row: &meant[0].Row, Field: "started", Note: "could be its load"})
			}
		case state != practice.One:
			unclear = unclear || state != practice.Absent
			lost("load "+id+" "+found(state), state == practice.Absent && f.p.Whole("loads", 1, day))
		case !slices.Contains(loads, load):
			loads = append(loads, load)
			what := id + ", " + load.Started.Words()
			if f.terms.Clock.Before(v.Started, load.Started) == quantity.Yes {
				whole, what = false, what+", which is after the visit; a number or date mistyped would explain it"
				l.Heed = append(l.Heed, "load "+id+" is written as begun after the visit")
			}
			said = append(said, what)
			l.Seen = append(l.Seen, Seen{Row: &load.Row, Field: "started", Note: "its load"})
		}
	}
	for _, k := range packs {
		if k.Load == "" {
			lost("which load made "+label(&k.Row)+" is not written", blank.Sure)
			l.Seen = append(l.Seen, Seen{Row: &k.Row, Field: "load"})
			continue
		}
		add(k.Load)
	}
	for _, id := range v.Loads.Items {
		add(id)
	}
	l.What = listed(said)
	switch {
	case len(loads) == 0 && blank.State == LinkUnkept && len(v.Loads.Items) == 0:
		l.State, l.Sure, l.What = LinkUnkept, false, blank.What
	case len(loads) == 0 && unclear:
		l.State = LinkPart
	case len(loads) == 0 && f.early("loads", day):
		l.State, l.Sure, l.What = LinkUnkept, false, l.What+"; nothing is typed for loads before "+f.since["loads"].Words()+", so it is not judged before then"
	case len(loads) == 0:
		l.State = LinkAbsent
	case !whole:
		l.State = LinkPart
	}
	return l, loads
}
