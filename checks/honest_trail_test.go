package checks

import (
	"context"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"footing/internal/audit"
	"footing/internal/demo"
	"footing/internal/practice"
	"footing/internal/quantity"
	"footing/internal/record"
	"footing/internal/result"
)

// honestTrails are folders in which visits cannot be followed, or months are not
// whole, as typed, and whose practitioner could explain it in a minute. How practices
// write is common practice, no source.
var honestTrails = []struct{ name, folder string }{
	{"cards stay in the cabinet; the last dozen were typed to try it out", `
-- practice.yaml --
name: Practice of the case
regulator: Council of the case
coverage:
  - {kind: visits, share: all}
  - {kind: histories, share: some, kept_at: cabinet}
  - {kind: consents, share: some, kept_at: cabinet}
  - {kind: screens, share: some, kept_at: cabinet}
-- visits.csv --
client,started,procedures
C-1,2026-03-02,nail-trim
C-2,2026-03-03,nail-trim
C-3,2026-03-04,nail-trim
C-4,2026-03-05,nail-trim
-- histories.csv --
client,taken_on
C-4,2026-03-05
-- consents.csv --
client,given_on
C-4,2026-03-05
-- screens.csv --
client,asked_on,latex
C-4,2026-03-05,no
`},
	{"clients of many years, whose first cards lie before the records", `
-- practice.yaml --
name: Practice of the case
regulator: Council of the case
records_from: 2026-01-01
coverage:
  - {kind: visits, share: all}
  - {kind: histories, share: all}
  - {kind: consents, share: all}
-- clients.csv --
id,first_visit_on
C-1,2014-05-02
C-2,2015-06-03
C-3,2026-03-04
-- visits.csv --
client,started,procedures
C-1,2026-03-02,nail-trim
C-2,2026-03-03,nail-trim
C-3,2026-03-04,nail-trim
-- histories.csv --
client,taken_on
C-3,2026-03-04
-- consents.csv --
client,given_on
C-3,2026-03-04
`},
	{"pouches named at the clinic and not on the road, some visits with the client's own set, and a load by its counter", `
-- practice.yaml --
name: Practice of the case
regulator: Council of the case
coverage:
  - {kind: visits, share: all}
  - {kind: packs, share: all}
  - {kind: loads, share: all}
-- sites.csv --
id,kind
clinic,clinic
bag,mobile
-- sterilizers.csv --
id,method
S1,steam
-- instruments.csv --
id,kind,reuse,owner
N-9,file,client-owned,C-3
-- loads.csv --
id,started,counter,inside_indicator,decision
L-0401,2026-03-01,401,pass,released
L-0402,2026-03-02,402,pass,released
-- packs.csv --
id,load
K-1,L-0401
K-2,402
-- visits.csv --
client,started,site,procedures,packs,instruments
C-1,2026-03-02 10:00,clinic,nail-trim,K-1,
C-2,2026-03-03 10:00,bag,nail-trim,,
C-3,2026-03-03 11:00,clinic,nail-trim,,N-9
C-4,2026-03-04 10:00,bag,nail-trim,,
C-5,2026-03-05 10:00,clinic,nail-trim,K-2,
`},
	{"a month of holidays, one in which the sterilizer was away, and a log that began without indicators", `
-- practice.yaml --
name: Practice of the case
regulator: Council of the case
rule_set: cdc-2008
coverage:
  - {kind: loads, share: all}
  - {kind: tests, share: some}
-- sterilizers.csv --
id,method
S1,steam
-- loads.csv --
started,sterilizer,exposure,inside_indicator,decision
2026-01-05 10:00,S1,30 min,,released
2026-01-12 10:00,S1,30 min,,released
2026-03-02 10:00,S1,30 min,pass,released
2026-03-09 10:00,S1,,,rejected
2026-05-04 10:00,S1,30 min,pass,released
-- tests.csv --
kind,run_at,equipment,result
spore,2026-03-02,S1,pass
`},
}

// Nothing in these folders is called more than an observation by the two checks.
func TestHonestTrails(t *testing.T) {
	criteria, err := Criteria()
	require.NoError(t, err)
	for _, h := range honestTrails {
		t.Run(h.name, func(t *testing.T) {
			files := map[string]string{}
			for _, f := range txtar.Parse([]byte(h.folder)).Files {
				files[f.Name] = string(f.Data)
			}
			r, err := audit.Run(context.Background(), openCase(t, h.name, files).practice, All(), criteria, audit.Options{Workers: 1})
			require.NoError(t, err)
			require.Zero(t, r.Counts.SetAside)
			for _, c := range r.Checks {
				assert.False(t, (c.ID == "records/trail" || c.ID == "records/months") && c.Outcome == result.Broken, c.Reason)
			}
			for _, f := range r.Findings {
				if (f.Check == "records/trail" || f.Check == "records/months") && f.Grade != result.Observation {
					t.Errorf("%s %s: %s", f.Grade, f.Check, f.Summary)
				}
			}
		})
	}
}

// TestTrailAddsUp draws from the demo practice with many seeds: each link counts every
// visit once, a chain is whole where no link of the trail is missing, and the interval
// holds the share that was found.
func TestTrailAddsUp(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, demo.Write(dir))
	asOf, _ := quantity.ParseDay(defaultAsOf, quantity.ISO)
	p, err := practice.Read(context.Background(), dir, asOf, record.Options{})
	require.NoError(t, err)
	criteria, err := Criteria()
	require.NoError(t, err)
	for seed := range int64(25) {
		for _, n := range []int{1, 10, 1000} {
			err := audit.Put(context.Background(), p, battery(t, TrailCheck()), criteria, audit.Options{Seed: seed}, TrailCheck(), func(x *audit.Examination, _ *audit.Book) {
				trail, chains := TrailDraw(x, n)
				require.Len(t, chains, min(n, trail.Of))
				whole := 0
				for _, c := range chains {
					if c.Whole {
						whole++
					}
				}
				require.Equal(t, whole, trail.Followed)
				require.LessOrEqual(t, trail.Low, 100*float64(whole)/float64(len(chains))+1e-9)
				require.GreaterOrEqual(t, trail.High, 100*float64(whole)/float64(len(chains))-1e-9)
				worst := 0
				for _, l := range trail.Links {
					require.Equal(t, len(chains), l.Found+l.Missing+l.Unkept+l.None, l.Name)
					worst = max(worst, l.Missing)
				}
				for _, l := range trail.Links {
					if l.Name == trail.Weakest {
						require.Equal(t, worst, l.Missing)
					}
				}
				require.Equal(t, worst == 0, trail.Weakest == "")
				require.Equal(t, worst == 0, trail.Followed == len(chains))
			})
			require.NoError(t, err)
		}
	}
}
