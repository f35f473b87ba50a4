package chain

import (
	"slices"
	"strings"
	"unicode"

	"footing/internal/practice"
	"footing/internal/quantity"
)

// visit adds what a visit used: the packs it names, or how many it says, the lesser
// where both are written; one where it names a load alone.
func (g *packing) visit(v *practice.Visit) {
	loads := g.loads[:0]
	for _, id := range v.Loads.Items {
		l, state := g.p.Load(id)
		if !made(l, state) {
			return
		}
		loads = append(loads, l)
	}
	day := v.Started.Day()
	at := g.dayEnd(day)
	if v.Ended.Written() && v.Ended.Last() >= v.Started.First() {
		at = v.Ended.Last()
	}
	switch {
	case g.later(loads, at):
	case len(v.Packs.Items) > 0:
		g.numbered(v, day, at)
	case v.PacksUsed.Written:
		g.unnumbered(v, day, at, int(v.PacksUsed.Value))
	case len(v.Loads.Items) > 0:
		g.unnumbered(v, day, at, 1)
	}
}

// twice is what two rows have in common that may be one visit, typed twice.
type twice struct {
	client, site string
	start        int64
	n            int
}

// unnumbered adds a visit that says how many packs it used. Two rows of one client, start
// and number may be one visit; they count once.
func (g *packing) unnumbered(v *practice.Visit, day quantity.Day, at int64, n int) {
	row := twice{v.Client, v.Site, v.Started.First(), n}
	if !g.once[row] {
		g.once[row] = true
		g.draw(v, day, at, "", n)
	}
}

// typed reports whether an id is that of one load, and not a rejected one.
func (g *packing) typed(id string) bool {
	return made(g.p.Load(id))
}

// made reports whether a load is one, and not a rejected one.
func made(l *practice.Load, state practice.State) bool {
	return state == practice.One && l.Decision != "rejected"
}

// later reports whether one of some loads was over only after a time: what was used by
// then did not come from it, and where it came from is not this balance's question.
func (g *packing) later(loads []*practice.Load, at int64) bool {
	for _, l := range loads {
		if g.readyOf(l) > at {
			return true
		}
	}
	return false
}

// numbered adds a visit that names its packs.
func (g *packing) numbered(v *practice.Visit, day quantity.Day, at int64) {
	sets, loads := g.words[:0], g.loads[:0]
	opened, all, again := int64(0), true, 0
	traced := true
	for i, id := range v.Packs.Items {
		if slices.Contains(v.Packs.Items[:i], id) {
			continue
		}
		k, state := g.p.PackOf(v, i)
		switch {
		case state == practice.Absent:
			all = false
			if g.foreign(id) {
				continue
			}
			k = &practice.Pack{}
		case state != practice.One:
			return
		default:
			l, known := g.p.LoadOfPack(k)
			if !made(l, known) {
				return
			}
			loads = append(loads, l)
		}
		uses, _ := g.p.UsesOfPack(k)
		alone := state == practice.One && len(uses) == 1
		traced = traced && alone
		if !alone && g.again(id, k, state, day) {
			again++
		} else {
			sets = append(sets, g.fold(k.Set))
		}
		if k.OpenedAt.HasClock() && k.OpenedAt.Day() == day {
			opened = max(opened, k.OpenedAt.Last())
		} else {
			all = false
		}
	}
	if all {
		at = min(at, opened)
	}
	if g.words, g.loads = sets, loads; g.later(loads, at) {
		return
	}
	if n := int(v.PacksUsed.Value) - again; v.PacksUsed.Written && n < len(sets) {
		g.draw(v, day, at, "", n)
		return
	}
	slices.Sort(sets)
	for first := 0; first < len(sets); {
		until := first
		for until < len(sets) && sets[until] == sets[first] {
			until++
		}
		g.draw(v, day, at, sets[first], until-first)
		g.drawings[len(g.drawings)-1].traced = traced
		first = until
	}
}

// taken is a pack that a visit named; the day stands with numbers that may come back.
type taken struct {
	pack *practice.Pack // with an id of its own
	id   string
	day  quantity.Day
}

// again reports whether a visit before this one took the pack, and notes that this one
// did. That one pack stands in two visits is a question of its own; here it is one pack
// gone from the shelf. What is filled again under its number, and a number that is not
// typed, are one pack within a day.
func (g *packing) again(id string, k *practice.Pack, state practice.State, day quantity.Day) bool {
	one := taken{pack: k}
	if state != practice.One || slices.Contains([]string{"cassette", "covered-tray", "none"}, k.Packaging) {
		one = taken{id: id, day: day}
	}
	before := g.taken[one]
	g.taken[one] = true
	return before
}

// foreign reports whether a number that no pack has is of another form than those of
// the packs that are typed: a lot number of packs bought ready, or a contractor's.
func (g *packing) foreign(id string) bool {
	if g.forms == nil {
		g.forms = map[string]bool{}
		for i := range g.p.Packs {
			g.forms[formOf(practice.Key(&g.p.Packs[i].Row))] = true
		}
	}
	return len(g.forms) > 0 && !g.forms[formOf(id)]
}

