package checks

import (
	"fmt"
	"slices"
	"strings"

	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/quantity"
)

var _ = define(audit.Check{
	ID:    "records/references",
	Title: "Ids that are named exist and are not repeated; nothing was typed before it happened, and nothing ends before it starts",
	Why: "Records can be followed from one to the next only where the id in one row leads to exactly one other. A wrong day moves a load out of its week, and a test away from its interval. " +
		"Slips of the keyboard explain nearly all of this. An id without its row counts only where all rows of its kind are said to be in the folder. Rows dated after the audit day are counted with the files and not judged: with an earlier audit day they are as they should be.",
	Grades:  []audit.Grade{audit.Minor},
	Subject: "files",
	Thing:   "id or date",
	Things:  "ids and dates",
	Helps:   []string{"loads.entered_on", "visits.entered_on"},
	Fix: []string{
		"Look up the place in the original: a letter or digit typed wrong is the usual cause.",
		"If the row that is named was never typed, add it as the original has it.",
		"If two rows have one id, give each its own; where one corrects the other, give it a new id and write the old one under corrects.",
		"Put a wrong day right by a new row with corrects, so that both can be seen; change nothing in the original, and date no entry back.",
	},
	Verify: "every id named leads to one row, and no day lies before the one it follows",
	Run: func(x *audit.Examination) {
		named, days := map[string]int{}, recordsReferencesDays(x.P)
		for j := range x.P.EachRow {
			file := j.Row.File()
			if j.Named > 0 {
				named[file] += j.Named
			}
			recordsReferencesRow(x, j)
			if at := days[file]; at != nil && j.On.Written() {
				if _, wanted := at[j.Row.Number()]; wanted {
					at[j.Row.Number()] = j.On
				}
			}
		}
		booked := recordsReferencesBooked(x.P)
		for i := range x.P.Dangling {
			d := &x.P.Dangling[i]
			named[d.Row.File()]--
			recordsReferencesDangling(x, d, days[d.Row.File()][d.Row.Number()])
		}
		for _, f := range x.P.Intake.Files {
			x.MetAll(recordsFile(f.Name), named[f.Name])
		}
		for s := range x.P.EachSpan {
			if s.Row.Kind() != "visits" || !booked[practice.Key(s.Row)] {
				recordsReferencesSpan(x, s)
			}
		}
		if x.Silent() {
			x.Nothing("no row names another, has an id or has two days to compare")
			return
		}
		if len(x.P.Later) > 0 {
			later := 0
			for _, f := range x.P.Intake.Files {
				later += x.P.Later[f.Name]
			}
			x.Figure("rows dated after the audit day, which were not judged", float64(later), "rows")
		}
	},
})

func recordsFile(name string) audit.Subject { return audit.Subject{Kind: "files", ID: name} }

// recordsReferencesRow judges a row's own id, and whether it was typed before the
// day it tells of. What may be typed ahead, such as a first day of work, is left out.
func recordsReferencesRow(x *audit.Examination, j practice.Judged) {
	s := recordsFile(j.Row.File())
	switch {
	case j.Row.ID == "":
	case j.Shared:
		x.NotMet(s, audit.Fault{Grade: audit.Minor, Matter: "repeated id", Day: j.On, Found: "rows share an id, so what refers to it could mean either",
			Needed: "each row needs an id of its own; a row that corrects another has its own and names the other under corrects", Evidence: []audit.Evidence{audit.At(j.Row, "id")},
			Steps: []string{
				"Look whether one row is there twice, in one file or in two: if so, take the copy out of the folder.",
				"If they are two things, give each an id of its own, and write the right one where they are named.",
				"If one corrects the other, give it a new id and write the old one under corrects.",
			}})
	default:
		x.Met(s)
	}
	if j.When == "" || !j.On.Written() || !j.EnteredOn.Written() || slices.Contains([]string{"people", "sites", "sterilizers", "equipment", "visits"}, j.Row.Kind()) {
		return
	}
	if j.On <= j.EnteredOn {
		x.Met(s)
		return
	}
	x.NotMet(s, audit.Fault{Grade: audit.Minor, Matter: "ahead", Day: j.On, Weight: float64(j.On - j.EnteredOn),
		Found:    fmt.Sprintf("%s is %s, but the row was typed on %s, before that day", j.When, j.On.Words(), j.EnteredOn.Words()),
		Needed:   "the day should be on or before the one on which it was typed; a slip in day, month or year explains most",
		Evidence: []audit.Evidence{audit.At(j.Row, j.When), audit.At(j.Row, "entered_on")}})
}

