package checks

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"footing/internal/audit"
)

// thin is one sterilizer; each case adds what little is typed of it.
const thin = "\n-- sterilizers.csv --\nid,method\nS1,steam\n-- visits.csv --\nid,client,started,procedures,packs\nV-1,C-1,2026-10-20 10:00,nail-trim,\nV-2,C-2,2026-11-12 10:00,nail-trim,\nV-3,C-3,2026-11-13 10:00,nail-trim,K-1\n"

func thinly(t *testing.T, q LookbackQuestion, more string) (audit.Answer, audit.Lookback) {
	a, err := asked(t, folder(t, thin+more), q)
	require.NoError(t, err)
	return a, a.Lookbacks[0]
}

func said(lines []string) string { return strings.Join(lines, "\n") }

const tests = "-- tests.csv --\nid,kind,run_at,equipment,control,result\n"

// No load typed is not no load run: the upper limits take in who named no pack.
func TestAFailureWithoutLoads(t *testing.T) {
	a, l := thinly(t, LookbackQuestion{Kind: "tests", ID: "F"}, tests+"F,spore,2026-11-16 08:00,S1,,fail\n")
	assert.Equal(t, 3, l.Windows[0].MostClients, "nothing is written before the failure, so nobody can be left out")
	assert.Contains(t, said(a.Says), "Nothing of the sterilizer is written before 16 Nov 2026, so how far back it reaches cannot be told from these records")
	assert.Contains(t, l.Summary, "how far back cannot be told")
	assert.Contains(t, said(a.Now), "every closed pack of the sterilizer dated up to 24 Nov 2026", "one made before the first record is meant too")
	assert.Contains(t, said(a.Limits), "Loads that are not typed are not in these figures")

	a, l = thinly(t, LookbackQuestion{Kind: "tests", ID: "F"}, tests+"P,spore,2026-11-02 08:00,S1,growth,pass\nF,spore,2026-11-16 08:00,S1,,fail\n")
	assert.Equal(t, 2, l.Windows[0].MostClients, "since the pass")

	assert.Contains(t, said(a.Says), "no load is written; clients cannot be counted")
	assert.NotContains(t, said(a.Says), "0 loads")

	a, l = thinly(t, LookbackQuestion{Kind: "tests", ID: "F"}, tests+"P,spore,2026-11-02 08:00,S1,growth,pass\nF,spore,2026-11-16 08:00,S1,,fail\n-- practice.yaml --\nname: P\nregulator: C\ncoverage: [{kind: loads, share: all, from: 2026-01-01}]\n")
	assert.Zero(t, l.Windows[0].MostClients, "all loads are said to be here, and there is none")
	assert.NotContains(t, said(a.Limits), "Loads that are not typed")
}

// Rows of some packs say nothing of others, unless all are said to be here.
func TestSomePacksWithRows(t *testing.T) {
	more := tests + "P,spore,2026-11-02 08:00,S1,growth,pass\nF,spore,2026-11-16 08:00,S1,,fail\n-- loads.csv --\nid,started,sterilizer\nL-1,2026-11-10 09:00,S1\n-- packs.csv --\nid,load\nK-1,L-1\n-- practice.yaml --\nname: P\nregulator: C\ncoverage:\n  - {kind: loads, share: all, from: 2026-01-01}\n"
	a, l := thinly(t, LookbackQuestion{Kind: "tests", ID: "F"}, more)
	assert.Equal(t, []int{1, 2}, []int{l.Windows[0].Clients, l.Windows[0].MostClients})
	assert.Contains(t, said(a.Says), "1 load, at least 1 pack by these records (how many 1 load made is not written)")
	assert.Contains(t, said(a.Missing), "How many packs 1 load made: look into the log book and at the printouts; if each pack of that time has a row, say so in practice.yaml")
	_, l = thinly(t, LookbackQuestion{Kind: "tests", ID: "F"}, more+"  - {kind: packs, share: all, from: 2026-01-01}\n")
	assert.Equal(t, []int{1, 1}, []int{l.Windows[0].Clients, l.Windows[0].MostClients})
}