// formOf is an id with each number in it made 0, and without signs: "k0" for "K-017".
func formOf(id string) string {
	var form []rune
	digits := false
	for _, r := range strings.ToLower(id) {
		digit := unicode.IsDigit(r)
		switch {
		case digit && !digits:
			form = append(form, '0')
		case unicode.IsLetter(r):
			form = append(form, r)
		}
		digits = digit
	}
	return string(form)
}

func (g *packing) draw(v *practice.Visit, day quantity.Day, at int64, set string, n int) {
	if n <= 0 {
		return
	}
	if set == "" {
		g.setless = true
	} else {
		g.drawn[set] = true
	}
	g.drawings = append(g.drawings, drawing{visit: v, site: v.Site, set: set, at: at, day: day, n: n})
}

// discarded adds the packs that were thrown away unopened, by their numbers.
func (g *packing) discarded() {
	for i := range g.p.Packs {
		k := &g.p.Packs[i]
		if !k.DiscardedOn.Written() || k.OpenedAt.Written() || !g.typed(k.Load) {
			continue
		}
		key := practice.Key(&k.Row)
		if _, state := g.p.Pack(key); state == practice.One && len(g.p.UsesOf(key)) == 0 {
			g.thrown[0] = append(g.thrown[0], g.leave(k.StoredAt, g.fold(k.Set), k.DiscardedOn, 1))
		}
	}
}

func (g *packing) leave(site, set string, on quantity.Day, n int) leaving {
	return leaving{site, set, g.dayEnd(on), on, n}
}

// arrive adds packs that came to a site on a day, or to any where it is "".
func (g *packing) arrive(site, set string, on quantity.Day, n int) *making {
	m := &making{set: set, first: g.dayStart(on), last: g.dayEnd(on.AddDays(1)), n: n}
	if site != "" {
		m.sites = []string{site}
	}
	g.makings = append(g.makings, m)
	return m
}

// move takes packs from one site to another on a day.
func (g *packing) move(from, to, set string, on quantity.Day, n int) {
	g.arrive(to, set, on, n).moved = true
	g.moved = append(g.moved, g.leave(from, set, on, n))
}

// stock adds counts, deliveries, discards and moves of packs. What is written as
// taken for use is in the visits, and not taken twice.
func (g *packing) stock() {
	for i := range g.p.Stock {
		r := &g.p.Stock[i]
		if r.Item != "sterile-pack" {
			continue
		}
		set, n := g.fold(r.Set), piecesOf(r)
		g.setless = g.setless || set == ""
		switch r.Reason {
		case "count":
			g.counts = append(g.counts, r)
		case "purchase":
			g.bought = true
			g.arrive(r.Site, g.named(r.Set), r.On, n)
		case "discard":
			g.thrown[1] = append(g.thrown[1], g.leave(r.Site, set, r.On, n))
		case "transfer":
			if g.bySite && r.ToSite != r.Site {
				g.move(r.Site, r.ToSite, set, r.On, n)
			}
		}
	}
}

// trips adds what went out, came back and was spoiled.
func (g *packing) trips() {
	for i := range g.p.Trips {
		t := &g.p.Trips[i]
		if g.bySite {
			g.shift(t.PacksOut, t.FromSite, t.ToSite, t.On)
			g.shift(t.PacksBack, t.ToSite, t.FromSite, t.On)
		}
		if n := t.PacksSpoiled.Number(); n.Written && n.Value > 0 {
			g.thrown[2] = append(g.thrown[2], g.leave(t.ToSite, "", t.On, int(n.Value)))
		}
	}
}

// shift moves packs from one site to another on a day: by number where they have
// one, so that their sets are known.
func (g *packing) shift(packs quantity.CountOrList, from, to string, on quantity.Day) {
	n := packs.Number()
	if !n.Written || n.Value <= 0 || from == to {
		return
	}
	if len(packs.Items) == 0 {
		g.move(from, to, "", on, int(n.Value))
		return
	}
	for _, id := range packs.Items {
		set := ""
		if k, state := g.p.Pack(id); state == practice.One {
			set = g.fold(k.Set)
		}
		g.move(from, to, set, on, 1)
	}
}

// leavings are the packs that surely left a rack unused: those that moved, where it is
// of one site, and those thrown away as the one way of writing it tells that tells of the most, since two
// may tell of the same packs.
func (g *packing) leavings(r *Rack) (all []leaving) {
	most := 0
	for _, ways := range g.thrown {
		var these []leaving
		n := 0
		for _, l := range ways {
			if r.of(l.site, l.set, false) {
				these = append(these, l)
				n += l.n
			}
		}
		if n > most {
			most, all = n, these
		}
	}
	for _, l := range g.moved {
		if r.Site != "" && r.of(l.site, l.set, false) {
			all = append(all, l)
		}
	}
	return all
}
