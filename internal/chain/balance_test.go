package chain

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"footing/internal/practice"
	"footing/internal/quantity"
)

// The ledger's rules are those of records.md, "stock"; common practice of stock books, no source.

func day(n int) quantity.Day { return quantity.NewDay(2026, time.March, n) }

func number(v float64) quantity.Number { return quantity.Number{Value: v, Written: true} }

// row is a row of gloves, size S, at the clinic: day, reason, quantity, and words that change it.
func row(on int, reason string, n float64, words ...string) practice.Stock {
	r := practice.Stock{Item: "gloves", On: day(on), Reason: reason, Quantity: number(n), Each: number(1), Site: "clinic", Size: "S"}
	for _, w := range words {
		name, value, _ := strings.Cut(w, "=")
		switch name {
		case "material":
			r.Material = value
		case "lot":
			r.Lot = value
		case "site":
			r.Site = value
		case "to":
			r.ToSite = value
		case "size":
			r.Size = value
		case "item":
			r.Item = value
		case "set":
			r.Set = value
		case "box":
			r.Each = number(100)
		case "untold":
			r.Each = quantity.Number{}
		case "expires":
			d, err := quantity.ParseDay(value, quantity.ISO)
			if err != nil {
				panic(err)
			}
			r.ExpiresOn = d
		default:
			panic(w)
		}
	}
	return r
}

func shelf(t *testing.T, site string, rows []practice.Stock) *Shelf {
	t.Helper()
	all := Ledger(rows, nil)
	i := slices.IndexFunc(all, func(s *Shelf) bool { return s.Site == site && s.Size == "s" && s.Item == "gloves" })
	require.GreaterOrEqual(t, i, 0)
	return all[i]
}

func TestLeft(t *testing.T) {
	for _, c := range []struct {
		name string
		rows []practice.Stock
		want quantity.Tri
	}{
		{"counted", []practice.Stock{row(1, "count", 2)}, quantity.Yes},
		{"counted at nought", []practice.Stock{row(1, "count", 0)}, quantity.No},
		{"the last count holds", []practice.Stock{row(1, "count", 5), row(2, "count", 0)}, quantity.No},
		{"in whatever order they stand", []practice.Stock{row(2, "count", 0), row(1, "count", 5)}, quantity.No},
		{"a count stands at the end of its day", []practice.Stock{row(1, "count", 2), row(1, "issue", 2), row(1, "purchase", 9)}, quantity.Yes},
		{"used up", []practice.Stock{row(1, "count", 2), row(2, "issue", 2)}, quantity.No},
		{"one left", []practice.Stock{row(1, "count", 2), row(2, "issue", 1)}, quantity.Yes},
		{"thrown away", []practice.Stock{row(1, "count", 2), row(2, "discard", 2)}, quantity.No},
		{"bought and used on one day", []practice.Stock{row(1, "count", 0), row(2, "issue", 3), row(2, "purchase", 3)}, quantity.No},
		{"more taken than written: something was not typed", []practice.Stock{row(1, "count", 2), row(2, "issue", 3)}, quantity.Unsure},
		{"and settled by a count", []practice.Stock{row(1, "count", 2), row(2, "issue", 3), row(3, "count", 0)}, quantity.No},
		{"bought, never counted", []practice.Stock{row(1, "purchase", 2)}, quantity.Yes},
		{"bought and used, never counted: what stood there before?", []practice.Stock{row(1, "purchase", 2), row(2, "issue", 2)}, quantity.Unsure},
		{"boxes and pieces agree", []practice.Stock{row(1, "count", 1, "box"), row(2, "issue", 100)}, quantity.No},
		{"boxes and pieces differ", []practice.Stock{row(1, "count", 1, "box"), row(2, "issue", 99)}, quantity.Yes},
		{"boxes of untold size", []practice.Stock{row(1, "count", 2, "untold"), row(2, "issue", 1, "untold")}, quantity.Yes},
		{"all boxes of untold size used", []practice.Stock{row(1, "count", 2, "untold"), row(2, "issue", 2, "untold")}, quantity.No},
		{"pieces against boxes of untold size", []practice.Stock{row(1, "count", 2, "untold"), row(2, "issue", 100)}, quantity.Unsure},
		{"tenths of a box", []practice.Stock{row(1, "count", 0.3, "untold"), row(2, "issue", 0.1, "untold"), row(3, "issue", 0.1, "untold"), row(4, "issue", 0.1, "untold")}, quantity.No},
		{"moved away", []practice.Stock{row(1, "count", 2), row(2, "transfer", 2, "to=bag")}, quantity.No},
		{"moved here", []practice.Stock{row(1, "count", 0), row(2, "transfer", 2, "site=bag", "to=clinic")}, quantity.Yes},
		{"moved to where it is", []practice.Stock{row(1, "count", 2), row(2, "transfer", 2, "to=clinic")}, quantity.Yes},
		{"two drawers counted on one day", []practice.Stock{row(1, "count", 0), row(1, "count", 2)}, quantity.Yes},
		{"two lots", []practice.Stock{row(1, "count", 0, "lot=A"), row(1, "count", 2, "lot=B")}, quantity.Yes},
		{"issues that name no lot", []practice.Stock{row(1, "count", 1, "lot=A"), row(1, "count", 2, "lot=B"), row(2, "issue", 3)}, quantity.No},
		{"issues that name no lot, some left", []practice.Stock{row(1, "count", 1, "lot=A"), row(1, "count", 2, "lot=B"), row(2, "issue", 2)}, quantity.Yes},
		{"a later count without lot may hold all lots", []practice.Stock{row(1, "count", 2, "lot=A"), row(2, "count", 0)}, quantity.Unsure},
		{"a later count without lot finds some", []practice.Stock{row(1, "count", 0, "lot=A"), row(2, "count", 1)}, quantity.Yes},
	} {
		t.Run(c.name, func(t *testing.T) {
			assert.Equal(t, c.want, shelf(t, "clinic", c.rows).On(day(31)).Left(nil))
		})
	}
}

