package checks

import (
	"fmt"

	"footing/internal/audit"
	"footing/internal/chain"
	"footing/internal/quantity"
)

var _ = define(audit.Check{
	ID:    "gear/dated",
	Title: "No protective gear that is past its last day is in stock",
	Why: "Gloves, masks and respirators age: rubber turns brittle, a filter loses its charge, and the maker stands for them only until the date on the box. " +
		"A lot counts as still there only where it was counted or bought after its last day, or where every row of stock since its last count is typed.",
	Grades:  []audit.Grade{audit.Minor},
	Subject: "sites",
	Thing:   "dated lot",
	Things:  "dated lots",
	Needs:   []string{"stock"},
	Helps:   []string{"stock.expires_on", "stock.lot"},
	Uses:    []string{"gear.dated-items"},
	Fix: []string{
		"Look at the box: if it is gone, add the discard or a new count to stock; if the date was mistyped, add a row that corrects it.",
		"If it is there, take it off the shelf today, so that nobody reaches for it, and check the boxes beside it.",
		"Buy what is missing before it is needed; ask the maker in writing if you want to use it longer.",
		"From today on, write the lot and its last day with each purchase, and put the box that runs out first in front.",
	},
	Verify: "the next count has no lot past its last day",
	Run: func(x *audit.Examination) {
		protective, _ := x.Criterion("gear.dated-items", nil)
		horizon := x.P.Ahead()
		shelves := chain.Ledger(x.P.Stock, nil)
		if len(shelves) == 0 {
			x.Nothing("no row of stock adds to a shelf or takes from one")
		}
		for _, s := range shelves {
			b := s.On(x.P.AsOf)
			for _, pool := range b.Pools {
				for _, batch := range pool.Batches {
					held := b.Held(pool, batch)
					if held != quantity.No && batch.ExpiresOn >= x.P.AsOf && batch.ExpiresOn <= horizon {
						x.Due(audit.Due{Row: &batch.Row.Row, Field: "expires_on", On: batch.ExpiresOn, What: gearDatedName(s, pool)})
					}
					if !protective.Has(s.Item) {
						x.Pass()
						continue
					}
					gearDatedBatch(x, protective, s, batch, held)
				}
			}
		}
	},
})

// gearDatedName is what a list of dates calls a lot.
func gearDatedName(s *chain.Shelf, p *chain.Pool) string {
	name := s.Item
	if p.Lot != "" {
		name += " of lot " + p.Lot
	}
	if s.Site != "" {
		name += " at " + s.Site
	}
	return name
}

// gearDatedBatch judges one lot of protective gear. A later purchase or discard
// that nobody typed is the usual reason why a lot seems to be there.
func gearDatedBatch(x *audit.Examination, protective audit.Criterion, s *chain.Shelf, batch chain.Batch, held quantity.Tri) {
	site := gearSite(s.Site)
	asOf := x.P.AsOf
	switch {
	case held == quantity.No:
		x.Pass()
	case !batch.ExpiresOn.Written():
		x.Unclear(site, "the last day of use of some protective gear is not written", audit.Field{Kind: "stock", Name: "expires_on"})
	case batch.ExpiresOn >= asOf:
		x.Met(site)
	case held == quantity.Unsure:
		x.Unclear(site, "whether any of a lot past its last day is left cannot be told, since later rows do not say which lot they took from", audit.Field{Kind: "stock", Name: "lot"})
	case batch.Seen <= batch.ExpiresOn && !x.P.Whole("stock", batch.Seen, asOf):
		x.Unclear(site, "a lot past its last day was last counted before that day, and may have been used up since", audit.Field{Kind: "stock"})
	default:
		days := int(asOf - batch.ExpiresOn)
		f := audit.Fault{Grade: audit.Minor, Matter: s.Item, Day: batch.ExpiresOn, Weight: float64(days), Criterion: &protective,
			Found:    fmt.Sprintf("%s with %s as last day of use still in stock by the rows, counted, bought or moved last on %s", s.Item, batch.ExpiresOn.Words(), batch.Seen.Words()),
			Needed:   "nothing past its last day is kept in stock; if it was thrown away or used up, add that row",
			Evidence: []audit.Evidence{audit.At(&batch.Row.Row, "expires_on"), audit.At(&batch.Row.Row, "quantity")}}
		x.NotMet(site, f)
	}
}
