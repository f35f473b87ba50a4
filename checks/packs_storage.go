package checks

import (
	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/quantity"
)

var _ = define(audit.Check{
	ID:    "packs/storage",
	Title: "no pack was kept longer than the rules allow for its packaging",
	Why: "A closed pouch or wrap keeps what is in it while it stays whole and dry; some rules set a time as well. Bare items and covered trays have no such barrier, so rules allow hours or days. " +
		"For those no research shows how long is too long either way, so the times are convention.",
	Grades:  []audit.Grade{audit.Major, audit.Observation},
	Subject: "sites", Thing: "pack", Things: "packs",
	Needs: []string{"packs"},
	Helps: []string{"packs.packaging", "packs.load", "loads", "packs.opened_at", "packs.counted_on", "visits.packs"},
	Uses:  []string{"packs.storage"},
	Fix: []string{
		"Take these items off the shelf and out of the bag, and process again what is still unused.",
		"Look whether the packaging is written rightly: a closed pouch typed as a tray, or a load typed for another, explains some.",
		"Ask your regulator which time holds for bare items and trays where you practise, and write it into rules.yaml.",
		"From today on, pack what is not used at once in a pouch or wrap, and write load and packaging.",
	},
	Verify: "A count of every shelf and bag shows nothing kept longer than its packaging allows.",
	Run: func(x *audit.Examination) {
		known := packsStorageKnown{}
		for i := range x.P.Packs {
			packsStorageOf(x, &x.P.Packs[i], known)
		}
	},
})

func packsStorageOf(x *audit.Examination, k *practice.Pack, known packsStorageKnown) {
	site := packsSite(k)
	from, load, why := packsStorageFrom(x.P, k)
	fate := packsFateOf(x.P, k)
	switch {
	case k.DiscardedOn.Written() && !fate.used.Written():
		x.Met(site)
		return
	case why != "":
		x.Unclear(site, why, audit.Field{Kind: "packs", Name: "load"})
		return
	case k.Packaging == "":
		x.Unclear(site, "the packaging is not written", audit.Field{Kind: "packs", Name: "packaging"})
		return
	}
	// Kept at least until the last day on which it was seen; at most until today.
	least, most, seen := from, x.P.AsOf, audit.At(&k.Row, "packaging")
	switch {
	case fate.used.Written():
		least, most, seen = fate.used, fate.used, fate.evidence
	case k.CountedOn.Written():
		least, seen = k.CountedOn, audit.At(&k.Row, "counted_on")
	}
	if least < from {
		x.Unclear(site, "opened or counted before the day of its load, as written, so how long it was kept cannot be told", audit.Field{Kind: "packs", Name: "load"})
		return
	}
	t := packsStorageTrial{from: from, least: least, most: most}
	if known.allow(x, k, t) {
		x.Met(site)
		return
	}
	a, b := x.Ask("packs.storage", packsStorageWhen(k, "clinical"), t.judge), x.Ask("packs.storage", packsStorageWhen(k, "elsewhere"), t.judge)
	if a.Verdict != b.Verdict || a.Depends != b.Depends {
		x.Unclear(site, "in time or too long by the room in which it was kept, and no record says which room that was")
		return
	}
	if b.Verdict == audit.Fail && fate.unsure {
		x.Unclear(site, packsUnsure)
		return
	}
	b = t.mildest(b)
	f := audit.Fault{Grade: audit.Major, Matter: k.Packaging, Weight: float64(least - from), Day: least, Evidence: []audit.Evidence{audit.At(&k.Row, "packaging"), load, seen},
		Found: packsStorageKept(k.Packaging) + " kept " + packsDays(from, least)}
	x.Settle(site, b, f, func(c audit.Criterion) string { return "kept at most: " + c.Value() }, "nothing is written of it since it was made or last counted", audit.Field{Kind: "packs", Name: "counted_on"})
}

// packsStorageFrom is the day of the pack's load, or why it cannot be told.
func packsStorageFrom(p *practice.Practice, k *practice.Pack) (quantity.Day, audit.Evidence, string) {
	if k.Load == "" {
		return 0, audit.Evidence{}, "which load the pack came from is not written"
	}
	l, state := p.Load(k.Load)
	if state != practice.One {
		return 0, audit.Evidence{}, "the load that the pack names is not in the records as one row"
	}
	if l.Ended.Written() {
		return l.Ended.Day(), audit.At(&l.Row, "ended", "its load"), ""
	}
	return l.Started.Day(), audit.At(&l.Row, "started", "its load"), ""
}

func packsStorageWhen(k *practice.Pack, area string) audit.When {
	packaging := "wrapped"
	if k.Packaging == "none" || k.Packaging == "covered-tray" {
		packaging = k.Packaging
	}
	return audit.When{"packaging": packaging, "area": area}
}

func packsStorageKept(packaging string) string {
	switch packaging {
	case "none":
		return "bare items"
	case "covered-tray":
		return "a covered tray"
	}
	return "a " + packaging
}

// packsStorageKnown keeps every rule that could hold for a packaging, so that the
// many packs that all of them allow are settled at once.
type packsStorageKnown map[string][]audit.Criterion

func (n packsStorageKnown) allow(x *audit.Examination, k *practice.Pack, t packsStorageTrial) bool {
	rules, seen := n[k.Packaging]
	if !seen {
		for _, area := range []string{"clinical", "elsewhere"} {
			x.Ask("packs.storage", packsStorageWhen(k, area), func(c audit.Criterion) audit.Verdict {
				rules = append(rules, c)
				return audit.Meets
			})
		}
		n[k.Packaging] = rules
	}
	for _, c := range rules {
		if t.judge(c) != audit.Meets {
			return false
		}
	}
	return len(rules) > 0
}

// packsStorageTrial is how long a pack was kept: from its load to the last day it
// was surely, and the last day it may have been.
type packsStorageTrial struct{ from, least, most quantity.Day }

// packsStorageLast is the last day that a criterion allows for a pack of this day;
// a day not written is no limit.
func packsStorageLast(from quantity.Day, c audit.Criterion) quantity.Day {
	span, limited := c.Limit()
	if !limited {
		return 0
	}
	return from.Add(span)
}

// mildest cites, where several rule sets are all not met, the one that allows
// longest, so that the sentence holds under each.
func (t packsStorageTrial) mildest(r audit.Ruling) audit.Ruling {
	if r.Depends || r.Verdict != audit.Fail {
		return r
	}
	for _, v := range r.By {
		if packsStorageLast(t.from, v.Criterion) > packsStorageLast(t.from, r.Criterion) {
			r.Criterion = v.Criterion
		}
	}
	return r
}

func (t packsStorageTrial) judge(c audit.Criterion) audit.Verdict {
	last := packsStorageLast(t.from, c)
	switch {
	case !last.Written():
		return audit.Meets
	case t.least > last:
		return audit.Fail
	case t.most <= last:
		return audit.Meets
	}
	return audit.CannotTell
}
