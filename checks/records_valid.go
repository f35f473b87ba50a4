package checks

import (
	"fmt"
	"slices"
	"strings"

	"footing/internal/audit"
	"footing/internal/practice"
)

var _ = define(audit.Check{
	ID:    "records/valid",
	Title: "Every row fits its kind, and every value its column",
	Why: "What cannot be read cannot be judged: a value that does not fit counts as not written, and a row without a readable required value is set aside. " +
		"Most of it is spelling: a date in another order, a number without its unit, a word that is not among the choices. Columns that are not known are listed with the files, and are no fault.",
	Grades:  []audit.Grade{audit.Major, audit.Minor},
	Subject: "files",
	Thing:   "cell",
	Things:  "cells",
	Helps:   []string{"practice.dates", "practice.units"},
	Fix: []string{
		"Open the file at the place named and compare it with the original.",
		"If the original says the same thing in other words, write it as the message asks, in the same cell; that changes no record, only its spelling.",
		"If the original cannot be read either, leave the cell empty and say so under note. Do not guess.",
		"Where a whole column lacks its unit, write the unit once into the heading, or once into practice.yaml.",
		"Audit again: what was set aside is judged from then on.",
	},
	Verify: "the list of files shows as many rows accepted as found, and no value dropped",
	Run: func(x *audit.Examination) {
		lost := map[string]int{}
		for _, t := range x.P.Troubles() {
			s := audit.Subject{Kind: "files", ID: t.File}
			f := audit.Fault{Grade: audit.Minor, Matter: recordsMatter(t.Field, t.Cause), Found: recordsSaid(t)}
			if t.None {
				if t.Kind == "practice" { // the only kind without which a folder is no practice
					f.Grade = audit.Major
				}
				f.Needed = "no row of " + t.Kind + " is left, so nothing of that kind was judged"
			}
			for i := range t.Places {
				e := audit.Evidence{Place: &t.Places[i], Kind: t.Kind, Field: t.Field}
				if i < len(t.Values) { // a file that was refused has none
					e.Value = t.Values[i]
				}
				f.Evidence = []audit.Evidence{e}
				x.NotMet(s, f)
				lost[t.File]++
			}
		}
		for _, file := range x.P.Intake.Files {
			cells := 0
			for _, h := range file.Headings {
				if h.Field != "" {
					cells += file.Rows
				}
			}
			for range cells - lost[file.Name] {
				x.Met(audit.Subject{Kind: "files", ID: file.Name})
			}
		}
		if !x.P.Typed("practice") && !x.P.Unread("practice") {
			x.Unclear(audit.Whole, "no practice file is in the folder, so neither its name and regulator nor how dates and units are written is known", audit.Field{Kind: "practice"})
		}
	},
})

// recordsSaid is the sentence about a trouble without the file, which is the
// finding's subject, and without the value where that is private.
func recordsSaid(t practice.Trouble) string {
	if t.Private && len(t.Places) > 0 {
		return strings.Join(recordsWords(fmt.Sprintf("row %d, column %q: what is typed there cannot be read as it must be", t.Places[0].Row, t.Heading), t.Allowed, t.Todo), "; ")
	}
	return strings.TrimLeft(strings.TrimPrefix(t.Sentence, t.File), ":, ")
}

func recordsWords(parts ...string) []string {
	return slices.DeleteFunc(parts, func(s string) bool { return s == "" })
}

// recordsMatter names a fault of a file by its field and cause.
func recordsMatter(field, cause string) string {
	if field == "" {
		return cause
	}
	return field + " " + cause
}
