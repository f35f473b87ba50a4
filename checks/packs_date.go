package checks

import (
	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/quantity"
)

var _ = define(audit.Check{
	ID:      "packs/date",
	Title:   "no pack was opened, or stands counted on the shelf, past its date",
	Why:     "The date on the label is the last day on which whoever packed it vouched for the pack. The day itself still counts. A pack without a date is judged by packs/storage alone.",
	Grades:  []audit.Grade{audit.Major, audit.Minor, audit.Observation},
	Subject: "sites", Thing: "dated pack", Things: "dated packs",
	Needs: []string{"packs"},
	Helps: []string{"packs.use_by", "packs.opened_at", "packs.counted_on", "packs.discarded_on", "visits.packs", "practice.renewal_on", "practice.inspection_on"},
	Fix: []string{
		"Take every pack that is past its date off the shelf and out of the bag, and process its instruments again in new packaging.",
		"Keep the labels of those that were opened past their date, and look: a year misread or mistyped explains some. Where it does, write the correction as a new row with today's date.",
		"Ask your regulator what it expects where a pack was used past its date. Contact no client about it on your own.",
		"From today on, put packs away with the soonest date in front, read the date before you open one, and count the shelf once a month.",
	},
	Verify: "A count of every shelf and bag shows no pack past its date, and later visits opened none.",
	Run: func(x *audit.Examination) {
		for i := range x.P.Packs {
			packsDateOf(x, &x.P.Packs[i])
		}
	},
})

func packsDateOf(x *audit.Examination, k *practice.Pack) {
	site, p := packsSite(k), x.P
	fate := packsFateOf(p, k)
	date := audit.At(&k.Row, "use_by")
	made, _, why := packsStorageFrom(p, k)
	switch {
	case k.UseBy.Written() && why == "" && k.UseBy < made:
		x.Unclear(site, "its date lies before the day of its load, as written, so one of the two is a slip", audit.Field{Kind: "packs", Name: "use_by"})
	case fate.unsure && fate.used > k.UseBy && k.UseBy.Written():
		x.Unclear(site, packsUnsure)
	case !k.UseBy.Written():
		x.Unclear(site, "no date is written for the pack, which may well have none", audit.Field{Kind: "packs", Name: "use_by"})
	case fate.used.Written() && fate.used > k.UseBy:
		x.NotMet(site, audit.Fault{Grade: audit.Major, Matter: "used", Found: "opened " + packsDays(k.UseBy, fate.used) + " past its date of " + k.UseBy.Words(), Needed: "a pack is used on its date at the latest",
			Weight: float64(fate.used - k.UseBy), Day: fate.used, Evidence: []audit.Evidence{date, fate.evidence}})
	case fate.used.Written() || k.DiscardedOn.Written():
		x.Met(site)
	case k.CountedOn > k.UseBy:
		x.NotMet(site, audit.Fault{Grade: audit.Minor, Matter: "shelf", Found: "counted on the shelf " + packsDays(k.UseBy, k.CountedOn) + " past its date of " + k.UseBy.Words(), Needed: "packs past their date leave the shelf; if it was used or processed again since, write that day",
			Weight: float64(k.CountedOn - k.UseBy), Day: k.CountedOn, Evidence: []audit.Evidence{date, audit.At(&k.Row, "counted_on")}})
	case k.UseBy >= p.AsOf:
		packsDateAhead(x, site, k, date)
	case fate.shared:
		x.Unclear(site, "several packs have the same id, so whether this one was used cannot be told")
	case k.CountedOn.Written():
		x.Unclear(site, "its date has passed since it was last counted, and nothing is written of it since", audit.Field{Kind: "packs", Name: "counted_on"})
	default:
		x.Unclear(site, "its whereabouts are not written", audit.Field{Kind: "packs", Name: "counted_on"})
	}
}

// packsDateAhead is a pack that is still in date: met, and told where it stands
// on the shelf and runs out before the renewal or inspection.
func packsDateAhead(x *audit.Examination, site audit.Subject, k *practice.Pack, date audit.Evidence) {
	horizon, purpose := x.P.Horizon()
	if !k.CountedOn.Written() || !horizon.Written() || k.UseBy >= horizon {
		if k.CountedOn.Written() && horizon.Written() && k.UseBy < x.P.Ahead() {
			x.Due(packsDateDue(k))
		}
		x.Met(site)
		return
	}
	x.Due(packsDateDue(k))
	x.NotMet(site, audit.Fault{Grade: audit.Observation, Matter: "soon", Found: "a pack on the shelf has its last day on " + k.UseBy.Words(), Needed: "that is before the " + purpose + " on " + horizon.Words(),
		Day: k.UseBy, Evidence: []audit.Evidence{date}, Steps: []string{"Use these packs first, or process them again before that day.", "If one was used since it was counted, write the day it was opened."}})
}

func packsDateDue(k *practice.Pack) audit.Due {
	return audit.Due{Row: &k.Row, Field: "use_by", On: k.UseBy, What: "pack " + practice.Key(&k.Row)}
}

// packsDays counts the days from one day to a later one, in words.
func packsDays(from, until quantity.Day) string {
	if n := until - from; n != 1 {
		return quantity.Exact(float64(n), quantity.NoUnit).String() + " days"
	}
	return "1 day"
}
