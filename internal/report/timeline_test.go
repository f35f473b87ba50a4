package report

import (
	"strings"
	"testing"

	"footing/internal/result"

	"github.com/stretchr/testify/require"
)

func timed(purpose result.Purpose, on ...string) *timeline {
	r := base()
	r.Purpose = purpose
	for _, d := range on {
		r.Due = append(r.Due, result.Due{ID: d, On: d, What: "what of " + d})
	}
	return timelineOf(r)
}

// From 25 Nov 2026: what falls on the last day is in, what falls a day later is not.
func TestTimelineReach(t *testing.T) {
	renewal := result.Purpose{Kind: "renewal", On: "2027-01-06"}
	for name, c := range map[string]struct {
		purpose     result.Purpose
		on          string
		past, ahead int
		later       int
	}{
		"the day before":            {renewal, "2026-11-24", 1, 0, 0},
		"the day of the audit":      {renewal, "2026-11-25", 0, 1, 0},
		"the renewal":               {renewal, "2027-01-06", 0, 1, 0},
		"the day after the renewal": {renewal, "2027-01-07", 0, 0, 1},
		"ninety days on":            {result.Purpose{Kind: "self-audit"}, "2027-02-23", 0, 1, 0},
		"ninety-one days on":        {result.Purpose{Kind: "self-audit"}, "2027-02-24", 0, 0, 1},
		"a renewal that is past":    {result.Purpose{Kind: "renewal", On: "2026-11-01"}, "2027-02-23", 0, 1, 0},
	} {
		line := timed(c.purpose, c.on, "2026-12-01")
		require.Equal(t, []int{c.past, c.ahead + 1, c.later}, []int{line.past, line.ahead, line.later}, name)
	}
	require.Nil(t, timed(renewal), "nothing falls due")
	require.Nil(t, timed(renewal, "2028-01-01"), "nothing in this time")
	require.Nil(t, timed(renewal, "soon", ""), "no day that can be read")
	require.Nil(t, timelineOf(&result.Result{Due: []result.Due{{On: "2026-12-01"}}}), "no day of the audit")
}

func TestTimelineWords(t *testing.T) {
	line := timed(result.Purpose{Kind: "inspection", On: "2026-12-25"}, "2026-11-01", "2026-12-12", "2026-12-25", "2027-03-02")
	require.Equal(t, "1 thing was due before 25 Nov 2026; 2 things fall due from then to 25 Dec 2026; 1 thing falls due later.", line.about())
	require.Equal(t, []string{"1 Nov 2026, 24 days ago: what of 2026-11-01", "12 Dec 2026, in 17 days: what of 2026-12-12", "25 Dec 2026, in 30 days: what of 2026-12-25"}, line.lines())
	svg, err := line.svg("timeline")
	require.NoError(t, err)
	require.Contains(t, string(svg), "Inspection, 25 Dec 2026")
	require.Equal(t, 1, strings.Count(string(svg), "– was due"))
	// A third of the way, of 540 units from 150, with marks ten units wide: 12 Dec is 17 of 30 days on.
	require.Contains(t, string(svg), "M451 ")
}

// Of many, the newest past and the first ahead are drawn, and the others counted.
func TestTimelineOfMany(t *testing.T) {
	var on []string
	for i := range 28 {
		on = append(on, "2026-10-"+twoDigits(i+1))
	}
	for i := range 28 {
		on = append(on, "2026-12-"+twoDigits(i+1))
	}
	line := timed(result.Purpose{Kind: "renewal", On: "2027-01-06"}, on...)
	require.Len(t, line.items, mostTimed)
	require.Equal(t, "2026-10-21", line.items[0].On)
	require.Equal(t, "2026-12-16", line.items[len(line.items)-1].On)
	require.Equal(t, 56-mostTimed, line.rest)
	require.Contains(t, line.lines()[mostTimed], "… and 32 more; every one is in the table below or in audit.json")
}

func twoDigits(n int) string {
	if n < 10 {
		return "0" + itoa(n)
	}
	return itoa(n)
}

func TestTimelineInABrowser(t *testing.T) {
	b := startBrowser(t)
	r := base()
	r.Purpose = result.Purpose{Kind: "renewal", On: "2027-01-06"}
	for i := range 12 {
		r.Due = append(r.Due, result.Due{ID: itoa(i), On: "2026-1" + itoa(i%3) + "-2" + itoa(i%10), What: strings.Repeat("a very long thing to renew ", 1+i%3), State: "runs out"})
	}
	result.Sort(r)
	page, err := HTML(r)
	require.NoError(t, err)
	url := onDiskAs(t, page)
	for _, width := range []int{1280, 375} {
		b.Open(url, width, 800)
		require.Equal(t, 1.0, b.Value(`document.querySelectorAll("svg.chart").length`))
		require.Equal(t, "", b.Value(touching), "words that touch")
		require.GreaterOrEqual(t, b.Value(smallest), 11.0)
	}
}
