package chain

import (
	"fmt"
	"slices"
	"sort"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"footing/internal/practice"
	"footing/internal/quantity"
)

// loose is one thing that is not accounted for, from when it could have been used: a
// moment, a day, or, with neither, always.
type loose struct {
	at  quantity.Moment
	day quantity.Day
}

// bruteReach works out a reach visit by visit, from the text of the rules.
type bruteReach struct {
	p          *practice.Practice
	terms      Terms
	loads      []*practice.Load
	packs      []*practice.Pack
	onlyPacks  bool
	unnumbered int
	uncounted  int
	loose      []loose
}

func (b *bruteReach) ofLoads() {
	for i := range b.p.Packs {
		k := &b.p.Packs[i]
		if slices.ContainsFunc(b.loads, func(l *practice.Load) bool { return practice.Key(&l.Row) == k.Load }) {
			b.packs = append(b.packs, k)
		}
	}
	for _, l := range b.loads {
		same, rows := 0, 0
		for i := range b.p.Loads {
			if practice.Key(&b.p.Loads[i].Row) == practice.Key(&l.Row) {
				same++
			}
		}
		for i := range b.p.Packs {
			if b.p.Packs[i].Load == practice.Key(&l.Row) {
				rows++
			}
		}
		made, counted := int(l.PacksMade.Value), l.PacksMade.Written
		if sets, ok := SetsOf(l); ok && !counted {
			counted = true
			for _, s := range sets {
				made += int(s.Count)
			}
		}
		taken := rows
		if same > 1 {
			taken = 0
		}
		if counted && made > taken {
			b.unnumbered += made - taken
			b.loose = append(b.loose, loose{at: l.Started})
		}
		if !counted && (taken == 0 || b.terms.Whole == nil || !b.terms.Whole(l)) {
			b.uncounted++
			b.loose = append(b.loose, loose{at: l.Started})
		}
	}
}

func (b *bruteReach) fates() {
	for _, k := range b.packs {
		f := FateOf(b.p, k)
		var load *practice.Load
		for _, l := range b.p.LoadsByTime() {
			if practice.Key(&l.Row) != k.Load || b.onlyPacks && !b.alone(k.Load) {
				continue
			}
			if !b.onlyPacks && !slices.Contains(b.loads, l) {
				continue
			}
			if load == nil {
				load = l
			}
		}
		switch {
		case f.Where == OnShelf && !f.Shared:
			if k.CountedOn < b.p.AsOf {
				b.loose = append(b.loose, loose{day: k.CountedOn})
			}
		case f.Shared || f.Where == Opened || f.Where == NotWritten || f.Where == Used && k.OpenedAt.Written() && b.usesOn(k.OpenedAt.Day(), f) == 0:
			if load == nil {
				b.loose = append(b.loose, loose{})
			} else {
				b.loose = append(b.loose, loose{at: load.Started})
			}
		}
	}
}

// usesOn is how many visits of a day that took place name a pack.
func (b *bruteReach) usesOn(day quantity.Day, f Fate) (n int) {
	for i := range b.p.Visits {
		v := &b.p.Visits[i]
		if v.Done() && v.Started.Day() == day && slices.Contains(v.Packs.Items, practice.Key(&f.Pack.Row)) {
			n++
		}
	}
	return n
}

// alone reports whether exactly one load has an id.
func (b *bruteReach) alone(id string) bool {
	n := 0
	for i := range b.p.Loads {
		if practice.Key(&b.p.Loads[i].Row) == id {
			n++
		}
	}
	return n == 1
}

func (b *bruteReach) hasLoad(id string) bool {
	return slices.ContainsFunc(b.p.Loads, func(l practice.Load) bool { return practice.Key(&l.Row) == id })
}

// leads reports whether each row of a pack leads to a load, and there is one.
func (b *bruteReach) leads(id string) bool {
	found := false
	for i := range b.p.Packs {
		if k := &b.p.Packs[i]; practice.Key(&k.Row) == id {
			found = true
			if !b.hasLoad(k.Load) {
				return false
			}
		}
	}
	return found
}

