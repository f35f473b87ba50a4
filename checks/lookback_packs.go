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

// ofPack answers for a pack: this one, and every pack of its load.
func (r *lookbackRun) ofPack() error {
	row, state := r.P.Pack(r.q.ID)
	k, err := lookbackThe(r, row, state)
	if err != nil {
		return err
	}
	fate := chain.FateOf(r.P, k)
	narrow := chain.ReachOfPacks(r.P, r.terms, []*practice.Pack{k})
	one := audit.Window{Name: "narrow", Until: r.P.AsOf.String(), Days: -1, Why: "this pack alone"}
	r.a.Asked.Words = fmt.Sprintf("pack %s", r.q.ID)
	load, state := r.P.Load(k.Load)
	if state != practice.One {
		r.ofLoosePack(k, fate, one, narrow)
		return nil
	}
	wide := chain.ReachOf(r.P, r.terms, []*practice.Load{load})
	day := load.Started.Day().String()
	one.Since, one.Days = day, 0
	all := audit.Window{Name: "wide", Since: day, Until: r.P.AsOf.String(), Why: "every pack of its load"}
	lookbackTally(&one, narrow)
	lookbackTally(&all, wide)
	r.a.Asked.Words += " of load " + k.Load
	r.says("Pack %s of load %s, started %s: %s.", r.q.ID, k.Load, load.Started.Words(), lookbackFateWords(fate))
	r.says("If what went wrong lies in this pack alone (torn, wet, past its date), the narrow answer holds; if it may lie in its load, the wide one; if in the sterilizer, ask with --load %s.", k.Load)
	real := r.sayBehind([]*practice.Load{load}) || lookbackDamaged(k)
	l := audit.Lookback{Sterilizer: load.Sterilizer, Windows: []audit.Window{all, one}, Summary: "this pack alone: " + r.whom(one, narrow)}
	r.forward(l, lookbackReached{wideReach: wide, narrowReach: narrow}, lookbackPlan{load: load, things: "the pack", real: real})
	return nil
}

// lookbackDamaged reports whether what is typed of a pack speaks against it.
func lookbackDamaged(k *practice.Pack) bool {
	return k.OutsideIndicator == "fail" || k.InsideIndicator == "fail" || k.Condition != "" && k.Condition != "intact"
}

func lookbackFateWords(f chain.Fate) string {
	switch f.Where {
	case chain.Used:
		return "used " + f.At.Words() + ", as " + audit.Plural(len(f.Visits), "visit names it", "visits name it")
	case chain.Opened:
		return "opened " + f.At.Words() + ", and no visit names it"
	case chain.Discarded:
		return "discarded unopened, as written"
	case chain.OnShelf:
		return "counted on the shelf on " + f.Pack.CountedOn.Words()
	}
	return "what became of it is not written"
}

// ofLoosePack answers for a pack that names no load of the folder: any load from
// before its use could have made it, but one whose packs all have rows, or whose sets are
// written without the pack's.
func (r *lookbackRun) ofLoosePack(k *practice.Pack, fate chain.Fate, one audit.Window, narrow chain.Reach) {
	var loads []*practice.Load
	for _, l := range r.P.LoadsByTime() {
		if r.couldBeOf(k, fate, l) {
			loads = append(loads, l)
		}
	}
	wide := lookbackBoth(chain.ReachOfWindow(r.P, r.terms, chain.Window{Loads: loads}), narrow)
	all := audit.Window{Name: "wide", Until: r.P.AsOf.String(), Days: -1, Why: "every load from before its use that could have made it, as written"}
	if len(loads) > 0 {
		all.Since = loads[0].Started.Day().String()
	}
	lookbackTally(&one, narrow)
	lookbackTally(&all, wide)
	r.says("Pack %s: %s. It names no load that stands in the folder, so which load it came from cannot be told.", r.q.ID, lookbackFateWords(fate))
	if len(loads) > 0 {
		r.says("What that costs: whether its load was released, held and tested cannot be looked up, and the look-back takes in %s in place of one.", audit.Plural(len(loads), "load", "loads"))
	} else {
		r.says("What that costs: whether its load was released, held and tested cannot be looked up, and no load is written that could have made it.")
	}
	r.missing("The load of pack %s: look on its label and in the log book.", r.q.ID)
	l := audit.Lookback{Windows: []audit.Window{all, one}, Summary: "this pack alone: " + r.whom(one, narrow)}
	r.forward(l, lookbackReached{wideReach: wide, narrowReach: narrow}, lookbackPlan{things: "the pack", loose: true, real: lookbackDamaged(k)})
}

