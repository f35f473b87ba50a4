package checks

import (
	"fmt"
	"strings"

	"footing/internal/audit"
	"footing/internal/chain"
	"footing/internal/practice"
	"footing/internal/quantity"
)

// ofSterilizer answers for a sterilizer as if it failed at the end of the audit day;
// with a time given, for exactly the loads started in it.
func (r *lookbackRun) ofSterilizer() error {
	row, state := r.P.Sterilizer(r.q.ID)
	s, err := lookbackThe(r, row, state)
	if err != nil {
		return err
	}
	if r.q.Since.Written() || r.q.Until.Written() {
		r.ofSpan(s)
		return nil
	}
	l, w := r.around(s, chain.Event{})
	it := lookbackSterilizer(s)
	r.a.Asked.Words = fmt.Sprintf("%s, as if it failed at the end of %s", it, r.P.AsOf.Words())
	it = lookbackCapital(it)
	plan := lookbackPlan{sterilizer: s}
	failed := r.lastFailed(s, w.wide)
	plan.stray = r.strayFailed(s, w.wide)
	switch signs := r.signs(s, w.wide); {
	case failed == nil && plan.stray != nil:
		plan.real = true
		r.says("%s, as if it failed at the end of %s. A spore test that failed is written in this time, run on %s, and which sterilizer it was of is not: it may be this one.", it, r.P.AsOf.Words(), lookbackWords(plan.stray.RunAt.Day()))
	case failed != nil:
		plan.stray = nil
		plan.real = true
		plan.passed, plan.first, plan.few = r.passes(s, failed)
		r.says("%s: a spore test that failed is written in this time, run on %s. Take it as real until public health or the maker tells you otherwise.", it, failed.RunAt.Day().Words())
	case signs != "":
		r.says("%s, as if it failed at the end of %s. No spore test of this time is typed as failed.", it, r.P.AsOf.Words())
	default:
		r.says("%s, as if it failed at the end of %s. Nothing typed of this time says that it did.", it, r.P.AsOf.Words())
	}
	r.says("%s.", strings.ToUpper(l.Summary[:1])+l.Summary[1:])
	plan.signs = r.saySigns(s, w.wide, plan.real)
	r.forward(l, w, plan)
	return nil
}

// lastFailed is the last spore test of a sterilizer that failed inside a window, and
// which no run of passed ones ended; nil where none did.
func (r *lookbackRun) lastFailed(s *practice.Sterilizer, w chain.Window) *practice.Test {
	failed := r.lastFailedBut(nil, s, w)
	if failed == nil {
		return nil
	}
	if wide, _ := r.history(s).Around(chain.Event{Test: failed}); wide.Until.Kind != chain.NoProof {
		return nil // of the very day on which passed ones ended it
	}
	return failed
}

func (r *lookbackRun) lastFailedBut(asked *practice.Test, s *practice.Sterilizer, w chain.Window) (failed *practice.Test) {
	for _, t := range r.P.TestsOf(practice.Key(&s.Row)) {
		day := t.RunAt.Day()
		inside := day >= w.From.Day && (w.Until.Kind == chain.NoProof || day <= w.Until.Day)
		if t.Type == "spore" && t.Result == "fail" && inside && t != asked {
			failed = t
		}
	}
	return failed
}

// strayFailed is the last failed spore test inside a window of which no sterilizer is
// told that has a row, and which may be of one; nil where there is none.
func (r *lookbackRun) strayFailed(s *practice.Sterilizer, w chain.Window) (failed *practice.Test) {
	for i := range r.P.Tests {
		t := &r.P.Tests[i]
		day := t.RunAt.Day()
		inside := day >= w.From.Day && (w.Until.Kind == chain.NoProof || day <= w.Until.Day) && (!s.RetiredOn.Written() || day <= s.RetiredOn)
		of := r.P.EquipmentOf(t)
		_, state := r.P.Sterilizer(of)
		if t.Type == "spore" && t.Result == "fail" && inside && (of == "" || state == practice.Absent) && (failed == nil || day >= failed.RunAt.Day()) {
			failed = t
		}
	}
	return failed
}