func TestOnAndDays(t *testing.T) {
	rows := []practice.Stock{row(5, "count", 2), row(9, "issue", 2), row(12, "purchase", 1)}
	s := shelf(t, "clinic", rows)
	for n, want := range map[int]quantity.Tri{4: quantity.Unsure, 5: quantity.Yes, 8: quantity.Yes, 9: quantity.No, 11: quantity.No, 12: quantity.Yes} {
		assert.Equal(t, want, s.On(day(n)).Left(nil), "on day %d", n)
	}
	var seen []string
	for d, b := range s.Days() {
		seen = append(seen, fmt.Sprint(d, " ", b.Left(nil)))
	}
	assert.Equal(t, []string{"2026-03-05 yes", "2026-03-09 no", "2026-03-12 yes"}, seen)
}

func TestLedgerKeepsThingsApart(t *testing.T) {
	rows := []practice.Stock{row(1, "count", 2), row(1, "count", 0, "size=m"), row(1, "count", 1, "site=bag"), row(1, "count", 1, "item=gown"), row(2, "transfer", 1, "to=bag"), row(1, "count", 1, "size= s ")}
	var got []string
	for _, s := range Ledger(rows, nil) {
		got = append(got, fmt.Sprint(s.Site, " ", s.Item, " ", s.Size, " ", s.On(day(31)).Pools[0].Amount.Pieces))
	}
	assert.Equal(t, []string{"bag gloves s 2", "clinic gloves m 0", "clinic gloves s 2", "clinic gown s 1"}, got)
}

func TestSizesFold(t *testing.T) {
	rows := []practice.Stock{row(1, "count", 2, "size=Small"), row(2, "issue", 2, "size=S")}
	all := Ledger(rows, func(s string) string { return strings.ToUpper(s[:1]) })
	require.Len(t, all, 1)
	assert.Equal(t, quantity.No, all[0].On(day(31)).Left(nil))
}

func TestMaterials(t *testing.T) {
	nitrile := func(p *Pool) quantity.Tri {
		switch p.Material {
		case "nitrile":
			return quantity.Yes
		case "":
			return quantity.Unsure
		}
		return quantity.No
	}
	for _, c := range []struct {
		name string
		rows []practice.Stock
		want quantity.Tri
	}{
		{"some", []practice.Stock{row(1, "count", 2, "material=nitrile"), row(1, "count", 2, "material=latex")}, quantity.Yes},
		{"latex alone", []practice.Stock{row(1, "count", 2, "material=latex")}, quantity.No},
		{"none left", []practice.Stock{row(1, "count", 2, "material=latex"), row(1, "count", 2, "material=nitrile"), row(2, "issue", 2, "material=nitrile")}, quantity.No},
		{"no material written", []practice.Stock{row(1, "count", 2)}, quantity.Unsure},
		{"no material written, none left", []practice.Stock{row(1, "count", 0)}, quantity.No},
		{"more than all taken without a material", []practice.Stock{row(1, "count", 2, "material=nitrile"), row(2, "issue", 2)}, quantity.No},
	} {
		t.Run(c.name, func(t *testing.T) {
			assert.Equal(t, c.want, shelf(t, "clinic", c.rows).On(day(31)).Left(nitrile))
		})
	}
}

