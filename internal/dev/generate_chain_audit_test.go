package dev

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"footing/internal/result"
)

// ofChain is what the checks that follow the chain came to, and what they found.
func ofChain(r *result.Result) (outcomes []result.Check, findings []result.Finding) {
	ids := map[string]bool{}
	for _, c := range ChainChecks() {
		ids[c.ID] = true
	}
	for _, c := range r.Checks {
		if ids[c.ID] {
			outcomes = append(outcomes, c)
		}
	}
	for _, f := range r.Findings {
		if ids[f.Check] {
			findings = append(findings, f)
		}
	}
	return outcomes, findings
}

// idle are the checks that a clean practice gives nothing to look at.
var idle = map[string]string{
	"monitoring/programs":     "each sterilizer has one program, and monitoring/spore-interval judges it",
	"monitoring/spore-failed": "no failed spore test is written",
}

// short are those besides that a clean practice of a few weeks, or of a few visits,
// gives nothing to look at.
var short = map[string]string{
	"monitoring/requalified": "no installation, move or repair of a sterilizer of the practice's own lies within the records, with loads after it",
	"packs/owner":            "no instrument is written as a client's own",
}

const pending = "the spore test has no result typed yet" // of the last day

// TestCleanChainConforms: in a practice in which nothing of the chain is wrong each of
// its checks looks at all there is and finds nothing, whatever the size of the practice;
// the headline of each sterilizer alone is told.
func TestCleanChainConforms(t *testing.T) {
	for _, plan := range []Plan{
		{Seed: 61, Days: 560},
		{Seed: 62, Days: 365, Format: "json", VisitsPerDay: 12},
		{Seed: 63, Days: 200, Format: "yaml", VisitsPerDay: 0.4},
		{Seed: 64, Days: 90, Format: "jsonl"},
		{Seed: 65, Days: 60, Format: "csv", VisitsPerDay: 90},
		{Seed: 66, Days: 40, Format: "mixed", VisitsPerDay: 140},
		{Seed: 67, Days: 30, VisitsPerDay: 3},
		{Seed: 68, Days: 120, Traces: true, SecondsBetweenReadings: 20},
	} {
		plan.Clean = true
		dir := t.TempDir()
		require.NoError(t, Generate(dir, plan))
		r := audited(t, dir)
		outcomes, findings := ofChain(r)
		for _, c := range outcomes {
			why, none := idle[c.ID]
			if !none && c.Outcome == result.NotApplicable {
				why, none = short[c.ID]
				none = none && (plan.Days < 60 || plan.VisitsPerDay > 0 && plan.VisitsPerDay < 1)
			}
			if c.ID == "cycles/identical" && plan.Traces {
				none, why = true, "no load written by hand has its temperature in parts of a degree"
			}
			if none {
				assert.Equal(t, result.NotApplicable, c.Outcome, "%s: %+v", c.ID, plan)
				assert.Equal(t, why, c.Reason, "%s: %+v", c.ID, plan)
				continue
			}
			assert.Equal(t, result.Conforming, c.Outcome, "%s: %s %v: %+v", c.ID, c.Reason, c.Reasons, plan)
			for _, reason := range c.Reasons {
				assert.True(t, c.ID == "monitoring/spore-valid" && reason.Text == pending && reason.Count == 1, "%s: %v: %+v", c.ID, reason, plan)
			}
		}
		for _, f := range findings {
			assert.Equal(t, "monitoring/exposed", f.Check, "%s: %+v", f.Summary, plan)
			assert.Equal(t, result.Observation, f.Grade, "%s: %+v", f.Summary, plan)
		}
		require.NotNil(t, r.Trail)
		for _, d := range r.Gaps {
			assert.Fail(t, "a gap", "%+v", d)
		}
	}
}

// seen is what a break of the chain is found as.
type seen struct {
	check, grade string
	beside       bool // found at another row, in consequence
}

