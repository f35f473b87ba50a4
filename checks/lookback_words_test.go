package checks

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"footing/internal/audit"
)

// A window that begins before the records says so wherever its figures are told.
func TestAWindowBeforeTheRecords(t *testing.T) {
	text := "\n-- practice.yaml --\nname: P\nregulator: R\nrecords_from: 2026-09-07\n-- sterilizers.csv --\nid,method,installed_on\nS1,steam,2019-03-04\n" +
		"-- loads.csv --\nid,started\nL-1,2026-09-08\n-- visits.csv --\nclient,started\nC-1,2026-09-09\n" + "-- tests.csv --\nid,kind,run_at,result\nT-1,spore,2026-09-14,fail\n"
	const begin = "the records begin on 7 Sep 2026, and what was run before is in no figure"
	for _, q := range []LookbackQuestion{{Kind: "sterilizers", ID: "S1"}, {Kind: "tests", ID: "T-1"}, {Kind: "sterilizers", ID: "S1", Since: isoDay(t, "2020-01-01")}} {
		a, err := asked(t, folder(t, text), q)
		require.NoError(t, err)
		assert.Contains(t, strings.ToLower(said(a.Says)), strings.ToLower(begin), q)
		if !q.Since.Written() {
			assert.Equal(t, 1, strings.Count(strings.ToLower(said(a.Says)), strings.ToLower(begin)), "%v: once", q)
			assert.Contains(t, a.Lookbacks[0].Summary, begin, q)
			assert.Contains(t, a.Lookbacks[0].Windows[0].Why, begin, q)
		}
	}
	next := strings.NewReplacer("records_from: 2026-09-07", "", "2019-03-04", "2026-09-07").Replace(text)
	covered := strings.Replace(text, "records_from: 2026-09-07", "coverage: [{kind: loads, share: all, from: 2019-01-01}]", 1)
	early := strings.Replace(text, "records_from: 2026-09-07", "coverage: [{kind: visits, share: all, from: 2024-01-01}]", 1)
	for folderText, want := range map[string]string{covered: "", next: "", early: "The loads typed begin on 8 Sep 2026, and what was run before is in no figure but the upper limits of visits"} {
		a, err := asked(t, folder(t, folderText), LookbackQuestion{Kind: "tests", ID: "T-1"})
		require.NoError(t, err)
		assert.Contains(t, said(a.Says), want)
		assert.Equal(t, want == "", !strings.Contains(said(a.Says), "in no figure"))
	}
}

// Visits that name packs of which the load cannot be told are not said to name none.
func TestPacksThatLeadToNoLoad(t *testing.T) {
	text := "\n-- sterilizers.csv --\nid,method\nS1,steam\n" + "-- tests.csv --\nid,kind,run_at,control,result\nT-1,spore,2026-09-07,growth,pass\nT-2,spore,2026-09-14 18:00,growth,fail\n" +
		"-- loads.csv --\nid,started,packs_made\n2,2026-09-14 08:00,1\n-- packs.csv --\nid,load\nK-2,L-02\n-- visits.csv --\nid,client,started,packs,procedures\nV-1,C-1,2026-09-14 15:00,K-2,nail-trim\n"
	q := LookbackQuestion{Kind: "tests", ID: "T-2"}
	a, err := asked(t, folder(t, text), q)
	require.NoError(t, err)
	assert.Contains(t, said(a.Says), "clients cannot be counted: the packs that visits name lead to no load of it (at most 1 visit of 1 client)")
	a, err = asked(t, folder(t, text+"V-2,C-2,2026-09-15 15:00,,nail-trim\n"), q)
	require.NoError(t, err)
	assert.Contains(t, said(a.Says), "visits do not name packs, or the packs that they name lead to no load of it (at most 2 visits")
	a, err = asked(t, folder(t, strings.Replace(text, "15:00,K-2,", "15:00,,", 1)), q)
	require.NoError(t, err)
	assert.Contains(t, said(a.Says), "clients cannot be counted: visits do not name packs (at most 1 visit of 1 client)")
}

