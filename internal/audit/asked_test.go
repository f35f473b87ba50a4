package audit

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/tools/txtar"

	"footing/internal/practice"
	"footing/internal/quantity"
	"footing/internal/record"
	"footing/internal/result"
)

// recordsOf reads a folder written as an archive, as it stood on 24 Nov 2026.
func recordsOf(t testing.TB, text string) *practice.Practice {
	t.Helper()
	dir := t.TempDir()
	a := txtar.Parse([]byte(text))
	if !slices.ContainsFunc(a.Files, func(f txtar.File) bool { return f.Name == "practice.yaml" }) {
		a.Files = append(a.Files, txtar.File{Name: "practice.yaml", Data: []byte("name: T\nregulator: R\n")})
	}
	for _, f := range a.Files {
		require.NoError(t, os.WriteFile(filepath.Join(dir, f.Name), f.Data, 0o644))
	}
	p, err := practice.Read(t.Context(), dir, quantity.NewDay(2026, 11, 24), record.Options{})
	require.NoError(t, err)
	require.Empty(t, p.Intake.Problems)
	return p
}

func askedOf(t *testing.T, text string, w Walks) map[string]result.AskedFor {
	t.Helper()
	p := recordsOf(t, text)
	criteria, err := ParseCriteria(os.DirFS("../../checks/criteria"))
	require.NoError(t, err)
	by := map[string]result.AskedFor{}
	for _, a := range (&asking{p: p, book: criteria.Choose(p)}).all(w) {
		by[a.Topic] = a
	}
	return by
}

// logOf is a log with a load on the second of each of some months.
func logOf(months ...string) string {
	out := "-- sterilizers.csv --\nid,method\nS1,steam\n-- loads.csv --\nid,started,sterilizer\n"
	for _, m := range months {
		out += "L-" + m + "," + m + "-02 10:00,S1\n"
	}
	return out
}

var twelve = []string{"2025-12", "2026-01", "2026-02", "2026-03", "2026-04", "2026-05", "2026-06", "2026-07", "2026-08", "2026-09", "2026-10", "2026-11"}

