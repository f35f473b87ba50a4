package report

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"footing/internal/result"
)

// pull lists the packs to put on hold: those on a shelf, then those that may be in a
// bag that travels, then those of which nothing is written, each site on its own.
func (p *lookPage) pull() {
	p.each(titlePull, "Put these on hold, unopened, marked and apart. Throw none away.",
		func(l *result.Lookback) bool { return len(l.Pull) > 0 },
		func(l *result.Lookback) {
			for _, g := range pullGroups(l.Pull) {
				p.para(say("**%s**", g.title))
				p.capped([]md{tick, "Pack", "Load", "Set", "Last written of", "State", "Window", "Where it is written"}, len(g.packs), func(i int) []md {
					k := g.packs[i]
					return []md{box, text(packName(k)), text(ident("loads", k.Load)), text(k.Set), text(day(k.On)), text(k.State), text(windowName(k.Narrow)), text(place(k.Record))}
				})
			}
		})
}

// pullGroup is the packs of one sort and site.
type pullGroup struct {
	sort  int
	title string
	packs []result.Pull
}

// Sorts of packs to pull, in the order in which they are listed.
var pullSorts = [...]struct{ where, title string }{
	{result.PullShelf, "On a shelf"},
	{result.PullBag, "Perhaps in a bag that travels"},
	{result.PullUnknown, "Whereabouts not written"},
	{result.PullCount, "Known by a load’s count alone, so some may have been used"},
}

func pullGroups(pull []result.Pull) (groups []pullGroup) {
	type key struct {
		sort int
		site string
	}
	at := map[key]int{}
	for _, k := range pull {
		sort := max(0, slices.IndexFunc(pullSorts[:], func(s struct{ where, title string }) bool { return s.where == k.Where }))
		i, ok := at[key{sort, k.Site}]
		if !ok {
			i = len(groups)
			at[key{sort, k.Site}] = i
			groups = append(groups, pullGroup{sort: sort})
		}
		groups[i].packs = append(groups[i].packs, k)
	}
	slices.SortStableFunc(groups, func(a, b pullGroup) int {
		return cmp.Or(cmp.Compare(a.sort, b.sort), cmp.Compare(a.packs[0].Site, b.packs[0].Site))
	})
	for i := range groups {
		groups[i].title = groups[i].named()
	}
	return groups
}

// named is "On a shelf, main-clinic: 12 packs".
func (g *pullGroup) named() string {
	n, unknown := 0, 0
	for _, k := range g.packs {
		n += k.Count
		if k.Count == 0 {
			unknown++
		}
	}
	title := pullSorts[g.sort].title
	if site := plain(g.packs[0].Site); site != "" {
		title += ", " + site
	}
	var parts []string
	if n > 0 || unknown == 0 {
		parts = append(parts, several(n, "pack", "packs"))
	}
	if unknown > 0 {
		parts = append(parts, "those of "+several(unknown, "load of which", "loads of which")+" it is not written how many")
	}
	return title + ": " + strings.Join(parts, ", and ")
}

func packName(k result.Pull) string {
	switch {
	case k.Pack != "":
		return ident("packs", k.Pack)
	case k.Count == 0:
		return "number not written"
	case k.Count == 1:
		return "1 without a number"
	}
	return strconv.Itoa(k.Count) + " without a number"
}
