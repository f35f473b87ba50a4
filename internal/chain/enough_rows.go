package chain

import (
	"slices"

	"footing/internal/practice"
	"footing/internal/quantity"
)

// making is packs that came to be there: of a load, a delivery, or another site.
type making struct {
	load        *practice.Load // nil for the others
	sites       []string       // where they may have been put; none: anywhere
	set         string         // "" where not told
	first, last int64          // the earliest second they can have been there; the latest by which they were put away
	n           int
	waits       bool // its load still waits for its release
	moved       bool // from another site: nothing new where all sites are one rack
}

func (m *making) mayBe(r *Rack) bool {
	return (r.Set == "" || m.set == "" || m.set == r.Set) && (r.Site == "" && !m.moved || r.Site != "" && (len(m.sites) == 0 || slices.Contains(m.sites, r.Site)))
}

// drawing is packs of one set that a visit used.
type drawing struct {
	visit     *practice.Visit
	site, set string
	at        int64 // the latest second
	day       quantity.Day
	n         int
	traced    bool // every pack of the visit leads to a load, and no other visit names it
}

// leaving is packs that were there and are so no more, unused.
type leaving struct {
	site, set string
	at        int64
	day       quantity.Day
	n         int
}

// packing is all that the records say of packs coming and going.
type packing struct {
	p             *practice.Practice
	clock         Clock
	makings       []*making
	drawings      []drawing
	thrown        [3][]leaving // by numbers of packs, rows of stock, trips: each may tell of the same packs
	moved         []leaving
	counts        []*practice.Stock
	sites         []string // that hold packs, sorted
	sets          map[string]bool
	bySite, bySet bool
	from          quantity.Day // the first day looked at
	opening       Opening      // without a count before
	setless       bool         // some row does not say its set
	drawn         map[string]bool
	starts        map[quantity.Day]int64
	once          map[twice]bool
	taken         map[taken]bool
	forms         map[string]bool // of the numbers of packs; nil before it is asked
	bought        bool            // packs come in that no load made
	loads         []*practice.Load
	words         []string // both kept to be filled again
	fold          func(string) string
}

func gather(p *practice.Practice, clock Clock) *packing {
	g := &packing{p: p, clock: clock, sets: map[string]bool{}, drawn: map[string]bool{}, starts: map[quantity.Day]int64{}, once: map[twice]bool{}, taken: map[taken]bool{}, fold: remember(fold)}
	g.bought = p.Profile.Reprocessing == "contracted" || p.Profile.Reprocessing == "single-use-only"
	g.holders()
	g.drawings = make([]drawing, 0, len(p.Visits))
	for _, l := range p.LoadsByTime() {
		g.load(l)
	}
	for _, v := range p.VisitsByTime() {
		if v.Done() {
			g.visit(v)
		}
	}
	g.discarded()
	g.stock()
	g.trips()
	g.begin()
	g.bySet = !g.setless && len(g.sets) > 1
	for set := range g.drawn {
		g.bySet = g.bySet && g.sets[set]
	}
	return g
}

// dayStart and dayEnd are the first and the last second of a local day.
func (g *packing) dayStart(d quantity.Day) int64 {
	t, ok := g.starts[d]
	if !ok {
		t = d.Start(g.p.Zone).Unix()
		g.starts[d] = t
	}
	return t
}

func (g *packing) dayEnd(d quantity.Day) int64 { return g.dayStart(d.AddDays(1)) - 1 }

// named notes a set that packs were made of; one that is not told makes sets one.
func (g *packing) named(set string) string {
	set = g.fold(set)
	if set == "" {
		g.setless = true
	} else {
		g.sets[set] = true
	}
	return set
}

