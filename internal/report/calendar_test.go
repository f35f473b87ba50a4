package report

import (
	"encoding/xml"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"footing/internal/dev/browser"
	"footing/internal/result"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestMarksOfADay(t *testing.T) {
	gap := [len(calendarTests)]bool{1: true}
	for _, c := range []struct {
		day  result.Day
		gaps [len(calendarTests)]bool
		want string
	}{
		{result.Day{}, [len(calendarTests)]bool{}, "."},
		{result.Day{}, gap, "._"},
		{result.Day{Loads: 9}, gap, "9_"},
		{result.Day{Loads: 10}, [len(calendarTests)]bool{}, "+"},
		{result.Day{Rejected: 3}, [len(calendarTests)]bool{}, "r"},
		{result.Day{Loads: 1, Rejected: 3}, [len(calendarTests)]bool{}, "1"},
		{result.Day{Loads: 2, Spore: "pass", AirRemoval: "pass"}, gap, "2s_"},
		{result.Day{Loads: 2, AirRemoval: "pass", Leak: "pass"}, gap, "2a_"},
		{result.Day{Leak: "pass"}, gap, ".l_"},
		{result.Day{Loads: 2, Spore: "pass", AirRemoval: "fail"}, gap, "2A!"},
		{result.Day{Loads: 2, Spore: "fail", AirRemoval: "fail"}, gap, "2S!"},
		{result.Day{Loads: 2, Spore: "pending", AirRemoval: "pass"}, gap, "2?_"},
		{result.Day{Loads: 2, Spore: "no result"}, gap, "2?_"},
	} {
		d := calendarDay{Day: c.day, gaps: c.gaps}
		require.Equal(t, c.want, d.marks(), c.day)
	}
}

// Outside measure: the Gregorian calendar. February of 2024 has 29 days, of 2026 28.
func TestMonthsOfACalendar(t *testing.T) {
	r := &result.Result{AsOf: "2024-03-01", Days: []result.Day{{Sterilizer: "S", On: "2024-02-29", Loads: 2}, {Sterilizer: "S", On: "not a day", Loads: 9}}}
	c, without := calendarsOf(r)
	require.Len(t, c, 1)
	require.Zero(t, without)
	require.Equal(t, []string{"2024-02", "2024-03"}, []string{c[0].months[0].name, c[0].months[1].name})
	require.Len(t, c[0].months[0].days, 29)
	require.Equal(t, 2, c[0].months[0].days[28].Loads)
	require.Equal(t, "Feb 2024 to Mar 2024", c[0].span())
	r = &result.Result{AsOf: "2026-02-01", Days: []result.Day{{Sterilizer: "S", On: "2026-02-01"}}}
	require.Len(t, onlyCalendar(r).months[0].days, 28)
	require.Equal(t, "Feb 2026", onlyCalendar(r).span())
	c, _ = calendarsOf(&result.Result{AsOf: "2026-02-01"})
	require.Empty(t, c)
}

func onlyCalendar(r *result.Result) *calendar {
	c, _ := calendarsOf(r)
	return c[0]
}

func TestManySterilizersAreCounted(t *testing.T) {
	for n, want := range map[int][2]int{11: {11, 0}, 12: {12, 0}, 13: {12, 1}} {
		r := &result.Result{AsOf: "2026-11-25"}
		for i := range n {
			r.Days = append(r.Days, result.Day{Sterilizer: fmt.Sprint("S", i), On: "2026-11-25", Loads: 1})
		}
		c, without := calendarsOf(r)
		require.Equal(t, want, [2]int{len(c), without})
		require.Equal(t, without > 0, strings.Contains(string(Markdown(r)), "1 more sterilizer is without a drawing"))
	}
}

// At the limit of months, one under and one over.
func TestOldMonthsAreCounted(t *testing.T) {
	for first, want := range map[string][2]int{"2024-12-31": {24, 0}, "2025-01-01": {23, 0}, "2024-11-30": {24, 1}, "2016-11-01": {24, 97}} {
		r := &result.Result{AsOf: "2026-11-25", Days: []result.Day{{Sterilizer: "S", On: first, Loads: 1}, {Sterilizer: "S", On: "2026-11-25", Loads: 1}}}
		c := onlyCalendar(r)
		require.Equal(t, want, [2]int{len(c.months), c.earlier}, first)
	}
}

// A gap shows on each of its days that is drawn, and only on the sterilizer and test it is of.
func TestGapsAreMarked(t *testing.T) {
	days := []result.Day{{Sterilizer: "S", On: "2026-10-01", Loads: 1}, {Sterilizer: "T", On: "2026-10-01", Loads: 1}}
	marked := func(g result.Gap) (on []string) {
		r := &result.Result{AsOf: "2026-11-25", Days: days, Gaps: []result.Gap{g}}
		c := onlyCalendar(r)
		for _, m := range c.months {
			for i, d := range m.days {
				if d.gaps[1] {
					on = append(on, fmt.Sprintf("%s-%02d", m.name, i+1))
				}
				require.False(t, d.gaps[0] || d.gaps[2])
			}
		}
		require.Equal(t, len(on) > 0, len(c.gaps) > 0)
		return on
	}
	require.Equal(t, []string{"2026-10-30", "2026-10-31", "2026-11-01"}, marked(result.Gap{Sterilizer: "S", Test: "air-removal", From: "2026-10-30", Until: "2026-11-01"}))
	require.Equal(t, []string{"2026-10-01"}, marked(result.Gap{Sterilizer: "S", Test: "air-removal", From: "1990-01-01", Until: "2026-10-01"}), "what began before")
	require.Equal(t, []string{"2026-11-30"}, marked(result.Gap{Sterilizer: "S", Test: "air-removal", From: "2026-11-30", Until: "9999-12-31"}))
	for _, g := range []result.Gap{{Sterilizer: "T", Test: "air-removal", From: "2026-10-30", Until: "2026-11-01"}, {Sterilizer: "S", Test: "other", From: "2026-10-30", Until: "2026-11-01"},
		{Sterilizer: "S", Test: "air-removal", From: "soon", Until: "2026-11-01"}, {Sterilizer: "S", Test: "air-removal", From: "2026-11-02", Until: "2026-11-01"}} {
		require.Empty(t, marked(g), g)
	}
}

// Nothing of the months that are drawn is lost or told twice: a plain count over the
// days of the result is the measure.
func TestCalendarLosesNoDay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := &result.Result{AsOf: "2026-11-25"}
		seen := map[string]bool{}
		for range rapid.IntRange(1, 60).Draw(t, "days") {
			on := time.Date(2024, 1, 1+rapid.IntRange(0, 1059).Draw(t, "day"), 0, 0, 0, 0, time.UTC).Format(time.DateOnly)
			s := rapid.SampledFrom([]string{"A", "B"}).Draw(t, "sterilizer")
			if !seen[s+on] {
				seen[s+on] = true
				r.Days = append(r.Days, result.Day{Sterilizer: s, On: on, Loads: rapid.IntRange(0, 12).Draw(t, "loads"), Spore: rapid.SampledFrom([]string{"", "pass", "fail", "pending"}).Draw(t, "spore")})
			}
		}
		all, _ := calendarsOf(r)
		for _, c := range all {
			want, got := map[string]int{}, map[string]int{}
			for _, d := range r.Days {
				if d.Sterilizer == c.sterilizer && d.On >= c.months[0].name {
					want[d.On+d.Spore] += d.Loads
				}
			}
			for _, m := range c.months {
				for _, d := range m.days {
					if d.On != "" {
						require.True(t, strings.HasPrefix(d.On, m.name))
						got[d.On+d.Spore] += d.Loads
					}
				}
			}
			require.Equal(t, want, got)
			require.LessOrEqual(t, len(c.months), mostMonths)
			require.Len(t, c.lines(), 1+len(c.months))
			svg, err := c.svg("c")
			require.NoError(t, err)
			require.NoError(t, xml.Unmarshal(svg, new(struct{})))
		}
	})
}