// sayFailed names a failed spore test, other than the one asked about: one that a
// window holds, else one that no run of passed ones ended.
func (r *lookbackRun) sayFailed(s *practice.Sterilizer, w chain.Window, asked *practice.Test) bool {
	if failed := r.lastFailedBut(asked, s, w); failed != nil {
		r.says("A spore test that failed is written in this time, run on %s: ask with --test %s too.", lookbackWords(failed.RunAt.Day()), practice.Key(&failed.Row))
		return true
	}
	open := r.history(s).Open()
	if open == nil || open == asked {
		return false
	}
	words := "no run of passed ones is written since that would end it"
	n, first := r.passedSince(s, open)
	if n > 0 {
		words = lookbackSince(n, first)
	}
	r.says("A spore test that failed is written of another time, run on %s; %s: ask with --test %s too.", lookbackWords(open.RunAt.Day()), words, practice.Key(&open.Row))
	return n == 0
}

// forward tells of one event: its windows, whom and what they reach, what to do.
func (r *lookbackRun) forward(l audit.Lookback, w lookbackReached, plan lookbackPlan) {
	l.Kind, l.ID = r.q.Kind, r.q.ID
	r.list(&l, w.wideReach, w.narrowReach)
	r.sayWindows(l, w)
	r.sayService(w.wide, plan)
	r.a.Lookbacks = append(r.a.Lookbacks, l)
	plan.begun = w.wide.From.Kind == chain.Begun
	plan.unlogged = plan.sterilizer != nil && !r.loggedIn(w.wide)
	plan.look, plan.reach, plan.unplaced, plan.narrowings = &r.a.Lookbacks[0], w.wideReach, w.wide.Unplaced, w.narrowings
	r.plan(plan)
	r.limits(plan)
	r.lacks(plan)
}

// sayWindows tells the windows in a line each; the narrow one in a word where it is the
// same.
func (r *lookbackRun) sayWindows(l audit.Lookback, w lookbackReached) {
	wide := l.Windows[0]
	if w.wide.Unbegun {
		r.says("Nothing of the sterilizer is written before %s, so how far back it reaches cannot be told from these records: everyone treated before may be meant too.", w.wide.From.Day.Words())
	}
	if unseen := r.unseen(w.wide); unseen != "" && !strings.Contains(strings.Join(r.a.Says, " "), unseen) {
		r.says("%s: it is in question too.", lookbackCapital(unseen))
	}
	if w.wide.From.Kind == chain.NoProof && wide.Loads+wide.Packs+wide.MostVisits == 0 {
		return
	}
	if w.wide.From.Kind == chain.NoProof {
		r.says("%s: %s; %s.", lookbackCapital(wide.Why), lookbackSize(wide, w.wideReach), r.whom(wide, w.wideReach))
	} else {
		r.says("Wide window: from %s: %s; %s.", lookbackEnds(w.wide), lookbackSize(wide, w.wideReach), r.whom(wide, w.wideReach))
	}
	if len(l.Windows) < 1+1 {
		return
	}
	narrow := l.Windows[1]
	switch {
	case w.narrow.From.Kind == chain.NoProof:
		r.says("Narrow: %s: %s; %s.", narrow.Why, lookbackSize(narrow, w.narrowReach), r.whom(narrow, w.narrowReach))
	case narrow.Since == wide.Since && narrow.Until == wide.Until && narrow.Loads == wide.Loads:
		r.says("The narrow window is the same.")
	default:
		r.says("Narrow window: from %s: %s; %s. Ask public health which of the two counts.", lookbackEnds(w.narrow), lookbackSize(narrow, w.narrowReach), r.whom(narrow, w.narrowReach))
	}
}

// lookbackEnds is what a window begins and ends with.
func lookbackEnds(w chain.Window) string {
	if w.Until.Kind == chain.NoProof {
		return lookbackProof(w.From)
	}
	return lookbackProof(w.From) + ", until " + lookbackProof(w.Until)
}

// lookbackSize is how many loads and packs a window holds; no number of packs stands for
// those of loads that do not count theirs.
func lookbackSize(w audit.Window, reach chain.Reach) string {
	loads, known := audit.Plural(w.Loads, "load", "loads"), w.Packs+w.Unnumbered
	packs := audit.Plural(known, "pack", "packs") + " by these records"
	switch n := reach.Uncounted; {
	case w.Loads == 0 && known == 0:
		return "no load is written"
	case n == 0:
		return loads + ", " + packs
	case known == 0:
		return loads + ", which made a number of packs that is not written"
	default:
		return fmt.Sprintf("%s, at least %s (how many %s made is not written)", loads, packs, audit.Plural(n, "load", "loads"))
	}
}

