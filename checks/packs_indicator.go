package checks

import (
	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/quantity"
)

var _ = define(audit.Check{
	ID:    "packs/indicator",
	Title: "the indicator in each pack was read when it was opened, and no pack with a failed one was used",
	Why: "The indicator inside a pack shows that heat and steam reached the instruments of that very pack. It can be seen only when the pack is opened, so reading it then is the last chance to stop. " +
		"A pack that was opened, had a failed indicator and was put aside is as it should be.",
	Grades:  []audit.Grade{audit.Critical, audit.Minor, audit.Observation},
	Subject: "sites", Thing: "opened pack", Things: "opened packs",
	Needs: []string{"packs"},
	Helps: []string{"packs.inside_indicator", "packs.outside_indicator", "packs.opened_at", "packs.discarded_on", "packs.set", "visits.packs"},
	Fix: []string{
		"Set aside and mark every pack of the same load that is still closed; use none until this is settled.",
		"Look at the strips kept with the visit's note: a result misread or typed into the row beside it, or a second pack opened in place of this one, explains some. Where it does, write the correction as a new row with today's date.",
		"Keep the strips, notes, log and packs as they are.",
		"Where the pack was indeed used, telephone public health and your regulator today and ask what to do. Contact no client about it on your own.",
		"From today on, look at the indicator before you take anything out. Where it failed, put the whole pack aside, write the day it was discarded, and stop using that load.",
	},
	Verify: "Each pack opened from today on has the result of its inside indicator written, and those that failed have the day they were discarded.",
	Run: func(x *audit.Examination) {
		x.Nothing("no pack is written as used or opened")
		for i := range x.P.Packs {
			packsIndicatorOf(x, &x.P.Packs[i])
		}
	},
})

func packsIndicatorOf(x *audit.Examination, k *practice.Pack) {
	site, u := packsSite(k), packsUseOf(x.P, k)
	field := "inside_indicator"
	if k.InsideIndicator != "fail" && k.OutsideIndicator == "fail" {
		field = "outside_indicator"
	}
	failed := k.InsideIndicator == "fail" || k.OutsideIndicator == "fail"
	switch {
	case failed:
		packsIndicatorFailed(x, k, u, field)
	case u.used == quantity.No && k.InsideIndicator == "":
		x.Pass()
	case k.InsideIndicator == "pass":
		x.Met(site)
	case k.InsideIndicator == "":
		x.Unclear(site, "what the inside indicator showed at opening is not written, which does not say that nobody looked", audit.Field{Kind: "packs", Name: "inside_indicator"})
	case u.used != quantity.Yes:
		x.Pass()
	default:
		x.NotMet(site, audit.Fault{Grade: audit.Minor, Matter: "none", Day: u.day(), Evidence: u.evidence("inside_indicator", "the pack, with no indicator in it"),
			Found:  "a pack was used with no indicator inside, as written",
			Needed: "an indicator lies in each pack and is read when it is opened; if there was one that was not read, write that",
			Steps: []string{
				"Look at the strips kept with these visits; where a result is there, add it as a late entry with today's date.",
				"What was not used then stays so: fill in nothing from memory.",
				"From today on, put an indicator into each pack, and write its result when you open it.",
			}})
	}
}

// packsIndicatorFailed judges a pack with a failed indicator by whether it was used:
// only a visit that names it, and no other pack of its kind in its place, says so.
func packsIndicatorFailed(x *audit.Examination, k *practice.Pack, u packsUse, field string) {
	site := packsSite(k)
	f := audit.Fault{Grade: audit.Critical, Matter: "failed", Evidence: u.evidence(field, "the pack, with an indicator that failed"),
		Found:  "a pack was used with an indicator written as failed",
		Needed: "a pack with a failed indicator is put aside whole; a result typed into the wrong row, or another pack opened in its place, explains some"}
	switch {
	case u.visit == nil && k.DiscardedOn.Written():
		x.Met(site)
		return
	case u.visit == nil && u.used == quantity.No:
		x.Pass()
		return
	case u.visit == nil:
		x.Unclear(site, "an indicator failed, and no visit names the pack, so whether it was used or put aside cannot be told", audit.Field{Kind: "packs", Name: "discarded_on"})
		return
	}
	f.Day = u.day()
	key, why := packsAside(x.P, k, u.visit)
	if why == "" {
		x.NotMet(site, f)
		return
	}
	x.Unclear(site, why, audit.Field{Kind: "packs", Name: "discarded_on"})
	f.Matter, f.Found, f.Needed = "failed, "+key, "a visit names a pack with an indicator written as failed", why
	f.Steps = []string{
		"Look at the note and the strips of the visit: if the pack was put aside, write the day it was discarded, and take its number out of the visit by a new row with today's date.",
		"If it was used, keep everything as it is, telephone public health and your regulator today, and ask what to do. Contact no client about it on your own.",
		"From today on, name in a visit's note only the packs that were used.",
	}
	x.Remark(site, f)
}
