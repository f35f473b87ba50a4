package chain

import (
	"cmp"
	"math"
	"slices"

	"footing/internal/practice"
	"footing/internal/quantity"
)

// cell is the packs of one set at one site, as a count has them.
type cell struct{ site, set string }

// tally is what was counted of a rack on one day.
type tally struct {
	day   quantity.Day
	end   int64 // the last second of it
	cells map[cell]int
	n     int
	rows  []*practice.Stock
	full  bool // all of the rack
}

// tallies are the counts of a rack, by day. Rows of one day add up.
func (g *packing) tallies(r *Rack) (all []*tally) {
	byDay := map[quantity.Day]*tally{}
	for _, row := range g.counts {
		set := g.fold(row.Set)
		if !r.of(row.Site, set, true) {
			continue
		}
		t := byDay[row.On]
		if t == nil {
			t = &tally{day: row.On, end: g.dayEnd(row.On), cells: map[cell]int{}}
			byDay[row.On] = t
			all = append(all, t)
		}
		n := piecesOf(row)
		t.cells[cell{row.Site, set}] += n
		t.n, t.rows = t.n+n, append(t.rows, row)
	}
	slices.SortFunc(all, func(a, b *tally) int { return cmp.Compare(a.day, b.day) })
	need := g.cells(r, all)
	for _, t := range all {
		t.full = !slices.ContainsFunc(need, func(c cell) bool { return !t.counted(c) })
	}
	return all
}

// counted reports whether a cell was: as such, or in a count of the site that names no set.
func (t *tally) counted(c cell) bool {
	_, as := t.cells[c]
	_, whole := t.cells[cell{c.site, ""}]
	return as || whole
}

// cells are what a count must name to be one of the whole rack: each site that
// keeps packs, and each set that is counted or made anywhere.
func (g *packing) cells(r *Rack, all []*tally) (need []cell) {
	sites, sets := []string{r.Site}, map[string]bool{r.Set: true}
	if r.Site == "" && len(g.sites) > 0 {
		sites = g.sites
	}
	if r.Set == "" {
		sets = map[string]bool{}
		for _, t := range all {
			for c := range t.cells {
				sets[c.set] = true
			}
		}
		if len(sets) > 1 || len(sets) == 1 && !sets[""] {
			delete(sets, "")
			for set := range g.sets {
				sets[set] = true
			}
		}
	}
	for _, site := range sites {
		for set := range sets {
			need = append(need, cell{site, set})
		}
	}
	return need
}

// greatest is the greatest stock ever counted of a rack, each part at its own
// greatest; false where some part was never counted.
func (g *packing) greatest(r *Rack, all []*tally) (n int, ok bool) {
	most := map[cell]int{}
	for _, t := range all {
		for c, k := range t.cells {
			most[c] = max(most[c], k)
		}
		n = max(n, t.n)
	}
	sum := 0
	for _, k := range most {
		sum += k
	}
	every := &tally{cells: most}
	for _, c := range g.cells(r, all) {
		if !every.counted(c) {
			return 0, false
		}
	}
	return max(n, sum), len(all) > 0
}

// part is a stretch with what falls into it, before it is settled.
type part struct {
	from, until quantity.Day
	start, end  int64  // what came before start is in its opening; what comes after end is not in it
	tally       *tally // the count that opens it; nil for the first
	open        int    // what is taken to have been there then
	rows        []*practice.Stock
	lost        int // packs that the count before and the rows since leave beyond it
	makings     []*making
	drawings    []drawing
	gone        []use
}

// first is the first day whose uses are in it.
func (s *part) first() quantity.Day {
	if s.tally != nil {
		return s.from.AddDays(1)
	}
	return s.from
}

// parts cuts the time of a rack at the counts of all of it.
func (g *packing) parts(r *Rack, all []*tally) (parts []*part) {
	start := g.dayStart(g.from)
	if g.opening >= OpenNone {
		start = math.MinInt64
	}
	last := &part{from: g.from, start: start}
	for _, t := range all {
		if !t.full {
			continue
		}
		if last.until, last.end = t.day, g.dayEnd(t.day); last.until >= last.from {
			parts = append(parts, last)
		}
		last = &part{from: t.day, start: g.dayStart(t.day), tally: t, open: t.n, rows: t.rows}
	}
	last.until, last.end = g.p.AsOf, math.MaxInt64
	return append(parts, last)
}

// after compares the count that opens a part with what the part before leaves at
// least. Where it found less, something was taken that is not written, or a shelf was
// not counted; where it is of the next day, the two may be one count in parts, and are
// added up.
func (s *part) after(before *part) {
	if s.tally == nil || before.tally == nil {
		return
	}
	left := before.open
	for _, m := range before.makings {
		if m.first > before.tally.end && m.last < s.start && m.n < endless && !m.waits {
			left += m.n
		}
	}
	for _, d := range before.drawings {
		left -= d.n
	}
	for _, u := range before.gone {
		left -= u.n
	}
	if s.lost = max(0, left-s.tally.n); s.lost > 0 && s.from == before.from.AddDays(1) {
		s.open, s.rows = s.tally.n+left, slices.Concat(before.rows, s.rows)
	}
}
