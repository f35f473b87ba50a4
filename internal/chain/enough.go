package chain

import (
	"cmp"
	"maps"
	"math"
	"slices"

	"footing/internal/practice"
	"footing/internal/quantity"
)

// Opening is how the number of packs at the start of a stretch is known.
type Opening uint8

// Openings, the least certain first.
const (
	OpenUnknown  Opening = iota // not at all: nothing bounds it
	OpenGreatest                // taken as the greatest stock ever counted there
	OpenNone                    // none: the records reach back to before any sterilizer that is written
	OpenNew                     // none: and every site was opened since
	OpenCounted                 // counted
)

// Rack is the packs that one balance is of: those of all sites together, and, where
// every move between them is written, those of each as well; of one set, or of any where
// not every visit, load and count says which. Site and Set are "" for all and any.
type Rack struct {
	Site, Set string
	Stretches []*Stretch
}

// Stretch is the time of a rack from one count of all of it to the next.
type Stretch struct {
	From, Until quantity.Day // the day of the count that opens it, or the first day looked at; of the count that ends it, or the audit day
	Opening     Opening
	Open        int               // packs at its start, with those of loads that the count may not have seen yet; 0 for OpenUnknown
	Counts      []*practice.Stock // the rows that Open rests on
	Visits      []*practice.Visit // that used packs in it, by time
	Packs       int               // that they used
	Covered     bool              // every load of it up to the first moment below nought, and every delivery where packs are bought, is in the folder
	Untold      []*practice.Load  // loads of it that say neither how many packs they made, nor are bounded by what the chamber takes
	Waiting     bool              // a load that still waits for its release may have supplied it
	Lost        int               // packs that the count before it and the rows since leave beyond the count that opens it
	Found       int               // packs that counts in it or at its end found beyond all that is written
	Short       Short             // below nought even with those that wait, and those that were found
	Tight       int               // as Short.Least, without them
}

// First is the first day whose visits are in it: the day after a count, which stands
// at the end of its day.
func (s *Stretch) First() quantity.Day {
	if s.Opening == OpenCounted {
		return s.From.AddDays(1)
	}
	return s.From
}

// Short is how far a balance went below nought; Least is 0 where it did not.
type Short struct {
	Least int               // visits that cannot all have had their packs: at least so many
	Falls []*practice.Visit // at which the balance went below nought, in order, one for each of Least
	By    int               // how many of Stretch.Visits stand up to and with the first
	Used  int               // packs used by then
	Had   int               // packs that may have been there by then, at most
	Firm  bool              // as far below nought even if each visit whose every pack leads to a load, and is no other visit's, had them
	Last  *practice.Load    // the last load before it; nil without one
}

// Racks balances what loads made against what visits used, in order of time, for
// all sites together, then for each, and for each set, as far as they are told apart. That
// one site is short, and all together are not, says no more than that packs moved, or a
// count was wrong: the visits may well have had theirs. Everything in doubt is taken in
// the practice's favour: packs are there as soon as their cycle may have ended, less
// what clocks may differ; a visit uses them at its end, or the end of its day, where
// no opening is written. Loads without a decision count as released, rejected ones
// not. A visit whose pack or load leads to no load that is typed, to a rejected one, or
// to one that was over only after the visit, is left out: where it came from is not this
// balance's question. A pack that two visits name is one.
func Racks(p *practice.Practice, clock Clock) (racks []*Rack) {
	g := gather(p, clock)
	sites, sets := []string{""}, []string{""}
	if g.bySite {
		sites = append(sites, g.sites...)
	}
	if g.bySet {
		sets = slices.Sorted(maps.Keys(g.sets))
	}
	for _, site := range sites {
		for _, set := range sets {
			if r := g.rack(site, set); len(r.Stretches) > 0 {
				racks = append(racks, r)
			}
		}
	}
	return racks
}

// of reports whether a row of a site and set belongs to the rack; a set or site
// that is not told may, where maybe says so.
func (r *Rack) of(site, set string, maybe bool) bool {
	return (r.Site == "" || site == r.Site || maybe && site == "") && (r.Set == "" || set == r.Set || maybe && set == "")
}

func (g *packing) rack(site, set string) *Rack {
	r := &Rack{Site: site, Set: set}
	tallies := g.tallies(r)
	parts := g.parts(r, tallies)
	for _, m := range g.makings {
		if m.mayBe(r) {
			// Those that the opening count may not have seen, and those that may have come
			// by the end, are in a stretch; so one load may stand in two.
			from, _ := slices.BinarySearchFunc(parts, m.first, func(s *part, t int64) int { return cmp.Compare(s.end, t) })
			for ; from < len(parts) && parts[from].start <= m.last; from++ {
				parts[from].makings = append(parts[from].makings, m)
			}
		}
	}
	var at *part
	for i := range g.drawings {
		d := &g.drawings[i]
		if !r.of(d.site, d.set, false) {
			continue
		}
		if at == nil || d.day < at.first() || d.day > at.until { // most fall into that of the one before
			at = partOf(parts, d.day)
		}
		if at != nil {
			at.drawings = append(at.drawings, *d)
		}
	}
	for _, l := range g.leavings(r) {
		if s := partOf(parts, l.day); s != nil {
			s.gone = append(s.gone, use{l.at, l.n})
		}
	}
	for i, s := range parts {
		if i > 0 {
			s.after(parts[i-1])
		}
		if len(s.drawings) > 0 {
			var next *tally
			if i+1 < len(parts) {
				next = parts[i+1].tally
			}
			r.Stretches = append(r.Stretches, s.settle(g, r, tallies, next))
		}
	}
	return r
}

// partOf is the stretch that a day's uses fall into: those of the day of a count may
// lie before it, and are taken so.
func partOf(parts []*part, day quantity.Day) *part {
	i, _ := slices.BinarySearchFunc(parts, day, func(s *part, d quantity.Day) int { return cmp.Compare(s.until, d) })
	if i < len(parts) && parts[i].first() <= day {
		return parts[i]
	}
	return nil
}

// piecesOf is how many packs a row of stock is of: a pack is one unit, where the row
// does not say more. A part of one counts as one.
func piecesOf(r *practice.Stock) int {
	each := 1.0
	if r.Each.Written {
		each = r.Each.Value
	}
	return int(min(math.Ceil(grain(r.Quantity.Value*each)), endless))
}
