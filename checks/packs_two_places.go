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
	ID:    "packs/two-places",
	Title: "no instrument is in two closed packs at once",
	Why: "From its load until it is opened a pack stays closed, so what is in it cannot be packed again. Where the rows say so, one of them is wrong, and then the way from a client back to the load is wrong too. " +
		"Two pieces under one number explain most.",
	Grades:  []audit.Grade{audit.Minor, audit.Observation},
	Subject: "sites", Thing: "packing of an instrument", Things: "packings of instruments",
	Needs: []string{"packs", "loads"},
	Helps: []string{"packs.instruments", "packs.load", "packs.opened_at", "packs.counted_on", "packs.discarded_on", "visits.packs", "instruments"},
	Uses:  []string{"packs.kind", "records.clock"},
	Fix: []string{
		"Look whether two pieces share the number; if they do, give each one of its own, and type it from today on.",
		"Look at the labels and the visit notes: a pack opened earlier than typed, a load or an instrument typed for another explains some. Write the correction as a new row with today's date.",
		"From today on, write which pieces go into a pack when it is closed, and when it was opened.",
	},
	Verify: "Later packs name each piece in one closed pack at a time.",
	Run: func(x *audit.Examination) {
		r := packsTwoPlaces{Examination: x, clock: monitoringClock(x)}
		r.kind, _ = x.Criterion("packs.kind", nil)
		r.packs()
	},
})

type packsTwoPlaces struct {
	*audit.Examination
	kind  audit.Criterion
	clock chain.Clock
}

// packsTwoPlacesStay is an instrument's time in one closed pack.
type packsTwoPlacesStay struct {
	pack  *practice.Pack
	load  *practice.Load
	span  chain.Span
	until audit.Evidence // where its end is written; no row where it is not
}

// packs gathers the packs of each instrument, and judges them one after another.
func (r packsTwoPlaces) packs() {
	p := r.P
	stays := map[*practice.Instrument][]*packsTwoPlacesStay{}
	named, unknown := false, false
	for i := range p.Packs {
		k := &p.Packs[i]
		if len(k.Instruments.Items) == 0 {
			continue
		}
		named = true
		l, state := p.LoadOfPack(k)
		if state != practice.One {
			r.Unclear(packsSite(k), "the load that a pack came from is not written, or not in the records as one row", audit.Field{Kind: "packs", Name: "load"})
			continue
		}
		stay := &packsTwoPlacesStay{pack: k, load: l, span: chain.Span{From: l.Started}}
		stay.close(p)
		for j, id := range k.Instruments.Items {
			n, state := p.Instrument(id)
			switch {
			case slices.Contains(k.Instruments.Items[:j], id):
			case state != practice.One:
				unknown = true
			case l.Decision == "rejected": // its packs are opened again, which nobody writes down
				r.Pass()
			default:
				stays[n] = append(stays[n], stay)
			}
		}
	}
	for i := range p.Instruments {
		if n := &p.Instruments[i]; len(stays[n]) > 0 {
			r.instrument(n, stays[n])
		}
	}
	switch {
	case unknown:
		r.Unclear(audit.Whole, "an instrument named leads to no single row of instruments", audit.Field{Kind: "instruments"})
	case !named:
		r.Unclear(audit.Whole, "no pack says which instruments it holds", audit.Field{Kind: "packs", Name: "instruments"})
	}
}

// close finds the end of a stay: its opening or the first visit that used it, the earlier
// of the two; else the last day on which it was seen closed, or thrown away.
func (s *packsTwoPlacesStay) close(p *practice.Practice) {
	fate, k := chain.FateOf(p, s.pack), s.pack
	visited := fate.Where == chain.Used && !fate.Shared
	switch {
	case k.OpenedAt.Written() && !(visited && quantity.Before(fate.Visits[0].Started, k.OpenedAt) == quantity.Yes):
		s.span.Until, s.until = k.OpenedAt, audit.At(&k.Row, "opened_at", "opened")
	case fate.Shared:
	case visited:
		s.span.Until, s.until = fate.Visits[0].Started, audit.At(&fate.Visits[0].Row, "started", "the visit that used it")
	case fate.Where == chain.Discarded:
		s.until = audit.At(&k.Row, "discarded_on")
		s.span.Until = packsTwoPlacesDay(p, k.DiscardedOn)
	case fate.Where == chain.OnShelf:
		s.until = audit.At(&k.Row, "counted_on", "seen closed")
		s.span.Until = packsTwoPlacesDay(p, k.CountedOn)
	}
}