// A test of which the sterilizer cannot be told: each that it may be of is named.
func TestWhatToAskInPlaceOfATest(t *testing.T) {
	loads := "-- loads.csv --\nid,started\nL-1,2026-09-08\n" + "-- tests.csv --\nid,kind,run_at,result\nF,spore,2026-09-14,fail\nU,ultrasonic,2026-09-14,fail\n"
	for sterilizers, want := range map[string]string{
		"id,method,retired_on,installed_on\nS1,steam,,\nS2,steam,,\nS3,steam,2026-09-13,\nS4,steam,,2026-09-15\n": "ask with --sterilizer for each that it may have been of: S1, S2;",
		"": "type one row into sterilizers",
		"id,method,retired_on\nS1,steam,2026-09-13\nS2,steam,2026-09-13\n": "no sterilizer is written as in use on that day",
	} {
		text := "\n" + loads
		if sterilizers != "" {
			text += "-- sterilizers.csv --\n" + sterilizers
		}
		_, err := asked(t, folder(t, text), LookbackQuestion{Kind: "tests", ID: "F"})
		var no *LookbackRefusal
		require.ErrorAs(t, err, &no)
		assert.Contains(t, no.Next, want)
		_, err = asked(t, folder(t, text), LookbackQuestion{Kind: "tests", ID: "U"})
		require.ErrorAs(t, err, &no)
		assert.Contains(t, no.Next, "--load")
	}
}

// What is over is not told to be stopped, and nothing is missing twice.
func TestAfterTheRepeats(t *testing.T) {
	more := tests + "P,spore,2026-10-01 08:00,S1,growth,pass\nF,spore,2026-10-08 08:00,S1,,fail\nQ,spore,2026-10-12 08:00,S1,,pass\nR,spore,2026-10-12 10:00,S1,,pass\nS,spore,2026-10-12 12:00,S1,,pass\n" +
		"-- loads.csv --\nid,started,sterilizer\nL-1,2026-10-09 09:00,S1\n"
	for _, q := range []LookbackQuestion{{Kind: "sterilizers", ID: "S1"}, {Kind: "tests", ID: "F"}} {
		a, _ := thinly(t, q, more)
		assert.NotContains(t, said(a.Now), "leave the sterilizer out of use until")
		assert.Contains(t, said(a.Now), "Whether more tests are to be run is for the maker and public health to say.")
		assert.Len(t, slices.Compact(sorted(slices.Clone(a.Missing))), len(a.Missing), "%v", a.Missing)
		var what []string
		for _, n := range a.Lookbacks[0].Narrowing {
			what = append(what, n.What)
		}
		assert.Len(t, slices.Compact(sorted(slices.Clone(what))), len(what), "%v", what)
	}
	a, _ := thinly(t, LookbackQuestion{Kind: "tests", ID: "F"}, strings.Replace(more, "S,spore,2026-10-12 12:00,S1,,pass\n", "", 1))
	assert.Contains(t, said(a.Now), "leave the sterilizer out of use until they and the repeats allow it")
}

// Where all spore tests are said to be here, no report is looked for that is not typed.
func TestNoReportIsLookedForWhereAllAreHere(t *testing.T) {
	more := tests + "P,spore,2026-11-02 08:00,S1,growth,pass\n-- loads.csv --\nid,started,sterilizer\nL-1,2026-11-09 09:00,S1\n"
	_, l := thinly(t, LookbackQuestion{Kind: "sterilizers", ID: "S1"}, more)
	looksFor := func(n audit.Narrowing) bool { return strings.HasPrefix(n.What, "reports of spore tests") }
	assert.True(t, slices.ContainsFunc(l.Narrowing, looksFor))
	_, l = thinly(t, LookbackQuestion{Kind: "sterilizers", ID: "S1"}, more+"-- practice.yaml --\nname: P\nregulator: C\ncoverage: [{kind: tests, share: all, from: 2026-01-01}]\n")
	assert.False(t, slices.ContainsFunc(l.Narrowing, looksFor))
}

