package chain

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"footing/internal/practice"
	"footing/internal/quantity"
)

// stretch is the time in which a column is filled: inside it a blank is a gap in the
// records, before it the column may not have been kept yet.
type stretch struct{ first, last quantity.Day }

func (s stretch) with(d quantity.Day) stretch {
	if !s.first.Written() || d < s.first {
		s.first = d
	}
	s.last = max(s.last, d)
	return s
}

func (s stretch) kept() bool { return s.first.Written() }

func (s stretch) holds(d quantity.Day) bool { return s.kept() && s.first <= d && d <= s.last }

func (f *Follower) group() {
	f.since = map[string]quantity.Day{}
	f.histories, f.consents = map[string][]*practice.History{}, map[string][]*practice.Consent{}
	for i := range f.p.Histories {
		h := &f.p.Histories[i]
		f.histories[h.Client] = append(f.histories[h.Client], h)
		f.from("histories", h.TakenOn)
	}
	for _, g := range f.histories {
		slices.SortStableFunc(g, func(a, b *practice.History) int { return cmp.Compare(a.TakenOn, b.TakenOn) })
	}
	for i := range f.p.Consents {
		c := &f.p.Consents[i]
		f.consents[c.Client] = append(f.consents[c.Client], c)
		f.from("consents", c.GivenOn)
	}
	for _, g := range f.consents {
		slices.SortStableFunc(g, func(a, b *practice.Consent) int { return cmp.Compare(a.GivenOn, b.GivenOn) })
	}
	for i := range f.p.Screens {
		f.from("screens", f.p.Screens[i].AskedOn)
	}
	f.incidents, f.referrals = map[string][]*practice.Incident{}, map[string][]*practice.Referral{}
	for i := range f.p.Incidents {
		n := &f.p.Incidents[i]
		key := n.Visit
		if key == "" && n.Client != "" {
			key = ofDay(n.Client, n.OccurredOn)
		}
		if key != "" {
			f.incidents[key] = append(f.incidents[key], n)
		}
	}
	for i := range f.p.Referrals {
		if r := &f.p.Referrals[i]; r.Visit != "" {
			f.referrals[r.Visit] = append(f.referrals[r.Visit], r)
		}
	}
}

// from notes a day that a kind has a row of.
func (f *Follower) from(kind string, d quantity.Day) {
	if first := f.since[kind]; d.Written() && (!first.Written() || d < first) {
		f.since[kind] = d
	}
}

// early reports whether a day lies before the first that a kind has a row of, where it
// is not said that all rows of that day are here.
func (f *Follower) early(kind string, d quantity.Day) bool {
	first := f.since[kind]
	return first.Written() && d < first && !f.p.Whole(kind, d, d)
}

// ofDay is the key of what names a client and a day, and no visit.
func ofDay(client string, on quantity.Day) string { return client + "\x00" + on.String() }

func (f *Follower) columns() {
	f.naming = map[string]stretch{}
	for i := range f.p.Visits {
		v := &f.p.Visits[i]
		day := v.Started.Day()
		if v.Person != "" {
			f.person = f.person.with(day)
		}
		if v.Gloves != "" {
			f.gloves = f.gloves.with(day)
		}
		if named(v) {
			f.naming[v.Site] = f.naming[v.Site].with(day)
		}
		for i := range v.Packs.Items {
			if k, state := f.p.PackOf(v, i); state == practice.One && k.Load != "" {
				f.packLoad = f.packLoad.with(day)
			}
		}
	}
	f.sparse = f.sparseSites()
	f.decision, f.printout, f.indicators, f.operator = map[string]stretch{}, map[string]stretch{}, map[string]stretch{}, map[string]stretch{}
	fill := func(m map[string]stretch, l *practice.Load) { m[l.Sterilizer] = m[l.Sterilizer].with(l.Started.Day()) }
	for i := range f.p.Loads {
		l := &f.p.Loads[i]
		f.number(l)
		f.from("loads", l.Started.Day())
		if l.LoadedBy != "" || l.ReleasedBy != "" {
			fill(f.operator, l)
		}
		if l.Decision != "" {
			fill(f.decision, l)
		}
		if l.Printout != 0 || l.Trace != "" || len(f.p.TracesOf(l)) > 0 {
			fill(f.printout, l)
		}
		if shows(l.OutsideIndicator) || shows(l.InsideIndicator) {
			fill(f.indicators, l)
		}
	}
	for i := range f.p.Packs {
		k := &f.p.Packs[i]
		f.from("packs", k.OpenedAt.Day())
		l, state := f.p.Load(k.Load)
		if state != practice.One {
			continue
		}
		f.from("packs", l.Started.Day())
		if shows(k.InsideIndicator) || shows(k.OutsideIndicator) {
			fill(f.indicators, l)
		}
	}
}