func (b *bruteReach) visits() (named, possible []string) {
	visits := b.p.VisitsByTime()
	for _, v := range visits {
		if v.Status != "done" && v.Status != "" {
			continue
		}
		names, vague, part := false, false, false
		for _, id := range v.Packs.Items {
			names = names || slices.ContainsFunc(b.packs, func(k *practice.Pack) bool { return practice.Key(&k.Row) == id })
			vague = vague || !b.leads(id)
		}
		for _, id := range v.Loads.Items {
			names = names || !b.onlyPacks && slices.ContainsFunc(b.loads, func(l *practice.Load) bool { return practice.Key(&l.Row) == id })
			vague = vague || !b.hasLoad(id)
			part = part || b.onlyPacks && slices.ContainsFunc(b.packs, func(k *practice.Pack) bool { return k.Load == id })
		}
		if names {
			named = append(named, v.Row.Label())
			continue
		}
		n, m := len(v.Packs.Items), len(v.Loads.Items)
		could := false
		switch {
		case n+m == 0:
			could = !(v.PacksUsed.Written && v.PacksUsed.Value == 0) && b.terms.Needs(v) != quantity.No
		default:
			could = vague || m == 0 && v.PacksUsed.Written && int(v.PacksUsed.Value) > n || n == 0 && part
		}
		late := slices.ContainsFunc(b.loose, func(x loose) bool {
			if x.at.Written() {
				return b.terms.Clock.Before(v.Started, x.at) != quantity.Yes
			}
			return v.Started.Day() >= x.day
		})
		if could && late {
			possible = append(possible, v.Row.Label())
		}
	}
	return named, possible
}

func (b *bruteReach) told() string {
	b.fates()
	named, possible := b.visits()
	who := func(labels ...string) (all []string) {
		for _, v := range b.p.VisitsByTime() {
			if slices.Contains(labels, v.Row.Label()) && v.Client != "" && !slices.Contains(all, v.Client) {
				all = append(all, v.Client)
			}
		}
		sort.Strings(all)
		return all
	}
	return fmt.Sprint(len(b.packs), " ", b.unnumbered, " ", b.uncounted, " ", named, possible, who(named...), who(slices.Concat(named, possible)...))
}

func reachFacts(r Reach) string {
	return fmt.Sprint(len(r.Packs), " ", r.Unnumbered, " ", r.Uncounted, " ", strings.Fields(visitIDs(r.Visits)), strings.Fields(visitIDs(r.Possible)), r.Clients, r.MostClients)
}

func TestReachAgreesWithBruteForce(t *testing.T) {
	read := folders(t)
	rapid.Check(t, func(t *rapid.T) {
		r := smallPractices(t)
		for _, v := range r["visits"] {
			delete(v, "id")
		}
		for i, v := range r["visits"] {
			v["id"] = fmt.Sprint("V", i)
		}
		p := read(r)
		terms := drawTerms(t)
		var loads []*practice.Load
		for i := range p.Loads {
			if rapid.IntRange(0, 2).Draw(t, "load taken") == 0 {
				loads = append(loads, &p.Loads[i])
			}
		}
		b := bruteReach{p: p, terms: terms, loads: loads}
		b.ofLoads()
		require.Equal(t, b.told(), reachFacts(ReachOf(p, terms, append(loads, loads...))), "loads %v", loadIDs(loads))
		var packs []*practice.Pack
		for i := range p.Packs {
			if rapid.IntRange(0, 2).Draw(t, "pack taken") == 0 {
				packs = append(packs, &p.Packs[i])
			}
		}
		b = bruteReach{p: p, terms: terms, packs: packs, onlyPacks: true}
		require.Equal(t, b.told(), reachFacts(ReachOfPacks(p, terms, append(packs, packs...))), "packs %v", len(packs))
	})
}

// More loads never reach fewer clients, and those named are among the most.
func TestReachGrowsWithLoads(t *testing.T) {
	read := folders(t)
	rapid.Check(t, func(t *rapid.T) {
		p := read(smallPractices(t))
		terms := drawTerms(t)
		loads := p.LoadsByTime()
		n := rapid.IntRange(0, len(loads)).Draw(t, "loads")
		less, more := ReachOf(p, terms, loads[:n]), ReachOf(p, terms, loads)
		require.Subset(t, more.Clients, less.Clients)
		require.Subset(t, more.MostClients, less.MostClients)
		require.Subset(t, more.MostClients, more.Clients)
	})
}
