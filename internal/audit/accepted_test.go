package audit

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"footing/internal/practice"
	"footing/internal/quantity"
	"footing/internal/record"
	"footing/internal/result"
)

// On its last day an acceptance holds, a day later it has ended; whichever way, grade,
// outcome and counts are those without it.
func TestAcceptedChangesNoCount(t *testing.T) {
	check := checkOfTest("a/b", func(x *Examination) { x.NotMet(ada, Fault{Grade: Critical, Matter: "m", Found: "f", Needed: "n"}) })
	run := func(accepted ...practice.AcceptedFinding) *result.Result {
		p := &practice.Practice{AsOf: quantity.NewDay(2026, 11, 24), Intake: &record.Intake{}}
		p.Rules.Accepted = accepted
		r, err := Run(context.Background(), p, []Check{check}, shippedOfTest(t), Options{})
		require.NoError(t, err)
		return r
	}
	plain := run()
	require.Len(t, plain.Findings, 1)
	name := plain.Findings[0].Fingerprint
	for state, c := range map[string]struct {
		finding string
		until   quantity.Day
	}{
		result.AcceptedInForce:   {name, quantity.NewDay(2026, 11, 24)},
		result.AcceptedEnded:     {name, quantity.NewDay(2026, 11, 23)},
		result.AcceptedUnmatched: {"a/c", quantity.NewDay(2026, 12, 31)},
	} {
		r := run(practice.AcceptedFinding{Finding: " " + c.finding + " ", Reason: "r", By: "P-01", Until: c.until})
		require.Len(t, r.Accepted, 1)
		assert.Equal(t, state, r.Accepted[0].State)
		assert.Equal(t, state == result.AcceptedInForce, r.Findings[0].Accepted, state)
		assert.Equal(t, plain.Counts, r.Counts, state)
		assert.Equal(t, plain.Conclusion, r.Conclusion, state)
		assert.Equal(t, plain.Findings[0].Grade, r.Findings[0].Grade, state)
		assert.Equal(t, plain.Checks[0].Outcome, r.Checks[0].Outcome, state)
	}
	// By the check, in any case of letters.
	assert.True(t, run(practice.AcceptedFinding{Finding: "A/B", Until: quantity.NewDay(2026, 11, 24)}).Findings[0].Accepted)
}

func TestCoverageIsKept(t *testing.T) {
	p := &practice.Practice{}
	p.Profile.Coverage = []practice.Coverage{{Kind: "loads", From: quantity.NewDay(2026, 8, 1), Share: "all", KeptAt: "blue book"}}
	assert.Equal(t, []result.Coverage{{Kind: "loads", From: "2026-08-01", Share: "all"}}, coverage(p))
}
