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
			r.testNext(t))
	}
	name, id := lookbackTestNames[t.Type], lookbackSterilizer(s)
	r.a.Asked.Words = fmt.Sprintf("%s %s of %s, run on %s", strings.ToLower(name), r.q.ID, id, lookbackWords(t.RunAt.Day()))
	r.sayTest(t, name, id)
	l, w := r.around(s, chain.Event{Test: t})
	l.Summary = fmt.Sprintf("%s and %s; %s", lookbackDays(w.wide.Days), audit.Plural(len(w.wide.Loads), "load", "loads"), r.whom(l.Windows[0], w.wideReach))
	if w.wide.Unbegun {
		l.Summary = "how far back cannot be told, as nothing of it is written before that day; " + r.whom(l.Windows[0], w.wideReach)
	}
	if unseen := r.unseen(w.wide); unseen != "" {
		l.Summary += "; " + unseen
	}
	failed := r.sayFailed(s, w.wide, t)
	plan := lookbackPlan{sterilizer: s, test: t, real: failed || t.Result == "fail", since: w.wide.Until}
	if open := r.history(s).Open(); open != nil {
		plan.since = chain.Proof{}
		plan.passed, plan.first, plan.few = r.passes(s, open)
	}
	r.forward(l, w, plan)
	return nil
}

// testNext says what to do about a test of which the sterilizer cannot be told.
func (r *lookbackRun) testNext(t *practice.Test) string {
	if t.Type == "ultrasonic" || t.Type == "residue" {
		return "ask with --load for the loads of what went through the cleaner"
	}
	if len(r.P.Sterilizers) == 0 {
		return "type one row into sterilizers (its method will do): a test that names no sterilizer is then taken to be of it; then ask again"
	}
	var may []string
	day := t.RunAt.Day()
	for i := range r.P.Sterilizers {
		s := &r.P.Sterilizers[i]
		gone := s.RetiredOn.Written() && s.RetiredOn < day || s.InstalledOn.Written() && s.InstalledOn > day
		if id := practice.Key(&s.Row); !gone && !slices.Contains(may, id) {
			may = append(may, id)
		}
	}
	if len(may) == 0 {
		return "no sterilizer is written as in use on that day: look at installed_on and retired_on in sterilizers; then ask again"
	}
	return "ask with --sterilizer for each that it may have been of: " + strings.Join(may, ", ") + "; or write into its row which one it was"
}

func (r *lookbackRun) sayTest(t *practice.Test, name, sterilizer string) {
	run := lookbackWords(t.RunAt.Day())
	known := "the day on which that was known is not written, or lies after the day of this look-back"
	if d := chain.Known(t); d.Written() {
		known = "known on " + d.Words()
	}
	switch t.Result {
	case "fail":
		r.says("%s %s, %s: run on %s, failed, %s. Take it as real until public health or the maker tells you otherwise.", name, r.q.ID, sterilizer, run, known)
	case "pass":
		r.says("%s %s, %s: run on %s, and written as passed (%s). What follows answers as if it had failed.", name, r.q.ID, sterilizer, run, known)
	default:
		word := "its result is not written"
		if t.Result == "pending" {
			word = "its result is pending"
		}
		r.says("%s %s, %s: run on %s, and %s. What follows answers as if it had failed; find its result first.", name, r.q.ID, sterilizer, run, word)
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
		l := audit.Lookback{Windows: []audit.Window{one}, Summary: lookbackSize(one, alone) + "; " + r.whom(one, alone)}
		r.forward(l, lookbackReached{wideReach: alone, narrowReach: alone}, lookbackPlan{load: load, real: r.against(load)})
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
	l.Summary = fmt.Sprintf("this load alone: %s; %s", lookbackSize(one, alone), r.whom(one, alone))
	w.narrowReach = alone
	failed := r.sayFailed(s, w.wide, nil)
	r.forward(l, w, lookbackPlan{sterilizer: s, load: load, real: failed || r.against(load)})
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