// sparseSites are the sites at which, from the first visit that names a pack to the
// last, so few of those that need one do that this does not seem to be kept.
func (f *Follower) sparseSites() map[string]bool {
	all, some := map[string]int{}, map[string]int{}
	for i := range f.p.Visits {
		switch v := &f.p.Visits[i]; {
		case !v.Done() || !f.naming[v.Site].holds(v.Started.Day()):
		case named(v):
			all[v.Site]++
			some[v.Site]++
		case f.needs(v) == quantity.Yes && WithoutPack(f.p, v) == "" && !v.PacksUsed.Written:
			all[v.Site]++
		}
	}
	sparse := map[string]bool{}
	for site, n := range all {
		sparse[site] = float64(some[site]) <= f.terms.Share*float64(n)
	}
	return sparse
}

// number notes a load under the number that its id ends in, and its counter, by which
// people name it too.
func (f *Follower) number(l *practice.Load) {
	add := func(n string) {
		if n != "" && !slices.Contains(f.numbered[n], l) {
			f.numbered[n] = append(f.numbered[n], l)
		}
	}
	add(numberOf(l.ID))
	if l.Counter.Written {
		add(strconv.FormatFloat(l.Counter.Value, 'f', -1, 64))
	}
}

// numberOf is the number that an id ends in, without noughts before it; "" for none.
func numberOf(id string) string {
	digits := len(id)
	for digits > 0 && id[digits-1] >= '0' && id[digits-1] <= '9' {
		digits--
	}
	return strings.TrimLeft(id[digits:], "0")
}

// named reports whether a visit names a pack, or a load in place of one.
func named(v *practice.Visit) bool { return len(v.Packs.Items) > 0 || len(v.Loads.Items) > 0 }

// lastUntil is the last of some rows, sorted by their day, that lies on or before a day; nil if none.
func lastUntil[T any](rows []*T, day quantity.Day, on func(*T) quantity.Day) *T {
	for _, r := range slices.Backward(rows) {
		if on(r) <= day {
			return r
		}
	}
	return nil
}

// wholeFor reports whether every row of a kind that a client can have had until a day
// is said to be in the folder, and could be read.
func (f *Follower) wholeFor(kind, client string, day quantity.Day) bool {
	if f.p.Whole(kind, 1, day) {
		return true
	}
	c, state := f.p.Client(client)
	if state != practice.One || !c.FirstVisitOn.Written() {
		return false
	}
	first := c.FirstVisitOn
	if visits := f.p.VisitsOf(client); len(visits) > 0 {
		first = min(first, visits[0].Started.Day())
	}
	return f.p.Whole(kind, first.AddDays(-f.terms.Lead), day)
}

// wholeOf does so for the rows about a sterilizer, since it was installed.
func (f *Follower) wholeOf(kind string, s *practice.Sterilizer, day quantity.Day) bool {
	from := quantity.Day(1)
	if s != nil && s.InstalledOn.Written() {
		from = s.InstalledOn
	}
	return f.p.Whole(kind, from, day)
}

// gap makes a link of what one visit or load leaves blank in a column: a gap, where
// the column is filled before and after, or all rows of the kind are said to be here.
func (f *Follower) gap(kind string, s stretch, day quantity.Day, what, unkept string) Link {
	switch {
	case !s.kept():
		return Link{State: LinkUnkept, What: unkept + ", so it is not judged"}
	case day < s.first:
		return Link{State: LinkUnkept, What: "first written for " + s.first.Words() + ", so it is not judged before then"}
	}
	return Link{State: LinkAbsent, What: what, Sure: s.holds(day) || f.p.Whole(kind, day, day)}
}
