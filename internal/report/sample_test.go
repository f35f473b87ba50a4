package report

import (
	"strings"

	"footing/internal/result"
)

// Two results made by hand, of a place, regulator and sources that do not exist.
// Their sentences are in the manner of the checks; the numbers only have to agree
// with each other.

func base() *result.Result {
	return &result.Result{
		Format: result.Format, Tool: "footing 0.1.0", AsOf: "2026-11-25",
		Purpose:  result.Purpose{Kind: "inspection", On: "2026-11-26"},
		Practice: result.Practice{Name: "Alder Lane Foot Care", Regulator: "Council of Ardley", Jurisdiction: "Ardley", TimeZone: "Europe/Dublin", RenewalOn: "2027-01-06", InspectionOn: "2026-11-26"},
		Period:   result.Period{From: "2026-08-03", Until: "2026-11-24"},
		Grades: map[string]string{
			"critical":    "someone may be harmed, or work may be done without registration: stop the thing named until it is put right",
			"major":       "a duty is not met, or the records cannot show that it is: put it right within days",
			"minor":       "a lapse that does no harm alone: put it right at the next chance",
			"observation": "worth knowing or looking up; no duty is shown to be unmet",
		},
	}
}

func thin() *result.Result {
	r := base()
	r.Intake = []result.File{
		{File: "loads.csv", SHA256: strings.Repeat("1a", 32), Kind: "loads", Encoding: "UTF-8", Delimiter: ",", Rows: 64, Accepted: 64,
			Headings: []result.HeadingPair{{Written: "date", Field: "started"}, {Written: "cycle no", Field: "counter"}, {Written: "hold time", Field: "exposure"}, {Written: "initials", Field: ""}}},
		{File: "practice.yaml", SHA256: strings.Repeat("2b", 32), Kind: "practice", Encoding: "UTF-8", Rows: 1, Accepted: 1},
		{File: "tests.csv", SHA256: strings.Repeat("3c", 32), Kind: "tests", Encoding: "Windows-1252", Delimiter: ";", Rows: 13, Accepted: 13,
			Headings: []result.HeadingPair{{Written: "kind", Field: "kind"}, {Written: "run_at", Field: "run_at"}}},
	}
	r.Conclusion = result.Conclusion{Sentence: "Nothing typed here says stop.", Unseen: "3 of 5 checks could not look, so this is a small part of the picture."}
	r.Counts = result.Counts{Checks: 5, Conforming: 2, NotAssessed: 3, Observation: 1, Rows: 78, Accepted: 78}
	r.Checks = []result.Check{
		{ID: "cycles/exposure", Title: "every released load was held long and hot enough", Why: "Exposure is how long the load was held at temperature.", Thing: "load", Things: "loads", Outcome: result.Conforming,
			Counts: result.CheckCounts{Examined: 64, Conforming: 60, NotAssessed: 4}, Missing: []result.Missing{{Kind: "loads", Field: "temperature", Subjects: 4}},
			Reasons: []result.Reason{{Text: "no temperature is written", Count: 4}}},
		{ID: "clients/screened", Title: "each treated client was screened for allergies before treatment", Thing: "client", Things: "clients", Outcome: result.NotAssessed,
			Reason: "no visits and no screens are typed, so not judged", Missing: []result.Missing{{Kind: "screens"}, {Kind: "visits"}}},
		{ID: "gear/sizes", Title: "every glove size that people need is in stock", Things: "sizes", Outcome: result.NotAssessed,
			Reason: "no stock is typed, so not judged", Missing: []result.Missing{{Kind: "stock"}}},
		{ID: "packs/date", Title: "no pack was opened past its date", Things: "packs", Outcome: result.NotAssessed,
			Reason: "no packs are typed, so not judged", Missing: []result.Missing{{Kind: "packs"}, {Kind: "visits", Field: "packs"}}},
		{ID: "premises/upkeep", Title: "no load ran past a service date", Things: "loads", Outcome: result.Conforming, Counts: result.CheckCounts{Examined: 64, Conforming: 64}},
	}
	r.NextField = &result.NextField{Kind: "visits", Field: "packs", Checks: []string{"packs/date", "clients/screened"},
		Why: "the number from the pouch in each visit note, ten seconds a visit, lets the packs be followed to the load they came from"}
	r.Findings = []result.Finding{{Fingerprint: "5d1e00aa77c2", Check: "cycles/exposure", Grade: result.Observation, Subject: result.Subject{Kind: "sterilizers", ID: "S1"},
		Summary: "64 loads at 134 °C were held 3 min; whether that is enough depends on the rule that holds for you",
		Extent:  result.Extent{N: 64, Of: 64, First: "2026-08-03", Last: "2026-11-24"},
		Verdicts: []result.SetVerdict{{Set: "ardley-2024", Verdict: "not met", Value: "132 °C, 4 min", Source: "ardley", N: 64},
			{Set: "bretton-2019", Verdict: "met", Value: "134 °C, 3 min", Source: "bretton"}},
		Steps: []string{"Look up which rule holds for you, and write its name as rule_set in the practice file.", "Run the audit again."}}}
	r.Sources = []result.Source{{ID: "ardley", Title: "Guide to instruments", Body: "Health Office of Ardley", Year: "2024", Kind: "published", Read: "2026-10-01"}}
	r.Due = []result.Due{{ID: "d1", On: "2026-12-12", Kind: "credentials", Record: "CR-2", What: "first aid of P1", State: "runs out"}}
	return r
}