// lookbackDayOf is a day in words from how documents write it.
func lookbackDayOf(iso string) string {
	d, err := quantity.ParseDay(iso, quantity.ISO)
	if err != nil {
		return "a day that is not written"
	}
	return d.Words()
}

// ofSpan answers for the loads of a sterilizer that started in the time given.
func (r *lookbackRun) ofSpan(s *practice.Sterilizer) {
	loads := r.startedWithin(practice.Key(&s.Row))
	span := chain.Window{From: chain.Proof{Day: r.q.Since}, Until: chain.Proof{Day: r.q.Until}, Loads: loads}
	reach := chain.ReachOfWindow(r.P, r.terms, span)
	words := r.timeWords()
	w := audit.Window{Name: "wide", Since: r.q.Since.String(), Until: r.q.Until.String(), Days: r.spanDays(),
		Why: "the loads that started " + words + ", as you asked; a start without an hour counts with its whole day"}
	around := chain.Window{}
	if len(loads) > 0 {
		first, _ := r.history(s).Around(chain.Event{Load: loads[0]})
		last, _ := r.history(s).Around(chain.Event{Load: loads[len(loads)-1]})
		around = chain.Window{From: first.From, Until: last.Until, Loads: loads}
		w.Why += ". Around them the strict rule finds: " + strings.TrimSuffix(r.why("wide", around, chain.Event{Load: loads[0]}), "; "+lookbackRules["wide"])
		w.Proof = r.window("wide", around, reach, chain.Event{Load: loads[0]}).Proof
		if w.Since == "" {
			w.Since = loads[0].Started.Day().String()
		}
	}
	if w.Until == "" {
		w.Until = r.P.AsOf.String()
	}
	lookbackTally(&w, reach)
	r.a.Asked.Words = fmt.Sprintf("loads of %s that started %s", lookbackSterilizer(s), words)
	r.says("%s: the loads that started %s.", lookbackCapital(lookbackSterilizer(s)), words)
	if len(loads) == 0 {
		r.says("No load of it is written that started then.")
	}
	l := audit.Lookback{Sterilizer: practice.Key(&s.Row), Windows: []audit.Window{w}, Summary: fmt.Sprintf("%s; %s", lookbackSize(w, reach), r.whom(w, reach))}
	plan := lookbackPlan{sterilizer: s, real: r.sayFailed(s, around, nil)}
	plan.signs = r.saySigns(s, around, plan.real)
	r.forward(l, lookbackReached{wide: span, narrow: span, wideReach: reach, narrowReach: reach}, plan)
}

// startedWithin are the loads of the time given that are or may be of a sterilizer,
// without rejected ones of which no pack was used.
func (r *lookbackRun) startedWithin(sterilizer string) (loads []*practice.Load) {
	for _, l := range r.P.LoadsByTime() {
		_, state := r.P.Sterilizer(l.Sterilizer)
		may := l.Sterilizer == sterilizer || l.Sterilizer == "" || state == practice.Absent
		if may && (l.Decision != "rejected" || chain.Served(r.P, l)) && r.within(l.Started.Day()) {
			loads = append(loads, l)
		}
	}
	return loads
}

// within reports whether a day lies in the time given; one not written does.
func (r *lookbackRun) within(d quantity.Day) bool {
	return !d.Written() || (!r.q.Since.Written() || d >= r.q.Since) && (!r.q.Until.Written() || d <= r.q.Until)
}

func (r *lookbackRun) spanDays() int {
	if !r.q.Since.Written() || !r.q.Until.Written() {
		return -1
	}
	return int(r.q.Until - r.q.Since)
}

func (r *lookbackRun) timeWords() string {
	since, until := lookbackWords(r.q.Since), lookbackWords(r.q.Until)
	switch {
	case r.q.Since.Written() && r.q.Until.Written():
		return "from " + since + " to " + until
	case r.q.Since.Written():
		return "since " + since
	case r.q.Until.Written():
		return "until " + until
	}
	return "at any time that is typed"
}
