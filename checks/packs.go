package checks

import (
	"slices"
	"strings"

	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/quantity"
)

// packsSite is what findings about packs are grouped by: the site where the pack
// is kept.
func packsSite(k *practice.Pack) audit.Subject {
	if k.StoredAt == "" {
		return audit.Whole
	}
	return audit.Subject{Kind: "sites", ID: k.StoredAt}
}

// packsFate is what is written of what became of a pack.
type packsFate struct {
	used     quantity.Day // opened, or named by a visit that took place
	evidence audit.Evidence
	shared   bool // another pack has the same id, so that visits name either
	unsure   bool // opened and discarded, and no visit names it: perhaps only opened to be processed again
}

// packsUnsure says why the opening of a pack need not have been its use.
const packsUnsure = "opened and discarded, as written, and no visit names it, so whether it was used or only taken out cannot be told"

func packsFateOf(p *practice.Practice, k *practice.Pack) (f packsFate) {
	key := practice.Key(&k.Row)
	if k.OpenedAt.Written() {
		named := slices.ContainsFunc(p.UsesOf(key), (*practice.Visit).Done)
		return packsFate{used: k.OpenedAt.Day(), evidence: audit.At(&k.Row, "opened_at"), unsure: k.DiscardedOn.Written() && !named}
	}
	if _, state := p.Pack(key); state != practice.One {
		f.shared = true
		return f
	}
	for _, v := range p.UsesOf(key) {
		if v.Done() && !f.used.Written() {
			f.used, f.evidence = v.Started.Day(), audit.At(&v.Row, "packs", "the visit that names it")
		}
	}
	return f
}

// packsCameBack reports whether a visit that was surely over before a pack's load names
// it, and one that was not as well: one of them cannot mean this pack.
func packsCameBack(h packsHours, p *practice.Practice, k *practice.Pack, l *practice.Load) bool {
	if k == nil {
		return false
	}
	before, after := false, false
	for _, v := range p.UsesOf(practice.Key(&k.Row)) {
		if v.Done() {
			early := h.early(packsUse{visit: v}, l.Started)
			before, after = before || early, after || !early
		}
	}
	return before && after
}

// packsOver reports whether so many of all are more than a percentage.
func packsOver(n, all int, c audit.Criterion) bool {
	whole, _ := quantity.Parse("100 %", quantity.Percent, quantity.Fallback{})
	return float64(n)*whole.In(quantity.PercentU) > c.Quantity().In(quantity.PercentU)*float64(all)
}

// packsNeeds asks whether a visit called for instruments that went through a
// sterilizer: Yes, if it took place and any of its procedures is on the list of
// packs.procedures; No, if none can have been, or it did not take place; Unsure,
// if no procedure is written, or one that only the practitioner's own words name.
func packsNeeds(x *audit.Examination) func(*practice.Visit) quantity.Tri {
	c, ok := x.Criterion("packs.procedures", nil)
	return func(v *practice.Visit) quantity.Tri {
		switch {
		case !v.Done():
			return quantity.No
		case !ok || !v.Procedures.Written:
			return quantity.Unsure
		case slices.ContainsFunc(v.Procedures.Items, c.Has):
			return quantity.Yes
		case slices.ContainsFunc(v.Procedures.Items, packsOwnWords):
			return quantity.Unsure
		}
		return quantity.No
	}
}

// packsOwnWords reports whether a procedure is in the practitioner's own words.
func packsOwnWords(procedure string) bool { return strings.HasPrefix(procedure, "other:") }
