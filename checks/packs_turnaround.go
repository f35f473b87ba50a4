package checks

import (
	"cmp"
	"slices"

	"footing/internal/audit"
	"footing/internal/chain"
	"footing/internal/practice"
	"footing/internal/quantity"
)

var _ = define(audit.Check{
	ID:    "packs/turnaround",
	Title: "no instrument came back to use faster than cleaning, cycle and cooling take",
	Why: "An instrument that is used at one visit and again soon after can hardly have been cleaned, packed, put through a cycle and cooled in between. " +
		"Two pieces under one number, or a time typed wrongly, explain most such returns.",
	Grades:  []audit.Grade{audit.Major, audit.Observation},
	Subject: "sites", Thing: "return of an instrument", Things: "returns of instruments",
	Needs: []string{"visits", "instruments"},
	Helps: []string{"visits.instruments", "visits.packs", "packs.instruments", "packs.load", "visits.ended", "loads", "loads.ended"},
	Uses:  []string{"packs.turnaround", "packs.kind", "records.clock"},
	Fix: []string{
		"Look whether two pieces share the number, and whether the times of the two visits are those of the card. Where they are not, write the correction as a new row with today's date.",
		"Look into the log for a short cycle between the two visits; if your sterilizer's whole round takes less time, write that time with its source into rules.yaml.",
		"If neither explains it, put the instrument aside until it has been cleaned and gone through a cycle, keep the records as they are, and ask your regulator and public health what they expect. Contact no client about it on your own.",
		"From today on, keep as many sets as there are visits between two loads.",
	},
	Verify: "Later visits that use the same piece lie at least that time apart, or a load between them is written.",
	Run: func(x *audit.Examination) {
		r := packsTurnaround{Examination: x, clock: monitoringClock(x)}
		r.least, _ = x.Criterion("packs.turnaround", nil)
		r.kind, _ = x.Criterion("packs.kind", nil)
		uses, _ := packsToolUses(x.P, packsToolOne)
		for i := range x.P.Instruments {
			if n := &x.P.Instruments[i]; len(uses[n]) > 0 {
				r.instrument(n, uses[n])
			}
		}
		switch {
		case !x.Silent():
		case !packsToolNames(x.P):
			x.Unclear(audit.Whole, "neither visits nor packs name the instruments that were used", audit.Field{Kind: "visits", Name: "instruments"}, audit.Field{Kind: "packs", Name: "instruments"})
		case len(uses) == 0:
			x.Unclear(audit.Whole, "no instrument that was used leads to a single row of instruments", audit.Field{Kind: "instruments"})
		default:
			x.Nothing("no reusable piece is named at two visits, so none came back")
		}
	},
})

type packsTurnaround struct {
	*audit.Examination
	least, kind audit.Criterion
	clock       chain.Clock
}

// packsTurnaroundPair is one use of an instrument after another.
type packsTurnaroundPair struct {
	before, after packsToolUse
	written       int64 // seconds between them, as written
	seconds       int64 // the most that can lie between them
	atOnce        bool  // the second began before the first ended, on another client
	verdict       audit.Verdict
	why           string
}

// contrary reports whether one piece cannot have been at both.
func (b packsTurnaroundPair) contrary() bool { return b.atOnce || b.verdict == audit.Fail }

func (r packsTurnaround) instrument(n *practice.Instrument, uses []packsToolUse) {
	all := make([]packsTurnaroundPair, 0, len(uses))
	quick := 0
	for i := range uses[1:] {
		if packsTurnaroundOne(r.P, uses[i].visit, uses[i+1].visit) {
			r.Pass() // one pack at two visits is for packs/once to tell
			continue
		}
		b := r.judge(uses[i], uses[i+1])
		if b.contrary() {
			quick++
		}
		all = append(all, b)
	}
	kind := packsToolKind(quick, len(uses), r.kind)
	packsTurnaroundPieces(all)
	told := false
	for _, b := range all {
		s := packsTurnaroundAt(b.after.visit)
		switch {
		case kind && b.contrary():
			r.Unclear(s, "the number comes back so often without time for cleaning and a cycle that it is taken for a kind of instrument, and not for one piece", audit.Field{Kind: "instruments"})
			if !told {
				told = true
				packsToolTold(r.Examination, n, r.kind, "used again too soon for cleaning and a cycle, or at two visits at once, at more than the share of its uses that one piece may have", b.after.visit.Started.Day(), b.evidence())
			}
		case b.verdict == audit.Fail:
			least := r.least
			r.NotMet(s, audit.Fault{Grade: audit.Major, Matter: "soon", Criterion: &least, Day: b.after.visit.Started.Day(), Evidence: b.evidence(),
				Weight: least.Quantity().In(quantity.Second) - float64(b.seconds),
				Found:  "an instrument was used again " + audit.Lasted(float64(b.written)) + " after the visit before",
				Needed: "cleaning, packing, cycle and cooling take " + least.Value() + " or more; two pieces under one number, a time typed wrongly or a shorter cycle of your sterilizer explain most"})
		case b.verdict == audit.Meets:
			r.Met(s)
		default:
			r.Unclear(s, b.why, audit.Field{Kind: "visits", Name: "started"})
		}
	}
}

