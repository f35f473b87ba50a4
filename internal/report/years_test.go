package report

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"footing/internal/result"

	"github.com/stretchr/testify/require"
)

// tenYears is a result as long as ten busy years leave it: two sterilizers used each
// day, months, thousands of data-logger files with as many charts as an audit draws,
// what ran out each year, many findings with thousands of places.
func tenYears() *result.Result {
	r := full()
	f := r.Findings
	r.Findings, r.Exhibits, r.Days, r.Months, r.Due, r.Traces, r.Gear = nil, nil, nil, nil, nil, nil, nil
	from := time.Date(2016, 11, 25, 0, 0, 0, 0, time.UTC)
	for i := range 3652 {
		on := from.AddDate(0, 0, i)
		for _, s := range []string{"S1", "S2"} {
			r.Days = append(r.Days, result.Day{On: on.Format(time.DateOnly), Sterilizer: s, Loads: 1 + i%5, Spore: map[bool]string{true: "pass"}[i%7 == 0]})
			if on.Day() == 1 {
				r.Months = append(r.Months, result.Month{Month: on.Format("2006-01"), Sterilizer: s, Loads: 80, Exposure: 79, Indicators: 80, Release: 80, Spore: "yes", Missing: "an exposure"})
			}
		}
		name := fmt.Sprintf("traces/%s.csv", on.Format(time.DateOnly))
		r.Traces = append(r.Traces, result.Trace{File: name, SHA256: strings.Repeat("a", 64), Lines: 600, Readings: 590, Heading: 10, Load: fmt.Sprint("L-", i), By: "start", Start: on.Format("2006-01-02T15:04"), Judged: i%9 > 0, Why: "it holds no readings"})
		if i%5 == 0 {
			r.Due = append(r.Due, result.Due{ID: fmt.Sprint("d", i), On: on.AddDate(0, 6, 0).Format(time.DateOnly), Kind: "credentials", Record: fmt.Sprint("CR-", i), What: "certificate of a person, number " + fmt.Sprint(i), State: "overdue"})
			r.Gear = append(r.Gear, result.Gear{Item: "gloves", Site: fmt.Sprint("site ", i), Size: "M", People: []string{"P1"}, Left: result.GearLeft, Pieces: 100, Counted: "2026-11-20"})
		}
	}
	for i := range 24 {
		x := drawnSample(1.61)[0]
		x.ID = fmt.Sprintf("t%d", i)
		r.Exhibits = append(r.Exhibits, x)
	}
	r.Exhibits = append([]result.Exhibit{{ID: "wide", Kind: "table", Check: "packs/date", Title: "Packs", Columns: []string{"Pack", "Where"}}}, r.Exhibits...)
	for i := range 20_000 {
		r.Exhibits[0].Rows = append(r.Exhibits[0].Rows, []string{fmt.Sprint("K-", i), "clinic"})
	}
	for i := range 300 {
		one := f[i%len(f)]
		one.Fingerprint = fmt.Sprintf("%012x", i)
		one.Evidence = nil
		for j := range 4_000 {
			one.Evidence = append(one.Evidence, result.Evidence{Kind: "loads", ID: fmt.Sprint("L-", j), Field: "exposure", Heading: "hold time", Value: "3 min", File: "loads.csv", Row: j + 1, Line: j + 2, Column: 31})
		}
		r.Findings = append(r.Findings, one)
	}
	for i := range 2_000 {
		r.NotRead = append(r.NotRead, result.NotRead{File: fmt.Sprintf("old/notes %d.docx", i), Why: "a file of this kind holds no records"})
	}
	return r
}

// A report of ten years stays under 5 MB; each long table is cut, with how many rows
// are left out and where they all are.
func TestTenYears(t *testing.T) {
	r := tenYears()
	page, err := HTML(r)
	require.NoError(t, err)
	require.Less(t, len(page), 5_000_000)
	require.Less(t, len(Markdown(r)), 5_000_000)
	checkPage(t, page)
	text := pageWords(t, page)
	for _, want := range []string{
		"and 3980 more; every one is in audit.json",  // places of a finding
		"and 19900 more; every one is in audit.json", // rows of a table
		"and 631 more; every one is in audit.json",   // what runs out
		"and 631 more rows; every one is in audit.json",
		"earlier rows stand in audit.json", // months
	} {
		require.Contains(t, text, want)
	}
	rows := strings.Count(string(page), "<tr>")
	require.Less(t, rows, 300*(mostRows+1)+2_000)
}

// It opens, and quietly: no table of it is so wide or so long that a browser gives up.
func TestTenYearsInABrowser(t *testing.T) {
	b := startBrowser(t)
	page, err := HTML(tenYears())
	require.NoError(t, err)
	url := onDiskAs(t, page)
	b.Open(url, 375, 800)
	quiet(t, b, url)
	require.LessOrEqual(t, b.Value("document.documentElement.scrollWidth"), 375.0)
	require.Equal(t, 300.0, b.Value(`document.querySelectorAll(".finding").length`))
	if testing.Verbose() {
		t.Logf("%d bytes; the browser had it laid out after %v ms", len(page), b.Value(`(() => { const [n] = performance.getEntriesByType("navigation"); return Math.round(n.loadEventEnd) })()`))
	}
}
