package dev

import (
	"regexp"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"footing/internal/report"
	"footing/internal/result"
)

// A spore test shows growth, and the data-logger files show three cycles with
// nothing wrong: the report says that they do not overrule the test. What to do about
// the failure stands in one place, which says stop.
func TestTraceDoesNotOverruleSporeTest(t *testing.T) {
	dir := samples + "/spore-beside-trace"
	p := read(t, dir)
	require.Empty(t, p.Intake.Problems)
	require.Equal(t, "fail", p.Tests[0].Result)
	r := audited(t, dir)
	for _, id := range []string{"traces/hold", "traces/band", "traces/saturation", "traces/air-removal", "traces/drying"} {
		assert.Equal(t, result.Conforming, outcome(r, id), id)
	}
	said := tracesOf(r)
	require.Len(t, said, 1, "the files show nothing wrong")
	assert.Equal(t, result.Observation, said[0].Grade)
	assert.Contains(t, said[0].Summary, "a data-logger file does not overrule a spore test")
	assert.Equal(t, "tests.csv", said[0].Evidence[0].File)
	assert.Equal(t, "traces/S1-00413.csv", said[0].Evidence[1].File, "that of the load which the test names")
	failed := slices.IndexFunc(r.Findings, func(f result.Finding) bool { return f.Check == "monitoring/spore-failed" })
	require.GreaterOrEqual(t, failed, 0)
	assert.Equal(t, []string{r.Findings[failed].Fingerprint}, r.Conclusion.Stops)
	assert.Contains(t, said[0].Steps[0], "monitoring/spore-failed")
	assert.Contains(t, r.Findings[failed].Steps[0], "Stop using the sterilizer")
	page := string(report.Markdown(r))
	assert.Regexp(t, regexp.MustCompile(`does not overrule a spore test: take the failure as real`), page)
	assert.Regexp(t, regexp.MustCompile(`data-logger file is a second witness[^\n]*never overrules`), page)
}