// held says, for each batch in the order typed, its last day and whether any is left.
func held(b *Balance) (all []string) {
	for _, p := range b.Pools {
		for _, t := range p.Batches {
			all = append(all, fmt.Sprintf("%s %s %s", p.Lot, t.ExpiresOn, b.Held(p, t)))
		}
	}
	return all
}

func TestBatches(t *testing.T) {
	for _, c := range []struct {
		name string
		rows []practice.Stock
		want []string
	}{
		{"a lot", []practice.Stock{row(1, "count", 2, "lot=A", "expires=2026-02-28")}, []string{"A 2026-02-28 yes"}},
		{"a lot's day need not be typed again", []practice.Stock{row(1, "count", 2, "lot=A", "expires=2026-02-28"), row(2, "count", 1, "lot=A")}, []string{"A 2026-02-28 yes"}},
		{"nor at once", []practice.Stock{row(1, "purchase", 2, "lot=A"), row(2, "count", 1, "lot=A", "expires=2026-02-28")}, []string{"A 2026-02-28 yes"}},
		{"used up", []practice.Stock{row(1, "count", 2, "lot=A", "expires=2026-02-28"), row(2, "issue", 2, "lot=A")}, []string{"A 2026-02-28 no"}},
		{"no lot, one day of use", []practice.Stock{row(1, "count", 2, "expires=2026-02-28"), row(2, "issue", 1)}, []string{" 2026-02-28 yes"}},
		{"no lot, two days of use", []practice.Stock{row(1, "count", 2, "expires=2026-02-28"), row(1, "count", 2, "expires=2028-02-28")}, []string{" 2026-02-28 yes", " 2028-02-28 yes"}},
		{"issued from either", []practice.Stock{row(1, "count", 2, "expires=2026-02-28"), row(1, "count", 2, "expires=2028-02-28"), row(2, "issue", 1)}, []string{" 2026-02-28 unsure", " 2028-02-28 unsure"}},
		{"thrown away by its day", []practice.Stock{row(1, "count", 2, "expires=2026-02-28"), row(1, "count", 2, "expires=2028-02-28"), row(2, "discard", 2, "expires=2026-02-28")}, []string{" 2026-02-28 no", " 2028-02-28 yes"}},
		{"a later count without the old day", []practice.Stock{row(1, "count", 2, "expires=2026-02-28"), row(2, "count", 2, "expires=2028-02-28")}, []string{" 2028-02-28 yes"}},
		{"an issue that names no lot", []practice.Stock{row(1, "count", 2, "lot=A", "expires=2026-02-28"), row(1, "count", 2, "lot=B", "expires=2028-02-28"), row(2, "issue", 1)}, []string{"A 2026-02-28 unsure", "B 2028-02-28 unsure"}},
		{"settled by a count", []practice.Stock{row(1, "count", 2, "lot=A", "expires=2026-02-28"), row(2, "issue", 1), row(3, "count", 1, "lot=A")}, []string{"A 2026-02-28 yes"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			assert.Equal(t, c.want, held(shelf(t, "clinic", c.rows).On(day(31))))
		})
	}
}

// naive works out one pool's pieces at the end of a day from nothing but the text
// of the rule: the last count, then each later day's purchases before its issues.
func naive(rows []practice.Stock, site, material, lot string, on quantity.Day) (pieces float64, counted quantity.Day) {
	mine := func(r practice.Stock) bool { return r.Material == material && r.Lot == lot }
	for _, r := range rows {
		if mine(r) && r.Site == site && r.Reason == "count" && r.On <= on {
			counted = max(counted, r.On)
		}
	}
	for _, r := range rows {
		if mine(r) && r.Site == site && r.Reason == "count" && r.On == counted {
			pieces += r.Quantity.Value * r.Each.Value
		}
	}
	for d := day(1); d <= on; d++ {
		if d <= counted {
			continue
		}
		for _, r := range rows {
			if mine(r) && r.On == d && (r.Site == site && r.Reason == "purchase" || r.ToSite == site && r.Reason == "transfer" && r.Site != site) {
				pieces += r.Quantity.Value * r.Each.Value
			}
		}
		for _, r := range rows {
			if mine(r) && r.On == d && r.Site == site && (r.Reason == "issue" || r.Reason == "discard" || r.Reason == "transfer" && r.ToSite != site) {
				pieces = max(0, pieces-r.Quantity.Value*r.Each.Value)
			}
		}
	}
	return pieces, counted
}

