package report

import (
	"fmt"

	"footing/internal/result"
)

// full has every outcome, every grade, and each list filled.
func full() *result.Result {
	r := base()
	r.Purpose = result.Purpose{Kind: "renewal", On: "2027-01-06", Complaint: "K-7"}
	r.RuleSet = "ardley-2024"
	r.Contacts = map[string]string{"public_health": "555 0100", "insurer": "555 0111"}
	r.Rules = []result.Rule{
		{Criterion: "packs.shelf", When: "pouch", Ours: "while intact", Theirs: "180 d", Source: "ardley", Note: "letter of 3 May"},
		{Criterion: "spore.interval", Ours: "7 d", Theirs: "30 d", Source: "Ardley by-law 12", Looser: true}}
	r.Accepted = []result.Accepted{{Finding: "0a1b2c3d4e5f", Reason: "a new gown order is on its way", By: "Ada Vale", Until: "2026-12-31", State: "in force"},
		{Finding: "ffffffffffff", Reason: "old", By: "P1", Until: "2026-01-31", State: "matches no finding"}}
	r.Sources = []result.Source{
		{ID: "ardley", Title: "Guide to instruments", Body: "Health Office of Ardley", Edition: "2nd edition", Year: "2024", Kind: "published", Read: "2026-10-01"},
		{ID: "bretton", Title: "Steam tables", Body: "Bretton Institute", Year: "2019", Kind: "published"},
		{ID: "custom", Title: "Custom of the trade", Kind: "common practice"}}
	r.Intake = thin().Intake
	r.Intake[0].SetAside, r.Intake[0].Rows, r.Intake[0].Later, r.Intake[0].Corrected = 2, 66, 1, 3
	r.NotRead = []result.NotRead{{File: "notes.docx", Why: "a file of this kind holds no records"}}
	r.Traces = loggerFiles()
	r.Conclusion = result.Conclusion{Stop: true, Sentence: "Something typed here says stop: sterilizer S1.", Unseen: "1 of 9 checks could not look.", Stops: []string{"aaaaaaaaaaaa"}}
	r.Headline = []string{"If sterilizer S1 failed tonight, these records narrow the question to 9 days and 6 loads."}
	r.Counts = result.Counts{Checks: 9, Conforming: 1, Nonconforming: 5, NotAssessed: 1, NotApplicable: 1, Broken: 1, Critical: 1, Major: 3, Minor: 2, Observation: 1, Rows: 80, Accepted: 78, SetAside: 2, Later: 1}
	r.Checks = fullChecks()
	r.NextField = thin().NextField
	r.Findings = fullFindings()
	low, high := 2.5, 3.5
	r.Figures = []result.Figure{{Check: "cycles/exposure", Name: "shortest hold", Value: 3, Unit: "min", Low: &low, High: &high}, {Check: "packs/date", Name: "packs on the shelf", Value: 88}}
	r.Exhibits = []result.Exhibit{{ID: "look-back", Kind: "table", Check: "packs/date", Title: "Packs by site", Columns: []string{"Site", "Packs"}, Rows: [][]string{{"clinic", "63"}, {"car bag", "25"}}}}
	r.Exhibits, r.Undrawn = append(r.Exhibits, drawnSample(4)...), 1
	r.Due = []result.Due{{ID: "d0", On: "2026-11-01", Kind: "policies", Record: "PO-3", What: "review of the exposure policy", State: "overdue"},
		{ID: "d1", On: "2026-12-12", Kind: "credentials", Record: "CR-2", What: "first aid of P1", State: "runs out"},
		{ID: "d2", On: "2027-03-02", Kind: "upkeep", Record: "U-9", What: "service of sterilizer S1", State: "runs out"}}
	r.Declarations = []result.Declaration{{Text: "I hold cover", Rests: []string{"credentials"}, State: "supported from 1 Jan to 31 Dec 2026", Level: result.Supported}}
	r.Gear = []result.Gear{
		{Item: "gloves", Site: "car bag", Size: "M", People: []string{"P1"}, LatexFree: true, Left: result.GearLeft, Free: result.GearUntold, Boxes: 2, Counted: "2026-11-20"},
		{Item: "gloves", Site: "clinic", Size: "S", People: []string{"Ada Vale", "P2"}, Left: result.GearGone, Counted: "2026-11-24"},
		{Item: "gown", Site: "clinic", Size: "L", Left: result.GearUntold, Why: "no row of stock there speaks of gowns of that size"}}
	linkedSample(r)
	return r
}

