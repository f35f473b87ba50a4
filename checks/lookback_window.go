package checks

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"footing/internal/audit"
	"footing/internal/chain"
	"footing/internal/practice"
	"footing/internal/quantity"
)

// lookbackReached are the two windows of one event, with whom and what each reaches.
type lookbackReached struct {
	wide, narrow           chain.Window
	wideReach, narrowReach chain.Reach
	narrowings             []chain.Narrowing
}

// around is how far back one event of a sterilizer reaches: the same for the check
// and for the command. A failed spore test that no run of passed ones ended is in the wide
// window of a failure tonight, even where one passed since.
func (r *lookbackRun) around(s *practice.Sterilizer, e chain.Event) (l audit.Lookback, w lookbackReached) {
	h := r.history(s)
	w.wide, w.narrow = h.Around(e)
	if open := r.openFailure(s); open != nil && e == (chain.Event{}) {
		e.Test = open
		w.wide, w.narrow = h.Around(e)
		if end := w.narrow.Until; end.Kind != chain.NoProof && r.failedFrom(s, w.wide, end.Day) {
			w.narrow = w.wide // what ended this failure did not end the next
		}
	}
	failed, stray := r.lastFailed(s, w.wide), (*practice.Test)(nil)
	if failed == nil {
		stray = r.strayFailed(s, w.wide)
	}
	w.wideReach = chain.ReachOfWindow(r.P, r.terms, w.wide)
	w.narrowReach = chain.ReachOfWindow(r.P, r.terms, w.narrow)
	l = audit.Lookback{Kind: "sterilizers", ID: practice.Key(&s.Row), Sterilizer: practice.Key(&s.Row),
		Windows: []audit.Window{r.window("wide", w.wide, w.wideReach, e), r.window("narrow", w.narrow, w.narrowReach, e)}}
	w.narrowings = h.Narrowings(e)
	if r.P.Covered("tests", w.wide.From.Day, r.P.AsOf) && !r.P.Unread("tests") { // then none is there to be found
		w.narrowings = slices.DeleteFunc(w.narrowings, func(n chain.Narrowing) bool { return n.Kind == "tests" && n.Row == nil && n.Field == "" })
	}
	told := map[string]bool{} // tests of one day are looked for in one place
	w.narrowings = slices.DeleteFunc(w.narrowings, func(n chain.Narrowing) bool {
		before := told[n.What]
		told[n.What] = true
		return before
	})
	for _, n := range w.narrowings {
		l.Narrowing = append(l.Narrowing, lookbackNarrowing(n))
	}
	l.Summary, l.Bounded = r.summary(l.Windows, w, s, failed, stray), w.wide.From.Kind == chain.Spores
	if t := cmp.Or(failed, stray); t != nil {
		l.Failed = t.RunAt.Day().String()
	}
	return l, w
}

// openFailure is the failed spore test that a failure tonight is counted from: one of the
// sterilizer, else one that may be of it, that no run of passed ones ended.
func (r *lookbackRun) openFailure(s *practice.Sterilizer) *practice.Test {
	h := r.history(s)
	if own := h.Open(); own != nil {
		return own
	}
	stray := h.OpenStray()
	if stray != nil && s.RetiredOn.Written() && s.RetiredOn < stray.RunAt.Day() {
		return nil
	}
	return stray
}

// failedFrom reports whether a spore test failed, from some day of a window on, that is or
// may be of a sterilizer.
func (r *lookbackRun) failedFrom(s *practice.Sterilizer, w chain.Window, day quantity.Day) bool {
	own, stray := r.lastFailed(s, w), r.strayFailed(s, w)
	return own != nil && own.RunAt.Day() >= day || stray != nil && stray.RunAt.Day() >= day
}

// lookbackNarrowing is what a record would bring; -1 days where that cannot be said
// beforehand, as of labels: at best none of these packs was used, which nobody can count on.
func lookbackNarrowing(n chain.Narrowing) audit.Narrowing {
	if n.Kind == "visits" || n.Window.From.Kind == chain.NoProof && len(n.Window.Loads) == 0 {
		return audit.Narrowing{What: n.What, Days: -1}
	}
	return audit.Narrowing{What: n.What, Days: n.Window.Days, Loads: len(n.Window.Loads), Visits: len(n.Reach.Visits) + len(n.Reach.Possible), Clients: len(n.Reach.MostClients)}
}

