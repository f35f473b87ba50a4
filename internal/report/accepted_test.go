package report

import (
	"testing"

	"footing/internal/result"

	"github.com/stretchr/testify/assert"
)

// Of what is accepted the report says why, by whom and until when; of what has ended, that
// it has; of what names nothing, that too. None changes a count.
func TestAcceptedIsSaid(t *testing.T) {
	r := reading("2026-11-25", "1", "2", "3")
	for i := range r.Findings {
		r.Findings[i].Steps = []string{"See to load " + r.Findings[i].Subject.ID}
	}
	r.Counts.Minor = 3
	r.Findings[0].Accepted = true
	r.Accepted = []result.Accepted{
		{Finding: r.Findings[0].Fingerprint, Reason: "it is on its way", By: "P-01", Until: "2026-11-25", State: result.AcceptedInForce},
		{Finding: r.Findings[1].Fingerprint, Reason: "the summer was long", By: "P-02", Until: "2026-11-24", State: result.AcceptedEnded},
		{Finding: "ffffffffffff", Reason: "old", By: "P-02", Until: "2026-12-31", State: result.AcceptedUnmatched}}
	text := string(Markdown(r))
	for _, want := range []string{
		"Accepted until 25 Nov 2026 by P-01: it is on its way. It keeps its grade and is counted.",
		"**Accepted until 24 Nov 2026 by P-02, which is over, so it stands among the things to do again.** The reason was: the summer was long.",
		"ended; the finding is still there", "matches no finding; it may be closed, or its name mistyped",
		"1 finding is accepted for a time and still counted; 1 acceptance has ended, and what it named is still found; 1 acceptance matches no finding.",
		"■ 3 minor"} {
		assert.Contains(t, text, want)
	}
	ix := newIndex(r)
	var does []string
	for _, a := range ix.actions() {
		does = append(does, a.do)
	}
	assert.NotContains(t, does, "See to load 1", "what is accepted is not among the things to do")
	assert.Contains(t, does, "See to load 2")
	// What says stop stays, whatever its grade.
	r.Conclusion.Stops = []string{r.Findings[0].Fingerprint}
	assert.Equal(t, "See to load 1", newIndex(r).actions()[0].do)
	// By the check, with all it finds.
	r.Findings[0].Accepted, r.Accepted = true, []result.Accepted{{Finding: "a/a", Reason: "r", By: "P-01", Until: "2026-12-31", State: result.AcceptedInForce}}
	assert.Contains(t, string(Markdown(r)), "Accepted until 31 Dec 2026 by P-01, with all else that this check finds: r.")
}