// Each state of each question, at the edge of what makes it.
func TestStatesOfWhatIsAskedFor(t *testing.T) {
	const log, spores = "The sterilizer log", "Spore tests"
	covered := "-- practice.yaml --\nname: T\nregulator: R\ncoverage:\n  - {kind: loads, from: 2025-12-01, until: 2026-01-31, share: all}\n  - {kind: tests, share: some, kept_at: blue book}\n"
	single := "-- practice.yaml --\nname: T\nregulator: R\nreprocessing: single-use-only\n"
	for _, c := range []struct {
		name, text, topic, state string
		found, of                int
	}{
		{"no log", "", log, result.AskedUntyped, 0, 12},
		{"eleven months", logOf(twelve[1:]...), log, result.AskedPart, 11, 12},
		{"twelve months", logOf(twelve...), log, result.AskedFound, 12, 12},
		{"the month before the twelve does not count", logOf("2025-11"), log, result.AskedUntyped, 0, 12},
		{"months said to be whole count without a load", covered + logOf(twelve[2:]...), log, result.AskedFound, 12, 12},
		{"a month before the sterilizer came is not asked for", "-- sterilizers.csv --\nid,method,installed_on\nS1,steam,2026-10-15\n-- loads.csv --\nid,started,sterilizer\nL-1,2026-11-02 10:00,S1\n", log, result.AskedPart, 1, 2},
		{"single use only", single, log, result.AskedNone, 0, 0},
		{"single use only, though loads are typed", single + logOf("2026-11"), log, result.AskedPart, 1, 12},

		{"no spore test and no load", "", spores, result.AskedUntyped, 0, 0},
		{"a load and no spore test", logOf("2026-11"), spores, result.AskedUntyped, 0, 1},
		{"a test on the Monday of the week", logOf("2026-11") + "-- tests.csv --\nid,kind,run_at,equipment,result\nT-1,spore,2026-11-02 09:00,S1,pass\n", spores, result.AskedFound, 1, 1},
		{"a test on the Sunday before", logOf("2026-11") + "-- tests.csv --\nid,kind,run_at,equipment,result\nT-1,spore,2026-11-01 09:00,S1,pass\n", spores, result.AskedPart, 0, 1},
		{"a test on the Sunday of the week", logOf("2026-11") + "-- tests.csv --\nid,kind,run_at,equipment,result\nT-1,spore,2026-11-08 09:00,S1,pass\n", spores, result.AskedFound, 1, 1},
		{"an air-removal test is none", logOf("2026-11") + "-- tests.csv --\nid,kind,run_at,equipment,result\nT-1,air-removal,2026-11-02 09:00,S1,pass\n", spores, result.AskedUntyped, 0, 1},
		{"two sterilizers, one tested", "-- sterilizers.csv --\nid,method\nS1,steam\nS2,steam\n-- loads.csv --\nid,started,sterilizer\nL-1,2026-11-02 10:00,S1\nL-2,2026-11-02 10:00,S2\n-- tests.csv --\nid,kind,run_at,equipment,result\nT-1,spore,2026-11-02 09:00,S2,pass\n", spores, result.AskedPart, 1, 2},

		{"no certificate", "", "Certificates on the wall", result.AskedUntyped, 0, 0},
		{"in force on the day itself", "-- people.csv --\nid,role\nP1,practitioner\n-- credentials.csv --\nid,person,kind,valid_from,valid_until\nC1,P1,registration,2026-01-01,2026-11-24\n", "Certificates on the wall", result.AskedFound, 1, 1},
		{"ended the day before", "-- people.csv --\nid,role\nP1,practitioner\n-- credentials.csv --\nid,person,kind,valid_from,valid_until\nC1,P1,registration,2026-01-01,2026-11-23\n", "Certificates on the wall", result.AskedPart, 0, 1},
		{"a later one takes its place", "-- people.csv --\nid,role\nP1,practitioner\n-- credentials.csv --\nid,person,kind,valid_from,valid_until\nC1,P1,registration,2026-01-01,2026-11-23\nC2,P1,registration,2026-11-24,2027-11-23\n", "Certificates on the wall", result.AskedFound, 1, 1},
		{"someone else has none", "-- people.csv --\nid,role\nP1,practitioner\nP2,student\n-- credentials.csv --\nid,person,kind,valid_from,valid_until\nC1,P1,registration,2026-01-01,2027-11-24\n", "Certificates on the wall", result.AskedPart, 1, 2},
		{"someone who left is not asked for", "-- people.csv --\nid,role,ended_on\nP1,practitioner,\nP2,student,2026-11-23\n-- credentials.csv --\nid,person,kind,valid_from,valid_until\nC1,P1,registration,2026-01-01,2027-11-24\n", "Certificates on the wall", result.AskedFound, 1, 1},
		{"watched at work, no certificate", "-- people.csv --\nid,role\nP1,practitioner\n-- observations.csv --\nid,person,skill,observed_on,outcome\nO1,P1,reprocessing,2026-05-01,competent\n", "Training", result.AskedPart, 0, 0},

		{"no policy", "", "Policies, by topic", result.AskedUntyped, 0, 11},
		{"a policy past its review", "-- practice.yaml --\nname: T\nregulator: R\nreprocessing: contracted\n-- policies.csv --\nid,topic,effective_on,review_on\nA,consent,2026-01-01,2026-11-23\n", "Policies, by topic", result.AskedPart, 1, 11},
		{"one policy of eleven", "-- policies.csv --\nid,topic,effective_on\nA,consent,2026-01-01\n", "Policies, by topic", result.AskedPart, 1, 11},
		{"equipment without upkeep", "-- sterilizers.csv --\nid,method\nS1,steam\n", "Maintenance", result.AskedUntyped, 0, 1},
		{"upkeep on the first day of the twelve months", "-- sterilizers.csv --\nid,method\nS1,steam\n-- upkeep.csv --\nid,equipment,task,done_on\nU1,S1,service,2025-12-01\n", "Maintenance", result.AskedFound, 1, 1},
		{"upkeep the day before", "-- sterilizers.csv --\nid,method\nS1,steam\n-- upkeep.csv --\nid,equipment,task,done_on\nU1,S1,service,2025-11-30\n", "Maintenance", result.AskedUntyped, 0, 1},
		{"no cleaning typed", logOf("2026-10", "2026-11"), "Cleaning of instruments", result.AskedUntyped, 0, 2},
		{"cleanings of one month of two", logOf("2026-10", "2026-11") + "-- cleanings.csv --\nid,started,method\nC1,2026-11-02 09:00,manual\n", "Cleaning of instruments", result.AskedPart, 1, 2},
		{"instruments, and no sharps container", "-- instruments.csv --\nid,kind,reuse\nN1,nipper,reusable\n", "Single use and sharps", result.AskedPart, 1, 1},
		{"instruments and a container", "-- instruments.csv --\nid,kind,reuse\nN1,nipper,reusable\n-- waste.csv --\nid,kind,opened_on\nW1,sharps,2026-05-01\n", "Single use and sharps", result.AskedFound, 1, 1},
		{"a container closed, no collection", "-- waste.csv --\nid,kind,opened_on,closed_on\nW1,sharps,2026-05-01,2026-06-01\n", "Waste", result.AskedPart, 0, 1},
		{"a container closed and collected", "-- waste.csv --\nid,kind,opened_on,closed_on,collected_on\nW1,sharps,2026-05-01,2026-06-01,2026-06-03\n", "Waste", result.AskedFound, 1, 1},
		{"allergy answers of one client of two", "-- visits.csv --\nid,client,started\nV1,C1,2026-11-02 10:00\nV2,C2,2026-11-02 11:00\n-- screens.csv --\nid,client,asked_on,latex\nA,C1,2026-10-01,no\n", "Allergy answers", result.AskedPart, 1, 2},
		{"a consent withdrawn that day", "-- visits.csv --\nid,client,started\nV1,C1,2026-11-02 10:00\n-- consents.csv --\nid,client,given_on,withdrawn_on\nA,C1,2026-10-01,2026-11-24\n", "Consents", result.AskedPart, 0, 1},
		{"no incident, nothing said", "", "Incident log", result.AskedUntyped, 0, 0},
		{"no incident, all said to be here", "-- practice.yaml --\nname: T\nregulator: R\nrecords_from: 2026-01-01\ncoverage:\n  - {kind: incidents, share: all}\n", "Incident log", result.AskedFound, 0, 0},
		{"a complaint", "-- complaints.csv --\nid,received_on,subject\nK1,2026-11-02,a letter\n", "Complaints log", result.AskedFound, 1, 0},
		{"no pack to draw", "", "One pack from the drawer", result.AskedUntyped, 0, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			a, ok := askedOf(t, c.text, Walks{})[c.topic]
			require.True(t, ok)
			require.Equal(t, []any{c.state, c.found, c.of}, []any{a.State, a.Found, a.Of}, "%+v", a)
			require.NotEmpty(t, a.What)
			require.NotEmpty(t, a.Question)
			require.Equal(t, a.State != result.AskedFound && a.State != result.AskedNone, a.Look != "", "where to look is said of what is not found alone")
		})
	}
}