// A failure with fewer repeats than end it is not hidden behind one pass, whatever is asked.
func TestAnOpenFailure(t *testing.T) {
	more := tests + "P,spore,2026-10-01 08:00,S1,growth,pass\nF,spore,2026-10-08 08:00,S1,,fail\nQ,spore,2026-11-11 08:00,S1,growth,pass\nR,leak,2026-11-12 08:00,S1,,pass\n" +
		"-- loads.csv --\nid,started,sterilizer\nL-1,2026-10-09 09:00,S1\nL-2,2026-11-13 09:00,S1\n"
	a, l := thinly(t, LookbackQuestion{Kind: "sterilizers", ID: "S1"}, more)
	assert.Contains(t, a.Says[0], "a spore test that failed is written in this time, run on 8 Oct 2026")
	assert.Equal(t, []string{"2026-10-01", "2026-11-24"}, []string{l.Windows[0].Since, l.Windows[0].Until})
	assert.Equal(t, []string{"2026-10-01", "2026-11-11"}, []string{l.Windows[1].Since, l.Windows[1].Until}, "the narrow part is of the same failure, and ends with the first pass")
	assert.Contains(t, a.Now[0], "Stop using sterilizer S1")
	for _, q := range []LookbackQuestion{{Kind: "sterilizers", ID: "S1", Since: isoDay(t, "2026-11-12")}, {Kind: "tests", ID: "R"}} {
		a, _ = thinly(t, q, more)
		assert.Contains(t, said(a.Says), "A spore test that failed is written of another time, run on 8 Oct 2026; no run of passed ones is written since that would end it: ask with --test F too.")
		assert.Contains(t, a.Now[0], "Stop using sterilizer S1")
	}
	settled := strings.Replace(more, "R,leak", "A,spore,2026-09-01 08:00,S1,growth,fail\nB,spore,2026-09-02 08:00,S1,growth,pass\nC,spore,2026-09-03 08:00,S1,growth,pass\nD,spore,2026-09-04 08:00,S1,growth,pass\nR,leak", 1)
	a, l = thinly(t, LookbackQuestion{Kind: "tests", ID: "A"}, settled)
	assert.Equal(t, "2026-09-02", l.Windows[0].Until)
	assert.Contains(t, a.Now[0], "Stop using sterilizer S1", "what ended the one failure does not end the other")
	a, _ = thinly(t, LookbackQuestion{Kind: "sterilizers", ID: "S1", Since: isoDay(t, "2026-10-05"), Until: isoDay(t, "2026-10-12")}, more)
	assert.Contains(t, said(a.Says), "A spore test that failed is written in this time, run on 8 Oct 2026: ask with --test F too.")
	assert.NotContains(t, said(a.Now), "Nothing typed here asks you")
}

// Repeats that passed, with something of each not written, are named before anything is stopped.
func TestAFailureWithLenientRepeats(t *testing.T) {
	more := tests + "P,spore,2026-10-01 08:00,S1,growth,pass\nF,spore,2026-10-08 08:00,S1,,fail\nQ,spore,2026-10-12 08:00,S1,,pass\nR,spore,2026-10-13 08:00,S1,,pass\nS,spore,2026-10-14 08:00,S1,,pass\n" +
		"-- loads.csv --\nid,started,sterilizer\nL-1,2026-10-09 09:00,S1\nL-2,2026-11-13 09:00,S1\n"
	for _, q := range []LookbackQuestion{{Kind: "sterilizers", ID: "S1"}, {Kind: "tests", ID: "F"}} {
		a, l := thinly(t, q, more)
		assert.Contains(t, a.Now[0], "3 spore tests passed since, as written, the first on 12 Oct 2026, though not all of each is written. Whether sterilizer S1 may be used is for the maker and public health to say", q)
		assert.Equal(t, "2026-10-01", l.Windows[0].Since)
		assert.Contains(t, said(a.Missing), "What is not written of the 3 spore tests run from 12 Oct 2026 to 14 Oct 2026")
	}
	a, _ := thinly(t, LookbackQuestion{Kind: "tests", ID: "F"}, strings.Replace(more, "S,spore,2026-10-14 08:00,S1,,pass\n", "", 1))
	assert.Contains(t, a.Now[0], "Stop using sterilizer S1", "two repeats are not three")
}

// What else speaks against a sterilizer is named, and a service that stands after an old
// spore test too; it makes no window smaller.
func TestSignsAndAService(t *testing.T) {
	a, l := thinly(t, LookbackQuestion{Kind: "sterilizers", ID: "S1"}, tests+"P,spore,2025-11-02 08:00,S1,growth,pass\nR,leak,2026-11-12 08:00,S1,,fail\n"+
		"-- loads.csv --\nid,started,sterilizer,inside_indicator\nL-1,2026-10-09 09:00,S1,fail\nL-2,2026-11-13 09:00,S1,pass\n-- upkeep.csv --\nequipment,task,done_on,result\nS1,validation,2026-11-18,pass\nS1,service,2026-11-01,fail\n")
	assert.Equal(t, "2025-11-02", l.Windows[1].Since)
	assert.Contains(t, a.Says[0], "No spore test of this time is typed as failed.")
	assert.Contains(t, said(a.Says), "Typed of this time all the same: 1 load with a failed indicator, wet packs or a data-logger file that was not held long enough; 1 other test that failed; 1 service, validation or calibration that failed. Look at that first.")
	assert.Contains(t, said(a.Says), "A validation of 18 Nov 2026 is written as passed. It does not stand in for a spore test here, so it makes neither window smaller")
	assert.Contains(t, a.Now[0], "Look first at what is typed of this time")
	assert.Contains(t, said(a.Missing), "Reports of spore tests run after 2 Nov 2025 that are not typed")
	assert.NotContains(t, said(a.Missing), "at most 0 visits", "nobody can count on labels that name other packs alone")
}

