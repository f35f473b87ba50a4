package audit

import (
	"testing"

	"github.com/stretchr/testify/require"

	"footing/internal/result"
)

// Each level of support, and what is said. The words of a declaration choose among
// certificates; the months are those of the time that was read.
func TestDeclarationsAreSetBesideTheRecords(t *testing.T) {
	practice := func(text, rests, more string) string {
		return "-- practice.yaml --\nname: T\nregulator: R\nrecords_from: 2026-06-01\n" + more + "declarations:\n  - text: " + text + "\n    rests_on: [" + rests + "]\n"
	}
	certificate := "-- people.csv --\nid,role\nP1,practitioner\n-- credentials.csv --\nid,person,kind,valid_from,valid_until,sites\nC1,P1,liability-cover,2026-01-01,2026-12-31,clinic; bag\nC2,P1,first-aid,2023-01-01,2026-01-01,\n"
	for _, c := range []struct{ name, text, level, state string }{
		{"no kinds named", practice("I do well", "", ""), result.NoSupport, "no kinds of record are named under rests_on, so these records neither support nor contradict it"},
		{"nothing typed", practice("I keep a log", "loads", ""), result.NoSupport, "nothing in the folder for loads, so these records neither support nor contradict it"},
		{"nothing typed, kept elsewhere", practice("I keep a log", "loads", "coverage:\n  - {kind: loads, share: some, kept_at: blue book}\n"), result.NoSupport,
			"nothing in the folder for loads (kept at: blue book), so these records neither support nor contradict it"},
		{"each month", practice("I keep a log", "loads", "") + logOf("2026-06", "2026-07", "2026-08", "2026-09", "2026-10", "2026-11"), result.Supported, "supported: 6 rows of loads typed, for 6 of 6 months"},
		{"months without", practice("I keep a log", "loads", "") + logOf("2026-08", "2026-09", "2026-10", "2026-11"), result.PartSupport, "in part: 4 rows of loads typed, for 4 of 6 months; none for June 2026 and July 2026"},
		{"a month before the time that was read does not count", practice("I keep a log", "loads", "") + logOf("2026-05"), result.NoSupport,
			"what is typed for loads could not be read, or lies outside this time, so these records neither support nor contradict it"},
		{"a month of which all are said to be here is no gap", practice("I keep a log", "loads", "coverage:\n  - {kind: loads, from: 2026-06-01, until: 2026-07-31, share: all}\n") + logOf("2026-08", "2026-09", "2026-10", "2026-11"), result.Supported,
			"supported: 4 rows of loads typed, for 4 of 6 months"},
		{"a kind named twice is said once", practice("I keep a log", "loads, loads", "") + logOf("2026-06", "2026-07", "2026-08", "2026-09", "2026-10", "2026-11"), result.Supported, "supported: 6 rows of loads typed, for 6 of 6 months"},
		{"one kind of two", practice("I keep a log", "loads, tests", "") + logOf("2026-06", "2026-07", "2026-08", "2026-09", "2026-10", "2026-11"), result.PartSupport,
			"in part: 6 rows of loads typed, for 6 of 6 months; nothing in the folder for tests, which neither supports nor contradicts it"},
		{"the certificate that the words name", practice("I hold liability cover", "credentials", "") + certificate, result.Supported, "supported: liability cover of P1 (for clinic and bag) 1 Jan 2026 to 31 Dec 2026"},
		{"the certificate named has ended", practice("I hold a first aid certificate", "credentials", "") + certificate, result.PartSupport, "in part: first aid of P1 1 Jan 2023 to 1 Jan 2026 (ended)"},
		{"no certificate of the kind named", practice("Continuing education is kept up", "credentials", "") + certificate, result.NoSupport,
			"nothing in the folder for credentials (education), so these records neither support nor contradict it"},
		{"no kind named: all of them", practice("My papers are in order", "credentials", "") + certificate, result.PartSupport,
			"in part: first aid of P1 1 Jan 2023 to 1 Jan 2026 (ended), liability cover of P1 (for clinic and bag) 1 Jan 2026 to 31 Dec 2026"},
		{"none of what may be none", practice("I told of each complaint", "complaints", "coverage:\n  - {kind: complaints, share: all}\n"), result.Supported,
			"supported: no complaints typed, and the folder is said to hold all since 1 Jun 2026"},
	} {
		t.Run(c.name, func(t *testing.T) {
			list := declarations(recordsOf(t, c.text))
			require.Len(t, list, 1)
			require.Equal(t, c.level, list[0].Level)
			require.Equal(t, c.state, list[0].State)
		})
	}
}
