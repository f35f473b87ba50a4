package chain

import (
	"cmp"
	"math"
	"slices"

	"footing/internal/practice"
	"footing/internal/quantity"
)

// ReachOf is whom and what the packs of some loads could have met. A load that shares
// its id with another is taken to have made the packs of either, and, since they may all
// be the other's, as many as it counts besides. Nothing is possible where each pack of the loads is accounted
// for: counted by the load or known to have a row, with one, and named by a visit,
// discarded, or counted on the audit day; nor before the first pack that is not could have been used.
func ReachOf(p *practice.Practice, terms Terms, loads []*practice.Load) Reach {
	return newReaching(p, terms).ofLoads(loads)
}

// ReachOfWindow is whom and what the packs of the loads of a window could have met, and,
// where a load of that time may have no row, those of such a load: from the day on which
// the window begins, or, where nothing of the sterilizer is written before, always.
func ReachOfWindow(p *practice.Practice, terms Terms, w Window) Reach {
	return newReaching(p, terms).ofWindow(w)
}

// ReachOfPacks is whom and what some packs could have met. A visit that names a load
// of theirs, and no pack, is possible.
func ReachOfPacks(p *practice.Practice, terms Terms, packs []*practice.Pack) Reach {
	return newReaching(p, terms).ofPacks(packs)
}

// reaching gathers a Reach. found says of which packs it is to be taken as if they
// were accounted for, told that each row of packs were known to be of another load.
type reaching struct {
	p     *practice.Practice
	terms Terms
	found func(*Fate) bool
	told  bool

	Reach
	ids    map[string]bool // of loads gathered
	named  map[*practice.Visit]bool
	partly map[string]bool // loads of which only some packs are asked about
	open   bool            // something is not accounted for
	from   quantity.Day    // from which it could have been used, and of that day from which second; 0 for always
	second int64
}

func newReaching(p *practice.Practice, terms Terms) *reaching {
	return &reaching{p: p, terms: terms, ids: map[string]bool{}, named: map[*practice.Visit]bool{}, partly: map[string]bool{}}
}

func (r *reaching) ofWindow(w Window) Reach {
	until := r.p.AsOf
	if w.Until.Day.Written() {
		until = w.Until.Day
	}
	logged := r.terms.Logged != nil && r.terms.Logged(w.From.Day, until)
	switch {
	case logged:
	case w.Unbegun, !w.From.Day.Written():
		r.unaccounted(0, 0)
	default:
		r.unaccounted(w.From.Day, math.MinInt64)
	}
	return r.ofLoads(w.Loads)
}

func (r *reaching) ofLoads(loads []*practice.Load) Reach {
	seen := make(map[*practice.Load]bool, len(loads))
	byTime := slices.Clone(loads)
	slices.SortStableFunc(byTime, func(a, b *practice.Load) int { return cmp.Compare(a.Started.First(), b.Started.First()) })
	for _, l := range byTime {
		if seen[l] {
			continue
		}
		seen[l] = true
		r.Loads = append(r.Loads, l)
		id := practice.Key(&l.Row)
		rows := r.p.PacksOf(id)
		r.count(l, id, len(rows))
		if r.ids[id] {
			continue
		}
		r.ids[id] = true
		for _, k := range rows {
			r.pack(k, l)
		}
		for _, v := range r.p.LoadUsesOf(id) {
			r.named[v] = v.Done()
		}
	}
	return r.finish()
}

// count sees to the packs of a load that have no rows.
func (r *reaching) count(l *practice.Load, id string, rows int) {
	made, counted := Made(l)
	if _, state := r.p.Load(id); state == practice.Shared {
		rows = 0
	}
	switch {
	case counted && made > rows:
		r.Unnumbered += made - rows
	case !counted && (rows == 0 || r.terms.Whole == nil || !r.terms.Whole(l)):
		r.Uncounted++
	default:
		return
	}
	r.unaccounted(l.Started.Day(), l.Started.First())
}

// Made is how many packs a load made, as its row counts them: packs_made, else the
// sum of sets. False where neither can be read.
func Made(l *practice.Load) (packs int, ok bool) {
	if l.PacksMade.Written {
		return int(math.Ceil(l.PacksMade.Value)), true
	}
	sets, ok := SetsOf(l)
	for _, s := range sets {
		packs += int(math.Ceil(s.Count))
	}
	return packs, ok
}

func (r *reaching) ofPacks(packs []*practice.Pack) Reach {
	seen := make(map[*practice.Pack]bool, len(packs))
	for _, k := range packs {
		if seen[k] {
			continue
		}
		seen[k] = true
		l, _ := r.p.Load(k.Load)
		r.pack(k, l)
		if k.Load != "" {
			r.partly[k.Load] = true
		}
		if l != nil && !slices.Contains(r.Loads, l) {
			r.Loads = append(r.Loads, l)
		}
	}
	return r.finish()
}

// pack takes in one pack and the visits that name it; l is nil where its load is not known.
func (r *reaching) pack(k *practice.Pack, l *practice.Load) {
	f := FateOf(r.p, k)
	r.Packs = append(r.Packs, f)
	for _, v := range f.Visits {
		r.named[v] = true
	}
	switch {
	case r.found != nil && r.found(&f):
	case f.Where == OnShelf && !f.Shared:
		if k.CountedOn < r.p.AsOf {
			r.unaccounted(k.CountedOn, math.MinInt64)
		}
	case f.Shared || f.Where == NotWritten || f.Where == Opened || f.Apart():
		if l == nil {
			r.unaccounted(0, 0)
		} else {
			r.unaccounted(l.Started.Day(), l.Started.First())
		}
	}
}

// unaccounted notes that something could have been used, on no visit that is written,
// from a second of a day on.
func (r *reaching) unaccounted(day quantity.Day, second int64) {
	if !r.open || day < r.from || day == r.from && second < r.second {
		r.open, r.from, r.second = true, day, second
	}
}
