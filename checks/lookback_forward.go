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
	r.a.Asked.Words = fmt.Sprintf("sterilizer %s, as if it failed at the end of %s", l.ID, r.P.AsOf.Words())
	failed := r.lastFailed(s, w.wide)
	if failed == nil {
		r.says("Sterilizer %s, as if it failed at the end of %s. Nothing typed of this time says that it did.", l.ID, r.P.AsOf.Words())
	} else {
		r.says("Sterilizer %s: a spore test that failed is written in this time, run on %s. Take it as real until public health or the maker tells you otherwise.", l.ID, failed.RunAt.Day().Words())
	}
	r.says("%s.", strings.ToUpper(l.Summary[:1])+l.Summary[1:])
	r.forward(l, w, lookbackPlan{sterilizer: s, real: failed != nil})
	return nil
}

// lastFailed is the last spore test of a sterilizer that failed inside a window; nil
// where none did.
func (r *lookbackRun) lastFailed(s *practice.Sterilizer, w chain.Window) (failed *practice.Test) {
	for _, t := range r.P.TestsOf(practice.Key(&s.Row)) {
		day := t.RunAt.Day()
		inside := day >= w.From.Day && (w.Until.Kind == chain.NoProof || day <= w.Until.Day)
		if t.Type == "spore" && t.Result == "fail" && inside {
			failed = t
		}
	}
	return failed
}

// sayFailed names a failed spore test that a window holds, other than the one asked about.
func (r *lookbackRun) sayFailed(s *practice.Sterilizer, w chain.Window, asked *practice.Test) bool {
	failed := r.lastFailed(s, w)
	if failed == nil || failed == asked {
		return false
	}
	r.says("A spore test that failed is written in this time, run on %s: ask with --test %s too.", lookbackWords(failed.RunAt.Day()), practice.Key(&failed.Row))
	return true
}

// forward tells of one event: its windows, whom and what they reach, what to do.
func (r *lookbackRun) forward(l audit.Lookback, w lookbackReached, plan lookbackPlan) {
	l.Kind, l.ID = r.q.Kind, r.q.ID
	r.list(&l, w.wideReach, w.narrowReach)
	r.sayWindows(l, w)
	r.a.Lookbacks = append(r.a.Lookbacks, l)
	plan.look, plan.reach, plan.unplaced, plan.narrowings = &r.a.Lookbacks[0], w.wideReach, w.wide.Unplaced, w.narrowings
	r.plan(plan)
	r.limits(plan)
	r.lacks(plan)
}

// sayWindows tells the windows in a line each; the lenient rule in a word where it
// changes nothing.
func (r *lookbackRun) sayWindows(l audit.Lookback, w lookbackReached) {
	wide := l.Windows[0]
	if w.wide.From.Kind == chain.NoProof && wide.Loads+wide.Packs+wide.MostVisits == 0 {
		return
	}
	if w.wide.From.Kind == chain.NoProof {
		r.says("%s: %s; %s.", lookbackCapital(wide.Why), lookbackSize(wide), r.whom(wide))
	} else {
		r.says("Wide window: from %s: %s; %s.", lookbackEnds(w.wide), lookbackSize(wide), r.whom(wide))
	}
	if len(l.Windows) < 1+1 {
		return
	}
	narrow := l.Windows[1]
	switch {
	case w.narrow.From.Kind == chain.NoProof:
		r.says("Narrow: %s: %s; %s.", narrow.Why, lookbackSize(narrow), r.whom(narrow))
	case narrow.Since == wide.Since && narrow.Until == wide.Until && narrow.Loads == wide.Loads:
		r.says("The lenient rule gives the same window.")
	default:
		r.says("Narrow window: from %s: %s; %s. Ask public health which of the two counts.", lookbackEnds(w.narrow), lookbackSize(narrow), r.whom(narrow))
	}
}

// lookbackEnds is what a window begins and ends with.
func lookbackEnds(w chain.Window) string {
	if w.Until.Kind == chain.NoProof {
		return lookbackProof(w.From)
	}
	return lookbackProof(w.From) + ", until " + lookbackProof(w.Until)
}

func lookbackSize(w audit.Window) string {
	return lookbackCount(w.Loads, "load", "loads") + ", " + lookbackCount(w.Packs+w.Unnumbered, "pack", "packs") + " by these records"
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
	reach := chain.ReachOf(r.P, r.terms, loads)
	words := r.timeWords()
	w := audit.Window{Name: "wide", Since: lookbackISO(r.q.Since), Until: lookbackISO(r.q.Until), Days: r.spanDays(),
		Why: "the loads that started " + words + ", as you asked; a start without an hour counts with its whole day"}
	if len(loads) > 0 {
		first, _ := r.history(s).Around(chain.Event{Load: loads[0]})
		last, _ := r.history(s).Around(chain.Event{Load: loads[len(loads)-1]})
		around := chain.Window{From: first.From, Until: last.Until}
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
	r.a.Asked.Words = fmt.Sprintf("loads of sterilizer %s that started %s", practice.Key(&s.Row), words)
	r.says("Sterilizer %s: the loads that started %s. Nothing here says that it failed.", practice.Key(&s.Row), words)
	if len(loads) == 0 {
		r.says("No load of it is written that started then.")
	}
	l := audit.Lookback{Sterilizer: practice.Key(&s.Row), Windows: []audit.Window{w}, Summary: fmt.Sprintf("%s; %s", lookbackSize(w), r.whom(w))}
	r.forward(l, lookbackReached{wideReach: reach, narrowReach: reach}, lookbackPlan{sterilizer: s})
}

// startedWithin are the loads of the time given that are or may be of a sterilizer;
// no pack of a rejected one went to a client.
func (r *lookbackRun) startedWithin(sterilizer string) (loads []*practice.Load) {
	for _, l := range r.P.LoadsByTime() {
		_, state := r.P.Sterilizer(l.Sterilizer)
		may := l.Sterilizer == sterilizer || l.Sterilizer == "" || state == practice.Absent
		if may && l.Decision != "rejected" && r.within(l.Started.Day()) {
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
