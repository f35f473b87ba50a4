package audit

import (
	"context"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"footing/internal/practice"
	"footing/internal/quantity"
	"footing/internal/record"
	"footing/internal/result"
)

func readOfTest(t *testing.T, files map[string]string) *practice.Practice {
	t.Helper()
	dir := t.TempDir()
	for name, text := range files {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644))
	}
	p, err := practice.Read(context.Background(), dir, quantity.NewDay(2026, 11, 24), record.Options{})
	require.NoError(t, err)
	return p
}

func needing(id string, kinds ...string) Check {
	c := checkOfTest(id, func(x *Examination) { x.Met(ada) })
	c.Needs = kinds
	return c
}

// What was typed and could not be taken in is not "nothing typed", and keeping
// it from today on is no advice.
func TestTypedButNotJudgedIsSaidSo(t *testing.T) {
	p := readOfTest(t, map[string]string{
		"practice.yaml": "name: P\nregulator: R\ndeclarations:\n  - {text: I keep a log, rests_on: [loads]}\n  - {text: I am insured, rests_on: [credentials]}\n",
		"loads.csv":     "id,started\nL1,last week\n",
		"visits.csv":    "client,started\nC-1,2027-01-01\n",
		"stock.json":    "%PDF-1.7",
	})
	r, err := Run(context.Background(), p, []Check{needing("a/aside", "loads"), needing("a/both", "loads", "people"), needing("a/later", "visits"), needing("a/refused", "stock")}, shippedOfTest(t), Options{})
	require.NoError(t, err)
	const lost = " could not be read, or lies after the day of the audit, so not judged"
	for i, want := range []string{
		"what is typed for loads" + lost,
		"nothing typed for people, so not judged; what is typed for loads" + lost,
		"what is typed for visits" + lost,
		"what is typed for stock" + lost,
	} {
		assert.Equal(t, result.NotAssessed, r.Checks[i].Outcome)
		assert.Equal(t, want, r.Checks[i].Reason)
	}
	require.NotNil(t, r.NextField)
	assert.Equal(t, "people", r.NextField.Kind, "loads are kept already")
	assert.Equal(t, "what is typed for loads could not be read, or lies outside this time, so these records neither support nor contradict it", r.Declarations[0].State)
	assert.Equal(t, "nothing in the folder for credentials, so these records neither support nor contradict it", r.Declarations[1].State)
}

func TestTheConclusionCountsNoPartsWhereThereAreNone(t *testing.T) {
	r := runOfTest(t, needing("a/a", "loads"), checkOfTest("a/b", func(x *Examination) { x.Met(ada) }))
	assert.Equal(t, "1 of 2 checks could not look, so this is not the whole picture.", r.Conclusion.Unseen)
	r = runOfTest(t, needing("a/a", "loads"), checkOfTest("a/b", func(x *Examination) { x.Met(ada); x.Unclear(bea, "w") }))
	assert.Equal(t, "1 of 2 checks could not look, and 1 saw only a part, so this is not the whole picture.", r.Conclusion.Unseen)
}

// The order in which a rule set's answers came does not decide which is shown:
// one thing not met outweighs one that cannot be told, and that one met.
func TestVerdictsOfAGroup(t *testing.T) {
	at := func(v Verdict, when string) Fault {
		return Fault{Grade: Observation, Matter: "m", Found: "f", By: []SetVerdict{{Criterion{Set: "s", value: value{form: "limit", text: when}}, v}}}
	}
	for _, order := range [][]Fault{
		{at(Silent, "0"), at(Meets, "1"), at(CannotTell, "2"), at(Fail, "3")},
		{at(Fail, "3"), at(CannotTell, "2"), at(Meets, "1"), at(Silent, "0")},
	} {
		r := runOfTest(t, checkOfTest("a/b", func(x *Examination) {
			for _, f := range order {
				x.NotMet(ada, f)
			}
		}))
		assert.Equal(t, []result.SetVerdict{{Set: "s", Verdict: "not met", Value: "3", N: 1}}, r.Findings[0].Verdicts)
	}
	r := runOfTest(t, checkOfTest("a/b", func(x *Examination) {
		x.NotMet(ada, at(Silent, "0"))
		x.NotMet(ada, at(Meets, "1"))
	}))
	assert.Equal(t, []result.SetVerdict{{Set: "s", Verdict: "met", Value: "1"}}, r.Findings[0].Verdicts)
}