// packsTurnaroundPieces takes returns on a day on which the number was used at two visits
// at once for what they may be: the other piece, of the two that were there.
func packsTurnaroundPieces(all []packsTurnaroundPair) {
	for i := range all {
		b, day := &all[i], all[i].after.visit.Started.Day()
		if b.verdict == audit.Fail && slices.ContainsFunc(all, func(c packsTurnaroundPair) bool { return c.atOnce && c.after.visit.Started.Day() == day }) {
			b.verdict, b.why = audit.CannotTell, "it was used at two visits at once on that day, as written, so two pieces share its number, and the return may be of the other"
		}
	}
}

// packsTurnaroundOne reports whether two visits name one pack.
func packsTurnaroundOne(p *practice.Practice, a, b *practice.Visit) bool {
	for i := range a.Packs.Items {
		first, _ := p.PackOf(a, i)
		for j := range b.Packs.Items {
			second, _ := p.PackOf(b, j)
			if first == second && (first != nil || a.Packs.Items[i] == b.Packs.Items[j]) {
				return true
			}
		}
	}
	return false
}

// packsTurnaroundAt is what returns are grouped by, so that the pieces of one set are
// one finding: the site of the second visit.
func packsTurnaroundAt(v *practice.Visit) audit.Subject {
	if v.Site == "" {
		return audit.Whole
	}
	return audit.Subject{Kind: "sites", ID: v.Site}
}

// judge compares the end of one use, or its start where no end is written, with the
// start of the next.
func (r packsTurnaround) judge(before, after packsToolUse) packsTurnaroundPair {
	b := packsTurnaroundPair{before: before, after: after}
	end, start := before.visit.Ended, after.visit.Started
	if !end.Written() || end.First() < before.visit.Started.First() {
		end = before.visit.Started
	}
	if !end.HasClock() || !start.HasClock() {
		if end.Day() < start.Day() {
			b.verdict = audit.Meets
			return b
		}
		b.why = "it was used twice on one day, and the hours are not written"
		return b
	}
	need := int64(r.least.Quantity().In(quantity.Second))
	b.written, b.seconds = start.First()-end.First(), start.Last()-end.First()
	switch {
	case b.written >= need:
		b.verdict = audit.Meets
	case before.visit.Client == after.visit.Client && before.visit.Client != "":
		b.why = "it was used again on the same client, soon after, which may be one visit in two rows"
	case b.seconds < 0:
		b.atOnce, b.why = true, "it was used at two visits at once, as written, so one of the rows has a slip, or two pieces share its number"
	case r.processed(b, end):
		b.verdict = audit.Meets
	case r.between(b, end):
		b.why = "a load may have run between the two visits, and whether it held the instrument, or its hour, is not written"
	case r.closed(b):
		b.why = "the pack of the second visit was closed before the first visit, as written, so the rows speak of two pieces under one number, or of a slip, and not of a quick return"
	case b.seconds < need:
		b.verdict = audit.Fail
	default:
		b.why = "it hangs on less than a minute"
	}
	return b
}

// processed reports whether the pack of the second use came from a load that may
// have run between the two.
func (r packsTurnaround) processed(b packsTurnaroundPair, end quantity.Moment) bool {
	if b.after.pack == nil {
		return false
	}
	l, state := r.P.Load(b.after.pack.Load)
	return state == practice.One && l.Started.HasClock() && r.ran(l, end, b.after.visit.Started)
}

// between reports whether a load may have run between the two: that of the pack of the
// second use, whose hour is not written; any, where no such load is told.
func (r packsTurnaround) between(b packsTurnaroundPair, end quantity.Moment) bool {
	if k := b.after.pack; k != nil {
		if l, state := r.P.Load(k.Load); state == practice.One {
			return r.ran(l, end, b.after.visit.Started)
		}
	}
	all := r.P.LoadsByTime()
	first, _ := slices.BinarySearchFunc(all, end.Day().AddDays(-1), func(l *practice.Load, d quantity.Day) int { return cmp.Compare(l.Started.Day(), d) })
	for _, l := range all[first:] {
		if l.Started.Day() > b.after.visit.Started.Day() {
			break
		}
		if r.ran(l, end, b.after.visit.Started) {
			return true
		}
	}
	return false
}

// ran reports whether a load, not rejected, may have run from one moment to another.
func (r packsTurnaround) ran(l *practice.Load, from, until quantity.Moment) bool {
	if l.Decision == "rejected" {
		return false
	}
	over := l.Ended
	if !over.Written() {
		over = l.Started
	}
	return r.clock.Before(l.Started, from) != quantity.Yes && r.clock.Before(until, over) != quantity.Yes
}

// closed reports whether the pack of the second use was surely closed before the first
// visit began, and the first came in a pack as well.
func (r packsTurnaround) closed(b packsTurnaroundPair) bool {
	if b.before.pack == nil || b.after.pack == nil {
		return false
	}
	one, was := r.P.Load(b.before.pack.Load)
	other, is := r.P.Load(b.after.pack.Load)
	return was == practice.One && is == practice.One && one.Decision != "rejected" && other.Decision != "rejected" &&
		r.clock.Before(other.Started, b.before.visit.Started) == quantity.Yes
}

// evidence is the two uses, each with its end or start.
func (b packsTurnaroundPair) evidence() []audit.Evidence {
	all := b.before.evidence("the visit before")
	field := "started"
	if b.before.visit.Ended.Written() {
		field = "ended"
	}
	all = append(all, audit.At(&b.before.visit.Row, field))
	all = append(all, b.after.evidence("the visit after it")...)
	return append(all, audit.At(&b.after.visit.Row, "started"))
}