const doubt = "Nothing typed here says that it failed. If you have reason to doubt it, do this, in this order."

// A load, a pack or an instrument of which nothing says that it failed is no alarm.
func TestADoubtOfWhichNothingIsTyped(t *testing.T) {
	more := tests + "P,spore,2026-11-02 08:00,S1,growth,pass\n-- loads.csv --\nid,started,sterilizer,packs_made,inside_indicator\nL-1,2026-11-10 09:00,S1,2,pass\n" +
		"-- packs.csv --\nid,load,condition,stored_at\nK-1,L-1,intact,clinic\nK-2,L-1,,clinic\n-- instruments.csv --\nid,kind\nN-1,rasp\n"
	at := func(kind, id string, change ...string) audit.Answer {
		a, _ := thinly(t, LookbackQuestion{Kind: kind, ID: id}, strings.NewReplacer(change...).Replace(more))
		return a
	}
	for kind, id := range map[string]string{"loads": "L-1", "packs": "K-1", "instruments": "N-1"} {
		assert.Equal(t, doubt, at(kind, id).Now[0], kind)
	}
	failed := "P,spore,2026-11-02 08:00,S1,growth,pass\nF,spore,2026-11-12 08:00,S1,growth,fail\n"
	for _, change := range [][]string{{"09:00,S1,2,pass", "09:00,S1,2,fail"}, {"P,spore,2026-11-02 08:00,S1,growth,pass\n", failed}} {
		for kind, id := range map[string]string{"loads": "L-1", "packs": "K-1"} {
			assert.NotContains(t, said(at(kind, id, change...).Now), doubt, kind)
		}
	}
	assert.NotContains(t, said(at("packs", "K-1", "K-1,L-1,intact", "K-1,L-1,torn").Now), doubt)
	assert.Contains(t, said(at("packs", "K-1", "P,spore,2026-11-02 08:00,S1,growth,pass\n", failed).Says), "A spore test that failed is written around its load, run on 12 Nov 2026: ask with --test F too.")
}

// The packs of visits that name an instrument are among those that held it.
func TestAnInstrumentThatVisitsName(t *testing.T) {
	text := "\n-- sterilizers.csv --\nid,method\nS1,steam\n-- instruments.csv --\nid,kind\nN-1,rasp\n-- loads.csv --\nid,started,sterilizer,packs_made,inside_indicator\nL-1,2026-11-10 09:00,S1,1,fail\nL-2,2026-11-11 09:00,S1,1,pass\n" +
		"-- packs.csv --\nid,load,instruments\nK-1,L-1,\nK-2,L-2,N-1\n-- visits.csv --\nid,client,started,packs,instruments\nV-1,C-1,2026-11-12 10:00,K-1,N-1\n"
	a, err := asked(t, folder(t, text), LookbackQuestion{Kind: "instruments", ID: "N-1"})
	require.NoError(t, err)
	assert.Equal(t, 2, a.Lookbacks[0].Windows[1].Loads)
	assert.Contains(t, said(a.Now), "every closed pack that holds the instrument")
	assert.Contains(t, a.Now[0], "Look first at what is typed of this time")
	assert.Contains(t, said(a.Says), "Of the loads behind it, 1 has a failed indicator")
}

// An id that reads like a name stays out of sentences; one of a thing does not.
func TestNamesStayOutOfHow(t *testing.T) {
	text := "\n-- sterilizers.csv --\nid,method\nS1,steam\n-- loads.csv --\nid,started,sterilizer\nL-1,2026-11-10 09:00,S1\n" +
		"-- visits.csv --\nid,client,started,procedures,packs\nV-1,C-1,2026-11-12 10:00,nail-trim,Ada Vale\nV-2,C-2,2026-11-12 11:00,nail-trim,blue kit\n"
	a, err := asked(t, folder(t, text), LookbackQuestion{Kind: "sterilizers", ID: "S1"})
	require.NoError(t, err)
	var how []string
	for _, v := range a.Lookbacks[0].Affected {
		how = append(how, v.How)
	}
	assert.NotContains(t, said(how), "Vale")
	assert.Contains(t, said(how), "pack blue kit")
}

