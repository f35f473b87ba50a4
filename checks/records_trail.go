package checks

import (
	"fmt"
	"slices"
	"strings"

	"footing/internal/audit"
	"footing/internal/chain"
	"footing/internal/quantity"
)

var _ = define(audit.Check{
	ID:    "records/trail",
	Title: "visits drawn at random can be followed to the client's card and to the sterilizer's papers",
	Why: "An inspector pulls a few visits by chance and asks for what lies behind each: health history, allergy answers, consent, the pack, its load, the printout, the indicators, the spore tests around it, the service of the sterilizer, and the training of who ran it. " +
		"Here the same is done with what is typed. How many of all visits could be followed lies, with the certainty that is named, inside the interval that is given. A link that is never typed is not counted against a visit.",
	Grades:  []audit.Grade{audit.Major, audit.Minor, audit.Observation},
	Subject: "practice", Thing: "visit drawn", Things: "visits drawn",
	Needs: []string{"visits"},
	Helps: []string{"visits.packs", "packs.load", "loads", "tests", "upkeep", "histories", "screens", "consents", "credentials", "practice.coverage"},
	Uses:  trailUses,
	Fix: []string{
		"Look on paper for what these visits lack: the card, the pouch's label in the visit's note, the log book. What is there is added as a row, with the day on the paper and today's date under entered_on.",
		"Where it is not there, leave the gap as it is. Fill in nothing from memory.",
		"Begin with the weakest link, since it breaks most chains: from today on, write it at each visit.",
		"Draw again with footing draw and the same number, and pull the paper for each page before someone else does.",
	},
	Verify: "A new draw, of visits after the change, can be followed from end to end.",
	Run: func(x *audit.Examination) {
		r := trailOf(x, TrailSample(x))
		if len(r.drawn) == 0 {
			x.Nothing("no visit inside the records is written at which treatment took place")
			x.Pass()
			return
		}
		recordsTrail(x, r)
	},
})

// recordsTrail settles each visit drawn. The grade is that of the most that could be
// followed: a link that may only not be typed is taken as there.
func recordsTrail(x *audit.Examination, r *trailRun) {
	t := r.trail()
	broken := r.count(func(t trailTally) bool { return t.sure })
	_, most := chain.ExactPercent(len(r.drawn)-broken, len(r.drawn), r.level)
	grade, criterion := audit.Observation, (*audit.Criterion)(nil)
	for _, at := range []struct {
		id    string
		grade audit.Grade
	}{{"records.trail-minor", audit.Minor}, {"records.trail-major", audit.Major}} {
		if c, ok := x.Criterion(at.id, nil); ok && most < c.Quantity().In(quantity.PercentU) {
			grade, criterion = at.grade, &c
		}
	}
	found := recordsTrailFound(t)
	for i, v := range r.drawn {
		switch tally := r.tallys[i]; {
		case tally.sure:
			f := audit.Fault{Grade: grade, Matter: "broken", Found: found, Day: v.Started.Day(), Criterion: criterion, Evidence: recordsTrailEvidence(r, i)}
			if criterion != nil {
				f.Needed = fmt.Sprintf("even if each doubtful link is there, the interval ends at %.1f %%, below %s", most, criterion.Value())
			}
			x.NotMet(audit.Whole, f)
		case len(tally.missing) > 0:
			x.Unclear(audit.Whole, "a link of the visit is not typed, which does not say that it is not on paper", recordsTrailFields(tally)...)
		case tally.kept:
			x.Met(audit.Whole)
		default:
			x.Unclear(audit.Whole, "no link that could be followed is typed for visits of that time")
		}
	}
	x.Trail(t)
	if broken == 0 && t.Followed < t.Judged {
		x.Remark(audit.Whole, audit.Fault{Matter: "not typed", Found: found, Needed: "each lack may only not be typed; look on paper before you call it a gap", Evidence: recordsTrailEvidence(r, slices.IndexFunc(r.tallys, func(t trailTally) bool { return len(t.missing) > 0 }))})
	}
	if t.Judged > 0 {
		x.Range("visits that can be followed", chain.Percent(t.Followed, t.Judged), t.Low, t.High, "%")
	}
}

// recordsTrailFound is the draw in one sentence.
func recordsTrailFound(t audit.Trail) string {
	how := fmt.Sprintf("of %d visits drawn at random from %d (seed %d), ", len(t.Drawn), t.Of, t.Seed)
	if len(t.Drawn) == t.Of {
		how = fmt.Sprintf("of the %d visits that are typed, too few to draw from, ", t.Of)
	}
	if t.Of == 1 {
		how = "of the one visit that is typed, too few to draw from, "
	}
	if t.Judged < len(t.Drawn) {
		how += fmt.Sprintf("%d of them with a link that is kept, ", t.Judged)
	}
	return how + fmt.Sprintf("behind %d every link that is kept was found: %.1f to %.1f %% of such visits, by an exact interval of %g %%; the weakest link is %s", t.Followed, t.Low, t.High, t.Level, t.Weakest)
}

// recordsTrailEvidence is the visit, then each link that breaks its chain. What lies
// behind a pack or load that is not known is lacking with it, and is not listed again.
func recordsTrailEvidence(r *trailRun, i int) []audit.Evidence {
	v := r.drawn[i]
	var names []string
	var list []audit.Evidence
	for _, l := range r.tallys[i].missing {
		names = append(names, l.Name+" "+l.State.String())
		for _, s := range l.Seen {
			if s.Row != &v.Row && !l.Guessed {
				e := trailEvidence(s)
				e.Note = l.Name + ": " + l.State.String()
				list = append(list, e)
			}
		}
		if l.Name == chain.LinkPack || l.Name == chain.LinkLoad {
			break
		}
	}
	return append([]audit.Evidence{audit.At(&v.Row, "started", strings.Join(names, ", "))}, list...)
}

// recordsTrailFields is what would tell more of a visit.
func recordsTrailFields(t trailTally) (fields []audit.Field) {
	for _, l := range t.missing {
		f := map[string]audit.Field{
			chain.LinkHistory: {Kind: "histories"}, chain.LinkScreen: {Kind: "screens"}, chain.LinkConsent: {Kind: "consents"},
			chain.LinkPack: {Kind: "visits", Name: "packs"}, chain.LinkLoad: {Kind: "packs", Name: "load"}, chain.LinkTrace: {Kind: "loads", Name: "printout"},
			chain.LinkIndicator: {Kind: "loads", Name: "inside_indicator"}, chain.LinkSpore: {Kind: "tests"}, chain.LinkService: {Kind: "upkeep"}, chain.LinkTraining: {Kind: "credentials"},
		}[l.Name]
		fields = append(fields, f)
	}
	return fields
}
