package checks

import (
	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/quantity"
)

var _ = define(audit.Check{
	ID:      "packs/condition",
	Title:   "no pack that was wet or torn was used",
	Why:     "Paper and pouches hold germs back only while they are whole and dry. A pack that is wet or torn when it is taken from the shelf is treated as one that was never processed.",
	Grades:  []audit.Grade{audit.Major},
	Subject: "sites", Thing: "used pack", Things: "used packs",
	Needs: []string{"packs"},
	Helps: []string{"packs.condition", "packs.opened_at", "packs.discarded_on", "visits.packs"},
	Fix: []string{
		"Take every pack that is wet, torn or holed off the shelf and out of the bag, and process its instruments again in new packaging.",
		"Look at the notes of these visits: a word typed into the wrong row, a pouch torn only in opening it, or another pack opened in its place explains some. Where it does, write the correction as a new row with today's date.",
		"Ask your regulator what it expects where such a pack was used. Contact no client about it on your own.",
		"Look for the cause: packs laid down hot or stacked, a load that came out wet, sharp tips without a cover, a damp shelf or bag.",
		"From today on, look at each pack on all sides before you open it, and put those that are not whole and dry aside.",
	},
	Verify: "Later visits name no pack that was wet or torn, and those found so have the day they were discarded.",
	Run: func(x *audit.Examination) {
		x.Nothing("no pack is written as used")
		for i := range x.P.Packs {
			packsConditionOf(x, &x.P.Packs[i])
		}
	},
})

func packsConditionOf(x *audit.Examination, k *practice.Pack) {
	site, u := packsSite(k), packsUseOf(x.P, k)
	_, aside := packsAside(x.P, k, u.visit)
	bad := k.Condition == "wet" || k.Condition == "torn"
	switch {
	case u.used == quantity.No:
		x.Pass()
	case k.Condition == "":
		x.Unclear(site, "the state of the pack when it was taken is not written", audit.Field{Kind: "packs", Name: "condition"})
	case !bad:
		x.Met(site)
	case u.visit == nil && k.DiscardedOn.Written():
		x.Met(site) // opened, found so, and put aside
	case u.used == quantity.Unsure:
		x.Unclear(site, u.why)
	case u.visit == nil:
		x.Unclear(site, "the pack was wet or torn, and no visit names it, so whether it was used or put aside cannot be told", audit.Field{Kind: "packs", Name: "discarded_on"})
	case aside != "":
		x.Unclear(site, aside, audit.Field{Kind: "packs", Name: "discarded_on"})
	default:
		x.NotMet(site, audit.Fault{Grade: audit.Major, Matter: k.Condition, Day: u.day(), Evidence: u.evidence("condition", "the pack, "+k.Condition),
			Found:  "a pack was used though it was " + k.Condition + " when it was taken, as written",
			Needed: "a pack is used only while it is whole and dry; a pouch torn only in opening it, or another pack opened in its place, explains some"})
	}
}
