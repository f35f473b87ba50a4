package practice

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What a laboratory found is known from the day on which it was read or reported, not
// from the day of the test: an audit as of a day before it does not see it.
func TestResultsNotYetKnown(t *testing.T) {
	const head = "kind,run_at,read_at,reported_on,control,leak_rate,result\n"
	for _, c := range []struct {
		name, asOf, row string
		result, control string
	}{
		{"the day before it was read", "2026-03-03", "spore,2026-03-02,2026-03-04 09:00,,growth,,pass", "pending", ""},
		{"the day on which it was read", "2026-03-04", "spore,2026-03-02,2026-03-04 09:00,,growth,,pass", "pass", "growth"},
		{"the day after", "2026-03-05", "spore,2026-03-02,2026-03-04 09:00,,growth,,fail", "fail", "growth"},
		{"the day before the report", "2026-03-08", "spore,2026-03-02,,2026-03-09,growth,,pass", "pending", ""},
		{"the day of the report", "2026-03-09", "spore,2026-03-02,,2026-03-09,growth,,pass", "pass", "growth"},
		{"the day after the report", "2026-03-10", "spore,2026-03-02,,2026-03-09,growth,,pass", "pass", "growth"},
		{"read, and not yet reported", "2026-03-04", "spore,2026-03-02,2026-03-04,2026-03-09,growth,,fail", "fail", "growth"},
		{"neither read nor reported", "2026-03-03", "spore,2026-03-02,2026-03-04,2026-03-09,growth,,pass", "pending", ""},
		{"a failure stands, since a year typed wrongly must not hide one", "2026-03-03", "spore,2026-03-02,2027-03-04,,growth,,fail", "fail", "growth"},
		{"when it was known is not written", "2026-03-02", "spore,2026-03-02,,,growth,,fail", "fail", "growth"},
		{"a leak test with a report to come", "2026-03-03", "leak,2026-03-02,,2026-03-04,,1 mbar/min,pass", "pending", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := read(t, c.asOf, map[string]string{"tests.csv": head + c.row + "\n"})
			require.Len(t, p.Tests, 1)
			assert.Equal(t, c.result, p.Tests[0].Result)
			assert.Equal(t, c.control, p.Tests[0].Control)
			assert.Equal(t, p.Tests[0].Type == "leak", p.Tests[0].LeakRate.Written(), "what a gauge showed was known at once")
		})
	}
}
