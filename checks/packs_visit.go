package checks

import (
	"fmt"
	"strings"

	"footing/internal/audit"
	"footing/internal/chain"
	"footing/internal/practice"
	"footing/internal/quantity"
)

var _ = define(audit.Check{
	ID:    "packs/visit",
	Title: "each visit whose procedures need sterilized instruments names a pack, a load or a count of packs",
	Why: "The pack's number in the visit's note is the link between a client and a load. Without it, a load that turns out to have failed leads to every client of that time. " +
		"A blank is a gap only where the notes of other visits before and after it have it; where packs are never named, that record is not kept, and nothing is judged.",
	Grades:  []audit.Grade{audit.Major, audit.Minor, audit.Observation},
	Subject: "sites", Thing: "visit that needs sterilized instruments", Things: "visits that need sterilized instruments",
	Needs: []string{"visits"},
	Helps: []string{"visits.packs", "visits.loads", "visits.packs_used", "visits.procedures", "visits.instruments", "visits.single_use", "instruments.reuse", "practice.reprocessing"},
	Uses:  []string{"packs.procedures", "packs.visit-share", "packs.visit-kept"},
	Fix: []string{
		"Look at the notes of these visits, and at pouches or labels kept with them: where a number stands there, type it as the note has it.",
		"Where the instruments were single-use, or the client's own, write that. What was not written then stays so: fill in nothing from memory, and nothing from the calendar of loads.",
		"From today on, write the pack's number into the note while the pack is in your hand; where packs have no numbers, write how many were opened and of which load.",
	},
	Verify: "The visits from today on name a pack, a load or a count, each of them.",
	Run: func(x *audit.Examination) {
		if x.P.Profile.Reprocessing == "single-use-only" {
			x.Nothing("the practice uses single-use instruments alone, as written")
			for range x.P.Visits {
				x.Pass()
			}
			return
		}
		x.Nothing("no visit that took place has a procedure that needs sterilized instruments")
		packsVisitAll(x)
	},
})

// packsVisitSpan is, for one site, the visits that need sterilized instruments: those
// between the first and the last that name their packs can have gaps.
type packsVisitSpan struct {
	named []*practice.Visit // name a pack, a load or a count
	blank []*practice.Visit // name none
}

func packsVisitAll(x *audit.Examination) {
	needs := packsNeeds(x)
	sites := map[audit.Subject]*packsVisitSpan{}
	order := []audit.Subject(nil)
	for _, v := range x.P.VisitsByTime() {
		site := packsVisitSite(v)
		named := v.Done() && packsVisitNames(v)
		switch need := needs(v); {
		case need == quantity.No || !named && chain.WithoutPack(x.P, v) != "":
			x.Pass()
			continue
		case need == quantity.Unsure && !named:
			x.Unclear(site, "whether a procedure of the visit needs sterilized instruments is not written", audit.Field{Kind: "visits", Name: "procedures"})
			continue
		}
		s := sites[site]
		if s == nil {
			s = &packsVisitSpan{}
			sites[site] = s
			order = append(order, site)
		}
		if named {
			s.named = append(s.named, v)
		} else {
			s.blank = append(s.blank, v)
		}
	}
	for _, site := range order {
		sites[site].judge(x, site)
	}
}

// packsVisitNames reports whether a visit says which packs it used, or how many; a
// count of none, or a list of none, is an answer too.
func packsVisitNames(v *practice.Visit) bool {
	return v.Packs.Written || v.Loads.Written || v.PacksUsed.Written
}

// judge tells of the gaps of one site. Visits before the first that names its packs,
// and after the last, were kept or typed in another way.
func (s *packsVisitSpan) judge(x *audit.Examination, site audit.Subject) {
	for range s.named {
		x.Met(site)
	}
	gaps := s.gaps()
	why := "the visit names no pack, load or count, and lies outside the time in which visits do, which does not say that no pack was used"
	if len(s.named) == 0 {
		why = "no visit names a pack, load or count, so this is not kept, or was not typed"
	}
	for range len(s.blank) - len(gaps) {
		x.Unclear(site, why, audit.Field{Kind: "visits", Name: "packs"})
	}
	kept, _ := x.Criterion("packs.visit-kept", nil)
	share, _ := x.Criterion("packs.visit-share", nil)
	between := len(gaps) + len(s.named)
	if len(gaps) > 0 && !packsOver(len(s.named), between, kept) {
		s.sparse(x, site, gaps, between)
		return
	}
	f := audit.Fault{Grade: audit.Minor, Matter: "blank", Criterion: &share, Found: "a visit names no pack, load or count, where those before and after it name theirs",
		Needed: "each of these visits needs one; what was not written, or not typed, does not say that no sterilized pack was used"}
	if len(gaps) > 1 && packsOver(len(gaps), between, share) {
		f.Grade, f.Matter = audit.Major, "blank above the share"
		f.Found = fmt.Sprintf("a visit names no pack, load or count, and so it is with %d of %d visits of that time", len(gaps), between)
		f.Needed = "no more than " + share.Value() + " of visits can leave it out before the way from a client to a load is lost; what was not written, or not typed, does not say that no sterilized pack was used"
	}
	for _, v := range gaps {
		f.Day, f.Evidence = v.Started.Day(), []audit.Evidence{audit.At(&v.Row, "packs", "a visit on "+v.Started.Words()+": "+strings.Join(v.Procedures.Items, ", "))}
		x.NotMet(site, f)
	}
}

// gaps is the blank visits between the first and the last day that have a name.
func (s *packsVisitSpan) gaps() (list []*practice.Visit) {
	if len(s.named) == 0 {
		return nil
	}
	first, last := s.named[0].Started.Day(), s.named[len(s.named)-1].Started.Day()
	for _, v := range s.blank {
		if day := v.Started.Day(); first <= day && day <= last {
			list = append(list, v)
		}
	}
	return list
}

// sparse is a site where so few visits name a pack that this record is not kept, or was
// not typed: not assessed, and told once.
func (s *packsVisitSpan) sparse(x *audit.Examination, site audit.Subject, gaps []*practice.Visit, between int) {
	for range gaps {
		x.Unclear(site, "so few visits name a pack, load or count that this does not seem to be kept, or was not typed", audit.Field{Kind: "visits", Name: "packs"})
	}
	first := s.named[0]
	x.Remark(site, audit.Fault{Matter: "few named", Day: first.Started.Day(), Evidence: []audit.Evidence{audit.At(&first.Row, "", "the first visit that names one")},
		Found:  fmt.Sprintf("a pack, load or count is named by %d of %d visits that need sterilized instruments", len(s.named), between),
		Needed: "where few visits name one, a failed load leads to every client of that time",
		Steps: []string{
			"Look whether the notes have the numbers and only the folder does not; if so, type those of the last months first.",
			"From today on, write the pack's number into the note while the pack is in your hand. It takes seconds.",
		}})
}