// couldBeOf reports whether a load could have made a pack that names none.
func (r *lookbackRun) couldBeOf(k *practice.Pack, fate chain.Fate, l *practice.Load) bool {
	switch made := len(r.P.PacksOf(practice.Key(&l.Row))); {
	case l.Decision == "rejected":
		return false
	case fate.At.Written() && r.terms.Clock.Before(fate.At, l.Started) == quantity.Yes:
		return false
	case l.PacksMade.Written && float64(made) >= l.PacksMade.Value:
		return false
	}
	sets, ok := chain.SetsOf(l)
	return !ok || k.Set == "" || slices.ContainsFunc(sets, func(s chain.SetCount) bool { return s.Set == lookbackFold(k.Set) })
}

// lookbackFold is the name of a set as chain.SetsOf gives it.
func lookbackFold(set string) string { return strings.ToLower(strings.Join(strings.Fields(set), " ")) }

// ofInstrument answers for an instrument: the packs and visits that name it, and in
// the wide window the packs of the same set that list no instruments.
func (r *lookbackRun) ofInstrument() error {
	row, state := r.P.Instrument(r.q.ID)
	i, err := lookbackThe(r, row, state)
	if err != nil {
		return err
	}
	named, same := r.packsWith()
	narrow := r.withVisits(chain.ReachOfPacks(r.P, r.terms, slices.Concat(named, r.packsBeside())))
	wide := r.withVisits(chain.ReachOfPacks(r.P, r.terms, slices.Concat(named, r.packsBeside(), same)))
	all := audit.Window{Name: "wide", Days: r.spanDays(), Why: "the packs and visits that name it, the packs of these visits, and the packs of the same sets that list no instruments"}
	one := audit.Window{Name: "narrow", Days: r.spanDays(), Why: "the packs and visits that name it, and the packs of these visits"}
	for _, w := range []*audit.Window{&all, &one} {
		w.Since, w.Until = r.q.Since.String(), r.P.AsOf.String()
		if r.q.Until.Written() {
			w.Until = r.q.Until.String()
		}
	}
	lookbackTally(&all, wide)
	lookbackTally(&one, narrow)
	if first := lookbackFirstDay(wide); !r.q.Since.Written() && first.Written() {
		all.Since, one.Since = first.String(), first.String()
	}
	r.a.Asked.Words = fmt.Sprintf("instrument %s (%s), %s", r.q.ID, i.Type, r.timeWords())
	r.says("Instrument %s (%s), %s: named by %s and %s.", r.q.ID, i.Type, r.timeWords(), audit.Plural(len(named), "pack", "packs"), audit.Plural(one.Visits, "visit", "visits"))
	if len(named)+one.Visits == 0 {
		r.says("No pack and no visit of that time names it, so where it was used cannot be told.")
		r.missing("Which packs held the instrument: look at the lists in the packs and on the labels.")
	}
	l := audit.Lookback{Windows: []audit.Window{all, one}, Summary: fmt.Sprintf("%s; %s", lookbackSize(one, narrow), r.whom(one, narrow))}
	r.forward(l, lookbackReached{wideReach: wide, narrowReach: narrow}, lookbackPlan{things: "the instrument", signs: r.sayBehind(wide.Loads)})
	return nil
}

// packsWith are the packs of the time given that name the instrument, and those of
// the same sets that list none.
func (r *lookbackRun) packsWith() (named, same []*practice.Pack) {
	sets := map[string]bool{}
	for i := range r.P.Packs {
		k := &r.P.Packs[i]
		if !slices.Contains(k.Instruments.Items, r.q.ID) {
			continue
		}
		if k.Set != "" {
			sets[k.Set] = true
		}
		if r.within(r.packDay(k)) {
			named = append(named, k)
		}
	}
	for i := range r.P.Packs {
		k := &r.P.Packs[i]
		if sets[k.Set] && len(k.Instruments.Items) == 0 && r.within(r.packDay(k)) {
			same = append(same, k)
		}
	}
	return named, same
}

