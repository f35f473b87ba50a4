package checks

import (
	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/quantity"
)

// rejected is the use of a pack of a load that was rejected: critical, unless the same
// things may have been run again under the number on the label.
func (r *packsReleased) rejected(l *practice.Load, u packsUse) {
	f := audit.Fault{Grade: audit.Critical, Matter: "rejected", Day: u.day(), Evidence: packsReleasedChain(l, u, "decision", "its load, rejected"),
		Found:  "a pack was used from a load that was rejected, as written",
		Needed: "a pack of a rejected load is taken apart and processed again; a pack or load number typed wrong explains some"}
	again := packsReleasedAgain(r.x, l, u)
	if again == nil {
		r.x.NotMet(cyclesSubject(l), f)
		return
	}
	r.x.Unclear(cyclesSubject(l), "the load was rejected, and may have been run again with the number still on the labels", audit.Field{Kind: "packs", Name: "load"})
	f.Matter, f.Found = "rejected and run again", "a pack was used from a load that was rejected, and that seems to have been run again before the use"
	f.Needed = "packs of the second run need its number on the label, so that nobody takes them for those of the first"
	f.Evidence = append(f.Evidence, audit.At(&again.Row, "started", "the load after it, to which no pack is written"))
	f.Steps = []string{
		"Look at the log book: if the load was run again, write for each of these packs the load that it really came from, as a new row with today's date.",
		"If it was not, set its packs aside, and ask public health and your regulator today what to do. Contact no client about it on your own.",
		"From today on, pack and label anew whatever has to be run again.",
	}
	r.x.Remark(cyclesSubject(l), f)
}

// packsReleasedAgain is the load in which what a rejected one held may have been run
// again before the use; nil where there is none.
func packsReleasedAgain(x *audit.Examination, rejected *practice.Load, u packsUse) *practice.Load {
	could := audit.Once(x, packsReleasedAgainKey{rejected}, func() []*practice.Load { return packsReleasedAfter(x.P, rejected) })
	if len(could) == 0 || could[0].Started.Day() > u.day() {
		return nil
	}
	return could[0]
}

type packsReleasedAgainKey struct{ load *practice.Load }

// packsReleasedAfter is the loads of the same sterilizer after a rejected one, that
// have its counter, ran on its day, or are the next with as many packs, were not
// rejected, and have no packs written as their own.
func packsReleasedAfter(p *practice.Practice, rejected *practice.Load) (could []*practice.Load) {
	all := p.LoadsOf(rejected.Sterilizer)
	for i, l := range all {
		same := l.Counter.Written && l.Counter == rejected.Counter || l.Started.Day() == rejected.Started.Day() ||
			i > 0 && all[i-1] == rejected && l.PacksMade.Written && l.PacksMade == rejected.PacksMade
		if l == rejected || !same || l.Decision == "rejected" || quantity.Before(l.Started, rejected.Started) == quantity.Yes {
			continue
		}
		if len(p.PacksOf(practice.Key(&l.Row))) == 0 {
			could = append(could, l)
		}
	}
	return could
}

// ordered compares the hour of use with the load's end, and then with its release.
func (r *packsReleased) ordered(l *practice.Load, u packsUse) {
	x, s := r.x, cyclesSubject(l)
	end, field := l.Ended, "ended"
	if !end.Written() {
		end, field = l.Started, "started"
	}
	before := r.hours.early(u, end)
	after := (field == "ended" || u.day() > l.Started.Day()) && r.hours.late(u, end)
	sterilizer, _ := x.P.Sterilizer(l.Sterilizer)
	certified := l.Decision == "" && sterilizer != nil && sterilizer.OperatedBy == "contractor" && l.Certificate != ""
	switch {
	case before && u.day() < r.first:
		x.Unclear(s, "the use lies before the records of loads begin, as typed, so its number was another pack's then, or its day is a slip", audit.Field{Kind: "loads"})
	case before && packsCameBack(r.hours, x.P, u.pack, l):
		x.Unclear(s, "a visit before the load and one after it name the pack, so its number was another pack's then, or one of the two has a slip", audit.Field{Kind: "packs", Name: "id"})
	case before && packsReleasedMoved(x, l):
		x.Unclear(s, "every used pack of the load was used on a day before it, as written, so the day of the load may well be a slip", audit.Field{Kind: "loads", Name: "started"})
	case before:
		x.NotMet(s, audit.Fault{Grade: audit.Critical, Matter: "before the end", Day: u.day(), Evidence: packsReleasedChain(l, u, field, "its load, which "+packsReleasedNotes[field]),
			Found: "a pack was used on " + u.at().Words() + ", and its load " + packsReleasedNotes[field] + " on " + end.Words() + ", as written", Weight: u.ahead(end),
			Needed: "a pack is used after its load; a pack or load number, or a day, typed wrong explains most"})
	case l.Decision == "" && !certified:
		x.Unclear(s, "whether the load was released is not written", audit.Field{Kind: "loads", Name: "decision"})
	case l.ReleasedAt.Written():
		r.released(l, u)
	case after:
		x.Met(s)
	default:
		x.Unclear(s, "the hours that are written do not tell whether the pack was used after its load", audit.Field{Kind: "packs", Name: "opened_at"}, audit.Field{Kind: "loads", Name: "ended"})
	}
}

// packsReleasedNotes say which time of a load is meant.
var packsReleasedNotes = map[string]string{"ended": "ended", "started": "began"}

// packsReleasedMoved reports whether a load has several used packs and all of them
// were used on a day before it: one wrong day of the load explains them all.
func packsReleasedMoved(x *audit.Examination, l *practice.Load) bool {
	return audit.Once(x, packsReleasedMovedKey{l}, func() bool {
		used := 0
		for _, k := range x.P.PacksOf(practice.Key(&l.Row)) {
			u := packsUseOf(x.P, k)
			if u.used != quantity.Yes {
				continue
			}
			if u.day() >= l.Started.Day() {
				return false
			}
			used++
		}
		return used > 1
	})
}

type packsReleasedMovedKey struct{ load *practice.Load }

// released compares the hour of use with that of the release.
func (r *packsReleased) released(l *practice.Load, u packsUse) {
	x, s := r.x, cyclesSubject(l)
	early := r.hours.early(u, l.ReleasedAt)
	switch {
	case l.ReleasedAt.Day() < l.Started.Day():
		x.Unclear(s, "the release lies on a day before the load, as written, so one of the two days is a slip", audit.Field{Kind: "loads", Name: "released_at"})
	case early && r.later[l.Sterilizer] && l.ReleasedAt.Day() > packsReleasedEnd(l).Day():
		x.Unclear(s, "most releases of the sterilizer are written on a later day than the load, which looks like the day on which the log was signed", audit.Field{Kind: "loads", Name: "released_at"})
	case early:
		x.NotMet(s, audit.Fault{Grade: audit.Critical, Matter: "before the release", Day: u.day(), Evidence: packsReleasedChain(l, u, "released_at", "its load, and its release"),
			Found: "a pack was used on " + u.at().Words() + ", and its load was released on " + l.ReleasedAt.Words() + ", as written", Weight: u.ahead(l.ReleasedAt),
			Needed: "a pack is used once its load is released; a release written up later than it was made, or an hour typed wrong, explains some"})
	case r.hours.late(u, l.ReleasedAt):
		x.Met(s)
	default:
		x.Unclear(s, "the hours that are written do not tell whether the pack was used after the release", audit.Field{Kind: "packs", Name: "opened_at"}, audit.Field{Kind: "loads", Name: "released_at"})
	}
}
