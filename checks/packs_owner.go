package checks

import (
	"slices"

	"footing/internal/audit"
	"footing/internal/practice"
)

var _ = define(audit.Check{
	ID:    "packs/owner",
	Title: "no client's own instrument was used on another client",
	Why: "An instrument that belongs to one client is often kept, cleaned and handed back without going through a cycle, because nobody else is meant to be treated with it. " +
		"On another client it can carry fungus, warts or blood-borne infection. A number typed for another explains some.",
	Grades:  []audit.Grade{audit.Critical, audit.Observation},
	Subject: "instruments", Thing: "use of a client's own instrument", Things: "uses of clients' own instruments",
	Needs: []string{"visits", "instruments"},
	Helps: []string{"instruments.reuse", "instruments.owner", "visits.instruments", "visits.packs", "packs.instruments", "clients"},
	Uses:  []string{"packs.kind"},
	Fix: []string{
		"Look at the visit note and the instrument first: if another one was used, or the number or the owner is a slip, write the correction as a new row with today's date.",
		"If it was used on another client: put the instrument aside today, and keep the note and the instrument as they are.",
		"Ask public health and your regulator today what they expect, before anyone contacts a client. They decide whether clients are told.",
		"Where skin was broken or bled, a medical assessment should not wait for any of this.",
		"From today on, keep each client's own instruments closed, under that client's number, apart from all others.",
	},
	Verify: "Later visits name a client's own instruments for their owner alone.",
	Run: func(x *audit.Examination) {
		c, _ := x.Criterion("packs.kind", nil)
		own := slices.ContainsFunc(x.P.Instruments, func(n practice.Instrument) bool { return packsOwnerOwn(&n) })
		if !own {
			x.Nothing("no instrument is written as a client's own")
			return
		}
		uses, shared := packsToolUses(x.P, packsOwnerOwn)
		for i := range x.P.Instruments {
			if n := &x.P.Instruments[i]; packsOwnerOwn(n) {
				packsOwnerOf(x, n, uses[n], c)
			}
		}
		if shared {
			x.Unclear(audit.Whole, "a visit names a pack whose number several packs have, so which instruments it used cannot be told", audit.Field{Kind: "packs"})
		}
		switch {
		case x.Silent() && !packsToolNames(x.P):
			x.Unclear(audit.Whole, "neither visits nor packs name the instruments that were used", audit.Field{Kind: "visits", Name: "instruments"}, audit.Field{Kind: "packs", Name: "instruments"})
		case x.Silent():
			x.Nothing("no visit typed names a client's own instrument")
		}
	},
})

// packsOwnerOwn reports whether an instrument is written as a client's own.
func packsOwnerOwn(n *practice.Instrument) bool { return n.Reuse == "client-owned" }

func packsOwnerOf(x *audit.Examination, n *practice.Instrument, uses []packsToolUse, c audit.Criterion) {
	s := packsToolAbout(n)
	others := map[string]bool{}
	for _, u := range uses {
		if u.visit.Client != "" && u.visit.Client != n.Owner {
			others[u.visit.Client] = true
		}
	}
	// One use on one other client is a fault; on one after another, it is a number for many.
	kind := packsToolKind(len(others), len(uses)+1, c)
	told := false
	for _, u := range uses {
		f := audit.Fault{Grade: audit.Critical, Matter: "another", Day: u.visit.Started.Day(),
			Found:    "a client's own instrument named in the visit of another client",
			Needed:   "it is used on its owner alone; a number or an owner typed wrongly explains some, so look at the note and the instrument first",
			Evidence: append(u.evidence("the visit"), audit.At(&u.visit.Row, "client"), audit.At(&n.Row, "owner", "the owner of the instrument"))}
		switch {
		case n.Owner == "":
			x.Unclear(s, "whose instrument it is, is not written", audit.Field{Kind: "instruments", Name: "owner"})
		case u.visit.Client == n.Owner:
			x.Met(s)
		case n.AcquiredOn.Written() && u.visit.Started.Day() < n.AcquiredOn:
			x.Unclear(s, "the visit lies before the day on which the instrument is written to have come, so its number may have been another's", audit.Field{Kind: "instruments", Name: "acquired_on"})
		case u.pack != nil && packsOwnerVisits(x.P, u.pack) > 1:
			x.Unclear(s, "several visits name the pack that it came in, so in which of them it was used cannot be told", audit.Field{Kind: "visits", Name: "packs"})
		case kind:
			x.Unclear(s, "the number is used on so many clients that it is taken for a kind of instrument, and not for one piece", audit.Field{Kind: "instruments"})
			if !told {
				told = true
				packsToolTold(x, n, c, "written as one client's own, and named in the visits of many", f.Day, f.Evidence)
			}
		case !packsOwnerSure(x.P, n.Owner) || !packsOwnerSure(x.P, u.visit.Client):
			x.Unclear(s, "the visit is another client's, as written, but the client or the owner is not exactly one row of clients, so a slip in the number cannot be told from another client", audit.Field{Kind: "clients"})
			if !told {
				told = true
				f.Matter, f.Found = "another, perhaps", f.Found+", as far as their numbers tell"
				x.Remark(s, f)
			}
		default:
			x.NotMet(s, f)
		}
	}
}

// packsOwnerSure reports whether an id is that of exactly one client.
func packsOwnerSure(p *practice.Practice, id string) bool {
	_, state := p.Client(id)
	return state == practice.One
}

// packsOwnerVisits is how many visits that took place name a pack.
func packsOwnerVisits(p *practice.Practice, k *practice.Pack) (n int) {
	for _, v := range p.UsesOf(practice.Key(&k.Row)) {
		if v.Done() {
			n++
		}
	}
	return n
}