func fullChecks() []result.Check {
	return []result.Check{
		{ID: "clients/screened", Title: "each treated client was screened for allergies before treatment", Thing: "client", Things: "clients", Outcome: result.NotAssessed,
			Reason: "no screens are typed, so not judged", Missing: []result.Missing{{Kind: "screens", Subjects: 220}}},
		{ID: "cycles/exposure", Title: "every released load was held long and hot enough", Why: "Exposure is how long the load was held at temperature. Too short a hold may leave spores alive.",
			Thing: "load", Things: "loads", Outcome: result.Nonconforming, Counts: result.CheckCounts{Examined: 64, Conforming: 28, Nonconforming: 32, NotAssessed: 4},
			Reasons: []result.Reason{{Text: "no temperature is written", Count: 4}}, Missing: []result.Missing{{Kind: "loads", Field: "temperature", Subjects: 4}}},
		{ID: "gear/dated", Title: "no expired protective gear is in stock", Thing: "item", Things: "items", Outcome: result.Nonconforming, Counts: result.CheckCounts{Examined: 9, Conforming: 8, Nonconforming: 1}},
		{ID: "packs/date", Title: "no pack was opened past its date", Thing: "pack", Things: "packs", Outcome: result.Conforming, Counts: result.CheckCounts{Examined: 88, Conforming: 88}},
		{ID: "people/registered", Title: "each visit was by someone registered that day", Thing: "visit", Things: "visits", Outcome: result.Nonconforming, Counts: result.CheckCounts{Examined: 31, Conforming: 29, Nonconforming: 2}},
		{ID: "soaks/time", Title: "soaks lasted their label time", Outcome: result.NotApplicable, Reason: "no soak is used here"},
		{ID: "traces/copied", Title: "no two data-logger files are the same", Outcome: result.Broken, Reason: "it stopped with an error of its own"},
		{ID: "traces/hold", Title: "each data-logger file shows the hold", Thing: "file", Things: "files", Outcome: result.Nonconforming, Counts: result.CheckCounts{Examined: 11, Conforming: 10, Nonconforming: 1}},
		{ID: "traces/saturation", Title: "pressure and temperature of the hold are those of saturated steam", Thing: "file", Things: "files", Outcome: result.Nonconforming, Counts: result.CheckCounts{Examined: 11, Conforming: 9, Nonconforming: 2}},
	}
}

