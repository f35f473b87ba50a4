package checks

import (
	"footing/internal/audit"
	"footing/internal/chain"
	"footing/internal/practice"
	"footing/internal/quantity"
)

var _ = define(audit.Check{
	ID:    "packs/enough",
	Title: "at no moment had more packs been used than were made and released there",
	Why: "Packs that are counted, what loads made and what visits used must add up, in order of time, over all places together. Where visits used more than can have been there, some of them had no pack that is accounted for. " +
		"Where moves between places are written, and practice.coverage says that all of them are (trips, or transfers in stock), each place is looked at by itself as well; what one place lacks while all together do not is told, and no more. " +
		"Stock that nobody counted explains most such gaps; a load, a delivery or a move that was not written explains most others.",
	Grades:  []audit.Grade{audit.Critical, audit.Major, audit.Observation},
	Subject: "sites", Thing: "balance of packs", Things: "balances of packs",
	Needs: []string{"visits"},
	Helps: []string{"visits.packs_used", "visits.packs", "visits.ended", "visits.instruments", "loads.packs_made", "loads.sets", "packs.load", "packs.set", "stock", "trips", "sterilizers.installed_on", "practice.coverage"},
	Uses:  []string{"records.clock"},
	Fix: []string{
		"Count every shelf, drawer and bag today, and write the counts into stock (item sterile-pack) with site and set. A pack that nobody counted explains most gaps.",
		"Look into the log book for a load, and among the deliveries for bought packs, that is not typed, and at the loads whose number of packs is too small. Type what you find as a late entry with today's date.",
		"Look at the notes of the visits named: a pack that was opened and put back, a number typed for another, or a visit typed twice explains some.",
		"If nothing explains it, set aside the packs whose load you cannot name, keep every record as it is, and ask public health and your regulator today what they expect. They decide whether clients are told; contact none on your own.",
		"From today on, write the number of the pack into each visit note, and count the shelf once a month.",
	},
	Verify: "From the count of today on, the packs of loads and counts are at least as many as visits used.",
	Run: func(x *audit.Examination) {
		racks := chain.Racks(x.P, monitoringClock(x))
		for _, rack := range racks {
			for _, s := range rack.Stretches {
				packsEnoughOf(x, rack, s)
			}
		}
		if len(racks) == 0 {
			x.Unclear(audit.Whole, "no visit tells how many packs, or which packs of a typed load, it used", audit.Field{Kind: "visits", Name: "packs_used"}, audit.Field{Kind: "visits", Name: "packs"})
		}
	},
})

func packsEnoughOf(x *audit.Examination, rack *chain.Rack, s *chain.Stretch) {
	subject := audit.Whole
	switch {
	case rack.Site != "":
		subject = audit.Subject{Kind: "sites", ID: rack.Site}
	case len(x.P.Sites) == 1:
		subject = audit.About("sites", &x.P.Sites[0].Row)
	}
	switch {
	case s.Opening == chain.OpenUnknown:
		x.Unclear(subject, "how many packs there were at the start is not written for every site and bag that keeps them; a count of all of them on one day settles it from then on", audit.Field{Kind: "stock"})
	case s.Short.Least > 0 && rack.Site != "":
		packsEnoughAlone(x, subject, rack, s)
	case s.Short.Least > 0 && s.Covered:
		x.NotMet(subject, packsEnoughFault(x.P, rack, s))
	case s.Short.Least > 0:
		x.Unclear(subject, "more packs were used than the typed loads and counts account for, but not all loads of that time are in the folder, and one that is not typed explains most such gaps", audit.Field{Kind: "loads"})
		f := packsEnoughFault(x.P, rack, s)
		f.Matter += ", loads not whole"
		f.Needed = "not all loads of that time are in the folder, as far as practice.coverage says, so look first for one that is not typed"
		x.Remark(subject, f)
	case s.Tight > 0 && s.Found > 0:
		x.Unclear(subject, "more packs were used than the rows account for, but a count found packs that no row accounts for, and these may have been used", audit.Field{Kind: "stock"}, audit.Field{Kind: "loads"})
	case s.Tight > 0:
		x.Unclear(subject, "more packs were used than were made by then, unless a load that is written as waiting for its release was released", audit.Field{Kind: "loads", Name: "decision"})
	case len(s.Untold) > 0:
		x.Unclear(subject, "how many packs a load made is not written", audit.Field{Kind: "loads", Name: "packs_made"})
	default:
		x.Met(subject)
	}
}

// packsEnoughAlone is a site that is short by itself: told, and never more, since all
// sites together are judged as well, and a move between them explains what one lacks.
func packsEnoughAlone(x *audit.Examination, site audit.Subject, rack *chain.Rack, s *chain.Stretch) {
	x.Unclear(site, "more packs were used at one place than came to it by the rows, and a move between places that is not typed explains it, so that all places together are what is judged", audit.Field{Kind: "trips"}, audit.Field{Kind: "stock"})
	f := packsEnoughFault(x.P, rack, s)
	f.Matter += " at one place"
	f.Found = packsEnoughSum(rack, s) + " by the rows of this place"
	f.Needed = "a move between places that is not typed explains it, or a count that passed over a bag or drawer; all places together are judged apart from this"
	f.Steps = []string{
		"Look for the way the packs came: what was put into the bag that day, and what came back. Type a trip, or a transfer in stock, as a late entry with today's date where a note has it.",
		"From today on, write each move of packs on the day it is made, and count each place on the same day.",
	}
	x.Remark(site, f)
}

