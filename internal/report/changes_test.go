package report

import (
	"bytes"
	"regexp"
	"strings"
	"testing"

	"footing/internal/result"

	terminal "github.com/jedib0t/go-pretty/v6/text"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/net/html"
	"pgregory.net/rapid"
)

func changesText(t testing.TB, c *Changes, opt SummaryOptions) string {
	var b bytes.Buffer
	require.NoError(t, c.Text(&b, opt))
	return b.String()
}

// later is full with one thing of each sort changed.
func later() (before, after *result.Result) {
	before, after = full(), full()
	gone := before.Findings[len(before.Findings)-1]
	after.Findings = after.Findings[:len(after.Findings)-1]
	fresh := gone
	fresh.Fingerprint, fresh.Grade, fresh.Summary = "0123456789ab", result.Critical, "something new; something else is needed"
	after.Findings[0].Grade = result.Minor
	after.Findings[1].Extent.N++
	after.Findings = append(after.Findings, fresh)
	after.Conclusion = result.Conclusion{Sentence: "Nothing typed here says stop.", Unseen: "all was seen"}
	after.Intake[0].Rows, after.Intake[0].SetAside, after.Intake[0].SHA256 = after.Intake[0].Rows+3, 2, "x"
	after.Counts.Rows, after.Counts.SetAside, after.Counts.Minor = after.Counts.Rows+3, 2, after.Counts.Minor+1
	return before, after
}

func TestChangesInWords(t *testing.T) {
	before, after := later()
	text := squeeze(changesText(t, ChangesOf(before, after), SummaryOptions{Width: 132}))
	for _, want := range []string{"saved, ", "rows, 3 more; 2 rows are set aside.", "Now: Nothing typed here says stop. Before: ", "What could be seen: all was seen.",
		"New: ◆ critical. ", "Graded lower: ■ minor, before ◆ critical. ", "More now: ", "No longer found: ", "Found: ", "Rows of all records: ", "As before: "} {
		assert.Contains(t, text, want)
	}
	assert.Equal(t, "1 new, 1 no longer found, 1 graded anew, 1 with more, fewer or other things", ChangesOf(before, after).Short())
	back := squeeze(changesText(t, ChangesOf(after, before), SummaryOptions{Width: 132}))
	for _, want := range []string{"Graded higher: ◆ critical, before ■ minor. ", "Fewer now: ", "rows, 3 fewer"} {
		assert.Contains(t, back, want)
	}
}

// Found by damaging the workbook while it was watched: "nothing says stop" read as good news.
func TestLessToSeeIsNoGoodNews(t *testing.T) {
	before, after := full(), full()
	before.Conclusion = result.Conclusion{Stop: true, Sentence: "9 things say stop"}
	after.Conclusion = result.Conclusion{Sentence: "nothing says stop"}
	text := squeeze(changesText(t, ChangesOf(before, after), SummaryOptions{Width: 132}))
	assert.NotContains(t, text, "less to see")
	after.Findings, after.Checks = nil, nil
	c := ChangesOf(before, after)
	assert.Contains(t, squeeze(changesText(t, c, SummaryOptions{Width: 132})), "Now: nothing says stop. Before: 9 things say stop. There is less to see now than before, so it may not have been mended.")
	assert.Regexp(t, `^\d+ no longer found but with less to see`, c.Short())
}

func TestNothingChanged(t *testing.T) {
	c := ChangesOf(full(), full())
	assert.Equal(t, "nothing changed in what the records say", c.Short())
	assert.Empty(t, changesText(t, c, SummaryOptions{}))
	saved := full()
	saved.Intake[0].SHA256 = "x"
	c = ChangesOf(full(), saved)
	assert.Equal(t, "nothing changed in what was found", c.Short())
	assert.Equal(t, 1, strings.Count(changesText(t, c, SummaryOptions{}), "\n"))
}

func TestFilesInWords(t *testing.T) {
	records := func(rows, aside int) *result.FileState { return &result.FileState{Rows: rows, SetAside: aside} }
	trace := &result.FileState{Trace: true}
	for want, f := range map[string][2]*result.FileState{
		"gone from the folder":            {records(1, 0), nil},
		"new, 1 row":                      {nil, records(1, 0)},
		"new, 2 rows; 1 row is set aside": {nil, records(2, 1)},
		"can be read now, 3 rows":         {{Unread: "its name says nothing"}, records(3, 0)},
		"saved, 2 rows":                   {records(2, 0), records(2, 0)},
		"saved, 3 rows, 1 more; 2 rows are set aside, 1 fewer":    {records(2, 3), records(3, 2)},
		"saved, 1 row, 1 fewer; no row is set aside any more":     {records(2, 1), records(1, 0)},
		"saved, 2 rows; 1 row is set aside, 1 more":               {records(2, 0), records(2, 1)},
		"new data-logger file":                                    {nil, trace},
		"data-logger file with other contents":                    {trace, trace},
		"not read as records: its name is not that of any record": {records(1, 0), {Unread: "its name is not that of any record"}},
	} {
		assert.Equal(t, want, fileWords(f[0], f[1]))
	}
}

func TestChecksInWords(t *testing.T) {
	w := &changeWords{}
	w.checks([]result.CheckPair{
		{Title: "a", Before: result.Nonconforming, After: result.Conforming}, {Title: "b", Before: result.NotAssessed, After: result.Conforming},
		{Title: "c", Before: result.NotAssessed, After: result.Nonconforming}, {Title: "d", Before: result.Conforming, After: result.NotAssessed},
		{Title: "e", Before: result.Conforming, After: result.Broken}, {Title: "f", Before: result.Conforming, After: result.Nonconforming}, {Title: "g", Before: "", After: result.NotAssessed},
		{ID: "h", Title: "h", Before: result.Nonconforming, After: result.Conforming},
	}, []result.Closed{{Finding: result.Finding{Check: "h"}, Unseen: true}, {Finding: result.Finding{Check: "h"}}})
	var said []string
	for _, l := range w.lines {
		said = append(said, l.said())
	}
	assert.Equal(t, []string{"Conforms now, in what could be seen: a.", "Conforms now, but there is less to see than before: h.", "Could look now: b. It conforms, in what could be seen.", "Could look now: c. It does not conform.",
		"Can no longer look: d.", "Failed to run: e."}, said)
}