func fullFindings() []result.Finding {
	var many []result.Evidence
	for i := range 32 {
		many = append(many, result.Evidence{Kind: "loads", ID: fmt.Sprint(398 + i), Field: "exposure", Heading: "hold time", Value: "3 min", File: "loads.csv", Row: 12 + i, Line: 13 + i, Column: 31, EndColumn: 36})
	}
	many[0].Note = "used at the visit of 4 Nov 2026"
	return []result.Finding{
		{Fingerprint: "aaaaaaaaaaaa", Check: "cycles/exposure", Grade: result.Critical, Subject: result.Subject{Kind: "sterilizers", ID: "S1"},
			Summary: "wrapped loads at 121 °C were held 3 min; 30 min is needed", Extent: result.Extent{N: 32, Of: 60, First: "2026-09-01", Last: "2026-11-24"}, FirstSeen: "2026-09-02",
			Criterion: &result.Criterion{ID: "steam.exposure", When: "wrapped, gravity", Value: "30", Unit: "min", Set: "ardley-2024", Source: "ardley", Section: "table 7", Known: "read", Level: "must", Text: "hold a wrapped load at 121 °C for 30 min"},
			Evidence:  many,
			Steps:     []string{"Stop using packs from these 32 loads; set them aside, unopened.", "Look at the printouts first: 3 min may be the drying or a slip of the pen.", "If the printouts say the same, ask public health and your regulator today."},
			Verify:    "the next load is written with its hold, and its printout says the same"},
		{Fingerprint: "bbbbbbbbbbbb", Check: "people/registered", Grade: result.Major, Subject: result.Subject{Kind: "people", ID: "Ada Vale"},
			Summary: "visits lie between two certificates; each day of treatment needs one in force", Extent: result.Extent{N: 2, Of: 31, First: "2026-10-03", Last: "2026-10-04"},
			Criterion: &result.Criterion{ID: "people.registration", Value: "in force", Source: "nowhere", Known: "memory", Level: "should"},
			Evidence: []result.Evidence{
				{Kind: "visits", ID: "V-88", Field: "person", Heading: "who", Value: "Ada Vale", File: "visits.xlsx", Sheet: "visits", Cell: "C9", Row: 8},
				{Kind: "histories", ID: "H-2", Field: "diabetes", Value: "yes", Private: true, File: "histories/2026.yaml", Row: 2, Line: 18, Column: 13}},
			Steps: []string{"If the registration was renewed in time, add the certificate's row.", "If not, speak to your insurer before anything is sent."}},
		{Fingerprint: "dd0000000001", Check: "traces/hold", Grade: result.Major, Subject: result.Subject{Kind: "sterilizers", ID: "S1"},
			Summary: "held 3 min 8 s to 3 min 16 s at 134 °C; 4 min is needed", Extent: result.Extent{N: 1, Of: 11, First: "2026-11-08", Last: "2026-11-08"},
			Evidence: []result.Evidence{{Kind: "traces", ID: "c401.csv", File: "traces/c401.csv", Line: 367, Value: "held 3 min 8 s to 3 min 16 s"}},
			Steps:    []string{"Set the packs of this load aside, unopened, and look at the sterilizer's own printout."}},
		{Fingerprint: "dd0000000002", Check: "traces/saturation", Grade: result.Major, Subject: result.Subject{Kind: "sterilizers", ID: "S1"},
			Summary: "the pressure was that of steam 4 K hotter than was measured; at most 2 K apart is asked for", Extent: result.Extent{N: 2, Of: 11, First: "2026-11-07", Last: "2026-11-09"},
			Evidence: []result.Evidence{{Kind: "traces", File: "traces/c400.csv", Line: 412, Value: "4 K above"}, {Kind: "traces", File: "traces/c402.csv", Value: "2.4 K above"}},
			Steps:    []string{"Have the sensors compared with a calibrated one before the next load."}},
		{Fingerprint: "0a1b2c3d4e5f", Check: "gear/dated", Grade: result.Minor, Subject: result.Subject{Kind: "sites", ID: "Main Clinic"},
			Summary: "gowns past their date are counted in stock; none past its date is to be kept", Extent: result.Extent{N: 1, Of: 9}, Accepted: true,
			Evidence: []result.Evidence{{Kind: "stock", Field: "expires_on", Heading: "expiry", Value: "2026-10-31", File: "stock.csv", Row: 4, Line: 5, Column: 22}},
			Steps:    []string{"Take the gowns out of stock."}},
		{Fingerprint: "cccccccccccc", Check: "gear/dated", Grade: result.Minor, Subject: result.Subject{Kind: "practice"},
			Summary: "no row is dated; a date is needed on each", Steps: []string{"Write the date from the box when you next count."}},
		thin().Findings[0],
	}
}
