package report

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"footing/internal/result"

	"github.com/stretchr/testify/require"
	"golang.org/x/net/html"
)

// pageWords is the text of the page, white space collapsed.
func pageWords(t testing.TB, page []byte) string {
	root, err := html.Parse(strings.NewReader(string(page)))
	require.NoError(t, err)
	var b strings.Builder
	for n := range root.Descendants() {
		if n.Type == html.TextNode && n.Parent.Data != "style" {
			b.WriteString(n.Data)
		}
	}
	return squeeze(b.String())
}

// The order that a reader needs: whether to stop, what to do first, what waits for no
// report, what may be asked for, then the rest.
func TestSectionsStandInOrder(t *testing.T) {
	text := string(Markdown(full()))
	order := []string{titleShort, titleToday, titleWaits, titleKept, titleAfter, titleWhat, titleFailed, titleFindings, titleUnseen, titleCalendar, titleMonths, titleTrail, titleLoggers, titleDue, titleGear, titleDeclared, titleConforming,
		titleNumbers, titleNot, titleBroken, titleRules, titleAccepted, titleFiles, titleWords, titleSources, titleGrades, titleClosing}
	var found []string
	for l := range strings.Lines(text) {
		if t, ok := strings.CutPrefix(l, "## "); ok {
			found = append(found, strings.TrimSpace(t))
		}
	}
	require.Equal(t, order, found)
	for _, title := range found {
		require.Contains(t, sections, title)
	}
}

func TestNumberOfConformingNeverStandsWithoutTheUnseen(t *testing.T) {
	for _, r := range []*result.Result{full(), thin()} {
		for l := range strings.Lines(string(Markdown(r)) + summarised(t, r, SummaryOptions{Width: 400})) {
			if strings.Contains(l, "conform,") || strings.Contains(l, "conforms,") {
				require.Contains(t, l, "could not look")
			}
		}
	}
}

// What is observed stands beside the check that conforms, so that the two do not contradict.
func TestConformingNamesItsObservations(t *testing.T) {
	r := thin()
	r.Checks = []result.Check{{ID: "people/due", Title: "nothing runs out", Outcome: result.Conforming, Things: "last days",
		Counts: result.CheckCounts{Examined: 6, Conforming: 6}}}
	require.Contains(t, string(Markdown(r)), "| Nothing runs out | 6 of 6 last days | people/due |")
	r.Findings = []result.Finding{{Fingerprint: "eeeeeeeeeeee", Check: "people/due", Grade: result.Observation, Summary: "s"}}
	require.Contains(t, string(Markdown(r)), "| 6 of 6 last days; but see [finding 1](#f-eeeeeeeeeeee) | people/due |")
}

// What has no published source cannot be waiting to be read in it.
func TestCommonPracticeIsNotYetReadNowhere(t *testing.T) {
	r := thin()
	r.Sources = []result.Source{{ID: "habit", Title: "Habit", Kind: "common practice"}, {ID: "book", Title: "Book", Kind: "published"}}
	for source, want := range map[string]bool{"habit": false, "book": true} {
		r.Findings = []result.Finding{{Check: "x/y", Grade: result.Minor, Summary: "s",
			Criterion: &result.Criterion{ID: "x", Value: "1", Source: source, Known: "memory"}}}
		require.Equal(t, want, strings.Contains(string(Markdown(r)), "not yet read in the source"), source)
	}
}

func TestQuoted(t *testing.T) {
	require.Equal(t, "a list, or “all”", quoted("a list, or `all`"))
	require.Equal(t, "one ` alone", quoted("one ` alone"))
}

func TestAtMostTenActions(t *testing.T) {
	r := full()
	for i := range 40 {
		r.Findings = append(r.Findings, result.Finding{Check: fmt.Sprintf("x/%02d", i), Grade: result.Minor, Summary: "s", Steps: []string{"do " + itoa(i)}})
	}
	first, after := sectionOf(t, Markdown(r), titleToday), sectionOf(t, Markdown(r), titleAfter)
	require.True(t, strings.HasPrefix(strings.TrimSpace(first), "1. **Stop using packs"), first)
	require.Regexp(t, `(?s)^\s*1\. .*\n2\. .*\n3\. .*\n\nThen \[7 more things to do\]\(#after\)\.\s*$`, first)
	require.Regexp(t, `(?s)^\s*4\. .*\n10\. .*\n\n37 more stand under \[Findings\]`, after)
	list := first + after
	require.NotContains(t, list, "gowns", "what was accepted asks for nothing")
}

func TestFindingsWithOneFirstStepAreOneAction(t *testing.T) {
	r := &result.Result{}
	for i := range 8 {
		r.Findings = append(r.Findings, result.Finding{Check: "gear/sizes", Grade: result.Minor, Subject: result.Subject{Kind: "people", ID: itoa(i)}, Summary: "s", Steps: []string{"buy"}})
	}
	a := newIndex(r).actions()
	require.Len(t, a, 1)
	require.Len(t, a[0].findings, 8)
	require.Contains(t, string(Markdown(r)), "[finding 5](#f-number-5), 3 more)")
	require.Equal(t, "Person 0 and 7 others: s", a[0].why)
	// What was found in one must not be said of another.
	r.Findings[4].Summary = "something else"
	require.Equal(t, "Person 0 (7 more findings ask for the same): s", newIndex(r).actions()[0].why)
}

func TestTitleOfTheActionsFollowsTheOccasion(t *testing.T) {
	for _, c := range []struct {
		kind, on string
		want     md
	}{
		{"inspection", "2026-11-26", titleBeforeOpening}, {"inspection", "2026-11-25", titleBeforeOpening},
		{"inspection", "2026-11-27", titleBeforeInspection}, {"inspection", "2026-11-20", titleToday},
		{"renewal", "2027-01-06", titleBeforeRenewal}, {"self-audit", "", titleToday}, {"renewal", "", titleToday},
	} {
		r := thin()
		r.Purpose = result.Purpose{Kind: c.kind, On: c.on}
		require.Equal(t, c.want, firstTitle(r), c)
	}
}

