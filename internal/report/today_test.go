package report

import (
	"fmt"
	"regexp"
	"strings"
	"testing"

	"footing/internal/result"

	"github.com/stretchr/testify/require"
)

// What the records cannot bound leads the report; only what says stop goes before it.
func TestUnboundedLookbackLeads(t *testing.T) {
	first := func(r *result.Result) []string {
		in := sectionOf(t, Markdown(r), titleShort)
		return strings.Split(strings.TrimSpace(in), "\n")[:3]
	}
	r := full()
	lines := first(r)
	require.Contains(t, lines[0], "Something typed here says stop")
	require.Contains(t, lines[1], "Sterilizer Old One: if the sterilizer failed tonight, these records cannot bound it")
	require.NotContains(t, strings.Join(lines, "\n"), "Sterilizer S1:", "what is bounded comes after")
	r.Conclusion.Stop, r.Conclusion.Sentence = false, "Nothing typed here says stop."
	lines = first(r)
	require.Contains(t, lines[0], "cannot bound it")
	require.Contains(t, lines[1], "Nothing typed here says stop.")
	out := summarised(t, r, SummaryOptions{Width: 400})
	require.Less(t, strings.Index(out, "cannot bound it"), strings.Index(out, "says stop"))
	require.Contains(t, out, "narrow the question")
	require.Greater(t, strings.Index(summarised(t, full(), SummaryOptions{Width: 400}), "cannot bound it"), strings.Index(summarised(t, full(), SummaryOptions{Width: 400}), "says stop"))
}

func TestWhatBoundsALookback(t *testing.T) {
	for _, c := range []struct {
		w       result.Window
		bounded bool
		want    bool
	}{
		{result.Window{Name: result.Wide, Loads: 1, Since: "2026-01-01"}, true, false},
		{result.Window{Name: result.Wide, Loads: 1, Since: "2026-01-01"}, false, true},
		{result.Window{Name: result.Wide, Loads: 1}, false, true},
		{result.Window{Name: result.Wide, Loads: 0, Since: "2026-01-01"}, false, false},
		{result.Window{Name: result.Narrow, Loads: 1}, false, false},
	} {
		require.Equal(t, c.want, unbounded(&result.Lookback{Bounded: c.bounded, Windows: []result.Window{c.w}}), c)
	}
}

// A report that names a failed test does not say beside it that none failed.
func TestAFailedTestLeads(t *testing.T) {
	r := full()
	require.Contains(t, sectionOf(t, Markdown(r), titleFailed), "No failed spore test is written of this time.")
	r.Lookback[0].Failed, r.Lookback[0].Summary = "2026-11-23", "a spore test of the sterilizer failed (run on 23 Nov 2026), and these records narrow the question to 8 days and 5 loads"
	in := sectionOf(t, Markdown(r), titleFailed)
	require.NotContains(t, in, "No failed spore test")
	require.Contains(t, in, "The failed spore test of 23 Nov 2026 is written: footing lookback FOLDER --sterilizer S1 lists")
	require.Equal(t, 1, strings.Count(in, "If it does fail"), "of the other sterilizer")
	lines := strings.Split(strings.TrimSpace(sectionOf(t, Markdown(r), titleShort)), "\n")
	require.Contains(t, lines[0], "says stop")
	require.Contains(t, lines[1], "**Sterilizer S1: a spore test of the sterilizer failed")
}

// A line that a check puts into the headline as well is said once.
func TestHeadlineIsNotSaidTwice(t *testing.T) {
	r := full()
	r.Headline = append(r.Headline, r.Lookback[0].Summary)
	require.Equal(t, 1, strings.Count(sectionOf(t, Markdown(r), titleShort), "6 loads, up to 31 visits"))
}

func TestCommandToLookAgain(t *testing.T) {
	for id, want := range map[string]string{"S1": "--sterilizer S1 lists", "Old One": "--sterilizer \\\"Old One\\\" lists", "Bà": "\\\"Bà\\\""} {
		got := string(lookAgain(&result.Lookback{Sterilizer: id}))
		require.Contains(t, strings.ReplaceAll(got, "\\", ""), strings.ReplaceAll(want, "\\", ""), id)
	}
	require.Empty(t, lookAgain(&result.Lookback{}))
}

