package report

import (
	"slices"
	"strconv"
	"strings"

	"footing/internal/result"
)

// mostNarrowings is how many records an audit names that would narrow a look-back.
const mostNarrowings = 5

// failedToday says how far a failure of each sterilizer on the day of the audit would
// reach, and what would narrow it.
func (p *page) failedToday() {
	if len(p.Lookback) == 0 {
		return
	}
	p.heading(2, titleFailed)
	lead := md("The question that decides how bad a failure is: how far back would it reach, and whom? ")
	if !slices.ContainsFunc(p.Lookback, func(l result.Lookback) bool { return l.Failed != "" }) {
		lead += "No failed spore test is written of this time. "
	}
	p.para(lead + windowsLead)
	for i := range p.Lookback {
		l := &p.Lookback[i]
		p.heading(3, text(named(l.Kind, l.ID)))
		p.para(text(stop(upper(l.Summary))))
		if unbounded(l) {
			p.para("**These records do not bound it by a spore test**, so it runs as far back as the table says.")
		}
		p.windowsOf(l)
		if len(l.Narrowing) > 0 {
			p.para("**What would narrow it:** records that may exist and are not in the folder. Look for them; write nothing from memory.")
			p.narrowingOf(l, mostNarrowings)
		}
		p.para(lookAgain(l))
	}
}

// lookAgain names the command that lists the loads, packs, visits and clients.
func lookAgain(l *result.Lookback) md {
	id := lookedAt(l)
	switch {
	case id == "":
		return ""
	case l.Failed != "":
		return say("The failed spore test of %s is written: footing lookback FOLDER --sterilizer %s lists the loads, packs, visits and clients, and what to do first.", day(l.Failed), id)
	}
	return say("If it does fail: footing lookback FOLDER --sterilizer %s lists the loads, packs, visits and clients, and what to do first.", id)
}

// lookedAt is the id of a sterilizer as it is typed in a command.
func lookedAt(l *result.Lookback) string {
	id := plain(orElse(l.Sterilizer, l.ID))
	if strings.ContainsFunc(id, func(r rune) bool { return r > 'z' || !isAlnum(byte(r)) && !strings.ContainsRune("-_.", r) }) {
		id = "\"" + id + "\""
	}
	return id
}

// reaches are the lines of a headline: those that lead, because a failed test is written
// (these first) or the records give them no beginning, and the others. Sterilizers of
// which the same is said share a line.
func reaches(r *result.Result) (leading, others []string) {
	var failed []string
	said := map[string]bool{}
	for i := range r.Lookback {
		l := &r.Lookback[i]
		s := plain(l.Summary)
		if s == "" || said[s] {
			continue
		}
		said[s] = true
		line := stop(namedAll(r.Lookback[i:], s) + ": " + s)
		switch {
		case l.Failed != "":
			failed = append(failed, line)
		case unbounded(l):
			leading = append(leading, line)
		default:
			others = append(others, line)
		}
	}
	return append(failed, leading...), others
}

// namedAll names the sterilizers of which a summary is said: "Sterilizer S1", or
// "Sterilizers S1 and S2, each".
func namedAll(all []result.Lookback, summary string) string {
	var ids []string
	first := &all[0]
	for i := range all {
		if l := &all[i]; l.Kind == first.Kind && plain(l.Summary) == summary {
			ids = append(ids, ident(l.Kind, l.ID))
		}
	}
	if len(ids) == 1 {
		return named(first.Kind, first.ID)
	}
	if more := len(ids) - mostTogether; more > 0 {
		ids = append(ids[:mostTogether:mostTogether], several(more, "other", "others"))
	}
	return upper(first.Kind) + " " + join(ids) + ", each"
}

// mostTogether is how many sterilizers one line of a headline names.
const mostTogether = 6

// told says whether a line of the headline stands there already as a look-back.
func told(r *result.Result, line string) bool {
	for i := range r.Lookback {
		if plain(r.Lookback[i].Summary) == plain(line) {
			return true
		}
	}
	return false
}

// drawnAtRandom tells what came of the visits drawn at random.
func (p *page) drawnAtRandom() {
	t := p.Trail
	if t == nil {
		return
	}
	p.heading(2, titleTrail)
	p.para(text(trailSays(t)))
	var rows [][]md
	for _, l := range t.Links {
		rows = append(rows, []md{text(upper(plain(l.Name))), say("%s", l.Found), say("%s", l.Missing), say("%s", l.Unkept), say("%s", l.None)})
	}
	p.table([]md{"Link", "Found", "Not found, or in part", "Never typed", "Does not apply"}, rows)
	if t.Weakest != "" {
		p.para(say("**The weakest link: %s.** Look there first.", t.Weakest))
	}
	p.para("“Not found” means that such rows are kept and there is none for this visit. “Never typed” means that no such row is in the folder, so it is not judged.")
	p.para(say("To see each of them as an inspector would: footing draw FOLDER --visits %s --seed %s writes a page a visit.", len(t.Drawn), strconv.FormatInt(t.Seed, 10)))
}

// trailSays is "Of 412 visits, 20 were drawn at random (seed 7): …".
func trailSays(t *result.Trail) string {
	if len(t.Drawn) == 0 {
		return "No visit was drawn."
	}
	how := "Of " + several(t.Of, "visit", "visits") + ", " + several(len(t.Drawn), "was", "were") + " drawn at random, the draw starting from the number " + strconv.FormatInt(t.Seed, 10) + ". "
	switch {
	case t.Judged == 0:
		return how + "No link that could be followed is typed for any of them, so how many can be followed cannot be told."
	case t.Judged < len(t.Drawn):
		how += several(t.Judged, "has", "have") + " a link that is kept. "
	}
	return how + "Behind " + strconv.Itoa(t.Followed) + " of them each link that is kept was found; so behind " + number(oneDecimal(t.Low)) + " % to " + number(oneDecimal(t.High)) +
		" % of all visits (a range that is right in at least " + number(t.Level) + " of 100 such draws)."
}

func oneDecimal(v float64) float64 { return float64(tenths(v)) / 10 }