func (r *lookbackRun) window(name string, w chain.Window, reach chain.Reach, e chain.Event) audit.Window {
	out := audit.Window{Name: name, Since: w.From.Day.String(), Until: r.P.AsOf.String(), Why: r.why(name, w, e), Days: w.Days}
	if w.Until.Kind != chain.NoProof && w.Until.Day.Written() {
		out.Until = w.Until.Day.String()
	}
	for _, p := range []struct {
		chain.Proof
		note string
	}{{w.From, "what it begins with"}, {w.Until, "what it ends with"}} {
		if p.Row != nil {
			out.Proof = append(out.Proof, r.Locate(audit.At(p.Row, p.Field, p.note)))
		}
	}
	lookbackTally(&out, reach)
	out.Loads = len(w.Loads)
	return out
}

// lookbackTally counts what some loads or packs reach.
func lookbackTally(out *audit.Window, reach chain.Reach) {
	out.Loads, out.Packs, out.Unnumbered, out.Uncounted = len(reach.Loads), len(reach.Packs), reach.Unnumbered, reach.Uncounted
	for _, f := range reach.Packs {
		switch f.Where {
		case chain.OnShelf:
			out.OnShelf++
		case chain.NotWritten:
			out.Unwritten++
		}
	}
	out.Visits, out.Clients = len(reach.Visits), len(reach.Clients)
	out.MostVisits, out.MostClients = len(reach.Visits)+len(reach.Possible), len(reach.MostClients)
}

// lookbackRules say which evidence each window takes.
var lookbackRules = map[string]string{
	"wide":   "the strict rule: a spore test counts only if its control is written as grown, and nothing written says that it was read early, out of date or beside another lot; unknown times widen",
	"narrow": "the lenient rule: a pass counts too if something of it is not written, and so does a load with passed indicators and a data-logger file that was held",
}

// why says what a window begins and ends with, and by which rule.
func (r *lookbackRun) why(name string, w chain.Window, e chain.Event) string {
	why := "from " + lookbackProof(w.From)
	switch {
	case w.Until.Kind != chain.NoProof:
		why += ", until " + lookbackProof(w.Until)
	case e == chain.Event{}:
		why += ", up to " + r.P.AsOf.Words()
	case name == "wide" && r.terms.Ends(e) > 1:
		why += fmt.Sprintf(", up to %s (no run of %d passed spore tests is written after it, which would end it)", r.P.AsOf.Words(), r.terms.Ends(e))
	default:
		why += fmt.Sprintf(", up to %s (nothing is written after it that would end it)", r.P.AsOf.Words())
	}
	if w.Unplaced > 0 {
		why += fmt.Sprintf("; with %s, which may be of this one", audit.Plural(w.Unplaced, "load that names no sterilizer", "loads that name no sterilizer"))
	}
	if unseen := r.unseen(w); unseen != "" {
		why += "; " + unseen
	}
	return why + "; " + lookbackRules[name]
}

// lookbackProof is a piece of evidence in words that follow "from" and "until".
func lookbackProof(p chain.Proof) string {
	on := lookbackWords(p.Day)
	switch p.Kind {
	case chain.Spores:
		if p.Assay != nil && p.Assay.Worth == chain.Strict && p.Assay.Test.Control == "" {
			return fmt.Sprintf("the spore test of %s that passed, as the laboratory reported", on)
		}
		if p.Assay == nil || p.Assay.Worth == chain.Strict {
			return fmt.Sprintf("the spore test of %s that passed with a growing control", on)
		}
		return fmt.Sprintf("the spore test of %s that passed, but %s", on, lookbackDoubts(p.Assay))
	case chain.Cycled:
		return fmt.Sprintf("a load of %s with passed indicators and a data-logger file that was held", on)
	case chain.Examined:
		if p.Unsaid {
			return fmt.Sprintf("the technician's visit of %s, of which no result is written", on)
		}
		return fmt.Sprintf("the technician's visit of %s: a passed service or validation", on)
	case chain.Installed:
		return fmt.Sprintf("its installation on %s", on)
	case chain.NoProof:
		return "a beginning that is not written"
	}
	return fmt.Sprintf("the first record of it, of %s, for want of anything better", on)
}

func lookbackDoubts(a *chain.Assay) string {
	var why []string
	for _, d := range append(append([]chain.Doubt{}, a.Against...), a.Lacking...) {
		why = append(why, d.Why)
	}
	return strings.Join(why, ", and ")
}

