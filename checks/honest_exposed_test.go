package checks

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"footing/internal/result"
)

// honestExposed are honest folders whose look-back seems wide, each with a cause that
// its practitioner could tell in a minute. How practices test is common practice, no source.
var honestExposed = []struct{ name, folder string }{
	{"a summer's break of eight weeks, and the first load after it with the test's result not yet back", `
-- practice.yaml --
name: Practice of the case
regulator: Council of the case
rule_set: cdc-2008
coverage:
  - {kind: tests, share: all, from: 2026-01-01}
-- sterilizers.csv --
id,method
S1,steam
-- tests.csv --
id,kind,run_at,equipment,control,result
T-1,spore,2026-09-25,S1,growth,pass
T-2,spore,2026-11-23,S1,,pending
-- loads.csv --
id,started,sterilizer,decision
L-1,2026-09-25 17:00,S1,released
L-2,2026-11-23 17:00,S1,released
L-3,2026-11-24 17:00,S1,released
`},
	{"tests that a laboratory reports by mail, the last three still with it, and some years of reports not typed", `
-- practice.yaml --
name: Practice of the case
regulator: Council of the case
rule_set: cdc-2008
coverage:
  - {kind: tests, share: some}
-- sterilizers.csv --
id,method
S1,steam
-- tests.csv --
id,kind,run_at,equipment,result,reported_on
T-1,spore,2026-10-26,S1,pass,2026-11-04
T-2,spore,2026-11-02,S1,pending,
T-3,spore,2026-11-09,S1,,
T-4,spore,2026-11-16,S1,pending,
-- loads.csv --
id,started,sterilizer,decision
L-0,2024-03-01,S1,released
L-1,2026-10-26,S1,released
L-2,2026-11-02,S1,released
L-3,2026-11-09,S1,released
L-4,2026-11-16,S1,released
L-5,2026-11-23,S1,released
`},
	{"a test of which the row names another sterilizer than there is, and one whose row cannot be read", `
-- practice.yaml --
name: Practice of the case
regulator: Council of the case
rule_set: cdc-2008
coverage:
  - {kind: tests, share: all, from: 2026-01-01}
-- sterilizers.csv --
id,method
S1,steam
-- tests.csv --
id,kind,run_at,equipment,control,result
T-1,spore,2026-10-01,S1,growth,pass
T-2,spore,2026-11-16,Sl,growth,pass
T-3,spore,last Monday,S1,growth,pass
-- loads.csv --
id,started,sterilizer,decision
L-1,2026-10-01,S1,released
L-2,2026-10-20,S1,released
L-3,2026-11-01,S1,released
L-4,2026-11-20,S1,released
`},
	{"a test by the day alone, on the very day of the first load", `
-- practice.yaml --
name: Practice of the case
regulator: Council of the case
rule_set: common-practice
coverage:
  - {kind: tests, share: all, from: 2026-01-01}
-- sterilizers.csv --
id,method
S1,steam
-- tests.csv --
id,kind,run_at,equipment,control,result
T-1,spore,2026-09-25,S1,growth,pass
-- loads.csv --
id,started,sterilizer,decision
L-1,2026-09-25,S1,released
L-2,2026-10-25,S1,released
L-3,2026-11-24,S1,released
`},
}

func TestHonestLookbacks(t *testing.T) {
	for _, h := range honestExposed {
		t.Run(h.name, func(t *testing.T) {
			r := honestRun(t, h.folder, battery(t, "monitoring/exposed"))
			require.NotEmpty(t, r.Findings)
			require.NotEmpty(t, r.Lookback)
			for _, f := range r.Findings {
				assert.Equal(t, result.Observation, f.Grade, f.Summary)
			}
		})
	}
}