// recordsReferencesDays has a place for the day of each row with an id that leads
// nowhere; it stays 0 where the row has none.
func recordsReferencesDays(p *practice.Practice) map[string]map[int]quantity.Day {
	days := map[string]map[int]quantity.Day{}
	for i := range p.Dangling {
		r := p.Dangling[i].Row
		if days[r.File()] == nil {
			days[r.File()] = map[int]quantity.Day{}
		}
		days[r.File()][r.Number()] = 0
	}
	return days
}

// recordsReferencesDangling judges one id, in a row of that day, that leads to no
// single row. That the row it names is missing says something only where all rows
// of its kind are said to be here.
func recordsReferencesDangling(x *audit.Examination, d *practice.Dangling, day quantity.Day) {
	s := recordsFile(d.Row.File())
	undated := !day.Written()
	if undated {
		day = x.P.AsOf
	}
	switch {
	case d.State == practice.Shared:
		x.Unclear(s, "an id is named that several rows have, so it cannot be told which is meant", audit.Field{Kind: d.Target, Name: "id"})
		return
	case d.State == practice.SetAside:
		x.Unclear(s, "an id is named that may stand on a row that could not be read", audit.Field{Kind: d.Kinds[0]})
		return
	case !slices.ContainsFunc(d.Kinds, x.P.Typed):
		x.Unclear(s, "an id is named, and no rows of the kind it belongs to are typed", audit.Field{Kind: d.Kinds[0]})
		return
	case undated && slices.ContainsFunc(d.Kinds, practice.Dated):
		x.Unclear(s, "an id is named that no typed row has, by a row without a day: what it names may lie before the records", audit.Field{Kind: d.Kinds[0]})
		return
	case slices.ContainsFunc(d.Kinds, func(kind string) bool { return !x.P.Whole(kind, day, day) }):
		x.Unclear(s, "an id is named that no typed row has: a slip, or a row that is not typed", audit.Field{Kind: d.Kinds[0]})
		return
	}
	x.NotMet(s, audit.Fault{Grade: audit.Minor, Matter: d.Field,
		Found:    fmt.Sprintf("%s names an id that no row of %s has", d.Field, strings.Join(d.Kinds, " or ")),
		Needed:   "an id should stand on one row; if that row was not typed yet, add it",
		Evidence: []audit.Evidence{audit.At(d.Row, d.Field, "names "+d.ID)}})
}

func recordsReferencesSpan(x *audit.Examination, p practice.Span) {
	s := recordsFile(p.Row.File())
	switch p.Backwards {
	case quantity.No:
		x.Met(s)
	case quantity.Unsure:
		x.Unclear(s, "which came first of two times on one day hangs on an hour that is not written", audit.Field{Kind: p.Row.Kind(), Name: p.To})
	default:
		x.NotMet(s, audit.Fault{Grade: audit.Minor, Matter: p.To + " before " + p.From, Day: p.Began, Weight: float64(p.Began - p.Ended),
			Found:    fmt.Sprintf("%s, %s, lies before %s, %s", p.To, p.Row.Text(p.To), p.From, p.Row.Text(p.From)),
			Needed:   "the end should be on or after the start; a slip in day, month or year explains most",
			Evidence: []audit.Evidence{audit.At(p.Row, p.From), audit.At(p.Row, p.To)}})
	}
}

// recordsReferencesBooked lists the visits that did not take place: their times were only planned.
func recordsReferencesBooked(p *practice.Practice) map[string]bool {
	booked := map[string]bool{}
	for i := range p.Visits {
		if v := &p.Visits[i]; !v.Done() {
			booked[practice.Key(&v.Row)] = true
		}
	}
	return booked
}