// A sterilizer without an id is named by its place.
func TestASterilizerWithoutAnID(t *testing.T) {
	a, err := asked(t, folder(t, "\n-- sterilizers.csv --\nmethod\nsteam\n-- loads.csv --\nid,started\nL-1,2026-11-10 09:00\n"), LookbackQuestion{Kind: "sterilizers", ID: "sterilizers.csv row 1"})
	require.NoError(t, err)
	assert.True(t, strings.HasPrefix(a.Says[0], "The sterilizer in sterilizers.csv row 1, as if it failed"), a.Says[0])
	assert.Contains(t, said(a.Now), "Stop using the sterilizer in sterilizers.csv row 1")
}

// A failed spore test that names no sterilizer is of each that it may be, until as many
// as end a failure have passed on that one.
func TestAFailureThatMayBeOfEach(t *testing.T) {
	text := "\n-- sterilizers.csv --\nid,method,retired_on\nS1,steam,\nS2,steam,\nS3,steam,2026-11-10\n-- loads.csv --\nid,started,sterilizer\nL-1,2026-11-10 17:00,S1\nL-2,2026-11-10 17:00,S2\nL-3,2026-11-09 17:00,S3\n" +
		tests + "A,spore,2026-11-02 08:00,S1,growth,pass\nB,spore,2026-11-02 08:00,S2,growth,pass\nF,spore,2026-11-12 08:00,,growth,fail\nC,spore,2026-11-16 08:00,S1,growth,pass\n" +
		"D,spore,2026-11-16 08:00,S2,growth,pass\nE,spore,2026-11-17 08:00,S2,growth,pass\nG,spore,2026-11-18 08:00,S2,growth,pass\n"
	ask := func(id string) audit.Answer {
		a, err := asked(t, folder(t, text), LookbackQuestion{Kind: "sterilizers", ID: id})
		require.NoError(t, err)
		return a
	}
	open := ask("S1")
	assert.Equal(t, "2026-11-02", open.Lookbacks[0].Windows[0].Since)
	assert.Contains(t, open.Says[0], "A spore test that failed is written in this time, run on 12 Nov 2026, and which sterilizer it was of is not: it may be this one.")
	assert.Contains(t, open.Now[0], "Until that is clear, stop using sterilizer S1")
	assert.Equal(t, "2026-11-18", ask("S2").Lookbacks[0].Windows[0].Since, "three passed since")
	for _, id := range []string{"S2", "S3"} {
		assert.NotContains(t, said(ask(id).Says), "it may be this one", "S3 was out of use by then")
	}
}

// The narrow window does not end with a pass after which another spore test failed.
func TestTwoFailuresWithOnePassBetween(t *testing.T) {
	more := tests + "P,spore,2026-11-02 08:00,S1,growth,pass\nF,spore,2026-11-09 08:00,S1,growth,fail\nQ,spore,2026-11-11 08:00,S1,growth,pass\nG,spore,2026-11-16 08:00,S1,growth,fail\n-- loads.csv --\nid,started,sterilizer\nL-1,2026-11-10 09:00,S1\nL-2,2026-11-17 09:00,S1\n"
	_, l := thinly(t, LookbackQuestion{Kind: "sterilizers", ID: "S1"}, more)
	for _, w := range l.Windows {
		assert.Equal(t, []string{"2026-11-02", "2026-11-24"}, []string{w.Since, w.Until}, w.Name)
		assert.Equal(t, 2, w.Loads, w.Name)
	}
	assert.NotContains(t, l.Summary, "narrow window")
}

