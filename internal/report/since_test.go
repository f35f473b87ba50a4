package report

import (
	"bytes"
	"fmt"
	"reflect"
	"strings"
	"testing"

	"footing/internal/result"

	terminal "github.com/jedib0t/go-pretty/v6/text"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// reading is an audit of a day with a finding a subject named, each by one check that looked.
func reading(day string, subjects ...string) *result.Result {
	r := base()
	r.AsOf, r.Practice.Name, r.Findings = day, "Heron Lane", nil
	r.Checks = []result.Check{{ID: "a/a", Title: "all is well", Outcome: result.Nonconforming}}
	for _, s := range subjects {
		r.Findings = append(r.Findings, result.Finding{Fingerprint: result.Fingerprint("a/a", "loads", s, ""), Check: "a/a", Grade: result.Minor,
			Subject: result.Subject{Kind: "loads", ID: s}, Summary: "short", Extent: result.Extent{N: 1, Of: 2}})
	}
	return r
}

func compared(t testing.TB, r *result.Result, opt SummaryOptions) string {
	var b bytes.Buffer
	require.NoError(t, CompareText(&b, r, false, opt))
	return b.String()
}

// The line of the voice, word for word.
func TestSinceLine(t *testing.T) {
	before := reading("2026-09-02", "1", "2", "3", "4", "5", "6", "7", "8", "9")
	after := result.Follow(before, reading("2026-11-25", "7", "8", "9", "10", "11"))
	line := "Since your reading of 2 Sep: 6 closed, 2 new, 3 still open (84 days)."
	assert.Equal(t, line, newIndex(after).sinceLine())
	assert.Contains(t, squeeze(summarised(t, after, SummaryOptions{Width: 132})), line)
	assert.Contains(t, string(Markdown(after)), "- "+line+" See [finding by finding](#since).")
	assert.Contains(t, string(Markdown(after)), "\n## Since your reading of 2 Sep 2026\n")
	page, err := HTML(after)
	require.NoError(t, err)
	assert.Contains(t, string(page), `id="since"`)
	checkPage(t, page)
	// What was not told of an earlier reading says nothing of one.
	assert.NotContains(t, string(Markdown(reading("2026-11-25", "1"))), "Since your reading")
}

func TestSinceCounts(t *testing.T) {
	for name, c := range map[string]struct {
		before, after []string
		change        func(before, after *result.Result)
		want          string
	}{
		"nothing at all": {nil, nil, nil, "nothing was found then, and nothing now"},
		"the same":       {[]string{"1"}, []string{"1"}, nil, "nothing closed and nothing new, 1 still open (1 day)"},
		"one day":        {[]string{"1"}, []string{"1"}, func(a, b *result.Result) { a.AsOf = b.AsOf }, "nothing closed and nothing new, 1 still open"},
		"of several days": {[]string{"1", "2"}, []string{"1", "2"}, func(a, _ *result.Result) { a.Findings[0].FirstSeen = "2026-11-01" },
			"nothing closed and nothing new, 2 still open (1 to 24 days)"},
		"all closed": {[]string{"1"}, nil, nil, "1 closed"},
		"less to see": {[]string{"1"}, nil, func(_, b *result.Result) { b.Checks[0].Outcome = result.NotAssessed },
			"1 no longer found but with less to see"},
		"another rule": {[]string{"1"}, []string{"2"}, func(a, b *result.Result) { a.RuleSet = "b"; a.Checks[0].Criteria = []string{"x"} },
			"1 no longer found under another rule, 1 new under another rule"},
		"could not look": {nil, []string{"1"}, func(a, _ *result.Result) { a.Checks = nil }, "1 new where nothing could look before"},
	} {
		a, b := reading("2026-11-24", c.before...), reading("2026-11-25", c.after...)
		if c.change != nil {
			c.change(a, b)
		}
		assert.Equal(t, c.want, newIndex(result.Follow(a, b)).sinceCounts(), name)
	}
}

func TestCompareTellsEach(t *testing.T) {
	before, after := reading("2026-09-02", "1", "2"), reading("2026-11-25", "2", "3")
	after.Findings[0].Grade, after.Findings[0].Extent.N = result.Critical, 2
	after.Findings[1].Accepted = true
	before.Findings[1].Accepted = true
	after.Accepted = []result.Accepted{{Finding: after.Findings[1].Fingerprint, Reason: "a new one is on its way", By: "P-01", Until: "2026-12-31", State: "in force"}}
	after.Practice.Name = "Tern Quay"
	r := result.Follow(before, after)
	text := squeeze(compared(t, r, SummaryOptions{Width: 132}))
	page := string(CompareMarkdown(r, true))
	for _, want := range []string{"The reading of 2 Sep 2026 beside the reading of 25 Nov 2026, 84 days later.", "1 closed, 1 new, 1 still open (84 days).",
		"Load 2: short. Before: ■ minor. 2 of 2, before 1 of 2. It was accepted for a time then; that has ended, or was taken back.",
		"Load 3: short. Accepted for a time.", "Load 1: short. Last found on 2 Sep 2026.", "The two readings bear other names: “Heron Lane” then, “Tern Quay” now."} {
		assert.Contains(t, text, want)
		assert.Contains(t, page, want)
	}
	assert.Contains(t, page, "They were named the other way round")
	assert.Contains(t, page, "a new one is on its way")
	assert.Empty(t, never.FindAllString(page+text, -1))
}

func TestCompareEmptyAndEqual(t *testing.T) {
	for name, r := range map[string]*result.Result{"empty": {}, "full": full(), "thin": thin()} {
		same := result.Follow(r, r)
		assert.Empty(t, same.Since.Limits, name)
		assert.NotContains(t, compared(t, same, SummaryOptions{}), "What cannot", name)
		page, err := CompareHTML(same, false)
		require.NoError(t, err, name)
		checkPage(t, page)
	}
	assert.Contains(t, compared(t, result.Follow(&result.Result{}, &result.Result{}), SummaryOptions{}), "Nothing was found then, and nothing now.")
}

// Many are counted, none is left out of the count, and the page stays small.
func TestCompareMany(t *testing.T) {
	var ids []string
	for i := range 5000 {
		ids = append(ids, fmt.Sprint(i))
	}
	r := result.Follow(reading("2026-09-02", ids[:3000]...), reading("2026-11-25", ids[1000:]...))
	text := squeeze(compared(t, r, SummaryOptions{Width: 132}))
	assert.Contains(t, text, "1000 closed, 2000 new, 2000 still open (84 days).")
	assert.Contains(t, text, "and 1992 more; --out DIR writes a page with more.")
	page, err := CompareHTML(r, false)
	require.NoError(t, err)
	assert.Contains(t, string(page), "1960 more")
	assert.Less(t, len(page), 1<<20)
}

func TestCompareFitsTheTerminal(t *testing.T) {
	before, after := later()
	after.Findings[0].Summary = strings.Repeat("漢字", 60) + strings.Repeat("x", 200)
	r := result.Follow(before, after)
	for _, width := range []int{40, 80, 132} {
		for _, color := range []bool{false, true} {
			out := compared(t, r, SummaryOptions{Width: width, Color: color})
			assert.Equal(t, color, strings.Contains(out, "\x1b"))
			for l := range strings.Lines(out) {
				require.LessOrEqual(t, terminal.StringWidthWithoutEscSequences(strings.TrimSuffix(l, "\n")), width, l)
			}
		}
	}
}

// Whatever two readings hold, their pages hold nothing that is not allowed.
func TestAnyTextGivesAnAllowedComparison(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		before, after := later()
		before.RuleSet, before.Seed, after.Coverage = "x", 4, []result.Coverage{{Kind: "loads", From: "2026-01-01", Share: "all"}}
		before.Checks = before.Checks[2:]
		after.Exhibits, after.Traces, after.Days, after.Gaps, after.Months, after.Intake = nil, nil, nil, nil, nil, nil // other tests draw these
		r := result.Follow(before, after)
		r.Since.Earlier = r.Since.Closed
		pool := rapid.SliceOfN(hostile(), 5, 5).Draw(t, "texts")
		i := rapid.IntRange(0, 2).Draw(t, "from")
		replaceTexts(reflect.ValueOf(r).Elem(), func(s string) string {
			i++
			if i%3 == 0 {
				return pool[i%len(pool)]
			}
			return s
		})
		page, err := CompareHTML(r, true)
		require.NoError(t, err)
		checkPage(t, page)
		whole, err := HTML(r)
		require.NoError(t, err)
		checkPage(t, whole)
		var b bytes.Buffer
		require.NoError(t, CompareText(&b, r, true, SummaryOptions{}))
		require.NotContains(t, b.String(), "\x1b")
	})
}