// foundChain says which checks find a break of the chain, and how they grade it.
var foundChain = map[string][]seen{
	"spore-skipped":               {{"monitoring/spore-interval", result.Major, false}},
	"spore-early":                 {{"monitoring/spore-valid", result.Minor, false}, {"monitoring/spore-interval", result.Major, false}},
	"spore-no-control":            {{"monitoring/spore-valid", result.Minor, false}},
	"spore-expired":               {{"monitoring/spore-valid", result.Minor, false}},
	"spore-failed-repeated":       {{"monitoring/spore-failed", result.Observation, false}},
	"spore-failed-used":           {{"monitoring/spore-failed", result.Critical, false}},
	"spore-failed-before-skipped": {{"monitoring/spore-failed", result.Critical, false}},
	"air-skipped":                 {{"monitoring/air-removal", result.Major, false}},
	"leak-high":                   {{"monitoring/leak-rate", result.Major, false}},
	"hole-1":                      {{"cycles/counter", result.Minor, false}},
	"hole-5":                      {{"cycles/counter", result.Major, false}},
	"counter-repeated":            {{"cycles/counter", result.Minor, false}, {"cycles/counter", result.Minor, true}}, // and its own number is nowhere
	"overlap":                     {{"cycles/overlap", result.Observation, false}},
	"opened-early":                {{"packs/released", result.Critical, false}},
	"rejected-used":               {{"packs/released", result.Critical, false}},
	"load-absent":                 {{"packs/origin", result.Critical, false}},
	"pack-twice":                  {{"packs/once", result.Critical, false}},
	"pack-twice-unwritten":        nil, // see TestUnwrittenFirstUse
	"indicator-failed":            {{"packs/indicator", result.Critical, false}},
	"torn":                        {{"packs/condition", result.Major, false}},
	"label-incomplete":            {{"packs/label", result.Minor, false}},
	"visit-no-pack":               {{"packs/visit", result.Minor, false}},
	"used-more":                   {{"packs/enough", result.Major, false}},
	"too-soon":                    {{"packs/turnaround", result.Major, false}},
	"two-packs":                   {{"packs/two-places", result.Minor, false}},
	"single-use":                  {{"packs/single-use", result.Major, false}},
	"owner":                       {{"packs/owner", result.Critical, false}},
}

// brokenPractice has each break of the chain.
func brokenPractice(t testing.TB, seed int64) string {
	t.Helper()
	return madeOnce(t, Plan{Seed: seed, Days: 560, VisitsPerDay: 16, Chain: true, Format: "csv"})
}

// TestChainFlawsAreFound: each break by its check, with its grade, at its row; and as
// many things are found above an observation as were broken, by any check of the battery.
func TestChainFlawsAreFound(t *testing.T) {
	for _, seed := range []int64{71, 72, 73} {
		dir := brokenPractice(t, seed)
		planted, err := PlantedIn(dir)
		require.NoError(t, err)
		r := audited(t, dir)
		wanted, got, kinds := map[string]int{}, map[string]int{}, map[string]bool{}
		for _, p := range planted {
			all, known := foundChain[p.Fault]
			require.True(t, known, p.Fault)
			kinds[p.Fault] = true
			for _, s := range all {
				if s.grade != result.Observation {
					wanted[s.grade+" "+s.check]++
				}
				assert.True(t, s.beside || slices.ContainsFunc(r.Findings, func(f result.Finding) bool {
					return f.Check == s.check && f.Grade == s.grade && slices.ContainsFunc(f.Evidence, func(e result.Evidence) bool { return e.Kind == p.Kind && e.ID == p.ID })
				}), "seed %d: %v: not found by %s as %s", seed, p, s.check, s.grade)
			}
		}
		for fault := range foundChain {
			assert.True(t, kinds[fault], "seed %d: %s was not planted", seed, fault)
		}
		for _, f := range r.Findings {
			if f.Grade != result.Observation {
				got[f.Grade+" "+f.Check] += f.Extent.N
			}
		}
		assert.Equal(t, wanted, got, "seed %d", seed)
	}
}

func TestChainPlanIsAlone(t *testing.T) {
	require.ErrorContains(t, Generate(t.TempDir(), Plan{Days: 40, Chain: true, Clean: true}), "neither clean")
	require.ErrorContains(t, Generate(t.TempDir(), Plan{Days: 40, Chain: true, Traces: true}), "neither clean")
	plan := Plan{Seed: 74, Days: 200, VisitsPerDay: 16, Chain: true}
	require.Equal(t, digest(t, plan), digest(t, plan), "the same plan, the same bytes")
}

// TestUnwrittenFirstUse: a pack was used twice, and the first visit does not name it.
// That visit is told as a gap; and a look-back from the pack's load reaches both clients.
func TestUnwrittenFirstUse(t *testing.T) {
	dir := brokenPractice(t, 71)
	p := read(t, dir)
	planted, err := PlantedIn(dir)
	require.NoError(t, err)
	looked := 0
	for i, x := range planted {
		if x.Fault != "pack-twice-unwritten" {
			continue
		}
		looked++
		first, _ := p.Visit(planted[i-1].ID) // planted in the step before
		second, _ := p.Visit(x.ID)
		pack, _ := p.Pack(second.Packs.Items[0])
		require.Empty(t, first.Packs.Items)
		require.Equal(t, first.Started.Day(), pack.OpenedAt.Day(), "opened at the first")
		visits := map[string]string{}
		for _, a := range answered(t, p, "loads", pack.Load).Lookbacks[0].Affected {
			visits[a.Visit] = a.Client
		}
		assert.Equal(t, second.Client, visits[second.Row.ID])
		assert.Equal(t, first.Client, visits[first.Row.ID], "the client of visit %s, which names no pack", first.Row.ID)
	}
	require.Positive(t, looked)
}
