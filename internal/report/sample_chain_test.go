package report

import (
	"time"

	"footing/internal/result"
)

// linkedSample adds to a result what checks that follow chains add.
func linkedSample(r *result.Result) {
	r.Lookback = []result.Lookback{
		{Kind: "sterilizers", ID: "S1", Sterilizer: "S1", Bounded: true, Summary: "if the sterilizer failed tonight, these records narrow the question to 9 days, 6 loads, up to 31 visits and 27 clients",
			Windows: twoWindows(), Narrowing: []result.Narrowing{{What: "the control's result of the spore test run on 17 Nov 2026", Days: 8, Loads: 5, Visits: 20, Clients: 18}}},
		{Kind: "sterilizers", ID: "Old One", Sterilizer: "Old One", Summary: "if the sterilizer failed tonight, these records cannot bound it: the look-back runs to the first record of it, and every client since (120 loads)",
			Windows: []result.Window{{Name: result.Wide, Until: "2026-11-25", Why: "no evidence that it worked is written", Days: -1, Loads: 120, Unnumbered: 400, MostVisits: 210, MostClients: 96}}}}
	r.Trail = &result.Trail{Seed: 7, Of: 412, Drawn: make([]string, 20), Judged: 20, Followed: 17, Level: 95, Low: 62.107, High: 96.793, Weakest: "pack",
		Links: []result.TrailLink{{Name: "pack", Found: 17, Missing: 3}, {Name: "allergy screen", Found: 12, Missing: 0, None: 8}, {Name: "consent", Unkept: 20}}}
	r.Days, r.Gaps = yearOfDays("S1", r.AsOf, 400)
	r.Months = []result.Month{{Month: "2026-10", Sterilizer: "S1", Loads: 21, Exposure: 21, Indicators: 20, Release: 21, Spore: "yes", Missing: "1 load without its indicators"},
		{Month: "2026-11", Sterilizer: "S1", Loads: 18, Exposure: 18, Indicators: 18, Release: 18, Spore: "not told"}}
}

func twoWindows() []result.Window {
	proof := result.Evidence{Kind: "tests", ID: "T-38", Field: "read_at", File: "tests.csv", Row: 12, Line: 13}
	return []result.Window{
		{Name: result.Wide, Since: "2026-10-06", Until: "2026-11-12", Why: "a passed spore test with a growing control of the same lot, in date", Proof: []result.Evidence{proof},
			Days: 37, Loads: 23, Packs: 63, Unnumbered: 25, OnShelf: 12, Unwritten: 25, Visits: 3, Clients: 3, MostVisits: 74, MostClients: 58},
		{Name: result.Narrow, Since: "2026-10-27", Until: "2026-11-12", Why: "a passed spore test with no control written", Proof: []result.Evidence{proof},
			Days: 16, Loads: 9, Packs: 30, OnShelf: 12, Unwritten: 10, Visits: 3, Clients: 3, MostVisits: 31, MostClients: 27}}
}

// yearOfDays is n days up to and with asOf: loads on working days, a spore test each
// Tuesday but two, each kind of result, and the gap that the two leave.
func yearOfDays(sterilizer, asOf string, n int) (days []result.Day, gaps []result.Gap) {
	last, _ := time.Parse(time.DateOnly, asOf)
	for i := n - 1; i >= 0; i-- {
		on := last.AddDate(0, 0, -i)
		if on.Weekday() == time.Saturday || on.Weekday() == time.Sunday {
			continue
		}
		d := result.Day{On: on.Format(time.DateOnly), Sterilizer: sterilizer, Loads: 1 + on.Day()%3, AirRemoval: "pass"}
		switch {
		case i == 15 || i == 16:
			d.Loads, d.Rejected = 0, 2
		case i == 30:
			d.Loads = 12
		case i == 40:
			d.AirRemoval = "no result"
		case i == 41:
			d.AirRemoval = "fail"
		}
		if on.Weekday() == time.Monday {
			d.Leak = "pass"
		}
		if on.Weekday() == time.Tuesday && i/7 != 5 && i/7 != 6 {
			d.Spore = "pass"
			switch i / 7 {
			case 0:
				d.Spore = "pending"
			case 3:
				d.Spore = "fail"
			}
		}
		days = append(days, d)
	}
	return days, []result.Gap{{Sterilizer: sterilizer, Test: "spore", From: last.AddDate(0, 0, -49).Format(time.DateOnly), Until: last.AddDate(0, 0, -30).Format(time.DateOnly), Days: 20},
		{Sterilizer: sterilizer, Test: "leak", From: last.AddDate(0, 0, -90).Format(time.DateOnly), Until: last.AddDate(0, 0, -40).Format(time.DateOnly), Days: 51},
		{Sterilizer: sterilizer, Test: "air-removal", From: last.AddDate(0, 0, -60).Format(time.DateOnly), Until: last.AddDate(0, 0, -55).Format(time.DateOnly), Days: 6}}
}

