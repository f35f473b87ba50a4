package checks

import (
	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/quantity"
)

var _ = define(audit.Check{
	ID:    "packs/released",
	Title: "no pack was opened before its load had ended and was released, and none came from a load that was rejected or is waiting",
	Why: "Release is the moment from which the packs of a load may be used. A pack that was opened before it, or out of a load that was rejected or still waits for a decision, was used with nobody having said that it may be. " +
		"Hours count only where they differ by more than clocks do; a load with a failed indicator is told under cycles/indicators.",
	Grades:  []audit.Grade{audit.Critical, audit.Observation},
	Subject: "sterilizers", Thing: "used pack", Things: "used packs",
	Needs: []string{"loads"},
	Helps: []string{"packs", "packs.load", "packs.opened_at", "visits.packs", "visits.loads", "visits.ended", "loads.decision", "loads.ended", "loads.released_at", "loads.packs_made", "practice.records_from"},
	Uses:  []string{"records.clock", "packs.visit-longest"},
	Fix: []string{
		"Set aside and mark every pack of these loads that is still closed; use none until this is settled.",
		"Look at the label of the pack and at the log book: a load number, a day or an hour typed wrong, a pack number typed for another, or a release that was written up later than it was made explains most of these. Where it does, write the correction as a new row with today's date.",
		"Keep log, printouts, strips and packs as they are.",
		"Where a pack was indeed used before its release, or out of a load that was rejected or waits, telephone public health and your regulator today and ask what to do. Contact no client about it on your own.",
		"From today on, keep packs apart until the load is released, take those of a rejected load out of their packaging at once, and write the hour of release.",
	},
	Verify: "Each pack that is opened from today on comes from a load whose release lies before the opening.",
	Run: func(x *audit.Examination) {
		x.Nothing("no pack is written as used")
		r := packsReleasedOf(x)
		for i := range x.P.Packs {
			k := &x.P.Packs[i]
			u := packsUseOf(x.P, k)
			if u.used == quantity.No {
				x.Pass()
				continue
			}
			r.use(k.Load, u)
		}
		for _, v := range x.P.VisitsByTime() {
			if !v.Done() {
				continue
			}
			for _, id := range packsLoadsAlone(x.P, v) {
				r.use(id, packsUse{visit: v, used: quantity.Yes})
			}
		}
		if x.Silent() {
			x.Unclear(audit.Whole, "no pack is typed, and no visit names a load", audit.Field{Kind: "packs"}, audit.Field{Kind: "visits", Name: "loads"})
		}
	},
})

// packsReleased judges uses of packs by the release of their loads.
type packsReleased struct {
	x     *audit.Examination
	hours packsHours
	first quantity.Day    // of the loads that are typed
	later map[string]bool // sterilizers whose log is signed on a later day by habit
}

func packsReleasedOf(x *audit.Examination) *packsReleased {
	r := &packsReleased{x: x, hours: packsHoursOf(x), later: packsReleasedLater(x.P), first: x.P.Profile.RecordsFrom}
	if loads := x.P.LoadsByTime(); len(loads) > 0 {
		r.first = max(r.first, loads[0].Started.Day())
	}
	return r
}

// packsReleasedLater finds the sterilizers most of whose releases are dated on a later
// day than the load, and more than one: there the day is that on which the log was signed.
func packsReleasedLater(p *practice.Practice) map[string]bool {
	later, all := map[string]int{}, map[string]int{}
	for _, l := range p.LoadsByTime() {
		if !l.ReleasedAt.Written() {
			continue
		}
		all[l.Sterilizer]++
		if l.ReleasedAt.Day() > packsReleasedEnd(l).Day() {
			later[l.Sterilizer]++
		}
	}
	habit := map[string]bool{}
	for id, n := range later {
		habit[id] = n > 1 && n > all[id]-n
	}
	return habit
}

// packsReleasedEnd is the end of a load as far as it is written: its end, else its start.
func packsReleasedEnd(l *practice.Load) quantity.Moment {
	if l.Ended.Written() {
		return l.Ended
	}
	return l.Started
}

// use judges one use of a pack of a load, or of a load that a visit names.
func (r *packsReleased) use(id string, u packsUse) {
	x := r.x
	l, state := x.P.Load(id)
	switch {
	case id == "":
		x.Unclear(audit.Whole, "which load the pack came from is not written", audit.Field{Kind: "packs", Name: "load"})
	case state == practice.Absent && u.used == quantity.Yes && x.P.Whole("loads", r.first, u.day()): // packs/origin tells of it, with its place
		x.Unclear(audit.Whole, "the load that the pack names is not in the folder, though all loads of that time are said to be")
	case state == practice.Absent:
		x.Unclear(audit.Whole, "the load that the pack names is not in the folder", audit.Field{Kind: "loads"})
	case state != practice.One:
		x.Unclear(audit.Whole, "the load that the pack names cannot be told: its row could not be read, or several rows have its id", audit.Field{Kind: "loads", Name: "id"})
	case u.used != quantity.Yes:
		x.Unclear(cyclesSubject(l), u.why)
	case quantity.Before(l.Ended, l.Started) == quantity.Yes:
		x.Unclear(cyclesSubject(l), "the load ends before it starts, as written, so one of the two is a slip", audit.Field{Kind: "loads", Name: "ended"})
	default:
		r.decided(l, u)
	}
}

// decided judges by what was decided of the load; one that was rejected or waits is
// told as that, whatever the hours.
func (r *packsReleased) decided(l *practice.Load, u packsUse) {
	x, s := r.x, cyclesSubject(l)
	switch {
	case l.Decision == "rejected":
		r.rejected(l, u)
	case l.Decision == "pending" && (l.ReleasedAt.Written() || l.ReleasedBy != ""):
		x.Unclear(s, "the load waits for a decision, as written, and is written as released by someone or at some hour as well", audit.Field{Kind: "loads", Name: "decision"})
	case l.Decision == "pending" && u.day() == x.P.AsOf:
		x.Unclear(s, "the load waits for a decision, as written, which may have been made on the audit day and not been typed", audit.Field{Kind: "loads", Name: "decision"})
	case l.Decision == "pending":
		x.NotMet(s, audit.Fault{Grade: audit.Critical, Matter: "pending", Day: u.day(), Evidence: packsReleasedChain(l, u, "decision", "its load, still waiting"),
			Found:  "a pack was used from a load that waits for a decision, as written",
			Needed: "a pack is used once its load is released; if it was released since, write that as a new row with today's date"})
	default:
		r.ordered(l, u)
	}
}

func packsReleasedChain(l *practice.Load, u packsUse, field, note string) []audit.Evidence {
	list := []audit.Evidence(nil)
	if u.pack == nil {
		list = u.evidence("", "")
	} else {
		list = u.evidence("load", "the pack, of this load")
	}
	return append(list, audit.At(&l.Row, field, note))
}