// summary is the headline of a sterilizer, as if it failed at the end of the audit day,
// or with the failed spore test that is written of this time; stray is one that may be of it.
func (r *lookbackRun) summary(windows []audit.Window, reached lookbackReached, s *practice.Sterilizer, failed, stray *practice.Test) string {
	w, narrow, wide := windows[0], windows[1], reached.wide
	whom := r.whom(w, reached.wideReach)
	line := "if the sterilizer failed tonight, "
	if failed != nil {
		line = "a spore test of the sterilizer failed (run on " + lookbackWords(failed.RunAt.Day())
		if n, first := r.passedSince(s, failed); n > 0 {
			line += "; " + lookbackSince(n, first)
		}
		line += "), and "
	}
	if stray != nil {
		line = "the failed spore test of " + lookbackWords(stray.RunAt.Day()) + " names no sterilizer and may be of this one; " + line
	}
	if wide.Unbegun {
		return line + fmt.Sprintf("these records cannot bound it: nothing of it is written before %s; %s", lookbackWords(wide.From.Day), whom)
	}
	size := fmt.Sprintf("%s and %s", lookbackDays(w.Days), audit.Plural(w.Loads, "load", "loads"))
	switch {
	case len(wide.Loads) == 0 && wide.From.Kind == chain.NoProof:
		return line + "these records say nothing of how far back: neither a load nor a test, service or installation of it is written"
	case len(wide.Loads) == 0 && r.loggedIn(wide):
		return line + fmt.Sprintf("no load of it is in question: none is written since %s", lookbackProof(wide.From))
	case len(wide.Loads) == 0:
		return line + fmt.Sprintf("no load is written since %s, which does not say that none was run; %s", lookbackProof(wide.From), whom)
	case wide.From.Kind == chain.Spores:
		line += "these records narrow the question to " + size
	default:
		line += fmt.Sprintf("these records cannot bound it: the look-back runs to %s, and every client since (%s)", lookbackEdge(wide.From), size)
	}
	if unseen := r.unseen(wide); unseen != "" {
		line += "; " + unseen
	}
	line += "; " + whom
	switch {
	case narrow.Loads == 0:
		line += "; no load in the narrow window"
	case narrow.Days < w.Days && narrow.Loads < w.Loads:
		line += fmt.Sprintf("; %s and %s in the narrow window", lookbackDays(narrow.Days), audit.Plural(narrow.Loads, "load", "loads"))
	}
	return line
}

// lookbackEdge is where a look-back ends that no spore test bounds.
func lookbackEdge(p chain.Proof) string {
	switch p.Kind {
	case chain.Examined:
		return "the last technician's visit on " + lookbackWords(p.Day)
	case chain.Installed:
		return "the installation on " + lookbackWords(p.Day)
	case chain.NoProof:
		return "a beginning that is not written"
	}
	return "the first record of it, of " + lookbackWords(p.Day)
}

// whom says how many visits and clients a window reaches, and how far that can be told.
func (r *lookbackRun) whom(w audit.Window, reach chain.Reach) string {
	most := fmt.Sprintf("%s of %s", audit.Plural(w.MostVisits, "visit", "visits"), audit.Plural(w.MostClients, "client", "clients"))
	switch {
	case r.P.Count("visits") == 0:
		return "clients cannot be counted: no visit is typed"
	case w.MostVisits == 0:
		return "no visit is written that had a pack of them, or could have had one"
	case w.Visits == 0:
		return "clients cannot be counted: " + lookbackWhy(reach) + " (at most " + most + ")"
	case w.Visits == w.MostVisits:
		return most
	}
	return fmt.Sprintf("%s of %s, and with those that do not name all their packs at most %s",
		audit.Plural(w.Visits, "visit", "visits"), audit.Plural(w.Clients, "client", "clients"), most)
}

// lookbackWhy says why no visit can be told to have had a pack.
func lookbackWhy(reach chain.Reach) string {
	named := 0
	for _, v := range reach.Possible {
		if len(v.Packs.Items) > 0 {
			named++
		}
	}
	switch named {
	case 0:
		return "visits do not name packs"
	case len(reach.Possible):
		return "the packs that visits name lead to no load of it"
	}
	return "visits do not name packs, or the packs that they name lead to no load of it"
}

func lookbackDays(n int) string {
	if n < 0 {
		return "days that cannot be counted"
	}
	return audit.Plural(n, "day", "days")
}
