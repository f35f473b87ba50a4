package checks

import (
	"context"
	"testing"

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
	{"a new practice: its first spore test at the laboratory, load numbers on pouches from the second week on, no strip outside, the logger's files on a stick", `
-- practice.yaml --
name: Practice of the case
regulator: Council of the case
coverage:
  - {kind: visits, share: all}
  - {kind: packs, share: all}
  - {kind: tests, share: all}
  - {kind: upkeep, share: all}
-- sterilizers.csv --
id,method,installed_on,logger
S1,steam,2026-10-30,yes
-- tests.csv --
kind,run_at,equipment,result
spore,2026-11-03,S1,pending
-- loads.csv --
id,started,sterilizer,outside_indicator,printout,decision
L-0,2026-11-01 16:00,S1,none,no,released
L-1,2026-11-02 16:00,S1,none,no,released
L-2,2026-11-03 16:00,S1,none,no,released
L-3,2026-11-04 16:00,S1,none,no,released
L-4,2026-11-05 16:00,S1,none,no,released
L-5,2026-11-06 16:00,S1,none,no,released
L-6,2026-11-07 16:00,S1,none,no,released
L-7,2026-11-08 16:00,S1,none,no,released
L-8,2026-11-09 16:00,S1,none,no,released
L-9,2026-11-10 16:00,S1,none,no,released
-- packs.csv --
id,load,inside_indicator
K-0,,pass
K-1,,pass
K-2,,pass
K-3,,pass
K-4,L-4,pass
K-5,L-5,pass
K-6,L-6,pass
K-7,L-7,pass
K-8,L-8,pass
K-9,L-9,pass
-- visits.csv --
id,client,started,procedures,packs,loads
V-00,C-0,2026-11-02 10:00,nail-trim,K-0,
V-01,C-1,2026-11-03 10:00,nail-trim,K-1,
V-02,C-2,2026-11-04 10:00,nail-trim,K-2,
V-03,C-3,2026-11-05 10:00,nail-trim,K-3,
V-04,C-4,2026-11-06 10:00,nail-trim,K-4,
V-05,C-5,2026-11-07 10:00,nail-trim,K-5,
V-06,C-6,2026-11-08 10:00,nail-trim,K-6,
V-07,C-7,2026-11-09 10:00,nail-trim,K-7,
V-08,C-8,2026-11-10 10:00,nail-trim,K-8,
V-09,C-9,2026-11-11 10:00,nail-trim,K-9,
`},
	{"a month whose values are in a logger's file that names no load and no hour, and the last month, whose values are typed at its end", `
-- practice.yaml --
name: Practice of the case
regulator: Council of the case
rule_set: cdc-2008
coverage:
  - {kind: loads, share: all}
  - {kind: tests, share: all}
-- sterilizers.csv --
id,method,installed_on
S1,steam,2025-01-01
-- loads.csv --
started,sterilizer,exposure,inside_indicator,decision
2026-01-05 10:00,S1,30 min,pass,released
2026-02-16 10:00,S1,,,released
2026-03-02 10:00,S1,30 min,pass,released
2026-04-20 10:00,S1,,,released
-- tests.csv --
kind,run_at,equipment,control,result
spore,2026-01-05,S1,growth,pass
spore,2026-03-02,S1,growth,pass
-- traces/0216.csv --
time [min],temperature [°C]
0,20
1,60
2,110
3,121
4,121
5,121
6,80
`},
}

// Nothing in these folders is called more than an observation by the two checks.
func TestHonestTrails(t *testing.T) {
	for _, h := range honestTrails {
		t.Run(h.name, func(t *testing.T) {
			r := honestRun(t, h.folder, All())
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