// packsBeside are the packs that list no instruments, of visits of the time given that
// name the instrument: it came out of one of them, as far as is written.
func (r *lookbackRun) packsBeside() (packs []*practice.Pack) {
	for _, v := range r.P.VisitsByTime() {
		if !v.Done() || !r.within(v.Started.Day()) || !slices.Contains(v.Instruments.Items, r.q.ID) {
			continue
		}
		for _, id := range v.Packs.Items {
			if k, state := r.P.Pack(id); state == practice.One && len(k.Instruments.Items) == 0 {
				packs = append(packs, k)
			}
		}
	}
	return packs
}

// packDay is when a pack was used or opened, else made; 0 where neither is written.
func (r *lookbackRun) packDay(k *practice.Pack) quantity.Day {
	if f := chain.FateOf(r.P, k); f.At.Written() {
		return f.At.Day()
	}
	if l, state := r.P.Load(k.Load); state == practice.One {
		return l.Started.Day()
	}
	return 0
}

// withVisits adds the visits that name the instrument itself, and takes out those that
// lie outside the time given.
func (r *lookbackRun) withVisits(reach chain.Reach) chain.Reach {
	inside := func(v *practice.Visit) bool { return r.within(v.Started.Day()) }
	keep := func(list []*practice.Visit) (kept []*practice.Visit) {
		for _, v := range list {
			if inside(v) {
				kept = append(kept, v)
			}
		}
		return kept
	}
	direct := map[*practice.Visit]bool{}
	reach.Visits, reach.Possible = keep(reach.Visits), keep(reach.Possible)
	for _, v := range reach.Visits {
		direct[v] = true
	}
	for _, v := range r.P.VisitsByTime() {
		if !direct[v] && v.Done() && inside(v) && slices.Contains(v.Instruments.Items, r.q.ID) {
			direct[v] = true
			reach.Visits = append(reach.Visits, v)
		}
	}
	reach.Possible = slices.DeleteFunc(reach.Possible, func(v *practice.Visit) bool { return direct[v] })
	reach.Clients = lookbackClients(reach.Visits)
	reach.MostClients = lookbackClients(append(slices.Clone(reach.Visits), reach.Possible...))
	return reach
}

// lookbackBoth is what either of two reaches holds. Loads are those of the first.
func lookbackBoth(a, b chain.Reach) chain.Reach {
	packs := map[*practice.Pack]bool{}
	for _, f := range a.Packs {
		packs[f.Pack] = true
	}
	for _, f := range b.Packs {
		if !packs[f.Pack] {
			a.Packs = append(a.Packs, f)
		}
	}
	a.Visits = lookbackEither(a.Visits, b.Visits)
	a.Possible = slices.DeleteFunc(lookbackEither(a.Possible, b.Possible), func(v *practice.Visit) bool { return slices.Contains(a.Visits, v) })
	a.Clients = lookbackClients(a.Visits)
	a.MostClients = lookbackClients(slices.Concat(a.Visits, a.Possible))
	return a
}

// lookbackEither are the visits of either list, by their start.
func lookbackEither(a, b []*practice.Visit) []*practice.Visit {
	all, seen := []*practice.Visit{}, map[*practice.Visit]bool{}
	for _, v := range slices.Concat(a, b) {
		if !seen[v] {
			seen[v] = true
			all = append(all, v)
		}
	}
	slices.SortStableFunc(all, func(a, b *practice.Visit) int { return cmp.Compare(a.Started.First(), b.Started.First()) })
	return all
}

// lookbackFirstDay is the first day of the loads and visits of a reach; 0 without any.
func lookbackFirstDay(reach chain.Reach) (first quantity.Day) {
	see := func(d quantity.Day) {
		if d.Written() && (!first.Written() || d < first) {
			first = d
		}
	}
	for _, l := range reach.Loads {
		see(l.Started.Day())
	}
	for _, v := range reach.Visits {
		see(v.Started.Day())
	}
	return first
}

// lookbackClients are the clients of some visits, sorted.
func lookbackClients(visits []*practice.Visit) (ids []string) {
	for _, v := range visits {
		if v.Client != "" {
			ids = append(ids, v.Client)
		}
	}
	slices.Sort(ids)
	return slices.Compact(ids)
}
