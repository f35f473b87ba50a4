package report

import (
	"slices"
	"strconv"

	"footing/internal/result"
)

// each prints a section of the forward answers that have something for it, under a
// heading of its own where there are several.
func (p *lookPage) each(title md, lead md, has func(l *result.Lookback) bool, print func(l *result.Lookback)) {
	var with []*result.Lookback
	for i := range p.a.Lookbacks {
		if has(&p.a.Lookbacks[i]) {
			with = append(with, &p.a.Lookbacks[i])
		}
	}
	if len(with) == 0 {
		return
	}
	p.heading(2, title)
	p.para(lead)
	for _, l := range with {
		if len(p.a.Lookbacks) > 1 {
			p.heading(3, text(named(l.Kind, l.ID)))
		}
		print(l)
	}
}

func (p *lookPage) windows() {
	p.each(titleWindows, windowsLead,
		func(l *result.Lookback) bool { return len(l.Windows) > 0 }, p.windowsOf)
}

func (p *lookPage) narrowing() {
	p.each(titleNarrowing, "Records that may exist and are not in the folder. Look for them; write nothing from memory. The figures are those of the wide window if what you find says so.",
		func(l *result.Lookback) bool { return len(l.Narrowing) > 0 }, func(l *result.Lookback) { p.narrowingOf(l, mostListed) })
}

func (p *lookPage) loads() {
	p.each(titleLoads, "Every load of the wide window, by time.",
		func(l *result.Lookback) bool { return len(l.Loads) > 0 },
		func(l *result.Lookback) {
			p.capped([]md{"On", "Load", "Cycle counter", "Decision", "What it shows", "Packs", "Window", "Where it is written"}, len(l.Loads), func(i int) []md {
				w := l.Loads[i]
				return []md{text(day(w.On)), text(ident("loads", w.Load)), text(w.Counter), text(w.Decision), text(w.Shows), text(w.Packs), text(windowName(w.Narrow)), text(place(w.Record))}
			})
		})
}

// visits lists those that name a pack or load apart from those that only could have
// had one.
func (p *lookPage) visits() {
	p.each(titleVisits, "Contact no client on your own: public health decides with your regulator whether clients are told.",
		func(l *result.Lookback) bool { return len(l.Affected) > 0 },
		func(l *result.Lookback) {
			for _, named := range []bool{true, false} {
				list := slices.DeleteFunc(slices.Clone(l.Affected), func(v result.Affected) bool { return v.Named != named })
				if len(list) == 0 {
					continue
				}
				p.para(say("**%s**", visitsTitle(named, len(list))))
				p.capped([]md{tick, "On", "Visit", "Client", "Site", "By", "How", "Window", "Where it is written"}, len(list), func(i int) []md {
					v := list[i]
					return []md{box, text(day(v.On)), text(ident("visits", v.Visit)), text(ident("clients", v.Client)), text(v.Site), text(ident("people", v.Person)), text(v.How), text(windowName(v.Narrow)), text(place(v.Record))}
				})
			}
		})
}

func visitsTitle(named bool, n int) string {
	if named {
		return several(n, "visit names a pack or load of it", "visits name a pack or load of it")
	}
	return several(n, "visit does not say where all its packs came from, and could have had one of these", "visits do not say where all their packs came from, and could have had one of these") + ": an upper limit"
}

// capped prints a table of n rows, at most mostListed of them, and counts the rest.
func (p *page) capped(columns []md, n int, row func(i int) []md) {
	rows := make([][]md, 0, min(n, mostListed))
	for i := range min(n, mostListed) {
		rows = append(rows, row(i))
	}
	p.table(columns, rows)
	if more := n - mostListed; more > 0 {
		p.para(say("And %s more; every one is in lookback.csv and lookback.json.", strconv.Itoa(more)))
	}
}