// answer is a look-back of a failed spore test, by the fourth occasion of the voice.
func answer() *result.Answer {
	at := func(kind, id string, row int) result.Evidence {
		return result.Evidence{Kind: kind, ID: id, Field: "id", File: kind + ".csv", Row: row, Line: row + 1, Column: 1}
	}
	b := base()
	a := &result.Answer{Format: result.LookbackFormat, Tool: b.Tool, AsOf: b.AsOf, Practice: b.Practice, Period: b.Period, RuleSet: "ardley-2024",
		Contacts: map[string]string{"public_health": "555 0100", "regulator": "555 0105", "insurer": "555 0111"},
		Rules:    []result.Rule{{Criterion: "monitoring.spore-interval", Ours: "7 d", Theirs: "30 d", Source: "ardley", Looser: true}},
		Asked:    result.Asked{Kind: "tests", ID: "T-41", Words: "spore test T-41 of sterilizer S1, run on 3 Nov 2026"},
		Says: []string{"Growth was reported on 12 Nov 2026. Take it as real until public health or the maker tells you otherwise.",
			"Wide window: since 6 Oct 2026, 23 loads, up to 74 visits and 58 clients.", "Logger files exist for 21 of 23 loads. Whatever they show, they do not overrule a spore test."},
		Now: []string{"Stop using S1. Single-use or contracted instruments, or move the visits.", "Put on hold every pack from S1 dated 6 Oct to 12 Nov 2026, clinic and car bag: 88 by the log.",
			"Telephone public health and your council today.", "Keep the vial, its control, strips and log as they are.", "Write down, with times, what you do today."},
		Decides: "Public health decides with the council whether clients are told; ask before you contact anyone.",
		Missing: []string{"The control's result of T-40: look in the lab's e-mails first."},
		Limits:  []string{"These are upper limits, because visits name no pack."}}
	l := result.Lookback{Kind: "tests", ID: "T-41", Sterilizer: "S1", Summary: "how far T-41 reaches", Windows: twoWindows(),
		Narrowing: []result.Narrowing{{What: "pouch labels on the cards of these 74 visits", Days: 37, Loads: 23, Visits: 40, Clients: 33}}}
	for i, s := range []string{"whereabouts not written", "counted on the shelf", "whereabouts not written"} {
		l.Pull = append(l.Pull, result.Pull{Pack: "P-30" + itoa(i), Count: 1, Load: "L-9" + itoa(i), Set: "nail set", Site: []string{"car bag", "clinic", "clinic"}[i], Where: []string{result.PullBag, result.PullShelf, result.PullUnknown}[i], State: s, On: "2026-11-0" + itoa(i+1), Narrow: i == 1, Record: at("packs", "P-30"+itoa(i), 30+i)})
	}
	l.Pull = append(l.Pull, result.Pull{Count: 25, Load: "L-94", Set: "foot set", Site: "clinic", Where: result.PullCount, State: "whereabouts not written", On: "2026-10-09", Record: at("loads", "L-94", 94)})
	for i := range 5 {
		l.Loads = append(l.Loads, result.InWindow{Load: "L-9" + itoa(i), On: "2026-11-0" + itoa(i+1), Counter: itoa(390 + i), Decision: "released", Shows: "indicators passed; data-logger file held", Packs: "4 packs", Narrow: i > 2, Record: at("loads", "L-9"+itoa(i), 90+i)})
		l.Affected = append(l.Affected, result.Affected{Visit: "V-" + itoa(10+i), Client: "C-010" + itoa(i/2), On: "2026-11-0" + itoa(i+2), Site: "clinic", Person: "P1",
			How: []string{"names no pack; could have had one", "names pack P-301 of load L-91"}[i%2], Named: i%2 == 1, Narrow: i > 2, Record: at("visits", "V-"+itoa(10+i), 10+i)})
	}
	a.Lookbacks = []result.Lookback{l}
	return a
}

// complaintAnswer looks backward, from a complaint.
func complaintAnswer() *result.Answer {
	a := answer()
	a.Lookbacks = nil
	a.Asked = result.Asked{Kind: "complaints", ID: "K-7", Since: "2026-03-01", Until: "2026-03-31", Words: "complaint K-7 about client C-0147, a visit in March 2026"}
	a.Says = []string{"A letter received on 25 Nov 2026. Nothing here judges what happened.", "Two visits of C-0147 in March are typed; the letter does not say which is meant."}
	a.Now = []string{"Keep everything as it is: card, diary, strips, memory stick, this folder.", "Tell your insurer; find the reply date in the letter.", "Add to, correct or throw away nothing about March."}
	visit := result.Evidence{Kind: "visits", ID: "V-3", Field: "id", File: "visits.xlsx", Sheet: "visits", Cell: "A7", Row: 6}
	a.Chains = []result.Chain{{Visit: "V-3", Client: "C-0147", On: "2026-03-18", Site: "clinic", Person: "P1", Record: visit, Copies: []result.Evidence{{Kind: "visits", ID: "V-3b", File: "visits.xlsx", Sheet: "visits", Row: 90}},
		Links: []result.Link{{Name: "registration", State: result.LinkFound, What: "active on that day", Evidence: []result.Evidence{{Kind: "credentials", ID: "CR-1", Field: "valid_until", File: "credentials.csv", Row: 2}}},
			{Name: "pack", State: result.LinkPart, What: "the note names no pack; two loads could have supplied it", Evidence: []result.Evidence{visit}},
			{Name: "countersignature", State: result.LinkMissing, What: "nothing is written"}, {Name: "consent", State: result.LinkUnkept}, {Name: "blade", State: result.LinkNone}}}}
	a.Others = &result.Others{Clients: 12, Shares: []string{"12 other clients had packs of the same loads"}}
	return a
}
