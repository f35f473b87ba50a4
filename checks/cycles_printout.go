package checks

import (
	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/quantity"
	"footing/internal/steam"
)

var _ = define(audit.Check{
	ID:    "cycles/printout",
	Title: "each released load has a printout or data-logger file, and each data-logger file has its load",
	Why: "A printout or data-logger file shows what the cycle did without anyone's hand in between. A load with neither rests on what was written by hand; " +
		"a file without a load is a cycle that the log does not have: most often a test, a warm-up or a cycle that was broken off.",
	Grades:  []audit.Grade{audit.Major, audit.Minor, audit.Observation},
	Subject: "sterilizers", Thing: "released load or data-logger file", Things: "released loads and data-logger files",
	Needs: []string{"loads"},
	Helps: []string{"loads.printout", "loads.trace", "loads.certificate", "loads.decision", "sterilizers.logger", "tests", "practice.coverage"},
	Fix: []string{
		"Look where printouts and logger files are kept: a strip glued into the log, a memory stick, the sterilizer's own memory. Where one is found, write it into the load's row with today's date in entered_on.",
		"For a file without a load, look into the log book: what ran then? Type a test under tests, and a cycle that was broken off as a rejected load.",
		"Where the sterilizer prints nothing and has no logger, read temperature, pressure and hold off the display during each cycle and write them into the log.",
		"Ask your regulator whether a log by hand is enough where you practise.",
		"From today on, keep the printout or file of each load with its row.",
	},
	Verify: "Each later load has its printout, its file, or its values read off the display; each later file has its load or test.",
	// Whether a load has a file is known only once the files were looked at; nothing in them is measured.
	Watch: func(*audit.Examination, *practice.Traced) steam.Setting { return steam.Setting{} },
	Run: func(x *audit.Examination) {
		x.Nothing("no load is written but rejected or pending ones, and no data-logger file lacks a load")
		typed := map[string]bool{} // sterilizers of which values are typed with some load
		for _, l := range x.P.LoadsByTime() {
			typed[l.Sterilizer] = typed[l.Sterilizer] || l.Temperature.Written() && l.Exposure.Written()
		}
		for _, l := range x.P.LoadsByTime() {
			if l.Decision == "rejected" || l.Decision == "pending" {
				x.Pass()
				continue
			}
			cyclesPrintoutOf(x, l, typed[l.Sterilizer])
		}
		for _, t := range x.P.Traces() {
			if t.Load == nil && !t.OfTest && !t.After {
				cyclesPrintoutStray(x, t)
			}
		}
	},
})

// cyclesPrintoutOf judges one load.
func cyclesPrintoutOf(x *audit.Examination, l *practice.Load, typed bool) {
	subject := cyclesSubject(l)
	s, _ := x.P.Sterilizer(l.Sterilizer)
	switch {
	case l.Printout == quantity.IsYes || l.Trace != "" || l.Certificate != "" || len(x.P.TracesOf(l)) > 0:
		x.Met(subject)
	case l.Printout != quantity.IsNo && s != nil && s.OperatedBy == "contractor":
		x.Unclear(subject, "neither the values nor the contractor's certificate of the load are written", audit.Field{Kind: "loads", Name: "certificate"})
	case l.Printout != quantity.IsNo:
		x.Unclear(subject, "whether the load has a printout is not written", audit.Field{Kind: "loads", Name: "printout"})
	case s != nil && s.Logger == quantity.IsYes:
		x.Unclear(subject, "the load has no printout, and the files of the sterilizer's data logger are not all in the folder", audit.Field{Kind: "traces"})
	case l.Decision == "":
		x.Unclear(subject, "no release is written, so whether the load was used cannot be told", audit.Field{Kind: "loads", Name: "decision"})
	default:
		x.NotMet(subject, cyclesPrintoutNone(l, typed))
	}
}

// cyclesPrintoutNone is the fault of a load written as without a printout, for which
// no file is found. Values that were read off the display and written down are a record
// of the cycle, if a weaker one; where none is typed with any load of its sterilizer,
// the log may hold them all the same.
func cyclesPrintoutNone(l *practice.Load, typed bool) audit.Fault {
	f := audit.Fault{Grade: audit.Minor, Matter: "by hand", Day: l.Started.Day(), Evidence: []audit.Evidence{audit.At(&l.Row, "printout")},
		Found:  "released with no printout, as written, and no data-logger file found; temperature and hold are written by hand",
		Needed: "a printout or logger file shows the cycle without a hand in between; a sterilizer that prints nothing explains it, and whether a log by hand is enough is your regulator's to say"}
	switch {
	case l.Temperature.Written() && l.Exposure.Written():
	case typed:
		f.Grade, f.Matter = audit.Major, "none"
		f.Found = "released with no printout, as written, with no data-logger file found, and with its temperature or hold not written either"
		f.Needed = "each load has a record of what its cycle did: a printout, a logger file, or at least the values read off the display"
	default:
		f.Matter = "not typed"
		f.Found = "released with no printout, as written, and no data-logger file found; temperature and hold are not typed with any load of the sterilizer"
		f.Needed = "each load has a record of what its cycle did; values in the log book that are not typed would explain it: type them"
	}
	return f
}

// cyclesPrintoutStray tells of a file that belongs to no load and no test.
func cyclesPrintoutStray(x *audit.Examination, t *practice.Traced) {
	subject, day := tracesSubject(t), tracesDay(t)
	if t.Unread != "" || t.Unusable != "" {
		x.Unclear(subject, "the data-logger file cannot be judged: see traces/readable")
		return
	}
	f := audit.Fault{Grade: audit.Minor, Matter: "no load", Day: day, Evidence: []audit.Evidence{audit.InTrace(t, 0, t.Start.Words())},
		Found:  "a data-logger file has no load in the log, and no test",
		Needed: "each cycle is written; a warm-up, a cycle that was broken off, or a logger's clock that was wrong would explain it"}
	if t.Why != "" {
		f.Evidence[0].Note = t.Why
	}
	switch {
	case cyclesPrintoutMay(x.P, t, day):
		x.Unclear(subject, "of which cycle of its day the data-logger file is cannot be told", audit.Field{Kind: "loads", Name: "trace"})
	case day.Written() && x.P.Whole("loads", day, day) && x.P.Whole("tests", day, day):
		x.NotMet(subject, f)
	default:
		x.Unclear(subject, "the data-logger file has no load and no test, and not every one is said to be typed", audit.Field{Kind: "loads"})
		f.Matter, f.Steps = "no load typed", tracesStray
		x.Remark(subject, f)
	}
}

// cyclesPrintoutMay reports whether some load or test of that day may be that of the
// file, though it was not found to be.
func cyclesPrintoutMay(p *practice.Practice, t *practice.Traced, day quantity.Day) bool {
	key := ""
	if t.Sterilizer != nil {
		key = practice.Key(&t.Sterilizer.Row)
	}
	for _, l := range p.LoadsByTime() {
		if l.Started.Day() == day && len(p.TracesOf(l)) == 0 && (key == "" || l.Sterilizer == "" || l.Sterilizer == key) {
			return true
		}
	}
	for i := range p.Tests {
		if o := p.EquipmentOf(&p.Tests[i]); p.Tests[i].RunAt.Day() == day && p.Tests[i].Load == "" && (key == "" || o == "" || o == key) {
			return true
		}
	}
	return false
}
