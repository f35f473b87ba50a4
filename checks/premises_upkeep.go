package checks

import (
	"fmt"
	"slices"

	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/quantity"
)

var _ = define(audit.Check{
	ID:    "premises/upkeep",
	Title: "No load ran past a sterilizer's service, calibration or validation date",
	Why: "A sterilizer drifts: seals leak, sensors read too high. Service keeps it in order, calibration compares its sensors with a known one, validation shows that its cycles do what they should. " +
		"Only what is typed is judged: from each service, calibration or validation to the next date written on it, or, where every row of upkeep is said to be here, to the end of the usual interval.",
	Grades:  []audit.Grade{audit.Major, audit.Minor},
	Subject: "sterilizers",
	Thing:   "service, calibration or validation of a sterilizer",
	Things:  "services, calibrations and validations of sterilizers",
	Needs:   []string{"sterilizers", "upkeep"},
	Helps:   []string{"loads", "upkeep.next_due_on", "upkeep.equipment"},
	Uses:    []string{"premises.upkeep-interval"},
	Fix: []string{
		"Look for the report first: if it was serviced, calibrated or validated since, add the row with its day and the next date, and audit again.",
		"If it was not: call the service firm today, and ask the maker or the firm in writing whether the sterilizer may run until they come. Until they answer, use single-use or contracted instruments, or move the visits.",
		"Look at what else the log shows since that date: spore tests, indicators and the holds of each load. Where one of them failed, or where the firm finds a fault, stop the sterilizer and ask public health and the regulator what it means for clients.",
		"Keep the reports and the log as they are; write no date back.",
		"From today on, copy the next date from each report into upkeep on the day it arrives, and put it into the calendar six weeks ahead.",
	},
	Verify: "a newer row of upkeep with a pass and a next date, before the next load",
	Run: func(x *audit.Examination) {
		p := x.P
		loads := map[string][]*practice.Load{}
		for _, l := range p.LoadsByTime() {
			if l.Sterilizer != "" && l.Decision != "rejected" {
				loads[l.Sterilizer] = append(loads[l.Sterilizer], l)
			}
		}
		lost := premisesLost(p)
		premisesUpkeepDue(x)
		for i := range p.Sterilizers {
			s := &p.Sterilizers[i]
			key := practice.Key(&s.Row)
			u := premisesUpkeep{x: x, s: s, subject: audit.About("sterilizers", &s.Row), all: p.UpkeepOf(key), loads: loads[key], lost: lost}
			if _, state := p.Sterilizer(key); state != practice.One {
				x.Unclear(u.subject, "several rows of sterilizers have one id, so whose upkeep it is cannot be told", audit.Field{Kind: "sterilizers"})
				continue
			}
			u.judge()
		}
	},
})

// premisesUpkeep is one sterilizer with its upkeep and its loads, each by day.
type premisesUpkeep struct {
	x       *audit.Examination
	s       *practice.Sterilizer
	subject audit.Subject
	all     []*practice.Upkeep
	loads   []*practice.Load
	lost    []*practice.Upkeep // rows that name no single piece of equipment
}

func (u *premisesUpkeep) judge() {
	typed := false
	for i, row := range u.all {
		if !premisesTask(row.Task) {
			continue
		}
		typed = true
		next := premisesNext(u.all[i+1:], func(n *practice.Upkeep) bool { return n.Task == row.Task })
		if row.Result == "fail" {
			u.failed(row, next)
			continue
		}
		u.passed(row, next)
	}
	switch {
	case typed:
	case u.s.OperatedBy == "contractor":
		u.x.Pass()
	default:
		u.x.Unclear(u.subject, "no service, calibration or validation of the sterilizer is typed, so not judged", audit.Field{Kind: "upkeep"})
	}
}

// between lists the loads on days after the first and before the last; a last day of 0 is none.
func (u *premisesUpkeep) between(first, last quantity.Day) (in []*practice.Load) {
	for _, l := range u.loads {
		if d := l.Started.Day(); d > first && (!last.Written() || d < last) {
			in = append(in, l)
		}
	}
	return in
}

// failed judges a service, calibration or validation that was not passed: no load
// is to run until a later one, or a repair, is written.
func (u *premisesUpkeep) failed(row, next *practice.Upkeep) {
	mended := premisesNext(u.all, func(n *practice.Upkeep) bool {
		return n.DoneOn >= row.DoneOn && n != row && n.Result != "fail" && (n.Task == "repair" || n.Task == "back-in-use" || n.Task == row.Task)
	})
	if mended == nil || next != nil && next.DoneOn < mended.DoneOn {
		mended = next
	}
	var end quantity.Day
	if mended != nil {
		end = mended.DoneOn
	}
	in := u.between(row.DoneOn, end)
	switch {
	case len(in) == 0:
		u.x.Met(u.subject)
	case mended == nil && u.unseen(row):
	default:
		f := u.fault(row, in, "result", "failed "+row.Task, row.DoneOn)
		f.Found = fmt.Sprintf("%s after the %s of %s was written as failed", premisesLoads(in), row.Task, row.DoneOn.Words())
		f.Needed = "a repair or a passed " + row.Task + " before the next load; if it was put right, add that row"
		u.x.NotMet(u.subject, f)
	}
}