// packsTwoPlacesDay is a day as a moment without a clock.
func packsTwoPlacesDay(p *practice.Practice, d quantity.Day) quantity.Moment {
	m, err := quantity.ParseMoment(d.String(), quantity.ISO, p.Zone)
	if err != nil {
		return quantity.Moment{}
	}
	return m
}

// seen reports whether the end of the stay is only the last day on which it was seen
// closed: it may have gone on.
func (s *packsTwoPlacesStay) seen() bool { return s.until.Field == "counted_on" }

func (r packsTwoPlaces) instrument(n *practice.Instrument, stays []*packsTwoPlacesStay) {
	slices.SortStableFunc(stays, func(a, b *packsTwoPlacesStay) int {
		return cmp.Compare(a.span.From.First(), b.span.From.First())
	})
	answers, before := packsTwoPlacesAsk(stays, r.overlap)
	both := 0
	for _, a := range answers {
		if a == quantity.Yes {
			both++
		}
	}
	kind := packsToolKind(both, len(stays), r.kind)
	told := false
	for i, stay := range stays {
		s := packsSite(stay.pack) // the pieces of one set are one finding
		switch {
		case answers[i] == quantity.No:
			r.Met(s)
		case answers[i] == quantity.Unsure:
			r.Unclear(s, "whether its pack before was opened by then is not written, or hangs on what two clocks may differ", audit.Field{Kind: "packs", Name: "opened_at"})
		case kind:
			r.Unclear(s, "the number is in several closed packs at once so often that it is taken for a kind of instrument, and not for one piece", audit.Field{Kind: "instruments"})
			if !told {
				told = true
				packsToolTold(r.Examination, n, r.kind, "in two closed packs at once at more than the share of its packs that one piece may have", stay.load.Started.Day(), r.evidence(before[i], stay))
			}
		default:
			found := "an instrument was packed for a load of " + stay.load.Started.Words() + " while it was in a closed pack of a load of " + before[i].load.Started.Words()
			if before[i].load == stay.load {
				found = "an instrument was in two closed packs of one load, of " + stay.load.Started.Words()
			}
			r.NotMet(s, audit.Fault{Grade: audit.Minor, Matter: "two packs", Day: stay.load.Started.Day(), Evidence: r.evidence(before[i], stay), Found: found,
				Needed: "one piece is in one closed pack at a time; two pieces under one number, or an opening typed too late, explain most"})
		}
	}
}

// packsTwoPlacesAsk says of each stay, in order of their loads, whether the instrument
// was still in a closed pack when it was packed again, and in which: that before it, or the
// one whose end is written latest. A pack whose end is not written was opened at last when
// the piece was packed once more, so it leaves only the next open.
func packsTwoPlacesAsk(stays []*packsTwoPlacesStay, overlap func(a, b *packsTwoPlacesStay) quantity.Tri) ([]quantity.Tri, []*packsTwoPlacesStay) {
	answers, before := make([]quantity.Tri, len(stays)), make([]*packsTwoPlacesStay, len(stays))
	answers[0] = quantity.No
	var longest *packsTwoPlacesStay
	for i, stay := range stays {
		if i > 0 {
			before[i] = stays[i-1]
			answers[i] = overlap(before[i], stay)
			if answers[i] != quantity.Yes && longest != nil && overlap(longest, stay) == quantity.Yes {
				answers[i], before[i] = quantity.Yes, longest
			}
		}
		if until := stay.span.Until; until.Written() && (longest == nil || until.First() > longest.span.Until.First()) {
			longest = stay
		}
	}
	return answers, before
}

// overlap says whether an instrument was still in one closed pack when another was
// closed: from the start of its load up to, and without, its opening. Two packs of one
// load were closed at once.
func (r packsTwoPlaces) overlap(a, b *packsTwoPlacesStay) quantity.Tri {
	opened, closed := a.span.Until, b.span.From
	first := a.span.From.Last() <= closed.First() || r.clock.Before(a.span.From, b.span.Until) == quantity.Yes
	switch {
	case a.load == b.load:
		return quantity.Yes
	case !opened.Written():
		return quantity.Unsure
	case opened.Last() <= closed.First() && !a.seen():
		return quantity.No
	case first && r.clock.Before(closed, opened) == quantity.Yes:
		return quantity.Yes
	}
	return quantity.Unsure
}

// evidence is the two packs, each with its load and its end.
func (r packsTwoPlaces) evidence(a, b *packsTwoPlacesStay) []audit.Evidence {
	all := []audit.Evidence{audit.At(&a.pack.Row, "instruments", "one pack"), audit.At(&a.load.Row, "started", "its load")}
	if a.until.Row != nil {
		all = append(all, a.until)
	}
	return append(all, audit.At(&b.pack.Row, "instruments", "the other pack"), audit.At(&b.load.Row, "started", "its load"))
}
