package checks

import (
	"footing/internal/audit"
	"footing/internal/practice"
)

var _ = define(audit.Check{
	ID:    "people/registered",
	Title: "Each visit was by someone registered that day, or by a student whose supervisor was",
	Why: "Treating without a registration in force can be an offence, and can void the insurance. Only a gap between two typed certificates, time after the last typed one, and a suspension with its own first day count: " +
		"what lies before the first typed certificate, or where a whole certificate may merely not be typed, is not judged. A certificate without a last day counts as in force.",
	Grades:  []audit.Grade{audit.Critical, audit.Observation},
	Subject: "people",
	Thing:   "visit",
	Things:  "visits",
	Needs:   []string{"visits", "credentials"},
	Helps:   []string{"people", "visits.person", "visits.supervisor", "credentials.valid_until"},
	Fix: []string{
		"Look for the renewal first: if it was renewed, add the certificate's row with its first and last day, and audit again. That is the usual cause.",
		"If it was not renewed, or is suspended, stop treating until the registration is in force; move the visits or hand them to someone who is registered.",
		"Talk to an adviser or your insurer before anything is sent; then tell the regulator the dates as they are. The regulator decides what follows.",
		"Keep certificates, letters and visit notes as they are; change and back-date nothing.",
		"From today on, add each renewal on the day it arrives, and put the last day into the calendar six weeks ahead.",
	},
	Verify: "every visit lies between the first and last day of a registration that is typed",
	Run: func(x *audit.Examination) {
		told := map[audit.Subject]bool{}
		lapse := audit.Fault{Grade: audit.Critical, Needed: "a registration in force is needed on the day; if it was renewed, add the certificate's row"}
		peopleEachVisit(x, "registration", "registration", lapse, func(_ *practice.Visit, w peopleView) {
			x.Met(w.subject)
			if !told[w.subject] && peopleRegisteredConditions(x, w) {
				told[w.subject] = true
			}
		})
	},
})

// peopleRegisteredConditions tells of a registration that held under conditions,
// and reports whether it did.
func peopleRegisteredConditions(x *audit.Examination, w peopleView) bool {
	for _, c := range w.held {
		if c.Status != "conditions" {
			return false
		}
	}
	c := w.held[0]
	x.Remark(w.subject, audit.Fault{Matter: "conditions", Found: "the registration in force is written as held under conditions",
		Needed:   "whether the visits kept to them cannot be seen in these records",
		Evidence: []audit.Evidence{audit.At(&c.Row, "status")},
		Steps:    []string{"Read the conditions beside the diary: who must be present, which procedures are left out.", "Write the conditions into the note of the certificate's row.", "Ask the regulator where one of them is not clear."}})
	return true
}
