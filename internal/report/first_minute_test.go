package report

import (
	"slices"
	"strings"
	"testing"

	"footing/internal/result"

	"github.com/stretchr/testify/require"
)

// What says stop waits for no renewal in six weeks: no heading puts it off. Before the
// doors open is soon enough.
func TestWhatSaysStopIsForToday(t *testing.T) {
	for _, c := range []struct {
		kind, on string
		want     md
	}{
		{"renewal", "2027-01-06", titleToday}, {"inspection", "2026-11-27", titleToday},
		{"inspection", "2026-11-26", titleBeforeOpening}, {"inspection", "2026-11-25", titleBeforeOpening},
	} {
		r := thin()
		r.Purpose, r.Conclusion.Stop = result.Purpose{Kind: c.kind, On: c.on}, true
		require.Equal(t, c.want, firstTitle(r), c)
	}
}

// Where no rule set is chosen and the sets differ, an action says that it hangs on the
// rule; each set's answer stands in the finding, not on the first screen.
func TestActionsLeaveTheRuleSetsToTheFinding(t *testing.T) {
	f := result.Finding{Check: "monitoring/spore-interval", Grade: result.Observation, Subject: result.Subject{Kind: "sterilizers", ID: "S1"}, Steps: []string{"look"},
		Summary:  "no test is typed; look for the reports; as typed, against a (7 d: 2 gaps), b (30 d: no gap)",
		Verdicts: []result.SetVerdict{{Set: "a", Value: "7 d", Verdict: "not met", N: 2}, {Set: "b", Value: "30 d", Verdict: "met"}}}
	why := func(change func(*result.Result)) string {
		r := &result.Result{Findings: []result.Finding{f}}
		r.Findings[0].Verdicts = slices.Clone(f.Verdicts)
		change(r)
		return newIndex(r).actions()[0].why
	}
	require.Equal(t, "Sterilizer S1: no test is typed; look for the reports; your rule decides whether it is one", why(func(*result.Result) {}))
	require.Contains(t, why(func(r *result.Result) { r.Findings[0].Verdicts[1].Verdict = "not met" }), "30 d: no gap", "the sets agree")
	require.Contains(t, why(func(r *result.Result) { r.RuleSet = "a" }), "30 d: no gap", "a set is chosen")

	lines := newIndex(&result.Result{Findings: []result.Finding{f}}).whichRule()
	require.Len(t, lines, 1)
	require.Equal(t, 1, strings.Count(lines[0].text, "30 d"), "each set's answer once: %s", lines[0].text)
}

// One figure is given for what a record would let be seen, not "8 could see more, then 8
// more can look".
func TestFromTodayGivesOneFigure(t *testing.T) {
	r := thin()
	r.NextField = &result.NextField{Kind: "packs", Checks: []string{"a/b", "c/d"}, Why: "with packs kept from today on, 2 checks could see more"}
	require.Equal(t, "From today, never backwards: keep packs. With packs kept from today on, 2 checks could see more.", newIndex(r).fromTodayLines()[0])
	r.NextField.Why = ""
	require.Equal(t, "From today, never backwards: keep packs. 2 checks wait for it.", newIndex(r).fromTodayLines()[0])
}

func TestWeeksAreNamedOnce(t *testing.T) {
	for _, c := range []struct {
		list []string
		want string
	}{
		{nil, ""},
		{[]string{"the week of 5 Oct 2026"}, "the week of 5 Oct 2026"},
		{[]string{"the week of 5 Oct 2026", "the week of 2 Nov 2026"}, "the weeks of 5 Oct 2026 and 2 Nov 2026"},
		{[]string{"the week of 5 Oct 2026", "the week of 2 Nov 2026", "the week of 9 Nov 2026"}, "the weeks of 5 Oct 2026, 2 Nov 2026, and 1 more"},
		{[]string{"the week of 5 Oct 2026", "consent"}, "the week of 5 Oct 2026 and consent"},
	} {
		require.Equal(t, c.want, lacksOf(c.list, 2))
	}
}

// "16 of 16 topics; rest: binder" would leave one asking: the rest of what?
func TestNoRestOfAllThatIsTyped(t *testing.T) {
	r := &result.Result{AskedFor: []result.AskedFor{
		{Topic: "Policies", Things: "topics", Found: 16, Of: 16, State: result.AskedPart, KeptAt: []string{"binder"}},
		{Topic: "Consents", Things: "clients", Found: 15, Of: 16, State: result.AskedPart, KeptAt: []string{"cabinet"}}}}
	require.Equal(t, "policies (16 of 16 topics; kept: binder) · consents (15 of 16 clients; rest: cabinet).", newIndex(r).mayAsk())
}

// A complaint asks first that everything is kept; then the page says what waits for no
// letter, and that it is not of these visits alone.
func TestAComplaintSaysWhatSaysStop(t *testing.T) {
	texts := func(c result.Conclusion) (all []string) {
		r := &result.Result{Conclusion: c, Bundle: &result.Bundle{Says: []string{"complaint K-1", "1 visit is typed"}, Now: []string{"keep everything as it is"}}}
		for _, l := range newIndex(r).forComplaint() {
			all = append(all, strings.TrimSpace(l.lead+" "+l.text))
		}
		return all
	}
	require.Equal(t, []string{"Complaint K-1.", "Today: keep everything as it is.", noCorrection,
		"1 thing written here says: stop. This is of all that is typed, not of these visits alone.",
		"1 visit is typed.", "1 of 2 checks could not look."},
		texts(result.Conclusion{Stop: true, Sentence: "1 thing written here says: stop.", Unseen: "1 of 2 checks could not look."}))
	require.Equal(t, []string{"Complaint K-1.", "Today: keep everything as it is.", noCorrection, "1 visit is typed.",
		"Nothing typed here says stop. 1 of 2 checks could not look."},
		texts(result.Conclusion{Sentence: "Nothing typed here says stop.", Unseen: "1 of 2 checks could not look."}))
}
