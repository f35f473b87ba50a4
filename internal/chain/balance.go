package chain

import (
	"math"
	"slices"

	"footing/internal/practice"
	"footing/internal/quantity"
)

// Amount is how much there is of something: pieces, where the row says how many
// are in one unit, and units of untold size, where it does not. The two cannot be
// added to each other.
type Amount struct{ Pieces, Units float64 }

func amountOf(r *practice.Stock) Amount {
	if r.Each.Written {
		return Amount{Pieces: r.Quantity.Value * r.Each.Value}
	}
	return Amount{Units: r.Quantity.Value}
}

func (a Amount) plus(b Amount) Amount {
	return Amount{grain(a.Pieces + b.Pieces), grain(a.Units + b.Units)}
}

func (a Amount) minus(b Amount) Amount {
	return Amount{grain(a.Pieces - b.Pieces), grain(a.Units - b.Units)}
}

// grain takes away what binary fractions leave of a tenth of a box: three of them
// from three tenths is nothing.
func grain(v float64) float64 { return math.Round(v*1e6) / 1e6 }

// Left reports whether anything is left: Unsure where pieces stand against units
// of untold size.
func (a Amount) Left() quantity.Tri {
	switch {
	case a.Pieces <= 0 && a.Units <= 0:
		return quantity.No
	case a.Pieces >= 0 && a.Units >= 0:
		return quantity.Yes
	}
	return quantity.Unsure
}

// Balance is what a shelf's ledger leaves at the end of a day. Between counts it
// is an upper bound: what was taken without being written is still in it.
type Balance struct {
	Pools   []*Pool
	Counted quantity.Day // of the last count of anything on the shelf; 0 without one
	Loose   Amount       // taken since then, beyond its own pool, by rows that leave the material or lot blank
	Over    quantity.Day // when, since then, more was last taken than the rows account for; 0 if never

	byKey map[poolKey]*Pool
	all   Amount // of all pools
}

// poolKey is a pool's material and lot, folded.
type poolKey struct{ material, lot string }

// Pool is the part of a shelf that rows name by the same material and lot, each
// "" where not written.
type Pool struct {
	Material, Lot string
	Amount        Amount
	Counted       quantity.Day      // its own last count; 0 without one
	Moved         quantity.Day      // its last row
	Vague         quantity.Day      // when, since its count, something was last taken that may have come from it
	Batches       []Batch           // apart by their last day of use
	Rows          []*practice.Stock // since its last count, and the rows of that count

	key poolKey
}

// Batch is the part of a pool with one last day of use, 0 where none is written.
type Batch struct {
	ExpiresOn quantity.Day
	Amount    Amount
	Seen      quantity.Day // when it was last counted or bought
	Row       *practice.Stock
}

// Left reports whether anything is left in the pools that of picks; it answers
// Unsure for a pool that may be one of them, and nil picks all. No needs a count to
// start from and takes that the rows account for. Unsure too, where all that is left
// was passed over by a later count that names less, or may be in another pool.
func (b *Balance) Left(of func(*Pool) quantity.Tri) quantity.Tri {
	var picked Amount
	fresh, elsewhere := false, false
	for _, p := range b.Pools {
		left := p.Amount.Left()
		if left == quantity.No {
			continue
		}
		in := quantity.Yes
		if of != nil {
			in = of(p)
		}
		switch in {
		case quantity.Yes:
			picked = picked.plus(p.Amount)
			fresh = fresh || left == quantity.Yes && !b.passedOver(p)
		case quantity.Unsure:
			elsewhere = true
		}
	}
	some, total := picked.Left(), b.all.minus(b.Loose).Left()
	switch {
	case total == quantity.No, some == quantity.No && !elsewhere:
		if b.Counted.Written() && !b.Over.Written() {
			return quantity.No
		}
		return quantity.Unsure
	case some == quantity.Yes && total == quantity.Yes && fresh:
		return quantity.Yes
	}
	return quantity.Unsure
}

// Held reports whether anything of a pool's batch is left.
func (b *Balance) Held(p *Pool, batch Batch) quantity.Tri {
	left := b.Left(func(q *Pool) quantity.Tri {
		switch {
		case q == p:
			return quantity.Yes
		case q.covers(p):
			return quantity.Unsure
		}
		return quantity.No
	})
	switch {
	case left != quantity.Yes:
		return left
	case p.Vague.Written():
		return quantity.Unsure
	}
	return batch.Amount.Left()
}