// Many are counted, and none is left out of the count.
func TestManyChangesAreCounted(t *testing.T) {
	before, after := base(), base()
	for i := range 3 * mostChanges {
		f := result.Finding{Fingerprint: result.Fingerprint("a/a", "loads", itoa(i), ""), Check: "a/a", Grade: result.Minor, Subject: result.Subject{Kind: "loads", ID: itoa(i)}, Summary: "short"}
		after.Findings = append(after.Findings, f)
	}
	text := changesText(t, ChangesOf(before, after), SummaryOptions{})
	assert.Equal(t, mostChanges, strings.Count(text, "New: ■"))
	assert.Contains(t, text, "New: 16 more.")
}

func TestChangesFitTheTerminal(t *testing.T) {
	before, after := later()
	after.Findings[0].Summary = strings.Repeat("漢字", 60) + strings.Repeat("x", 200)
	for _, width := range []int{40, 80, 132} {
		for _, color := range []bool{false, true} {
			out := changesText(t, ChangesOf(before, after), SummaryOptions{Width: width, Color: color})
			assert.Equal(t, color, strings.Contains(out, "\x1b"))
			for l := range strings.Lines(out) {
				require.LessOrEqual(t, terminal.StringWidthWithoutEscSequences(strings.TrimSuffix(l, "\n")), width, l)
			}
		}
	}
}

// liveOf is a page with what changed.
func liveOf(t require.TestingT, before, after *result.Result, l Live) []byte {
	page, err := HTML(after)
	require.NoError(t, err)
	if before != nil {
		l.Changes = ChangesOf(before, after)
	}
	out, err := LiveHTML(page, l)
	require.NoError(t, err)
	return out
}

// The page is the report's, with a bar before it and one script, which has the nonce.
func TestLivePage(t *testing.T) {
	before, after := later()
	page := liveOf(t, before, after, Live{Number: 7, At: "14:05:10", Before: "14:01:02", Nonce: "n0nce"})
	plainPage, err := HTML(after)
	require.NoError(t, err)
	rest := regexp.MustCompile(`(?s)<style>\n\.watch.*?</aside>\n|<script.*</script>\n`).ReplaceAll(page, nil)
	want := regexp.MustCompile(`<meta http-equiv[^>]*>\n`).ReplaceAll(plainPage, nil)
	require.Equal(t, string(want), string(rest), "all else is the report")
	assert.True(t, bytes.Contains(page, []byte(`<script nonce="n0nce" data-reading="7">`)))
	assert.True(t, bytes.Contains(page, []byte("Read at <strong>14:05:10</strong>")))
	assert.True(t, bytes.Contains(page, []byte("Since 14:01:02: 1 new")))
	assert.True(t, bytes.Contains(page, []byte(`something else is needed. <a href="#f-0123456789ab">See it</a>.</li>`)))
	assert.True(t, bytes.Contains(page, []byte(`id="f-0123456789ab"`)))
	assert.False(t, bytes.Contains(page, []byte("http-equiv")), "the policy comes with the page")

	first := string(liveOf(t, nil, after, Live{Number: 1, At: "14:01:02", Nonce: "n"}))
	assert.True(t, strings.Contains(first, "Save a file in the folder"))
	assert.False(t, strings.Contains(first, "<summary>Since"))
	trouble := string(liveOf(t, nil, after, Live{Number: 2, At: "14:01:02", Trouble: "<torn>", Nonce: "n"}))
	assert.True(t, strings.Contains(trouble, "could not be read.</strong> &lt;torn&gt; The page below is the reading of 14:01:02."))
	none, err := LiveHTML(nil, Live{Number: 1, Trouble: "no records were found", Nonce: "n"})
	require.NoError(t, err)
	assert.True(t, bytes.Contains(none, []byte("no records were found")))
	assert.False(t, bytes.Contains(none, []byte("The page below")))
	_, err = LiveHTML([]byte("<html>"), Live{})
	require.Error(t, err)
}

// Whatever the records hold, the bar shows it as text: one script, no handler, no other element than its own.
func TestAnyTextGivesAnAllowedBar(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		before, after := later()
		text := hostile().Draw(t, "text")
		after.Findings[len(after.Findings)-1].Summary = text
		after.Intake[0].File, after.Conclusion.Sentence, after.Findings[0].Subject.ID = text, text, text
		root, err := html.Parse(bytes.NewReader(liveOf(t, before, after, Live{Number: 2, At: text, Before: text, Trouble: text, Nonce: "n"})))
		require.NoError(t, err)
		scripts := 0
		for n := range root.Descendants() {
			if n.Type != html.ElementNode {
				continue
			}
			if n.Data == "script" {
				scripts++
			} else if _, ok := allowed[n.Data]; !ok && n.Data != "aside" && n.Data != "noscript" {
				t.Errorf("element %s", n.Data)
			}
			for _, a := range n.Attr {
				if strings.HasPrefix(a.Key, "on") || a.Key == "src" || a.Key == "style" {
					t.Errorf("%s has %s", n.Data, a.Key)
				}
			}
		}
		if scripts != 1 {
			t.Errorf("%d scripts", scripts)
		}
	})
}