func TestCautionsFollowWhatSaysStop(t *testing.T) {
	const processed, covered = "ask public health and", "before anything is sent"
	r := thin()
	require.NotContains(t, string(Markdown(r)), processed)
	r.Findings = []result.Finding{{Fingerprint: "dddddddddddd", Check: "people/cover", Grade: result.Critical, Summary: "s"}}
	r.Conclusion.Stops = []string{"dddddddddddd"}
	require.Contains(t, string(Markdown(r)), covered)
	require.NotContains(t, string(Markdown(r)), processed)
	for _, check := range []string{"packs/date", "monitoring/spore-failed", "cycles/exposure"} {
		r.Findings[0].Check = check
		require.Contains(t, string(Markdown(r)), processed, check)
		require.NotContains(t, string(Markdown(r)), "packs that were never counted", check)
	}
	r.Findings[0].Check, r.Conclusion.Stops = balanceCheck, nil
	require.Contains(t, string(Markdown(r)), "packs that were never counted", "whatever its grade")
}

func TestEvidenceIsCutAndTheRestCounted(t *testing.T) {
	r := full()
	text := string(Markdown(r))
	require.Contains(t, text, "\n20. loads.csv, row 31,")
	require.NotContains(t, text, "row 32,")
	require.Contains(t, text, "… and 12 more; every one is in audit.json")
	page, err := HTML(r)
	require.NoError(t, err)
	require.Contains(t, pageWords(t, page), "and 12 more; every one is in audit.json")
	require.NotContains(t, string(page), "```", "each fence has become a table")
}

func TestDataLoggerFilesAreCounted(t *testing.T) {
	text := string(Markdown(full()))
	require.Contains(t, text, "12 files, 494.4 kB: traces/c400.csv, traces/c401.csv, traces/c402.csv, traces/c403.csv, traces/c404.csv and 7 more.")
	_, files, _ := strings.Cut(text, "### Data-logger files")
	require.NotContains(t, files, "c406")
	require.Contains(t, text, "| traces/c403.csv | 403 | 10 Nov 2026 16:05 | began within ten minutes of it |", "the pairing is printed")
	many := full()
	for i := range 25 {
		many.Traces = append(many.Traces, result.Trace{File: fmt.Sprintf("traces/d%d.csv", i), Load: "9", By: "name", Judged: true})
	}
	require.Contains(t, string(Markdown(many)), "15 more pairs stand in audit.json.")
	// By coreutils, over the twelve lines "000…  traces/c400.csv" and so on:
	// for i in $(seq 0 11); do b=$(printf %02x $i); printf "$b%.0s" $(seq 32); echo "  traces/c$((400+i)).csv"; done | sha256sum
	require.Contains(t, text, "2f158ee6791ec28ac678037e50289b7fba4e108f4922eeaaed5a64bdb548c9eb")
	r := full()
	slices.Reverse(r.Traces)
	require.Contains(t, string(Markdown(r)), "2f158ee6791ec28ac678037e50289b7fba4e108f4922eeaaed5a64bdb548c9eb")
}

func TestNamesAndPrivateValuesStayOut(t *testing.T) {
	r := full()
	page, err := HTML(r)
	require.NoError(t, err)
	for _, text := range []string{string(Markdown(r)), string(page), summarised(t, r, SummaryOptions{})} {
		require.NotContains(t, text, "Ada")
		require.NotContains(t, text, "diabetes: yes")
	}
	require.Contains(t, string(Markdown(r)), "histories/2026.yaml, row 2", "the place stays")
	require.Contains(t, string(Markdown(r)), "Site Main Clinic", "a thing keeps its name")
}

func TestLooksLikeName(t *testing.T) {
	for _, s := range []string{"Ada Vale", "VALE, Ada", "Ada van Dyk", "Ada-Lou O'Hara", "Åsa Ödman", "Ada M. Vale", " Ada\tVale "} {
		require.True(t, result.LikeName(plain(s)), s)
	}
	for _, s := range []string{"C-0147", "P1", "Ada", "first aid", "Client 7", "A B", "S1 S2", "blue book", "", "Room No 5", "one two three four five six"} {
		require.False(t, result.LikeName(plain(s)), s)
	}
}

// An empty result, and one with grades and outcomes that do not exist, give a page too.
func TestOddResults(t *testing.T) {
	for _, r := range []*result.Result{{}, {Findings: []result.Finding{{}, {Grade: "odd"}}, Checks: []result.Check{{Outcome: "odd"}}, Figures: []result.Figure{{Value: 1e300}}}} {
		page, err := HTML(r)
		require.NoError(t, err)
		checkPage(t, page)
	}
	require.Equal(t, "0.125", number(0.125))
	require.Equal(t, "−3", number(-3))
	require.Equal(t, "0", number(-0.0001))
	require.Equal(t, "1e+300", number(1e300))
}

// What says stop stands open, whatever its grade.
func TestWhatSaysStopStandsOpen(t *testing.T) {
	r := full()
	at := func() string {
		page, err := HTML(r)
		require.NoError(t, err)
		before, _, found := strings.Cut(string(page), `<div class="body" id="f-5d1e00aa77c2"`)
		require.True(t, found)
		return before[strings.LastIndex(before, "<details"):]
	}
	require.NotContains(t, at(), " open>", "an observation")
	r.Conclusion.Stops = append(r.Conclusion.Stops, "5d1e00aa77c2")
	require.Contains(t, at(), " open>")
}
