package checks

import (
	"slices"

	"footing/internal/audit"
	"footing/internal/chain"
	"footing/internal/practice"
	"footing/internal/quantity"
)

// packsUse says whether a pack, or a load that a visit names in place of packs, was
// used, and by which visit.
type packsUse struct {
	pack  *practice.Pack  // nil for a load named by a visit
	visit *practice.Visit // the first that took place and names it; nil where the pack's opening alone tells
	used  quantity.Tri
	why   string // why it cannot be told
}

// packsUseOf tells how a pack was used. A visit that names it is the evidence of use;
// where none does, its opening is, unless it was discarded after that.
func packsUseOf(p *practice.Practice, k *practice.Pack) packsUse {
	fate := chain.FateOf(p, k)
	u := packsUse{pack: k, used: quantity.No}
	switch {
	case len(fate.Visits) > 0 && !fate.Shared:
		u.used, u.visit = quantity.Yes, fate.Visits[0]
	case k.OpenedAt.Written() && k.DiscardedOn.Written():
		u.used, u.why = quantity.Unsure, packsUnsure
	case k.OpenedAt.Written():
		u.used = quantity.Yes
	case len(fate.Visits) > 0:
		u.used, u.why = quantity.Unsure, "several packs have the same id, so whether this one was used cannot be told"
	}
	return u
}

// at is when it was used: opened, or the start of the visit.
func (u packsUse) at() quantity.Moment {
	if u.byOpening() {
		return u.pack.OpenedAt
	}
	return u.visit.Started
}

func (u packsUse) day() quantity.Day { return u.at().Day() }

// byOpening reports whether the hour of use is that of the opening: it is written more
// exactly than the visit, or no visit names the pack.
func (u packsUse) byOpening() bool {
	switch {
	case u.pack == nil || !u.pack.OpenedAt.Written():
		return false
	case u.visit == nil || u.pack.OpenedAt.HasClock():
		return true
	}
	return u.pack.OpenedAt.Day() != u.visit.Started.Day()
}

// evidence is how the use is known: the visit, then the pack, each with what it is.
func (u packsUse) evidence(field, note string) (list []audit.Evidence) {
	if u.visit != nil && u.pack != nil {
		list = append(list, audit.At(&u.visit.Row, "packs", "the visit, on "+u.visit.Started.Words()))
	}
	if u.pack == nil {
		return append(list, audit.At(&u.visit.Row, "loads", "the visit, on "+u.visit.Started.Words()+", which names the load"))
	}
	if u.pack.OpenedAt.Written() {
		list = append(list, audit.At(&u.pack.Row, "opened_at", "the pack, opened"))
	}
	return append(list, audit.At(&u.pack.Row, field, note))
}

// packsLoadsAlone is the loads that a visit names in place of packs: those that no
// pack it names came from.
func packsLoadsAlone(p *practice.Practice, v *practice.Visit) (loads []string) {
	for _, id := range v.Loads.Items {
		if !packsFromLoad(p, v, id) {
			loads = append(loads, id)
		}
	}
	return loads
}

func packsFromLoad(p *practice.Practice, v *practice.Visit, load string) bool {
	for _, id := range v.Packs.Items {
		if k, state := p.Pack(id); state == practice.One && k.Load == load {
			return true
		}
	}
	return false
}

// packsVisitSite is the site of a visit as a subject.
func packsVisitSite(v *practice.Visit) audit.Subject {
	if v.Site == "" {
		return audit.Whole
	}
	return audit.Subject{Kind: "sites", ID: v.Site}
}

// packsAside says why a pack that was found failed, wet or torn may have been put aside
// and not used, with a short key; "" where nothing says so.
func packsAside(p *practice.Practice, k *practice.Pack, v *practice.Visit) (key, why string) {
	if k.DiscardedOn.Written() {
		return "discarded", "the pack is written as discarded as well, so it may have been put aside when its state was seen"
	}
	other := func(id string) bool {
		o, state := p.Pack(id)
		return id != practice.Key(&k.Row) && (state != practice.One || o.Set == "" || k.Set == "" || o.Set == k.Set)
	}
	if v != nil && slices.ContainsFunc(v.Packs.Items, other) {
		return "another", "the visit names another pack as well, of the same kind or of none written, which may have been opened in place of this one"
	}
	return "", ""
}
