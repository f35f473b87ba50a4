package chain

import (
	"cmp"
	"iter"
	"slices"
	"strings"

	"footing/internal/practice"
	"footing/internal/quantity"
)

// Shelf is all stock of one item, size and set at one site, with its ledger.
// Site is "" for rows whose site is not known.
type Shelf struct {
	Site, Item, Size, Set string
	moves                 []move
}

// move is one row of the ledger as one shelf sees it: a transfer is two of them.
type move struct {
	row           *practice.Stock
	arrives       bool   // the far end of a transfer
	material, lot string // folded
}

// The order within a day, so that what is bought in the morning can be used, and
// a count sets the balance at the end of its day.
const (
	adds = iota
	takes
	counts
)

func (m move) step() int {
	switch {
	case m.row.Reason == "count":
		return counts
	case m.row.Reason == "purchase" || m.arrives:
		return adds
	}
	return takes
}

// Ledger sorts the rows of stock into shelves, by site, item, size and set. size
// brings sizes to one spelling; nil takes them without regard to case and blanks
// alone. The shelves point into rows, which must not change while they are used.
func Ledger(rows []practice.Stock, size func(string) string) []*Shelf {
	if size == nil {
		size = fold
	}
	type key struct{ site, item, size, set string }
	byKey := map[key]*Shelf{}
	var all []*Shelf
	sizes, words := remember(size), remember(fold)
	put := func(site string, m move) {
		k := key{site, m.row.Item, sizes(m.row.Size), words(m.row.Set)}
		m.material, m.lot = words(m.row.Material), words(m.row.Lot)
		s := byKey[k]
		if s == nil {
			s = &Shelf{Site: k.site, Item: k.item, Size: k.size, Set: k.set}
			byKey[k] = s
			all = append(all, s)
		}
		s.moves = append(s.moves, m)
	}
	for i := range rows {
		r := &rows[i]
		if r.Reason == "transfer" && r.ToSite == r.Site {
			continue
		}
		put(r.Site, move{row: r})
		if r.Reason == "transfer" && r.ToSite != "" {
			put(r.ToSite, move{row: r, arrives: true})
		}
	}
	for _, s := range all {
		slices.SortStableFunc(s.moves, func(a, b move) int {
			return cmp.Or(cmp.Compare(a.row.On, b.row.On), cmp.Compare(a.step(), b.step()))
		})
	}
	slices.SortFunc(all, func(a, b *Shelf) int {
		return cmp.Or(cmp.Compare(a.Site, b.Site), cmp.Compare(a.Item, b.Item), cmp.Compare(a.Size, b.Size), cmp.Compare(a.Set, b.Set))
	})
	return all
}

// remember makes f look up what it was asked before; columns hold few words, often.
func remember(f func(string) string) func(string) string {
	known := map[string]string{}
	return func(s string) string {
		v, ok := known[s]
		if !ok {
			v = f(s)
			known[s] = v
		}
		return v
	}
}

func fold(s string) string { return strings.ToLower(strings.Join(strings.Fields(s), " ")) }

// Days yields the balance at the end of each day on which something was written,
// in order. The balance is the same one each time, moved on: read it, do not keep it.
func (s *Shelf) Days() iter.Seq2[quantity.Day, *Balance] {
	return func(yield func(quantity.Day, *Balance) bool) {
		b := &Balance{}
		for i := 0; i < len(s.moves); {
			day := s.moves[i].row.On
			for ; i < len(s.moves) && s.moves[i].row.On == day; i++ {
				b.apply(s.moves[i], day)
			}
			if !yield(day, b) {
				return
			}
		}
	}
}

// On is the balance at the end of a day.
func (s *Shelf) On(day quantity.Day) *Balance {
	b := &Balance{}
	for _, m := range s.moves {
		if m.row.On > day {
			break
		}
		b.apply(m, m.row.On)
	}
	return b
}
