package audit

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"footing/internal/practice"
	"footing/internal/quantity"
	"footing/internal/record"
	"footing/internal/result"
)

// What an answer says, where a count would mislead: of nothing typed, of a day that has
// not come, of one alone, and of rows that could not be used.
func TestWordsOfWhatIsAskedFor(t *testing.T) {
	visits := "-- visits.csv --\nid,client,started\nV1,C1,2026-11-02 10:00\n"
	policies := "-- policies.csv --\nid,topic,effective_on,review_on\n"
	for _, c := range []struct{ name, text, topic, state, says string }{
		{"loads of before the sterilizer came stand in no month that is asked for",
			"-- sterilizers.csv --\nid,method,installed_on\nS1,steam,2026-10-15\n-- loads.csv --\nid,started,sterilizer\nL-1,2026-08-02 10:00,S1\nL-2,2026-09-02 10:00,S1\nL-3,2026-11-02 10:00,S1\n",
			"The sterilizer log", result.AskedPart, "3 loads typed, in 1 of 2 months"},
		{"no visit typed is not nobody treated", "", "Consents", result.AskedUntyped, "none is typed; no visit with treatment of the last twelve months is typed"},
		{"answers, and no visit", "-- screens.csv --\nid,client,asked_on\nA,C1,2026-10-01\n", "Allergy answers", result.AskedPart, "1 set of answers typed; no visit with treatment of the last twelve months is typed"},
		{"a visit and no answers", visits, "Allergy answers", result.AskedUntyped, "none is typed; 1 client was treated in the last twelve months"},
		{"a version not in effect yet takes no place", policies + "A,consent,2024-01-01,2025-01-01\nB,consent,2026-11-25,2027-11-25\n", "Policies, by topic", result.AskedPart,
			"2 policies typed, on 1 of the 11 topics that the rules name; past the review: consent (review was due 1 Jan 2025)"},
		{"a version in effect on the day", policies + "A,consent,2024-01-01,2025-01-01\nB,consent,2026-11-24,2027-11-24\n", "Policies, by topic", result.AskedPart,
			"2 policies typed, on 1 of the 11 topics that the rules name"},
		{"only one that begins later", policies + "B,consent,2026-11-25,2027-11-25\n", "Policies, by topic", result.AskedPart,
			"1 policy typed, on 0 of the 11 topics that the rules name; begins later: consent (25 Nov 2026)"},
	} {
		t.Run(c.name, func(t *testing.T) {
			a := askedOf(t, c.text, Walks{})[c.topic]
			require.Equal(t, c.state, a.State)
			require.Equal(t, c.says, a.What)
		})
	}
}

// A thing drawn from one alone is said to be that.
func TestDrawnFromOneAlone(t *testing.T) {
	drawn := func(n int) string {
		return askedOf(t, "", Walks{Visit: &Chain{Visit: "V-1"}, Visits: n, VisitOf: "visits of the last week with one"})["One client, one day"].What
	}
	require.Contains(t, drawn(2), "drawn: visit V-1, one of 2 visits of the last week with one.")
	require.Contains(t, drawn(1), "drawn: visit V-1, the only one of the visits of the last week with one.")
}

// Rows that could not be used are typed, and no answer calls them not typed.
func TestRowsSetAsideAreNotUntyped(t *testing.T) {
	dir := t.TempDir()
	for name, text := range map[string]string{"practice.yaml": "name: T\nregulator: R\n", "policies.csv": "id,topic\nA,no such topic\nB,nor this\n"} {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644))
	}
	p, err := practice.Read(t.Context(), dir, quantity.NewDay(2026, 11, 24), record.Options{})
	require.NoError(t, err)
	require.Empty(t, p.Policies)
	criteria, err := ParseCriteria(os.DirFS("../../checks/criteria"))
	require.NoError(t, err)
	for _, a := range (&asking{p: p, book: criteria.Choose(p)}).all(Walks{}) {
		if a.Topic == "Policies, by topic" {
			require.Equal(t, result.AskedPart, a.State)
			require.Equal(t, "set aside: 2 rows of policies; apart from that, no policy is typed; the rules name 11 topics", a.What)
			return
		}
		require.NotContains(t, a.What, "set aside")
	}
	t.Fatal("nothing is said of policies")
}
