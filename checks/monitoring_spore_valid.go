package checks

import (
	"strings"

	"footing/internal/audit"
	"footing/internal/chain"
	"footing/internal/practice"
)

var _ = define(audit.Check{
	ID:    "monitoring/spore-valid",
	Title: "each spore test was read after its time, with a growing control of the same lot, in date",
	Why: "A test says something only if its spores were alive: so spores of the same lot that were not sterilized, the control, are put to grow beside it, and should grow. Read too early, slow growth is missed. " +
		"A passed test that is doubtful may still count under a lenient reading; a failed one is taken as a failure whatever its control did.",
	Grades:  []audit.Grade{audit.Minor},
	Subject: "sterilizers", Thing: "spore test", Things: "spore tests",
	Needs: []string{"tests", "sterilizers"},
	Helps: []string{"tests.control", "tests.control_lot", "tests.lot", "tests.lot_expires_on", "tests.read_at", "tests.read_after", "tests.incubated_at", "tests.reported_on"},
	Fix: []string{
		"Compare the row with the laboratory's report or the strip's label: a lot, a date or a time that was typed wrong explains some of these. Where it does, write the correction as a new row with today's date.",
		"Ask the laboratory what its control did, where it read the test; write the answer with the report.",
		"Repeat the test in the next load, with a control of the same lot, in date, and read it after the time that its maker gives.",
		"Throw away vials and strips that are past their date.",
	},
	Verify: "Later tests have a growing control of the same lot, a lot in date, and a time of reading after that which the maker gives.",
	Run: func(x *audit.Examination) {
		monitoringEach(x, func(subject audit.Subject, _ *practice.Sterilizer) {
			x.Nothing("no spore test of a sterilizer of the practice's own is written")
			for _, t := range monitoringTests(x.P, subject.ID, "spore") {
				monitoringValid(x, subject, t)
			}
		})
		monitoringValidStray(x)
	},
})

// monitoringValidStray tells of tests that leave open which sterilizer they were of.
func monitoringValidStray(x *audit.Examination) {
	for i := range x.P.Tests {
		t := &x.P.Tests[i]
		if t.Type != "spore" {
			continue
		}
		if _, state := x.P.Sterilizer(x.P.EquipmentOf(t)); state != practice.One {
			x.Unclear(audit.Whole, "which sterilizer the spore test was of cannot be told", audit.Field{Kind: "tests", Name: "equipment"})
		}
	}
}

// monitoringValid judges one spore test: what is written against it is a fault; what
// is only not written leaves it open.
func monitoringValid(x *audit.Examination, subject audit.Subject, t *practice.Test) {
	if t.Result != "pass" && t.Result != "fail" {
		x.Unclear(subject, "the spore test has no result typed yet", audit.Field{Kind: "tests", Name: "result"})
		return
	}
	against, lacking := monitoringDoubts(t)
	switch {
	case len(against) > 0:
		x.NotMet(subject, monitoringValidFault(t, against))
	case len(lacking) > 0:
		var missing []audit.Field
		for _, d := range lacking {
			missing = append(missing, audit.Field{Kind: "tests", Name: d.Field})
		}
		x.Unclear(subject, lacking[0].Why, missing...)
	default:
		x.Met(subject)
	}
}

// monitoringDoubts are what speaks against a test and what is not written of it. A
// failed test is put to the same questions, but for the time of its reading: growth
// that shows early is growth.
func monitoringDoubts(t *practice.Test) (against, lacking []chain.Doubt) {
	if t.Result == "pass" {
		a := chain.AssayOf(t)
		return a.Against, a.Lacking
	}
	as := *t
	as.Result = "pass"
	a := chain.AssayOf(&as)
	for _, d := range a.Against {
		if d.Field != "read_at" {
			against = append(against, d)
		}
	}
	return against, a.Lacking
}

func monitoringValidFault(t *practice.Test, against []chain.Doubt) audit.Fault {
	var why []string
	f := audit.Fault{Grade: audit.Minor, Matter: against[0].Field, Day: t.RunAt.Day()}
	if f.Matter == "control" {
		f.Matter += " " + t.Control
	}
	for _, d := range against {
		if t.Result == "fail" && d.Field == "control" && t.Control == "no-growth" {
			d.Why = "its control did not grow, though the test did: the two may have been swapped"
		}
		why = append(why, d.Why)
		f.Evidence = append(f.Evidence, audit.At(&t.Row, d.Field))
	}
	f.Found = "a spore test passed, but " + strings.Join(why, ", and ")
	f.Needed = "a test is to be read after its time, with a growing control of the same lot, in date"
	if t.Result == "fail" {
		f.Matter += " of a failed test"
		f.Found = "a spore test failed, and " + strings.Join(why, ", and ")
		f.Needed = "that does not take the failure away: take it as real until public health, your regulator or the maker tells you otherwise"
	}
	return f
}
