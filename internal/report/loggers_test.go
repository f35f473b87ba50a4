package report

import (
	"strings"
	"testing"

	"footing/internal/result"

	"github.com/stretchr/testify/require"
)

// sectionOf is the Markdown between a title of the second level and the next.
func sectionOf(t *testing.T, text []byte, title string) string {
	_, rest, ok := strings.Cut(string(text), "## "+title+"\n")
	require.True(t, ok, title)
	in, _, _ := strings.Cut(rest, "\n## ")
	return in
}

func TestDataLoggerFilesAreAccountedFor(t *testing.T) {
	r := full()
	in := sectionOf(t, Markdown(r), titleLoggers)
	require.Contains(t, in, "12 read, 11 of them judged, 10 paired with a load of the log: 2 named in the log, 5 by the cycle counter and 3 by the time of the start.")
	require.Contains(t, in, "- traces/c404.csv: no load began within ten minutes of it.\n- traces/c405.csv: it is not judged, for the reason under [Files and rows](#files).\n")
	require.Contains(t, in, "second witness beside the chemical indicators and the spore tests. **It never overrules either: where a spore test shows growth, act on it, whatever the trace shows.**")
	files := sectionOf(t, Markdown(r), titleFiles)
	require.Contains(t, files, "Lines: 12000 = 1066 of heading + 10923 with a reading + 11 set aside.")
	require.Equal(t, 12000, 1066+10923+11)
	require.Contains(t, files, "Not judged:\n\n- traces/c405.csv: no column of it is a temperature.\n")
	require.NotContains(t, files, "c404.csv: ")
	for _, text := range []string{string(Markdown(r)), summarised(t, r, SummaryOptions{Width: 400})} {
		require.Contains(t, text, "Data-logger files: 12 read, 11 judged, 10 paired with a load of the log; findings rest on 3 of them.")
	}
	require.Contains(t, sectionOf(t, Markdown(r), titleWhat), "findings rest on 3 of them. See [what they show](#loggers).")
}

// One line that helps: how many could be judged, and whether anything is found in them.
func TestDataLoggersInALine(t *testing.T) {
	file := func(judged bool, load string) result.Trace { return result.Trace{Judged: judged, Load: load} }
	found := []result.Exhibit{{Chart: &result.Chart{Findings: []string{"a"}}}, {Chart: &result.Chart{Conforming: "most"}}, {}}
	for want, r := range map[string]*result.Result{
		"": {},
		"Data-logger files: 1 read, 1 judged, 0 paired with a load of the log; no finding rests on it.":         {Traces: []result.Trace{file(true, "")}},
		"Data-logger files: 2 read, all judged, all paired with a load of the log; no finding rests on them.":   {Traces: []result.Trace{file(true, "a"), file(true, "b")}},
		"Data-logger files: 2 read, 1 judged, all paired with a load of the log; findings rest on all of them.": {Traces: []result.Trace{file(true, "a"), file(false, "b")}, Exhibits: found, Undrawn: 1},
		"Data-logger files: 3 read, all judged, 0 paired with a load of the log; findings rest on 1 of them.":   {Traces: []result.Trace{file(true, ""), file(true, ""), file(true, "")}, Exhibits: found},
		"Data-logger files: 1 read, 0 judged, 0 paired with a load of the log; findings rest on it.":            {Traces: []result.Trace{file(false, "")}, Undrawn: 1},
	} {
		require.Equal(t, want, loggersShort(r))
	}
}

// What names its line is not told it twice; a line of another number is no such.
func TestALineIsToldOnce(t *testing.T) {
	require.True(t, names("Line 36: the temperature is beyond what a sensor shows", 36))
	require.True(t, names("Before line 45 there is no reading for 100 s", 45))
	require.False(t, names("Line 36: the temperature", 3))
	require.False(t, names("held 36 s", 36))
	r := full()
	for i := range r.Findings {
		for j := range r.Findings[i].Evidence {
			if e := &r.Findings[i].Evidence[j]; e.File == "traces/c401.csv" {
				e.Value = "Before line 367 there is no reading for 100 s"
			}
		}
	}
	in := sectionOf(t, Markdown(r), titleLoggers)
	require.Contains(t, in, "Before line 367 there is no reading for 100 s.\n")
}

// A chart says the bounds of its hold: a gap in it may leave little that is sure.
func TestHoldWithItsBounds(t *testing.T) {
	for _, c := range []struct {
		until, least, most float64
		want               string
	}{
		{165, 160, 180, "2 min 45 s (2 min 40 s to 3 min)"},
		{304, 100, 319.2, "5 min 4 s (1 min 40 s to 5 min 20 s)"},
		{240, 240, 240, "4 min"},
		{240.3, 240.1, 240.0, "4 min"}, // bounds that cross are none
		{9, 8.04, 9.04, "9 s (8 s to 9.1 s)"},
		{240, -1, 300, "4 min"},
		{240, 200, 1e300, "4 min"},
	} {
		require.Equal(t, c.want, heldFor(&result.Hold{Stretch: result.Stretch{Until: c.until}, Least: c.least, Most: c.most}), c)
	}
}

// Without a data-logger file the report speaks of none.
func TestNoDataLoggerNoSection(t *testing.T) {
	for _, text := range []string{string(Markdown(thin())), summarised(t, thin(), SummaryOptions{})} {
		require.NotContains(t, strings.ToLower(text), "data-logger")
		require.NotContains(t, text, titleLoggers)
	}
}