// Each limit has words, and one of a check that found nothing is counted.
func TestLimitsInWords(t *testing.T) {
	r := result.Follow(reading("2026-09-02", "1"), reading("2026-11-25", "1"))
	r.Since.Limits = []result.Limit{
		{About: result.LimitShared}, {About: result.LimitSameDay, Before: "2026-11-25", After: "2026-11-25"}, {About: result.LimitTool, Before: "footing 1", After: "footing 2"},
		{About: result.LimitRuleSet, After: "ardley"}, {About: result.LimitCriterion, Name: "packs.shelf", Before: "180 d", After: "7 d", N: 1},
		{About: result.LimitCheck, Name: "b", Before: result.Conforming}, {About: result.LimitCheck, Name: "c", After: result.Nonconforming, N: 2},
		{About: result.LimitSight, Name: "d", Before: result.NotAssessed, After: result.Conforming}, {About: result.LimitSight, Name: "e", Before: result.Conforming, After: result.Broken, N: 3},
		{About: result.LimitSight, Name: "f", Before: result.Broken, After: result.Nonconforming, N: 4}, {About: result.LimitCoverage, Name: "loads", Before: "all 2026-01-01/2026-06-30; some 2026-07-01/"},
		{About: result.LimitPeriod, Before: "2026-01-01/2026-05-31", After: "2026-03-01/2026-06-30"}, {About: result.LimitRows, Name: "traces", Before: "9", After: "8"},
		{About: result.LimitHorizon, After: "2027-01-06"}, {About: result.LimitSeed}, {About: "something of a later version"},
	}
	assert.Equal(t, []string{
		"At least one of the two is a copy for someone else, with pseudonyms of its own. A finding about a client or a person may stand as gone and as new though it is one and the same.",
		"Both readings are of 25 Nov 2026, so for how long a finding was there cannot be told.",
		"They were made by footing 1 and by footing 2. A check may look at more, or say it otherwise, so a finding may come or go by that alone.",
		"Another rule set: none chosen then, ardley now. What comes or goes by that alone stands apart.",
		"Another rule for packs.shelf: 180 d then, 7 d now; 1 finding hangs on it.",
		"“c” is looked at now, and was not then; 2 findings of the two readings hang on it.",
		"“e”: could look then, and cannot now; 3 findings of the two readings hang on it.",
		"“f”: could not look then, and can now; 4 findings of the two readings hang on it.",
		"Of loads the practice said then: all rows from 1 Jan 2026 until 30 Jun 2026 and some rows from 1 Jul 2026; now: nothing. What follows from a row that is not there changes with that.",
		"The records go over another time: 1 Jan to 31 May 2026 then, 1 Mar to 30 Jun 2026 now. What fell before that is not seen any more.",
		"Fewer rows of data-logger files: 9 then, 8 now. If they were taken out or cannot be read, what they showed is not seen any more; no row needs to go for a finding to close.",
		"They look forward to other days: none then, 6 Jan 2027 now. What runs out is counted up to that day.",
		"The visits drawn at random were drawn from another number, so they are other visits.",
		"1 check that could look then cannot now. Nothing was found by it then.",
		"1 check that could not look then can now. Nothing is found by it.",
	}, newIndex(r).limitLines())
}