// Ten years of several sterilizers add less than 300 kB, however busy they were.
func TestTenYearsStaySmall(t *testing.T) {
	size := func(n int) int {
		r := full()
		r.Days, r.Gaps = nil, nil
		for i := range n {
			for d := range 3650 {
				on := time.Date(2026, 11, 25-d, 0, 0, 0, 0, time.UTC).Format(time.DateOnly)
				r.Days = append(r.Days, result.Day{Sterilizer: fmt.Sprint("S", i), On: on, Loads: 3, Spore: "pass", AirRemoval: "pass", Leak: "pending"})
			}
		}
		page, err := HTML(r)
		require.NoError(t, err)
		return len(page)
	}
	none := size(0)
	for _, n := range []int{1, 3, 9, 40} {
		require.Less(t, size(n)-none, 300_000, "%d sterilizers", n)
	}
}

// What the picture shows stands in words too, for whoever does not see it.
func TestCalendarInWords(t *testing.T) {
	in := sectionOf(t, Markdown(full()), titleCalendar)
	for _, want := range []string{"577 loads on 284 days; days with a pass: spore test 53", "Failed: air-removal test 15 Oct 2026; spore test 3 Nov 2026.",
		"spore test 24 Nov 2026 (pending)", "spore test, 7 Oct to 26 Oct 2026 (20 days)"} {
		require.Contains(t, in, want)
		page, err := HTML(full())
		require.NoError(t, err)
		desc := regexp.MustCompile(`(?s)<desc id="calendar-1-desc">(.*?)</desc>`).FindSubmatch(page)
		require.NotNil(t, desc)
		require.Contains(t, string(desc[1]), want)
	}
}

