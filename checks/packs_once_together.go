package checks

import (
	"slices"

	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/quantity"
)

// together reports whether the pack may have held a set for each of two who were seen one
// after the other, as is usual on home visits and in care homes: away from the clinic, or
// where it is not written where; with no other visit there in between; the pack with
// pieces enough, and all that the visits name, as far as is written; and no piece named by
// both.
func (u packsOnceUse) together(p *practice.Practice) bool {
	holds := u.pack.Instruments
	if len(u.clients) == 1 || len(u.visits[1:]) > 1 || len(u.days) > 1 || holds.Written && len(holds.Items) < len(u.clients) {
		return false
	}
	a, b := u.visits[0], u.visits[1]
	if holds.Written && slices.ContainsFunc(slices.Concat(a.Instruments.Items, b.Instruments.Items), func(id string) bool { return !holds.Has(id) }) {
		return false
	}
	return a.Site == b.Site && packsOnceAway(p, a.Site) && !slices.ContainsFunc(a.Instruments.Items, b.Instruments.Has) &&
		!slices.ContainsFunc(p.VisitsByTime(), func(v *practice.Visit) bool {
			return v.Done() && v.Site == a.Site && quantity.Before(a.Started, v.Started) == quantity.Yes && quantity.Before(v.Started, b.Started) == quantity.Yes
		})
}

// packsOnceAway reports whether a site is, or may be, one to which packs are carried.
func packsOnceAway(p *practice.Practice, id string) bool {
	s, state := p.Site(id)
	return state != practice.One || s.Type == "mobile" || s.Type == "care-home" || s.Type == "school"
}

// together tells of such a pack: not assessed, and an observation.
func (o *packsOnce) together(u packsOnceUse) {
	o.x.Unclear(u.site(), "two visits that follow each other name the pack, which may have held a set for each of the two", audit.Field{Kind: "visits", Name: "instruments"}, audit.Field{Kind: "packs", Name: "instruments"})
	o.x.Remark(u.site(), audit.Fault{Matter: "two seen together", Day: u.days[0], Evidence: u.evidence(),
		Found:  "one pack was named by the visits of two clients that follow each other, on " + packsOnceDays(u.days),
		Needed: "a pack with a set for each of two who are seen together is usual away from the clinic; a number typed wrong explains some; whether each had pieces of their own, only the notes or you can tell",
		Steps: []string{
			"Look at the notes, and at the label kept with them: did the pack hold a set for each? If so, write which pieces each of them had.",
			"Where the number of one visit is a slip, write the correction as a new row with today's date.",
			"Where one set did serve both, keep everything as it is, telephone public health and your regulator today and ask what to do. Contact no client about it on your own.",
			"From today on, pack for each client apart.",
		}})
}
