package chain

import (
	"slices"

	"footing/internal/practice"
	"footing/internal/quantity"
)

// Whereabouts is what is written of where a pack ended or stands.
type Whereabouts uint8

// Whereabouts of a pack.
const (
	NotWritten Whereabouts = iota // neither use, opening, discarding nor a count
	OnShelf                       // counted on a shelf, and nothing since
	Discarded                     // thrown away, or processed again, unopened
	Opened                        // opened, and no visit names it
	Used                          // a visit that took place names it
)

// Fate is what became of one pack, as written.
type Fate struct {
	Pack   *practice.Pack
	Where  Whereabouts
	Visits []*practice.Visit // that took place and name it, by their start; not to be changed
	// At is when it was first used or opened: opened_at, else the start of the first
	// visit; for a pack on the shelf or discarded, not written.
	At     quantity.Moment
	Shared bool // another pack has the same id, so that visits and counts may be of either
}

// FateOf tells what became of a pack. A pack that was opened and then discarded, and
// that no visit names, is Opened: whether it was used cannot be told.
func FateOf(p *practice.Practice, k *practice.Pack) Fate {
	f := Fate{Pack: k, At: k.OpenedAt}
	uses, state := p.UsesOfPack(k)
	f.Shared = state != practice.One
	f.Visits = done(uses)
	switch {
	case len(f.Visits) > 0:
		f.Where = Used
		if !f.At.Written() {
			f.At = f.Visits[0].Started
		}
	case k.OpenedAt.Written():
		f.Where = Opened
	case k.DiscardedOn.Written():
		f.Where = Discarded
	case k.CountedOn.Written():
		f.Where = OnShelf
	}
	return f
}

// Served reports whether a pack of a load is written as used or opened.
func Served(p *practice.Practice, l *practice.Load) bool {
	id := practice.Key(&l.Row)
	return slices.ContainsFunc(p.LoadUsesOf(id), (*practice.Visit).Done) || slices.ContainsFunc(p.PacksOf(id), func(k *practice.Pack) bool {
		where := FateOf(p, k).Where
		return where == Used || where == Opened
	})
}

// Apart reports whether a pack was opened on a day of which no visit names it, though
// one of another day does: it may have been used before by a visit that does not name it.
func (f *Fate) Apart() bool {
	opened := f.Pack.OpenedAt
	return f.Where == Used && opened.Written() && !slices.ContainsFunc(f.Visits, func(v *practice.Visit) bool { return v.Started.Day() == opened.Day() })
}

// done is those of some visits that took place; the list itself where all did.
func done(visits []*practice.Visit) []*practice.Visit {
	undone := func(v *practice.Visit) bool { return !v.Done() }
	if !slices.ContainsFunc(visits, undone) {
		return slices.Clip(visits)
	}
	return slices.DeleteFunc(slices.Clone(visits), undone)
}