// At most twenty files are named in each list; the rest are counted.
func TestManyFilesAreCounted(t *testing.T) {
	r := thin()
	for i := range 32 {
		r.Traces = append(r.Traces, result.Trace{File: "traces/x" + itoa(i) + ".csv", Why: "it is empty"})
	}
	for _, title := range []string{titleLoggers, titleFiles} {
		in := sectionOf(t, Markdown(r), title)
		require.Contains(t, in, "traces/x19.csv: ")
		require.NotContains(t, in, "traces/x20.csv: ")
		require.Contains(t, in, "- 12 more files\n")
	}
}

func TestChartsStandWorstFirstWithTheirFindings(t *testing.T) {
	r := full()
	in := sectionOf(t, Markdown(r), titleLoggers)
	at := -1
	for _, heading := range []string{"### Chart 1. Load 401, sterilizer S1, 8 Nov 2026 16:05 (traces/c401.csv)", "### Chart 2. Load 400,",
		"### Chart 3. The best of those that conform: no load found, sterilizer S1, 11 Nov 2026 16:05 (traces/c404.csv)"} {
		next := strings.Index(in, heading)
		require.Greater(t, next, at, heading)
		at = next
	}
	require.Contains(t, in, "At or above 134 °C without a break: 3 min 12 s (3 min 8 s to 3 min 16 s).\n\nWhat was found in it:\n\n- ▲ [finding 3](#f-dd0000000001): held 3 min 8 s to 3 min 16 s (line 367).\n")
	require.Contains(t, in, "```figure trace-1\n1. First reading · 8 Nov 2026, 16:05\n")
	require.Equal(t, 1, strings.Count(in, "No finding rests on it."))
	require.Contains(t, in, "1 more data-logger file with a finding is not drawn here")
	require.Contains(t, sectionOf(t, Markdown(r), titleFindings), "Drawn: [chart 1](#trace-1).")
	r.Exhibits[3].Chart.Conforming, r.Undrawn = "least", 7
	in = sectionOf(t, Markdown(r), titleLoggers)
	require.Contains(t, in, "The least good of those that conform: no load found")
	require.Contains(t, in, "7 more data-logger files with a finding are not drawn here; the findings name them")
}

// Charts belong to their own section, whatever check they are of.
func TestChartsStandOnce(t *testing.T) {
	r := full()
	r.Findings, r.Days, r.Due = nil, nil, nil
	page, err := HTML(r)
	require.NoError(t, err)
	require.Equal(t, 3, strings.Count(string(page), "<svg "))
	require.NotContains(t, sectionOf(t, Markdown(r), titleNumbers), "trace-1")
	require.NotContains(t, string(page), "figure trace-", "each fence has become a chart")
}

// Many charts of one finding are linked in short.
func TestManyChartsOfOneFinding(t *testing.T) {
	r := full()
	for range 4 {
		r.Exhibits = append(r.Exhibits, r.Exhibits[1])
	}
	require.Contains(t, string(Markdown(r)), "Drawn: [chart 1](#trace-1), [chart 4](#trace-4), [chart 5](#trace-5) and 2 more.")
	page, err := HTML(r)
	require.NoError(t, err)
	checkPage(t, page) // ids stay unique though all seven exhibits share three names
}

func TestPlacesInADataLoggerFile(t *testing.T) {
	for want, e := range map[string]result.Evidence{
		"traces/S1-00123.csv line 412": {Kind: "traces", File: "traces/S1-00123.csv", Line: 412, ID: "S1-00123.csv"},
		"traces/S1-00123.csv":          {Kind: "traces", File: "traces/S1-00123.csv"},
	} {
		require.Equal(t, want, where(e))
		require.Empty(t, record(e))
	}
	require.Contains(t, string(Markdown(full())), "1. traces/c401.csv line 367 · held 3 min 8 s to 3 min 16 s\n")
	require.Equal(t, "Data-logger file traces/My Trace.csv", newIndex(thin()).about(&result.Finding{Subject: result.Subject{Kind: "traces", ID: "traces/My Trace.csv"}}))
}

func TestMissingDataLoggerFilesAreNamedInWords(t *testing.T) {
	r := thin()
	r.Checks[2].Missing = []result.Missing{{Kind: "traces"}}
	r.NextField = &result.NextField{Kind: "traces", Why: "they show the hold"}
	text := string(Markdown(r))
	require.Contains(t, text, "| data-logger files | the files, in the folder traces | gear/sizes |")
	require.Contains(t, text, "From today on, never backwards: copy the data logger's files into the folder traces.")
}

// What to see in a chart, where less than all is known of it.
func TestToSee(t *testing.T) {
	require.Equal(t, "No set temperature is known for it.", toSee(&result.Chart{Hold: &result.Hold{Stretch: result.Stretch{Until: 60}}}))
	require.Equal(t, "No unbroken time at or above 134 °C can be shown.", toSee(&result.Chart{Set: ptr(134)}))
	require.Equal(t, "At or above 134.5 °C without a break: 4 min 50 s (4 min 50 s to 4 min 51 s).", toSee(&result.Chart{Set: ptr(134.5), Hold: &result.Hold{Stretch: result.Stretch{From: 700, Until: 990.7}, Least: 290.7, Most: 290.7}}))
}