// Outside measure: WCAG 2.2, success criterion 1.4.11, 3 to 1 (from memory). Results
// differ by shape, and stretches by dash, so that grey print shows them.
func TestMarksOfACalendarStandOut(t *testing.T) {
	for _, colour := range []string{"#20251f", "#7a1620", gapLines[0].Colour, gapLines[1].Colour, gapLines[2].Colour} {
		for _, ground := range []string{"#fffdf7", "#e4dfcf"} {
			require.GreaterOrEqual(t, contrast(colour, ground), 3.0, colour)
		}
		if !slices.ContainsFunc(gapLines[:], func(s stroke) bool { return s.Colour == colour }) {
			require.Contains(t, calendarText, colour)
		}
	}
	require.Contains(t, calendarText, "#e4dfcf")
	require.NotEqual(t, gapLines[0].Dash, gapLines[1].Dash)
	require.NotEqual(t, gapLines[1].Dash, gapLines[2].Dash)
}

// Outside measure: a real browser. No word lies on another, letters keep their size on
// A4 and on a phone, and the drawing fits a sheet.
func TestCalendarInABrowser(t *testing.T) {
	b := startBrowser(t)
	r := full()
	r.Days, r.Gaps = yearOfDays("S1", r.AsOf, 720)
	r.Exhibits = nil
	page, err := HTML(r)
	require.NoError(t, err)
	dir := t.TempDir()
	if look := os.Getenv("FOOTING_LOOK"); look != "" {
		dir = look
	}
	file := filepath.Join(dir, "calendar.html")
	require.NoError(t, os.WriteFile(file, page, 0o644))
	for _, width := range []int{1280, 375} {
		b.Open("file://"+file, width, 800)
		require.LessOrEqual(t, b.Value("document.documentElement.scrollWidth"), float64(width))
		require.Equal(t, 2.0, b.Value(`document.querySelectorAll("svg.chart").length`), "the calendar and what falls due")
		require.Equal(t, "", b.Value(touching), "words that touch")
		require.GreaterOrEqual(t, b.Value(smallest), 11.0)
		portrait(t, b, filepath.Join(dir, fmt.Sprintf("calendar-%d.png", width)))
	}
	b.Call("Emulation.setEmulatedMedia", map[string]any{"media": "print"})
	b.Call("Emulation.setDeviceMetricsOverride", map[string]any{"width": 680, "height": 995, "deviceScaleFactor": 1, "mobile": false}) // A4 less the margins of the style
	require.GreaterOrEqual(t, b.Value(smallest), 11.0)
	require.LessOrEqual(t, b.Value(`document.querySelector("svg.chart").getBoundingClientRect().right`), 681.0)
	require.Less(t, b.Value(`document.querySelector(".drawn").getBoundingClientRect().height`), 995.0, "it fits a sheet")
	portrait(t, b, filepath.Join(dir, "calendar-a4.png"))
}

// portrait keeps a picture of the calendar to look at, where one is asked for.
func portrait(t *testing.T, b *browser.Browser, file string) {
	t.Helper()
	if os.Getenv("FOOTING_LOOK") == "" {
		return
	}
	at := func(side string) any {
		return b.Value(`document.querySelector(".drawn").getBoundingClientRect().` + side + ` + (` + map[string]string{"x": "scrollX", "y": "scrollY"}[side] + `||0)`)
	}
	box := map[string]any{"x": at("x"), "y": at("y"), "scale": 1.5}
	box["width"], box["height"] = b.Value(`document.querySelector(".drawn").getBoundingClientRect().width`), b.Value(`document.querySelector(".drawn").getBoundingClientRect().height`)
	require.NoError(t, os.WriteFile(file, b.Bytes("Page.captureScreenshot", map[string]any{"captureBeyondViewport": true, "clip": box}), 0o644))
}