// What would narrow a look-back by an amount that is not known shows no nought.
func TestNarrowingOfUnknownSize(t *testing.T) {
	require.Equal(t, [][]string{{"Reports", "cannot be told", "–", "–", "–"}, {"A control", "0", "1", "2", "3"}},
		narrowingRows(&result.Lookback{Narrowing: []result.Narrowing{{What: "reports", Days: -1}, {What: "a control", Loads: 1, Visits: 2, Clients: 3}}}))
}

func TestNarrowingsAreCut(t *testing.T) {
	r := full()
	for i := range 9 {
		r.Lookback[0].Narrowing = append(r.Lookback[0].Narrowing, result.Narrowing{What: fmt.Sprint("record ", i)})
	}
	in := sectionOf(t, Markdown(r), titleFailed)
	require.Contains(t, in, "Record 3 |")
	require.NotContains(t, in, "Record 4 |")
	require.Contains(t, in, "5 more records would narrow it less")
}

func TestTrailInWords(t *testing.T) {
	r := full()
	r.Trail.Seed = 1<<62 + 1
	in := sectionOf(t, Markdown(r), titleTrail)
	require.Contains(t, in, "Of 412 visits, 20 were drawn at random, the draw starting from the number 4611686018427387905. Behind 17 of them each link that is kept was found; so behind 62.1 % to 96.8 % of all visits (a range that is right in at least 95 of 100 such draws).")
	require.Contains(t, in, "--visits 20 --seed 4611686018427387905")
	require.Contains(t, in, "**The weakest link: pack.**")
	r.Trail.Weakest = ""
	require.NotContains(t, sectionOf(t, Markdown(r), titleTrail), "weakest")
	r.Trail = nil
	require.NotContains(t, string(Markdown(r)), titleTrail)
}

// At the limit of months, one under and one over; the newest stay, by time.
func TestMonthsAreCut(t *testing.T) {
	for n, want := range map[int]int{23: 0, 24: 0, 25: 1, 40: 16} {
		r := full()
		r.Months = nil
		for i := range n {
			r.Months = append(r.Months, result.Month{Month: fmt.Sprintf("%d-%02d", 2020+i/12, 1+i%12), Sterilizer: "S1", Loads: i, Missing: map[bool]string{true: "a spore test"}[i%2 == 0]})
		}
		in := sectionOf(t, Markdown(r), titleMonths)
		require.Equal(t, n-want, strings.Count(in, "| S1 |"), n)
		require.Equal(t, want > 0, strings.Contains(in, "in audit.json"), n)
		if want == 16 {
			require.Contains(t, in, "16 earlier rows stand in audit.json; something is missing in 8 of them.")
			require.Less(t, strings.Index(in, "Feb 2022"), strings.Index(in, "Mar 2022"))
			require.NotContains(t, in, "2020")
		}
	}
}