// load adds what a load made: the greatest number that its rows give, since a
// number too small would make packs missing that nobody missed.
func (g *packing) load(l *practice.Load) {
	if l.Decision == "rejected" {
		return
	}
	var rows []*practice.Pack
	if _, state := g.p.Load(practice.Key(&l.Row)); state == practice.One {
		rows = g.p.PacksOf(practice.Key(&l.Row))
	}
	sets, n, told := g.made(l, rows)
	m := making{load: l, sites: g.sitesOf(l, rows), waits: l.Decision == "pending"}
	m.first, m.last = g.spanOf(l)
	if !told {
		n = endless
		if s, state := g.p.Sterilizer(l.Sterilizer); state == practice.One && s.MostPacks.Written {
			n = max(len(rows), int(s.MostPacks.Value))
		}
		sets = nil
	}
	if len(sets) == 0 {
		if n > 0 {
			m.n = n
			g.setless = true
			g.makings = append(g.makings, &m)
		}
		return
	}
	for _, s := range sets {
		one := m
		one.set, one.n = g.named(s.Set), int(s.Count)
		g.makings = append(g.makings, &one)
	}
}

// made is how many packs a load made, apart by set where that is told; told says
// whether the number is. Rows of packs alone tell it where every pack is typed.
func (g *packing) made(l *practice.Load, rows []*practice.Pack) (sets []SetCount, n int, told bool) {
	n = len(rows)
	listed, sum, ok := setsCounted(l)
	switch {
	case l.PacksMade.Written:
		n, told = max(n, int(l.PacksMade.Value)), true
		if ok {
			n = max(n, sum)
		}
	case ok:
		n, told = max(n, sum), true
	default:
		told = n > 0 && g.p.Whole("packs", l.Started.Day(), g.p.AsOf)
	}
	switch {
	case ok && sum == n:
		return listed, n, told
	case n == len(rows):
		return g.setsOfRows(rows), n, told
	}
	return nil, n, told
}

// setsCounted is SetsOf where each entry has its number: "nippers; curettes" alone
// does not say how many packs there were.
func setsCounted(l *practice.Load) (sets []SetCount, sum int, ok bool) {
	for _, entry := range l.Sets.Items {
		if c, _ := setCount(entry); c.Set == fold(entry) {
			return nil, 0, false
		}
	}
	sets, ok = SetsOf(l)
	for _, s := range sets {
		sum += int(s.Count)
	}
	return sets, sum, ok
}

// setsOfRows counts packs by their set; none where one does not say it.
func (g *packing) setsOfRows(rows []*practice.Pack) (sets []SetCount) {
	at := map[string]int{}
	for _, k := range rows {
		set := g.fold(k.Set)
		if set == "" {
			return nil
		}
		i, seen := at[set]
		if !seen {
			i = len(sets)
			at[set] = i
			sets = append(sets, SetCount{Set: set})
		}
		sets[i].Count++
	}
	return sets
}

// sitesOf is where the packs of a load may have been put: where the sterilizer
// stands, and where its packs are kept; anywhere for a contractor's.
func (g *packing) sitesOf(l *practice.Load, rows []*practice.Pack) []string {
	s, state := g.p.Sterilizer(l.Sterilizer)
	if state != practice.One || s.OperatedBy == "contractor" || s.Site == "" {
		return nil
	}
	sites := []string{s.Site}
	for _, k := range rows {
		if k.StoredAt == "" {
			return nil
		}
		if !slices.Contains(sites, k.StoredAt) {
			sites = append(sites, k.StoredAt)
		}
	}
	return sites
}

// readyOf is the earliest second at which the cycle of a load can have ended.
func (g *packing) readyOf(l *practice.Load) int64 {
	first := l.Started.First()
	if l.Ended.Written() {
		first = max(first, l.Ended.First())
	}
	return first - g.clock.seconds()
}

// spanOf is when the packs of a load were put away: at the earliest when its cycle
// can have ended; at the latest when it was released, or at the end of the next day
// where that is not written.
func (g *packing) spanOf(l *practice.Load) (first, last int64) {
	off := g.clock.seconds()
	first = g.readyOf(l)
	for _, m := range []quantity.Moment{l.Started, l.Ended, l.ReleasedAt} {
		if at := m.Last(); m.HasClock() {
			last = max(last, at+off)
		} else if m.Written() {
			last = max(last, at)
		}
	}
	if !l.ReleasedAt.Written() {
		last = max(last, g.dayEnd(max(l.Started.Day(), l.Ended.Day()).AddDays(1)))
	}
	return first, last
}