// Fewer repeats than end a failure are told with the word to stop.
func TestFewRepeatsAreTold(t *testing.T) {
	more := tests + "P,spore,2026-10-01 08:00,S1,growth,pass\nF,spore,2026-10-08 08:00,S1,growth,fail\nQ,spore,2026-10-12 08:00,S1,growth,pass\n-- loads.csv --\nid,started,sterilizer\nL-1,2026-10-09 09:00,S1\n"
	for _, q := range []LookbackQuestion{{Kind: "sterilizers", ID: "S1"}, {Kind: "tests", ID: "F"}} {
		a, _ := thinly(t, q, more)
		assert.Contains(t, a.Now[0], "Stop using sterilizer S1, unless public health or the maker allows it, or allowed it then")
		assert.Contains(t, a.Now[0], "Since the failure 1 spore test passed, as written; what ends one here is 3")
		a, _ = thinly(t, q, strings.Replace(more, "Q,spore,2026-10-12 08:00,S1,growth,pass\n", "", 1))
		assert.NotContains(t, a.Now[0], "Since the failure")
	}
}

// A log that is said to be whole from a day on is not said to be typed from that day.
func TestALogThatIsSaidToBeHere(t *testing.T) {
	a, err := asked(t, folder(t, "\n-- practice.yaml --\nname: P\nregulator: R\ncoverage: [{kind: loads, share: all, from: 2026-01-01}]\n-- sterilizers.csv --\nid,method,installed_on\nS1,steam,2024-01-10\n-- loads.csv --\nid,started\nL-1,2026-09-01\n"), LookbackQuestion{Kind: "sterilizers", ID: "S1"})
	require.NoError(t, err)
	assert.Contains(t, a.Lookbacks[0].Summary, "the log is said to be here from 1 Jan 2026 on, and what was run before is in no figure")
}

// Beside a failed spore test no finding has the sterilizer used, or plays it down.
func TestNothingIsRunBesideAFailure(t *testing.T) {
	criteria, err := Criteria()
	require.NoError(t, err)
	for equipment, want := range map[string]string{"S1": "take the failure as real", "": "find out which sterilizer the failed test was of"} {
		p := folder(t, "\n-- sterilizers.csv --\nid,method\nS1,steam\nS2,steam\n-- loads.csv --\nid,started,sterilizer\nL-1,2026-09-10,S1\n"+tests+"P,spore,2026-09-02,S1,growth,pass\nF,spore,2026-09-12,"+equipment+",growth,fail\n")
		f := run(t, kase{practice: p}, battery(t, "monitoring/exposed"), criteria).Findings[0]
		assert.Contains(t, f.Summary, want)
		assert.NotContains(t, f.Summary, "before you call it wide")
		assert.Contains(t, f.Steps[0], "footing lookback FOLDER --sterilizer S1")
		assert.NotContains(t, said(f.Steps), "in the next load")
		assert.NotContains(t, said(f.Steps), "nothing need be run")
	}
}

// A small window asks nobody to look for reports: it is kept small.
func TestASmallWindowIsKeptSmall(t *testing.T) {
	criteria, err := Criteria()
	require.NoError(t, err)
	for day, want := range map[string]bool{"2026-11-20": false, "2026-09-02": true} {
		p := folder(t, "\n-- sterilizers.csv --\nid,method\nS1,steam\n-- loads.csv --\nid,started,sterilizer\nL-1,2026-11-20 17:00,S1\nL-2,2026-10-20,S1\nL-3,2026-10-10,S1\n"+tests+"P,spore,"+day+" 08:00,S1,growth,pass\n")
		f := run(t, kase{practice: p}, battery(t, "monitoring/exposed"), criteria).Findings[0]
		assert.Equal(t, want, strings.HasPrefix(f.Steps[0], "Look for spore-test reports"), f.Summary)
	}
}
