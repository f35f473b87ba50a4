package checks

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"footing/internal/audit"
	"footing/internal/chain"
	"footing/internal/practice"
	"footing/internal/quantity"
)

// list adds what is to be put on hold, the loads and the visits of a look-back: those
// of the wide reach, each with whether the narrow one has it too.
func (r *lookbackRun) list(l *audit.Lookback, wide, narrow chain.Reach) {
	inner := lookbackInner(narrow)
	l.Pull, l.Loads, l.Affected = []audit.Pull{}, []audit.InWindow{}, []audit.Affected{}
	for _, f := range wide.Packs {
		if lookbackClosed(f) {
			l.Pull = append(l.Pull, r.pull(f, inner))
		}
	}
	for _, load := range wide.Loads {
		l.Loads = append(l.Loads, r.inWindow(load, inner))
		if p, some := r.unnumbered(load, inner); some {
			l.Pull = append(l.Pull, p)
		}
	}
	slices.SortStableFunc(l.Pull, func(a, b audit.Pull) int {
		return cmp.Or(lookbackFirst(a.State == lookbackShelf, b.State == lookbackShelf), cmp.Compare(a.Site, b.Site))
	})
	for _, v := range wide.Visits {
		l.Affected = append(l.Affected, r.affected(v, true, inner))
	}
	for _, v := range wide.Possible {
		l.Affected = append(l.Affected, r.affected(v, false, inner))
	}
	slices.SortStableFunc(l.Affected, func(a, b audit.Affected) int { return cmp.Compare(a.On, b.On) })
}

// lookbackIn is what the narrow window holds.
type lookbackIn struct {
	packs  map[*practice.Pack]bool
	loads  map[*practice.Load]bool
	visits map[*practice.Visit]bool
}

func lookbackInner(narrow chain.Reach) lookbackIn {
	in := lookbackIn{map[*practice.Pack]bool{}, map[*practice.Load]bool{}, map[*practice.Visit]bool{}}
	for _, f := range narrow.Packs {
		in.packs[f.Pack] = true
	}
	for _, l := range narrow.Loads {
		in.loads[l] = true
	}
	for _, list := range [][]*practice.Visit{narrow.Visits, narrow.Possible} {
		for _, v := range list {
			in.visits[v] = true
		}
	}
	return in
}

// lookbackFirst puts what is not so before what is.
func lookbackFirst(a, b bool) int {
	switch {
	case a == b:
		return 0
	case b:
		return -1
	}
	return 1
}

// lookbackClosed reports whether a pack may still be closed somewhere.
func lookbackClosed(f chain.Fate) bool {
	return f.Where == chain.OnShelf || f.Where == chain.NotWritten
}

// Where packs to put on hold are, in words.
const (
	lookbackShelf   = "counted on the shelf"
	lookbackNowhere = "whereabouts not written"
	lookbackNumber  = "made by the load's count, without a number"
)

func (r *lookbackRun) pull(f chain.Fate, in lookbackIn) audit.Pull {
	k := f.Pack
	p := audit.Pull{Pack: practice.Key(&k.Row), Count: 1, Load: k.Load, Set: k.Set, Site: k.StoredAt, Where: audit.PullUnknown, State: lookbackNowhere, Narrow: in.packs[k], Record: r.Locate(audit.At(&k.Row, ""))}
	if f.Where == chain.OnShelf {
		p.Where, p.State, p.On = audit.PullShelf, lookbackShelf, k.CountedOn.String()
		return p
	}
	if trip := r.takenOut(p.Pack); trip != nil {
		p.Where, p.State, p.On = audit.PullBag, lookbackNowhere+"; went out on "+lookbackWords(trip.On)+", and no return is written", trip.On.String()
	} else if r.mobile(k.StoredAt) {
		p.Where, p.State = audit.PullBag, p.State+"; kept in the mobile bag"
	}
	if f.Shared {
		p.State += "; another pack has the same number"
	}
	return p
}

// takenOut is the last trip on which a pack went out, if no return of it is written since.
func (r *lookbackRun) takenOut(pack string) *practice.Trip {
	if r.out == nil {
		r.out = map[string]*practice.Trip{}
		trips := make([]*practice.Trip, len(r.P.Trips))
		for i := range trips {
			trips[i] = &r.P.Trips[i]
		}
		slices.SortStableFunc(trips, func(a, b *practice.Trip) int { return cmp.Compare(a.On, b.On) })
		for _, t := range trips {
			for _, id := range t.PacksOut.Items {
				r.out[id] = t
			}
			for _, id := range slices.Concat(t.PacksBack.Items, t.PacksSpoiled.Items) {
				delete(r.out, id)
			}
		}
	}
	return r.out[pack]
}