// packsEnoughFault tells of a stretch that went below nought; its evidence stands in
// the order of the chain: the visit, the load before it, what was counted.
func packsEnoughFault(p *practice.Practice, rack *chain.Rack, s *chain.Stretch) audit.Fault {
	first := s.Short.Falls[0]
	f := audit.Fault{Grade: audit.Major, Matter: "short", Weight: float64(s.Short.Least), Day: first.Started.Day(),
		Needed: "count every shelf, drawer and bag first, then look for a load, a delivery or a move that is not typed, or a day or hour typed wrong"}
	if rack.Set != "" {
		f.Matter = "short of " + rack.Set
	}
	if packsEnoughSure(p, s) {
		f.Grade = audit.Critical
	}
	f.Found = "unless packs were there that no row tells of, " + packsEnoughVisits(s.Short.Least) + ": " + packsEnoughSum(rack, s)
	f.Evidence = append(f.Evidence, packsEnoughUse(first, "the first visit below nought"))
	for _, v := range s.Short.Falls[1:] {
		f.Evidence = append(f.Evidence, packsEnoughUse(v, "below nought again"))
	}
	if l := s.Short.Last; l != nil {
		field := "started"
		if l.PacksMade.Written {
			field = "packs_made"
		}
		f.Evidence = append(f.Evidence, audit.At(&l.Row, field, "the last load before it"))
	}
	for _, r := range s.Counts {
		note := "the count it starts from"
		if s.Opening == chain.OpenGreatest {
			note = "a count, for the most there can have been"
		}
		f.Evidence = append(f.Evidence, audit.At(&r.Row, "quantity", note))
	}
	return f
}

// packsEnoughSum is what was used by the first visit below nought, and what was there.
func packsEnoughSum(rack *chain.Rack, s *chain.Stretch) string {
	return "by the visit of " + s.Short.Falls[0].Started.Words() + ", " + packsEnoughMany(s.Short.Used, rack.Set) + " used since " + packsEnoughSince(s) + ", and " + packsEnoughMost(s.Short.Had) + " there"
}

// packsEnoughSure reports whether everything that a critical fault rests on is
// certain: what was there at the start, with no count that found less than the rows
// leave, so that a shelf may have been passed over; that all loads, visits and stock of the time are
// in the folder; that every visit that used a pack names the instruments; and that it is
// not only those short whose packs lead to a load, so that a count is what is wrong.
func packsEnoughSure(p *practice.Practice, s *chain.Stretch) bool {
	last := s.Short.Falls[0].Started.Day()
	if !s.Short.Firm || s.Opening < chain.OpenNew || s.Lost > 0 || !p.Whole("visits", s.First(), last) || !p.Whole("stock", s.First(), last) {
		return false
	}
	for _, v := range s.Visits[:s.Short.By] {
		if !packsEnoughNamed(p, v) {
			return false
		}
	}
	return true
}

// packsEnoughNamed reports whether a visit names the instruments that it used, itself
// or by its packs, and each pack that it names is one that is typed, and that no
// other visit names.
func packsEnoughNamed(p *practice.Practice, v *practice.Visit) bool {
	named := len(v.Packs.Items) > 0
	for _, id := range v.Packs.Items {
		k, state := p.Pack(id)
		if state != practice.One || len(p.UsesOf(id)) > 1 {
			return false
		}
		named = named && len(k.Instruments.Items) > 0
	}
	return named || len(v.Instruments.Items) > 0
}

// packsEnoughSince says from what the balance starts.
func packsEnoughSince(s *chain.Stretch) string {
	switch s.Opening {
	case chain.OpenCounted:
		return "the count of " + s.From.Words() + " (" + packsEnoughNumber(s.Open) + " found)"
	case chain.OpenGreatest:
		return s.From.Words() + ", for which no count is written (taken as " + packsEnoughNumber(s.Open) + ", the most ever counted)"
	}
	return s.From.Words() + ", before the first sterilizer was installed (taken as none)"
}

func packsEnoughNumber(n int) string {
	if n == 0 {
		return "none"
	}
	return quantity.Exact(float64(n), quantity.NoUnit).String()
}

// packsEnoughMany is a number of packs, of a set where it has a name.
func packsEnoughMany(n int, set string) string {
	packs, were := " packs", " were"
	if n == 1 {
		packs, were = " pack", " was"
	}
	if set != "" {
		packs += ` "` + set + `"`
	}
	return packsEnoughNumber(n) + packs + were
}

func packsEnoughMost(n int) string {
	if n == 0 {
		return "none can have been"
	}
	return "at most " + packsEnoughNumber(n) + " can have been"
}

func packsEnoughVisits(n int) string {
	if n == 1 {
		return "at least 1 visit cannot have had its packs"
	}
	return "at least " + packsEnoughNumber(n) + " visits cannot have had their packs"
}

// packsEnoughUse is where a visit says what it used.
func packsEnoughUse(v *practice.Visit, note string) audit.Evidence {
	switch {
	case len(v.Packs.Items) > 0:
		return audit.At(&v.Row, "packs", note)
	case v.PacksUsed.Written:
		return audit.At(&v.Row, "packs_used", note)
	}
	return audit.At(&v.Row, "loads", note)
}
