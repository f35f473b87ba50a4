package practice

import (
	"cmp"
	"slices"
	"sync"

	"footing/internal/quantity"
)

// views are the rows in the orders and groups that checks walk.
type views struct {
	loadsByTime  []*Load
	visitsByTime []*Visit

	screensOf     map[string][]*Screen
	credentialsOf map[string][]*Credential
	upkeepOf      map[string][]*Upkeep
	visitsOf      map[string][]*Visit
	usesOf        map[string][]*Visit
	packsOf       map[string][]*Pack
	loadsOf       map[string][]*Load
	testsOf       map[string][]*Test
	loadUsesOf    map[string][]*Visit
}

// group gathers pointers to rows under a key, each group in the order given by at.
func group[T any](rows []T, key func(*T) string, at func(*T) int64) map[string][]*T {
	m := map[string][]*T{}
	for i := range rows {
		if k := key(&rows[i]); k != "" {
			m[k] = append(m[k], &rows[i])
		}
	}
	for _, g := range m {
		slices.SortStableFunc(g, func(a, b *T) int { return cmp.Compare(at(a), at(b)) })
	}
	return m
}

func byTime[T any](rows []T, at func(*T) int64) []*T {
	all := make([]*T, len(rows))
	for i := range rows {
		all[i] = &rows[i]
	}
	slices.SortStableFunc(all, func(a, b *T) int { return cmp.Compare(at(a), at(b)) })
	return all
}

func (x *views) build(r *Records, equipmentOf func(*Test) string) {
	day := func(d quantity.Day) int64 { return int64(d) }
	together(
		func() { x.orderVisits(r) },
		func() {
			x.orderLoads(r)
			x.screensOf = group(r.Screens, func(s *Screen) string { return s.Client }, func(s *Screen) int64 { return day(s.AskedOn) })
			x.credentialsOf = group(r.Credentials, func(c *Credential) string { return c.Person }, func(c *Credential) int64 { return day(c.ValidFrom) })
			x.upkeepOf = group(r.Upkeep, func(u *Upkeep) string { return u.Equipment }, func(u *Upkeep) int64 { return day(u.DoneOn) })
			x.testsOf = group(r.Tests, equipmentOf, func(t *Test) int64 { return t.RunAt.First() })
		},
	)
}

// together does several things at once, and waits.
func together(work ...func()) {
	var wait sync.WaitGroup
	for _, do := range work {
		wait.Go(do)
	}
	wait.Wait()
}

// orderLoads orders loads, and groups them and the packs in them.
func (x *views) orderLoads(r *Records) {
	x.loadsByTime = byTime(r.Loads, func(l *Load) int64 { return l.Started.First() })
	x.loadsOf = map[string][]*Load{}
	for _, l := range x.loadsByTime {
		if l.Sterilizer != "" {
			x.loadsOf[l.Sterilizer] = append(x.loadsOf[l.Sterilizer], l)
		}
	}
	x.packsOf = make(map[string][]*Pack, len(r.Loads))
	for i := range r.Packs {
		if load := r.Packs[i].Load; load != "" {
			x.packsOf[load] = append(x.packsOf[load], &r.Packs[i])
		}
	}
}

// orderVisits orders visits, and groups them by what they name.
func (x *views) orderVisits(r *Records) {
	x.visitsByTime = byTime(r.Visits, func(v *Visit) int64 { return v.Started.First() })
	x.visitsOf, x.usesOf = make(map[string][]*Visit, len(r.Clients)), make(map[string][]*Visit, len(r.Packs))
	x.loadUsesOf = map[string][]*Visit{}
	for _, v := range x.visitsByTime {
		if v.Client != "" {
			x.visitsOf[v.Client] = append(x.visitsOf[v.Client], v)
		}
		for _, id := range v.Packs.Items {
			x.usesOf[id] = append(x.usesOf[id], v)
		}
		for _, id := range v.Loads.Items {
			x.loadUsesOf[id] = append(x.loadUsesOf[id], v)
		}
	}
}

// LoadsByTime is every load, by its start.
func (p *Practice) LoadsByTime() []*Load { return p.loadsByTime }

// VisitsByTime is every visit, by its start, whatever its status.
func (p *Practice) VisitsByTime() []*Visit { return p.visitsByTime }

// ScreensOf is a client's screens, by the day asked.
func (p *Practice) ScreensOf(client string) []*Screen { return p.screensOf[client] }

// CredentialsOf is a person's certificates, by their first day.
func (p *Practice) CredentialsOf(person string) []*Credential { return p.credentialsOf[person] }

// UpkeepOf is what was done to a sterilizer or other equipment, by day.
func (p *Practice) UpkeepOf(equipment string) []*Upkeep { return p.upkeepOf[equipment] }

// VisitsOf is a client's visits, by their start.
func (p *Practice) VisitsOf(client string) []*Visit { return p.visitsOf[client] }

// PacksOf is the packs that name a load, in the order of rows.
func (p *Practice) PacksOf(load string) []*Pack { return p.packsOf[load] }

// UsesOf is the visits that name a pack, by their start.
func (p *Practice) UsesOf(pack string) []*Visit { return p.usesOf[pack] }

// LoadsOf is the loads of a sterilizer, by their start.
func (p *Practice) LoadsOf(sterilizer string) []*Load { return p.loadsOf[sterilizer] }

// LoadUsesOf is the visits that name a load in place of packs, by their start.
func (p *Practice) LoadUsesOf(load string) []*Visit { return p.loadUsesOf[load] }

// TestsOf is the tests of a sterilizer or other equipment, of any kind, by the time they were run.
func (p *Practice) TestsOf(equipment string) []*Test { return p.testsOf[equipment] }

// EquipmentOf is the sterilizer or other equipment that a test is of: as it says,
// else that of the load it names; "" where neither tells.
func (p *Practice) EquipmentOf(t *Test) string {
	if t.Equipment != "" {
		return t.Equipment
	}
	if l, state := p.Load(t.Load); state == One {
		return l.Sterilizer
	}
	return ""
}

// Done reports whether a visit took place: its status says so, or says nothing
// and its day is not ahead.
func (v *Visit) Done() bool { return v.Status == "done" || v.Status == "" }

// Treated reports whether hands were laid on: Yes where a visit that took place
// names a procedure other than assessment, Unsure where it names none.
func (v *Visit) Treated() quantity.Tri {
	if !v.Done() {
		return quantity.No
	}
	for _, p := range v.Procedures.Items {
		if p != "assessment" {
			return quantity.Yes
		}
	}
	if v.Procedures.Written && !v.Procedures.All {
		return quantity.No
	}
	return quantity.Unsure
}

// Released reports whether a load was written as released; no decision is "release not written", which is neither.
func (l *Load) Released() bool { return l.Decision == "released" }

// Period is the first and last day of any load, visit, test or row of stock that
// was read; both 0 when there is none.
func (p *Practice) Period() (first, last quantity.Day) {
	see := func(d quantity.Day) {
		if !d.Written() {
			return
		}
		if !first.Written() || d < first {
			first = d
		}
		last = max(last, d)
	}
	for _, l := range p.Loads {
		see(l.Started.Day())
	}
	for _, v := range p.Visits {
		see(v.Started.Day())
	}
	for _, t := range p.Tests {
		see(t.RunAt.Day())
	}
	for _, s := range p.Stock {
		see(s.On)
	}
	return first, last
}