func TestChainsOfAFinding(t *testing.T) {
	e := func(kind, id, note string) result.Evidence {
		return result.Evidence{Kind: kind, ID: id, Note: note, File: kind + ".csv"}
	}
	for name, c := range map[string]struct {
		evidence []result.Evidence
		want     []string
	}{
		"visit, pack, load":         {[]result.Evidence{e("visits", "V-1", "the visit, on 3 Nov"), e("packs", "P-1", "the pack, of this load"), e("loads", "L-1", "its load, rejected")}, []string{"Visit V-1 → pack P-1 → its load L-1"}},
		"two faults":                {[]result.Evidence{e("packs", "P-1", "the pack, opened"), e("packs", "P-1", "the pack, of this load"), e("loads", "L-1", "its load"), e("packs", "P-2", "the pack, opened"), e("loads", "L-2", "its load")}, []string{"Pack P-1 → its load L-1", "Pack P-2 → its load L-2"}},
		"a pack used twice":         {[]result.Evidence{e("packs", "P-1", ""), e("visits", "V-1", "a visit that names it, on 3 Nov"), e("visits", "V-2", "a visit that names it, on 4 Nov")}, []string{"Pack P-1 → visit V-1, which names it → visit V-2, which names it"}},
		"no visit and no pack":      {[]result.Evidence{e("loads", "L-1", ""), e("programs", "G", "its program")}, nil},
		"rows that stand alone":     {[]result.Evidence{e("visits", "V-1", ""), e("packs", "P-9", "")}, nil},
		"a row without an id":       {[]result.Evidence{e("visits", "V-1", ""), e("packs", "", "the pack"), e("loads", "L-1", "its load")}, nil},
		"a pack first, then visits": {[]result.Evidence{e("loads", "L-1", ""), e("packs", "P-1", "the pack, opened")}, nil},
	} {
		require.Equal(t, c.want, chainLines(&result.Finding{Evidence: c.evidence}), name)
	}
	r := full()
	for i := range 8 {
		r.Findings[0].Evidence = append(r.Findings[0].Evidence, e("packs", fmt.Sprint("P-", i), "the pack"), e("loads", fmt.Sprint("L-", i), "its load"))
	}
	in := sectionOf(t, Markdown(r), titleFindings)
	require.Contains(t, in, "**How it hangs together**\n\n- Pack P-0 → its load L-0\n")
	require.Contains(t, in, "- 3 more, in the rows below\n")
}

// Of many sterilizers the failed one leads, and the same is said once.
func TestManySterilizersShareALine(t *testing.T) {
	r := full()
	r.Lookback = nil
	for i := range 9 {
		r.Lookback = append(r.Lookback, result.Lookback{Kind: "sterilizers", ID: fmt.Sprint("S", i), Summary: "cannot bound it", Windows: []result.Window{{Name: result.Wide, Loads: 3}}})
	}
	r.Lookback[4].Summary, r.Lookback[4].Failed, r.Lookback[4].Bounded = "a spore test failed", "2026-11-23", true
	r.Lookback[8].Summary, r.Lookback[8].Bounded = "narrows to 9 days", true
	leading, others := reaches(r)
	require.Equal(t, []string{"Sterilizer S4: a spore test failed.", "Sterilizers S0, S1, S2, S3, S5, S6 and 1 other, each: cannot bound it."}, leading)
	require.Equal(t, []string{"Sterilizer S8: narrows to 9 days."}, others)
	r.Lookback = r.Lookback[:7]
	leading, _ = reaches(r)
	require.Contains(t, leading[1], "S5 and S6, each:")
}

// What says stop comes first, the latest first, and not under a grade that says less.
func TestWhatSaysStopComesFirst(t *testing.T) {
	finding := func(print, check, grade, last string) result.Finding {
		return result.Finding{Fingerprint: print, Check: check, Grade: grade, Summary: "found " + print, Steps: []string{"do " + print}, Extent: result.Extent{N: 1, Of: 1, First: last, Last: last}}
	}
	r := base()
	r.Findings = []result.Finding{finding("aaaaaaaaaaaa", "cycles/exposure", result.Critical, "2026-08-18"), finding("bbbbbbbbbbbb", "records/x", result.Major, "2026-11-24"),
		finding("cccccccccccc", "monitoring/spore-failed", result.Observation, "2026-11-23")}
	r.Conclusion = result.Conclusion{Stop: true, Sentence: "2 things say stop.", Stops: []string{"aaaaaaaaaaaa", "cccccccccccc"}}
	items := regexp.MustCompile(`(?m)^\d+\. \*\*(.*?)\*\*.*\((.*?): `).FindAllStringSubmatch(string(Markdown(r)), -1)
	require.Len(t, items, 3)
	for i, want := range [][2]string{{"Do cccccccccccc.", "says stop"}, {"Do aaaaaaaaaaaa.", "◆ critical"}, {"Do bbbbbbbbbbbb.", "▲ major"}} {
		require.Equal(t, want[:], items[i][1:])
	}
	out := summarised(t, r, SummaryOptions{})
	for _, want := range []string{"1. Do cccc", "2. ◆ Do aaaa", "3. ▲ Do bbbb"} {
		require.Contains(t, out, want)
	}
}
