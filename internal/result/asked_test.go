package result

import "strings"

// wholeDeclarations, wholeAsked and wholeBundle have every field set.
func wholeDeclarations() []Declaration {
	return []Declaration{{Text: "I hold cover", Rests: []string{"credentials"}, State: "supported", Level: Supported,
		Support: []Support{{Kind: "credentials", Rows: 2, Months: 1, Of: 2, Without: []string{"2026-06"}, KeptAt: []string{"a folder"},
			Papers:   []Paper{{What: "liability cover of P1", From: "2026-01-01", Until: "2026-12-31", State: "in force"}},
			Evidence: []Evidence{wholePlace("credentials", "CR-1")}}}}}
}

func wholeAsked() []AskedFor {
	walk := wholeChain()
	return []AskedFor{{Topic: "One client, one day", Question: "Which pack?", State: AskedPart, Found: 1, Of: 2, Things: "links", What: "drawn", Lacks: []string{"load"}, Look: "look at the label",
		KeptAt: []string{"cards"}, Evidence: []Evidence{wholePlace("visits", "V-1")}, Walk: &walk}}
}

func wholeBundle() *Bundle {
	return &Bundle{Words: "complaint K-1", Client: "C-1", Received: "2026-11-20", ReplyBy: "2026-12-04", Says: []string{"one visit"}, Now: []string{"keep everything"}, Decides: "your regulator",
		Chains: []Chain{wholeChain()}, Others: &Others{Clients: 12, Shares: []string{"loads"}}, Missing: []string{"the strip"}, Limits: []string{"not judged"},
		Files: []Kept{{File: "visits.csv", SHA256: strings.Repeat("ab", 32), Places: 2, Later: 1}}}
}