// A pack of no known load: its load's other packs may have gone to whoever names none.
func TestALoosePackOfThinRecords(t *testing.T) {
	a, l := thinly(t, LookbackQuestion{Kind: "packs", ID: "K-1"}, "-- packs.csv --\nid,load\nK-1,\n")
	assert.Equal(t, []int{1, 3, 1}, []int{l.Windows[0].Clients, l.Windows[0].MostClients, l.Windows[1].MostClients})
	assert.Contains(t, said(a.Now), "Put on hold every closed pack that could be of the same load")
	assert.Contains(t, said(a.Says), "no load is written that could have made it")
}

func TestComplaintsThatDoNotFit(t *testing.T) {
	more := "-- complaints.csv --\nid,received_on,client,visit,closed_on\nQ-1,2026-11-19,C-2,V-1,\nQ-2,2026-11-19,C-9,,\nQ-3,2026-11-19,C-1,V-1,2026-11-22\n"
	for id, want := range map[string]string{
		"Q-1": "about visit V-1 of client C-1 (its row names client C-2: look whether the visit or the client is typed wrong)",
		"Q-2": "The visits that it may be about: look into the diary and at the client's card.",
		"Q-3": "It is written as closed on 22 Nov 2026.",
	} {
		a, err := asked(t, folder(t, thin+more), LookbackQuestion{Kind: "complaints", ID: id})
		require.NoError(t, err)
		assert.Contains(t, said(a.Says)+said(a.Now)+said(a.Missing), want)
	}
}

// A rejected load of which a pack was used is looked back on like another.
func TestARejectedLoadThatWasUsed(t *testing.T) {
	more := tests + "P,spore,2026-11-02 08:00,S1,growth,pass\nF,spore,2026-11-16 08:00,S1,,fail\n-- loads.csv --\nid,started,sterilizer,decision,packs_made\nL-1,2026-11-10 09:00,S1,rejected,1\nL-2,2026-11-11 09:00,S1,rejected,1\n-- packs.csv --\nid,load\nK-1,L-1\nK-2,L-2\n"
	for _, q := range []LookbackQuestion{{Kind: "tests", ID: "F"}, {Kind: "sterilizers", ID: "S1"}, {Kind: "sterilizers", ID: "S1", Since: isoDay(t, "2026-11-03")}} {
		_, l := thinly(t, q, more)
		if assert.Len(t, l.Loads, 1) {
			assert.Equal(t, "L-1", l.Loads[0].Load)
		}
		assert.Equal(t, 1, l.Windows[0].Clients)
	}
}

// A failed test of no known sterilizer is hidden from none that it may be of.
func TestAFailureOfNoKnownSterilizer(t *testing.T) {
	more := "-- sterilizers.csv --\nid,method\nS1,steam\nS2,steam\n-- tests.csv --\nid,kind,run_at,equipment,control,result\nP,spore,2026-11-02 08:00,S1,growth,pass\nF,spore,2026-11-16 08:00,,,fail\nQ,spore,2026-11-20 08:00,S2,growth,pass\n"
	p := folder(t, more)
	a, err := asked(t, p, LookbackQuestion{Kind: "sterilizers", ID: "S1"})
	require.NoError(t, err)
	assert.Contains(t, a.Says[0], "A spore test that failed is written in this time, run on 16 Nov 2026, and which sterilizer it was of is not: it may be this one.")
	assert.Contains(t, a.Now[0], "Find out which sterilizer the failed spore test of 16 Nov 2026 was of")
	a, err = asked(t, p, LookbackQuestion{Kind: "sterilizers", ID: "S2"})
	require.NoError(t, err)
	assert.Contains(t, a.Now[0], "Nothing typed here asks you to do this today", "it passed since")
	_, err = asked(t, p, LookbackQuestion{Kind: "tests", ID: "F"})
	var no *LookbackRefusal
	require.ErrorAs(t, err, &no)
	assert.Contains(t, no.Next, "ask with --sterilizer for each that it may have been of")
}