// passed judges the time from one row to its next date: loads after that day and
// before the next row of the same task ran past it.
func (u *premisesUpkeep) passed(row, next *practice.Upkeep) {
	x, asOf := u.x, u.x.P.AsOf
	due, field, written := row.NextDueOn, "next_due_on", true
	c, known := x.Criterion("premises.upkeep-interval", audit.When{"task": row.Task})
	if !due.Written() {
		field, written = "done_on", false
		if known {
			due = row.DoneOn.Add(c.Quantity())
		}
	}
	end := asOf
	if next != nil {
		end = next.DoneOn
	}
	switch {
	case !due.Written() || due < row.DoneOn:
		x.Unclear(u.subject, "the next date of a service, calibration or validation is not written, or lies before the day it was done", audit.Field{Kind: "upkeep", Name: "next_due_on"})
		return
	case end <= due:
		x.Met(u.subject)
		return
	case !written && !x.P.Whole("upkeep", row.DoneOn, end):
		x.Unclear(u.subject, "no next date is written, and the usual interval has passed since a service, calibration or validation; a later one may not be typed", audit.Field{Kind: "upkeep", Name: "next_due_on"})
		return
	}
	if next != nil {
		in := u.between(due, next.DoneOn)
		if len(in) == 0 {
			x.Met(u.subject)
			return
		}
		f := u.fault(row, in, field, row.Task+" late", due)
		f.Grade = audit.Minor
		f.Found = fmt.Sprintf("%s after the %s was due on %s, before it was done on %s", premisesLoads(in), row.Task, due.Words(), next.DoneOn.Words())
		f.Needed = "a " + row.Task + " on or before the day it is due; if one in between was not typed, add its row"
		f.Evidence = append(f.Evidence, audit.At(&next.Row, "done_on"))
		u.x.NotMet(u.subject, f)
		return
	}
	if u.unseen(row) {
		return
	}
	in := u.between(due, 0)
	if len(in) == 0 && u.idle() {
		x.Met(u.subject)
		return
	}
	f := u.fault(row, in, field, row.Task+" overdue", due)
	f.Needed = "a " + row.Task + " on or before the day it is due; if it was done, add its row"
	f.Found = fmt.Sprintf("%s after the %s was due on %s", premisesLoads(in), row.Task, due.Words())
	if len(in) == 0 {
		f.Grade, f.Day = audit.Minor, due
		f.Found = fmt.Sprintf("the %s was due on %s, and no load is written since", row.Task, due.Words())
	}
	if !written {
		f.Criterion = &c
	}
	x.NotMet(u.subject, f)
}

// unseen says Unclear, and true, where a later row may stand for the one that seems to be missing.
func (u *premisesUpkeep) unseen(row *practice.Upkeep) bool {
	later := func(n *practice.Upkeep) bool { return n.DoneOn > row.DoneOn }
	why, field := "", ""
	switch {
	case u.x.P.Unread("upkeep"):
		why = "a row of upkeep could not be read, and may be the one that seems to be missing"
	case slices.ContainsFunc(u.lost, func(n *practice.Upkeep) bool { return later(n) && n.Task == row.Task }):
		why, field = "a later row of upkeep names no sterilizer, or none that is known, and may be the one that seems to be missing", "equipment"
	case row.Task == "calibration" && slices.ContainsFunc(u.all, func(n *practice.Upkeep) bool {
		return later(n) && n.Result != "fail" && (n.Task == "service" || n.Task == "validation")
	}):
		why, field = "a service or validation was done since the calibration, and such visits often hold one; whether it did is not written", "task"
	case u.together(row):
		why, field = "what was done on the same day as the last one has been done again since, and whether that visit held this task too is not written", "task"
	default:
		return false
	}
	u.x.Unclear(u.subject, why, audit.Field{Kind: "upkeep", Name: field})
	return true
}

// together reports whether another task, done on the day of a row, has been done
// again since: firms do several in one visit, and one of them may stand for all.
func (u *premisesUpkeep) together(row *practice.Upkeep) bool {
	return slices.ContainsFunc(u.all, func(n *practice.Upkeep) bool {
		return n.DoneOn == row.DoneOn && premisesTask(n.Task) && n.Task != row.Task && slices.ContainsFunc(u.all, func(again *practice.Upkeep) bool {
			return again.Task == n.Task && again.DoneOn > row.DoneOn && again.Result != "fail"
		})
	})
}

// idle reports whether the sterilizer stands out of use, as written.
func (u *premisesUpkeep) idle() bool {
	out := false
	for _, n := range u.all {
		switch n.Task {
		case "out-of-use":
			out = true
		case "back-in-use":
			out = false
		}
	}
	return out || u.s.RetiredOn.Written()
}

func (u *premisesUpkeep) fault(row *practice.Upkeep, in []*practice.Load, field, matter string, due quantity.Day) audit.Fault {
	f := audit.Fault{Grade: audit.Major, Matter: matter, Evidence: []audit.Evidence{audit.At(&row.Row, field)}}
	for _, l := range in {
		f.Day = l.Started.Day()
		f.Weight = float64(f.Day - due)
		f.Evidence = append(f.Evidence, audit.At(&l.Row, "started"))
	}
	return f
}
