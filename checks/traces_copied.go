package checks

import (
	"slices"

	"footing/internal/audit"
	"footing/internal/practice"
)

var _ = define(audit.Check{
	ID:    "traces/copied",
	Title: "no two data-logger files show the same cycle",
	Why: "Two cycles never run alike to the last digit: the small ups and downs of temperature and pressure are a cycle's own. Where two files share them, whatever their clocks and headings say, both come from one cycle. " +
		"Most often a file was exported twice or saved under a second name; what matters is that each load is proven by its own.",
	Grades:  []audit.Grade{audit.Observation},
	Subject: "sterilizers", Thing: "data-logger file", Things: "data-logger files",
	Needs: []string{"traces"},
	Helps: []string{"loads", "loads.trace", "loads.counter"},
	Uses:  []string{"traces.copied"},
	Fix: []string{
		"Look in the logger or the sterilizer for the cycles themselves: which one is each file of?",
		"Where one was exported twice, note beside the load which file is its own, and export the missing cycle, if it is still stored.",
		"Change, rename or delete none of the files; correct the load's row (trace) with a new row of today's date.",
		"Where a load is left without a file of its own, say so in its note, and rest on its printout and indicators.",
	},
	Verify: "Each load names a data-logger file of its own.",
	Run:    tracesCopiedRun,
})

func tracesCopiedRun(x *audit.Examination) {
	c, ok := x.Criterion("traces.copied", nil)
	if !ok {
		x.Nothing("no rule says how much two data-logger files may share")
		return
	}
	clusters := tracesCopiedClusters(x.P.CopiedTraces(c.Number()))
	told := 0
	for _, t := range x.P.Traces() {
		if t.Unread == "" && t.Unusable == "" {
			told++
		}
	}
	for _, t := range x.P.Traces() {
		subject := tracesSubject(t)
		switch cluster := clusters[t]; {
		case t.Unread != "" || t.Unusable != "":
			x.Unclear(subject, "the data-logger file cannot be judged: see traces/readable")
		case cluster != nil:
			f := tracesCopiedFault(t, cluster)
			f.Criterion = &c
			x.NotMet(subject, f)
		case told == 1:
			x.Unclear(subject, "there is no other data-logger file to compare it with")
		case !t.Distinct():
			x.Unclear(subject, "its readings move too little, or are shown too coarsely, to be told from those of another cycle")
		case !t.Sketch.Telling():
			x.Unclear(subject, "no other file has the very same readings; whether one has nearly the same cannot be told from so few")
		default:
			x.Met(subject)
		}
	}
}

// tracesCopiedCluster is files that show one cycle, in the order in which pairs name them.
type tracesCopiedCluster struct {
	files []*practice.Traced
	same  bool // in every reading
}

// tracesCopiedClusters joins pairs that have a file in common.
func tracesCopiedClusters(pairs []practice.Copied) map[*practice.Traced]*tracesCopiedCluster {
	of := map[*practice.Traced]*tracesCopiedCluster{}
	at := func(t *practice.Traced) *tracesCopiedCluster {
		if of[t] == nil {
			of[t] = &tracesCopiedCluster{files: []*practice.Traced{t}, same: true}
		}
		return of[t]
	}
	for _, p := range pairs {
		a, b := at(p.A), at(p.B)
		a.same = a.same && b.same && p.Same
		if a == b {
			continue
		}
		a.files = append(a.files, b.files...)
		for _, t := range b.files {
			of[t] = a
		}
	}
	return of
}

// tracesCopiedFault tells of one file that shows the same cycle as others.
func tracesCopiedFault(t *practice.Traced, cluster *tracesCopiedCluster) audit.Fault {
	f := audit.Fault{Grade: audit.Observation, Matter: "exported twice", Day: tracesDay(t),
		Found:  "one cycle stands in several data-logger files",
		Needed: "an export that was done twice explains it, and nothing is wrong with the load",
		Steps:  []string{"Look whether the files are of one cycle: if so, note it beside the load, and leave the files as they are."}}
	shared := "the same readings"
	if !cluster.same {
		shared = "nearly the same readings"
	}
	with := cluster.files[0]
	if with == t {
		with = cluster.files[1]
	}
	if i := slices.IndexFunc(cluster.files, func(other *practice.Traced) bool { return !tracesCopiedOne(t, other) }); i >= 0 {
		with = cluster.files[i]
		f.Matter, f.Steps = "two cycles", nil
		f.Found = "data-logger files kept for different cycles show " + shared
		f.Needed = "a file exported twice, or saved under a second name, would explain it; then one of the cycles has no file of its own here"
	}
	f.Evidence = []audit.Evidence{audit.InTrace(t, 0, shared+" as "+with.Name)}
	return f
}

// tracesCopiedOne reports whether two files are of one cycle, as written: of one
// load, or with one counter or one start.
func tracesCopiedOne(a, b *practice.Traced) bool {
	if a == b || a.Load != nil && b.Load != nil {
		return a.Load == b.Load
	}
	return a.Counter >= 0 && a.Counter == b.Counter || a.Start.Written() && a.Start == b.Start
}