func (r *lookbackRun) mobile(site string) bool {
	s, state := r.P.Site(site)
	return state == practice.One && s.Type == "mobile"
}

// unnumbered is what a load made by its count beyond the packs that have rows; a
// load that tells neither may have made any number.
func (r *lookbackRun) unnumbered(l *practice.Load, in lookbackIn) (audit.Pull, bool) {
	key := practice.Key(&l.Row)
	rows := len(r.P.PacksOf(key))
	p := audit.Pull{Load: key, Site: r.siteOf(l), Where: audit.PullCount, State: lookbackNumber, On: l.Started.Day().String(), Narrow: in.loads[l], Record: r.Locate(audit.At(&l.Row, "packs_made"))}
	switch made, counted := chain.Made(l); {
	case !counted && rows == 0:
		p.State = "how many the load made is not written"
		return p, true
	default:
		p.Count = max(0, made-rows-max(0, r.usedUp(key)-r.adrift(key)))
		return p, p.Count > 0
	}
}

// usedUp is how many packs without numbers the visits of a load used at least: one
// each, where they name this load alone and no pack.
func (r *lookbackRun) usedUp(load string) (n int) {
	for _, v := range r.P.LoadUsesOf(load) {
		if v.Done() && len(v.Packs.Items) == 0 && len(v.Loads.Items) == 1 {
			n += max(1, int(v.PacksUsed.Value))
		}
	}
	return n
}

// adrift is how many packs with numbers of a load may be what such visits used.
func (r *lookbackRun) adrift(load string) (n int) {
	for _, k := range r.P.PacksOf(load) {
		if chain.FateOf(r.P, k).Where == chain.NotWritten {
			n++
		}
	}
	return n
}

func (r *lookbackRun) siteOf(l *practice.Load) string {
	if s, state := r.P.Sterilizer(l.Sterilizer); state == practice.One {
		return s.Site
	}
	return ""
}

func (r *lookbackRun) inWindow(l *practice.Load, in lookbackIn) audit.InWindow {
	w := audit.InWindow{Load: practice.Key(&l.Row), On: l.Started.String(), Decision: l.Decision, Shows: r.shows(l), Packs: lookbackPacks(r.P, l), Narrow: in.loads[l], Record: r.Locate(audit.At(&l.Row, ""))}
	if l.Counter.Written {
		w.Counter = fmt.Sprintf("%g", l.Counter.Value)
	}
	if w.Decision == "" {
		w.Decision = "not written"
	}
	return w
}

func lookbackPacks(p *practice.Practice, l *practice.Load) string {
	rows := len(p.PacksOf(practice.Key(&l.Row)))
	switch made, how := chain.MadeBy(p, l); how {
	case chain.MadeCounted:
		return fmt.Sprintf("%d by its count, %d with rows", made, rows)
	case chain.MadeSets:
		return fmt.Sprintf("%d by its sets, %d with rows", made, rows)
	case chain.MadeRows:
		return fmt.Sprintf("%d with rows; no count", rows)
	}
	return "not written"
}

func (r *lookbackRun) affected(v *practice.Visit, named bool, in lookbackIn) audit.Affected {
	return audit.Affected{Visit: practice.Key(&v.Row), Client: v.Client, On: v.Started.String(), Site: v.Site, Person: v.Person,
		How: r.how(v, named), Named: named, Narrow: in.visits[v], Record: r.Locate(audit.At(&v.Row, ""))}
}

// how says what joins a visit to what is looked back on.
func (r *lookbackRun) how(v *practice.Visit, named bool) string {
	var parts []string
	direct := r.q.Kind == "instruments" && slices.Contains(v.Instruments.Items, r.q.ID)
	if direct {
		parts = append(parts, "the instrument")
	}
	for _, id := range v.Packs.Items {
		if k, state := r.P.Pack(id); state == practice.One && k.Load != "" {
			parts = append(parts, lookbackThing("packs", "pack", id)+" of "+lookbackThing("loads", "load", k.Load))
		} else {
			parts = append(parts, lookbackThing("packs", "pack", id))
		}
	}
	for _, id := range v.Loads.Items {
		parts = append(parts, lookbackThing("loads", "load", id))
	}
	switch {
	case len(parts) > 0 && !named:
		return "names " + strings.Join(parts, ", ") + ", and not where all its packs came from; could have had one"
	case len(parts) > 0:
		return "names " + strings.Join(parts, ", ")
	case r.terms.Needs(v) == quantity.Unsure:
		return "names no pack; whether it needed one is not written"
	}
	return "names no pack; could have had one"
}
