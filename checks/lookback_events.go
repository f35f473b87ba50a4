package checks

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"footing/internal/audit"
	"footing/internal/chain"
	"footing/internal/practice"
)

// lookbackTestNames are the kinds of tests as a sentence begins with them.
var lookbackTestNames = map[string]string{"spore": "Spore test", "air-removal": "Air-removal test", "leak": "Leak test", "ultrasonic": "Test of an ultrasonic cleaner", "residue": "Residue test"}

// ofTest answers for a test: one that failed, or another as if it had.
func (r *lookbackRun) ofTest() error {
	row, state := lookbackByID(r, r.P.Tests, func(t *practice.Test) string { return practice.Key(&t.Row) })
	t, err := lookbackThe(r, row, state)
	if err != nil {
		return err
	}
	s, state := r.P.Sterilizer(r.P.EquipmentOf(t))
	if state != practice.One {
		return r.refuse(practice.One, fmt.Sprintf("the test %s names no sterilizer that stands once in the folder, so no loads can be looked back on", r.q.ID),
			"write into its row which sterilizer it was of, or ask with --sterilizer for each that it may have been of; for a cleaner, ask with --load for the loads that went through it")
	}
	name, id := lookbackTestNames[t.Type], practice.Key(&s.Row)
	r.a.Asked.Words = fmt.Sprintf("%s %s of sterilizer %s, run on %s", strings.ToLower(name), r.q.ID, id, lookbackWords(t.RunAt.Day()))
	r.sayTest(t, name, id)
	l, w := r.around(s, chain.Event{Test: t})
	l.Summary = fmt.Sprintf("%s and %s; %s", lookbackDays(w.wide.Days), lookbackCount(len(w.wide.Loads), "load", "loads"), r.whom(l.Windows[0]))
	if w.wide.Unbegun {
		l.Summary = "how far back cannot be told, as nothing of it is written before that day; " + r.whom(l.Windows[0])
	}
	failed := r.sayFailed(s, w.wide, t)
	plan := lookbackPlan{sterilizer: s, test: t, real: failed || t.Result == "fail", since: w.wide.Until}
	if open := r.history(s).Open(); open != nil {
		plan.since = chain.Proof{}
		plan.passed, plan.first = r.passedSince(s, open)
	}
	r.forward(l, w, plan)
	return nil
}

func (r *lookbackRun) sayTest(t *practice.Test, name, sterilizer string) {
	run := lookbackWords(t.RunAt.Day())
	known := "the day on which that was known is not written"
	if d := chain.Known(t); d.Written() {
		known = "known on " + d.Words()
	}
	switch t.Result {
	case "fail":
		r.says("%s %s, sterilizer %s: run on %s, failed, %s. Take it as real until public health or the maker tells you otherwise.", name, r.q.ID, sterilizer, run, known)
	case "pass":
		r.says("%s %s, sterilizer %s: run on %s, and written as passed (%s). What follows answers as if it had failed.", name, r.q.ID, sterilizer, run, known)
	default:
		word := "its result is not written"
		if t.Result == "pending" {
			word = "its result is pending"
		}
		r.says("%s %s, sterilizer %s: run on %s, and %s. What follows answers as if it had failed; find its result first.", name, r.q.ID, sterilizer, run, word)
	}
}

// ofLoad answers for a load: alone, if what went wrong lies in it; else with the
// loads around it, as far as evidence of its sterilizer bounds them.
func (r *lookbackRun) ofLoad() error {
	row, state := r.P.Load(r.q.ID)
	load, err := lookbackThe(r, row, state)
	if err != nil {
		return err
	}
	alone := chain.ReachOf(r.P, r.terms, []*practice.Load{load})
	one := audit.Window{Name: "narrow", Since: load.Started.Day().String(), Until: load.Started.Day().String(), Why: "this load alone, if what went wrong lies in the load"}
	lookbackTally(&one, alone)
	decision := "no decision about it is written"
	if load.Decision != "" {
		decision = "written as " + load.Decision
	}
	r.a.Asked.Words = fmt.Sprintf("load %s, started %s", r.q.ID, load.Started.Words())
	r.says("Load %s, started %s, %s. %s.", r.q.ID, load.Started.Words(), decision, lookbackCapital(r.shows(load)))
	s, state := r.P.Sterilizer(load.Sterilizer)
	if state != practice.One {
		r.says("Which sterilizer ran it cannot be told, so only the load itself can be answered for. If the fault may lie in the sterilizer, the answer is wider; by how much cannot be told from these records.")
		r.missing("Which sterilizer ran the load: look into the log book or on the packs' labels.")
		one.Name = "wide"
		l := audit.Lookback{Windows: []audit.Window{one}, Summary: lookbackSize(one, alone) + "; " + r.whom(one)}
		r.forward(l, lookbackReached{wideReach: alone, narrowReach: alone}, lookbackPlan{load: load, real: true})
		return nil
	}
	r.says("If what went wrong lies in this load alone (a wrong program, packs too close, a cycle cut short), the narrow answer holds; if it may lie in the sterilizer, the wide one.")
	if load.Decision == "rejected" {
		r.says("As a rejected load it should have left no pack for use: look whether one was used all the same.")
	}
	l, w := r.around(s, chain.Event{Load: load})
	if !slices.Contains(w.wide.Loads, load) { // a rejected one
		w.wide.Loads = lookbackByStart(append(slices.Clone(w.wide.Loads), load))
		w.wideReach = chain.ReachOfWindow(r.P, r.terms, w.wide)
		l.Windows[0] = r.window("wide", w.wide, w.wideReach, chain.Event{Load: load})
	}
	l.Windows = []audit.Window{l.Windows[0], one}
	w.narrow = chain.Window{}
	l.Summary = fmt.Sprintf("this load alone: %s; %s", lookbackSize(one, alone), r.whom(one))
	w.narrowReach = alone
	r.sayFailed(s, w.wide, nil)
	r.forward(l, w, lookbackPlan{sterilizer: s, load: load, real: true})
	return nil
}

// lookbackByStart sorts loads by their start.
func lookbackByStart(loads []*practice.Load) []*practice.Load {
	slices.SortStableFunc(loads, func(a, b *practice.Load) int { return cmp.Compare(a.Started.First(), b.Started.First()) })
	return loads
}

func lookbackCapital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}