// The place where the rest is kept is told as coverage has it, else as the rows have it,
// tabs of one binder as one.
func TestWhereItIsKept(t *testing.T) {
	kept := "-- practice.yaml --\nname: T\nregulator: R\ncoverage:\n  - {kind: tests, share: some, kept_at: blue book}\n"
	require.Equal(t, []string{"blue book"}, askedOf(t, kept, Walks{})["Spore tests"].KeptAt)
	rows := "-- policies.csv --\nid,topic,kept_at\n"
	for i, topic := range []string{"consent", "referral", "exposure", "linen"} {
		rows += topic + "," + topic + ",\"binder 2, tab " + string(rune('1'+i)) + "\"\n"
	}
	require.Equal(t, []string{"binder 2"}, askedOf(t, rows, Walks{})["Policies, by topic"].KeptAt)
	two := strings.Join(strings.Split(rows, "\n")[:4], "\n") + "\n"
	require.Equal(t, []string{"binder 2, tab 1", "binder 2, tab 2"}, askedOf(t, two, Walks{})["Policies, by topic"].KeptAt)
}

func TestMonthRuns(t *testing.T) {
	for _, c := range []struct{ months, want []string }{
		{nil, nil},
		{[]string{"2026-06"}, []string{"June 2026"}},
		{[]string{"2026-06", "2026-07"}, []string{"June 2026", "July 2026"}},
		{[]string{"2025-11", "2025-12", "2026-01"}, []string{"November 2025 to January 2026"}},
		{[]string{"2025-11", "2025-12", "2026-02", "2026-03", "2026-04"}, []string{"November 2025", "December 2025", "February 2026 to April 2026"}},
	} {
		require.Equal(t, c.want, monthRuns(c.months))
	}
}

// A walk answers its question where the load is known, and is found where nothing is in want.
func TestWalksAsked(t *testing.T) {
	walk := func(states ...string) *Chain {
		c := &Chain{Visit: "V-1"}
		for i, s := range states {
			c.Links = append(c.Links, Link{Name: []string{"pack", "load", "release", "incident and referral"}[i], State: s})
		}
		return c
	}
	for _, c := range []struct {
		name      string
		walk      *Chain
		state     string
		found, of int
	}{
		{"all found", walk(result.LinkFound, result.LinkFound, result.LinkFound), result.AskedFound, 3, 3},
		{"what does not apply is not counted", walk(result.LinkFound, result.LinkFound, result.LinkFound, result.LinkNone), result.AskedFound, 3, 3},
		{"the load is known, not all behind it", walk(result.LinkFound, result.LinkFound, result.LinkUnkept), result.AskedPart, 2, 3},
		{"the load in part", walk(result.LinkFound, result.LinkPart, result.LinkPart), result.AskedPart, 1, 3},
		{"the load is not found", walk(result.LinkFound, result.LinkMissing, result.LinkMissing), result.AskedUntyped, 1, 3},
		{"no load stands behind it", walk(result.LinkNone, result.LinkNone, result.LinkNone, result.LinkFound), result.AskedFound, 1, 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			a := askedOf(t, "", Walks{Visit: c.walk, Visits: 3, VisitOf: "visits"})["One client, one day"]
			require.Equal(t, []any{c.state, c.found, c.of}, []any{a.State, a.Found, a.Of})
			require.Same(t, c.walk, a.Walk)
		})
	}
}