func TestPoolsAgreeWithNaiveReplay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		gen := rapid.Custom(func(t *rapid.T) practice.Stock {
			r := row(rapid.IntRange(1, 9).Draw(t, "day"), rapid.SampledFrom([]string{"count", "purchase", "issue", "discard", "transfer"}).Draw(t, "reason"),
				float64(rapid.IntRange(0, 4).Draw(t, "n")))
			r.Each = number(rapid.SampledFrom([]float64{1, 10}).Draw(t, "each"))
			r.Site = rapid.SampledFrom([]string{"clinic", "bag"}).Draw(t, "site")
			r.Material = rapid.SampledFrom([]string{"", "nitrile", "latex"}).Draw(t, "material")
			r.Lot = rapid.SampledFrom([]string{"", "A"}).Draw(t, "lot")
			if r.Reason == "transfer" {
				r.ToSite = rapid.SampledFrom([]string{"", "clinic", "bag"}).Draw(t, "to")
			}
			return r
		})
		rows := rapid.SliceOfN(gen, 0, 30).Draw(t, "rows")
		on := day(rapid.IntRange(1, 9).Draw(t, "on"))
		for _, s := range Ledger(rows, nil) {
			for _, p := range s.On(on).Pools {
				pieces, counted := naive(rows, s.Site, p.Material, p.Lot, on)
				if p.Amount != (Amount{Pieces: pieces}) || p.Counted != counted {
					t.Fatalf("%s %q %q: %v counted %v, want %v counted %v", s.Site, p.Material, p.Lot, p.Amount, p.Counted, pieces, counted)
				}
			}
		}
	})
}

// A made-up shelf whose true stock is known: all that comes is written, of what
// goes some is not, or without its lot or material. The ledger then never says
// that nothing is left while something is, of the whole, of a material or of a batch;
// and where every row is written in full it says exactly what there is.
func TestBalanceIsAnUpperBound(t *testing.T) {
	type key struct{ material, lot string }
	keys := []key{{"nitrile", "A"}, {"nitrile", "B"}, {"latex", "C"}}
	rapid.Check(t, func(t *rapid.T) {
		full := rapid.Bool().Draw(t, "full")
		truth := map[key]float64{}
		var rows []practice.Stock
		write := func(d int, reason string, n float64, k key) {
			rows = append(rows, row(d, reason, n, "material="+k.material, "lot="+k.lot))
		}
		for _, k := range keys {
			truth[k] = float64(rapid.IntRange(0, 3).Draw(t, "opening"))
			write(1, "count", truth[k], k)
		}
		last := rapid.IntRange(2, 12).Draw(t, "days")
		for d := 2; d <= last; d++ {
			k := rapid.SampledFrom(keys).Draw(t, "key")
			if rapid.Bool().Draw(t, "buy") {
				n := float64(rapid.IntRange(1, 3).Draw(t, "bought"))
				truth[k] += n
				write(d, "purchase", n, k)
			}
			if n := float64(rapid.IntRange(0, 3).Draw(t, "used")); n > 0 && n <= truth[k] {
				truth[k] -= n
				named := k
				if !full {
					switch rapid.IntRange(0, 3).Draw(t, "written") {
					case 0:
						n = 0
					case 1:
						named.lot = ""
					case 2:
						named = key{}
					}
				}
				if n > 0 {
					write(d, "issue", n, named)
				}
			}
			switch rapid.IntRange(0, 5).Draw(t, "count") {
			case 0:
				for _, k := range keys {
					write(d, "count", truth[k], k)
				}
			case 1:
				write(d, "count", truth[k], k)
			case 2:
				if !full {
					write(d, "count", truth[keys[0]]+truth[keys[1]], key{"nitrile", ""})
				}
			}
		}
		b := Ledger(rows, nil)[0].On(day(last))
		check := func(what string, have float64, got quantity.Tri) {
			if have > 0 && got == quantity.No {
				t.Fatalf("%s: %v there, and the ledger says none", what, have)
			}
			if full && got == quantity.Unsure || full && (got == quantity.Yes) != (have > 0) {
				t.Fatalf("%s: %v there, and the full ledger says %v", what, have, got)
			}
		}
		var all float64
		for _, k := range keys {
			all += truth[k]
		}
		check("all", all, b.Left(nil))
		check("nitrile", truth[keys[0]]+truth[keys[1]], b.Left(func(p *Pool) quantity.Tri {
			switch p.Material {
			case "nitrile":
				return quantity.Yes
			case "":
				return quantity.Unsure
			}
			return quantity.No
		}))
		for _, p := range b.Pools {
			for _, batch := range p.Batches {
				if p.Lot != "" {
					check(p.Lot, truth[key{p.Material, p.Lot}], b.Held(p, batch))
				}
			}
		}
	})
}