// passedOver reports whether a later count, which leaves blank what the pool
// names, may have been meant to hold the pool too.
func (b *Balance) passedOver(p *Pool) bool {
	return slices.ContainsFunc(b.Pools, func(q *Pool) bool {
		return q != p && q.Counted > p.Moved && q.covers(p)
	})
}

// covers reports whether a row that names what q does may have been about p.
func (q *Pool) covers(p *Pool) bool {
	return (q.key.material == "" || q.key.material == p.key.material) && (q.key.lot == "" || q.key.lot == p.key.lot)
}

func (b *Balance) pool(m move) *Pool {
	k := poolKey{m.material, m.lot}
	if p := b.byKey[k]; p != nil {
		return p
	}
	if b.byKey == nil {
		b.byKey = map[poolKey]*Pool{}
	}
	p := &Pool{Material: m.row.Material, Lot: m.row.Lot, key: k}
	b.byKey[k] = p
	b.Pools = append(b.Pools, p)
	return p
}

func (b *Balance) apply(m move, day quantity.Day) {
	p := b.pool(m)
	p.Moved = day
	b.all = b.all.minus(p.Amount)
	switch m.step() {
	case counts:
		b.count(p, m.row, day)
	case adds:
		p.Amount = p.Amount.plus(amountOf(m.row))
		p.batch(m.row, day)
		p.Rows = append(p.Rows, m.row)
	default:
		b.take(p, m.row, day)
	}
	b.all = b.all.plus(p.Amount)
	if rest := b.all.minus(b.Loose); m.step() == takes && rest.Left() == quantity.No && rest != (Amount{}) {
		b.Loose, b.Over = b.all, day
	}
}

// count sets a pool to what was counted. Rows of one pool and day add up: shelves
// and drawers are counted one by one.
func (b *Balance) count(p *Pool, r *practice.Stock, day quantity.Day) {
	if b.Counted != day {
		b.Counted, b.Loose, b.Over = day, Amount{}, 0
	}
	if p.Counted != day {
		known := p.Batches
		p.Counted, p.Amount, p.Vague, p.Batches, p.Rows = day, Amount{}, 0, nil, nil
		if p.Lot != "" && len(known) == 1 {
			p.Batches = []Batch{{ExpiresOn: known[0].ExpiresOn, Row: known[0].Row}}
		}
	}
	p.Amount = p.Amount.plus(amountOf(r))
	p.batch(r, day)
	p.Rows = append(p.Rows, r)
}

// batch adds a row's amount to the batch of its last day of use; a lot has one
// such day, which need not be written each time.
func (p *Pool) batch(r *practice.Stock, day quantity.Day) {
	for i := range p.Batches {
		t := &p.Batches[i]
		if t.ExpiresOn == r.ExpiresOn || p.Lot != "" && len(p.Batches) == 1 && (!r.ExpiresOn.Written() || !t.ExpiresOn.Written()) {
			if r.ExpiresOn.Written() || t.Row == nil {
				t.ExpiresOn, t.Row = r.ExpiresOn, r
			}
			t.Amount, t.Seen = t.Amount.plus(amountOf(r)), day
			return
		}
	}
	p.Batches = append(p.Batches, Batch{ExpiresOn: r.ExpiresOn, Amount: amountOf(r), Seen: day, Row: r})
}

func (b *Balance) take(p *Pool, r *practice.Stock, day quantity.Day) {
	whole := p.key.material != "" && p.key.lot != ""
	for _, q := range b.Pools {
		if !whole && q != p && p.covers(q) {
			q.Vague = day
		}
	}
	p.take(r, day)
	p.Rows = append(p.Rows, r)
	if rest := p.Amount; rest.Left() == quantity.No && rest != (Amount{}) {
		p.Amount = Amount{}
		if whole {
			b.Over = day
		} else {
			b.Loose = b.Loose.minus(rest)
		}
	}
}

// take lowers the pool, and its batch where the row tells which.
func (p *Pool) take(r *practice.Stock, day quantity.Day) {
	amount := amountOf(r)
	p.Amount = p.Amount.minus(amount)
	i := slices.IndexFunc(p.Batches, func(t Batch) bool {
		return len(p.Batches) == 1 || r.ExpiresOn.Written() && t.ExpiresOn == r.ExpiresOn
	})
	if i < 0 {
		p.Vague = day
		return
	}
	p.Batches[i].Amount = p.Batches[i].Amount.minus(amount)
}
