package checks

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"footing/internal/result"
)

// honestPacks are small folders whose packs look as if something were wrong, and whose
// practitioner could explain it in a minute. How practices write is common practice, no
// source.
var honestPacks = []struct{ name, folder string }{
	{"the log signed on Fridays, a visit that began before the load was ready, numbers of pouches spelt as people spell them", `
-- practice.yaml --
name: Practice of the case
regulator: Council of the case
coverage:
  - {kind: loads, share: all}
  - {kind: packs, share: all}
-- sterilizers.csv --
id,method
S1,steam
-- loads.csv --
id,started,counter,ended,inside_indicator,decision,released_by,released_at
L-0401,2026-03-02 08:00,401,2026-03-02 08:50,pass,released,AB,2026-03-06
L-0402,2026-03-03 08:00,402,2026-03-03 08:50,pass,released,AB,2026-03-06
L-0403,2026-03-05 09:10,403,2026-03-05 10:00,pass,released,AB,2026-03-06
-- packs.csv --
id,load,inside_indicator,condition,label
K-1,L-0401,pass,intact,load; date
K-2,402,pass,intact,load; date
K-3,L-403,pass,intact,load; date
-- visits.csv --
client,started,procedures,packs
C-1,2026-03-03 09:00,nail-trim,K-1
C-2,2026-03-04 09:00,nail-trim,K-2
C-3,2026-03-05 09:30,nail-trim,K-3
C-4,2026-03-06 09:30,nail-trim,
`},
	{"a cycle broken off and run again, a strip that did not turn and a second pouch opened, a pouch torn and put aside", `
-- sterilizers.csv --
id,method
S1,steam
-- loads.csv --
id,started,counter,ended,inside_indicator,decision,fault
L-1,2026-03-02 08:00,401,,,rejected,power cut
L-2,2026-03-02 08:40,402,2026-03-02 09:30,pass,released,
L-3,2026-03-03 13:00,403,2026-03-03 13:50,pass,released,
-- packs.csv --
id,load,set,inside_indicator,condition,opened_at,discarded_on
K-1,L-1,nail,pass,intact,,
K-2,L-1,nail,pass,intact,,
K-3,L-3,nail,fail,intact,2026-03-04 09:05,
K-4,L-3,nail,pass,intact,2026-03-04 09:06,
K-5,L-3,nail,,torn,2026-03-05,2026-03-05
K-6,L-3,nail,fail,intact,2026-03-05,2026-03-05
-- visits.csv --
client,started,procedures,packs
C-1,2026-03-03 09:00,nail-trim,K-1; K-2
C-2,2026-03-04 09:00,nail-trim,K-3; K-4
`},
	{"engraved cassettes, a contractor's batches, and the first weeks of writing pack numbers", `
-- practice.yaml --
name: Practice of the case
regulator: Council of the case
coverage:
  - {kind: loads, from: 2024-01-01, share: all}
  - {kind: visits, from: 2024-01-01, share: all}
-- sterilizers.csv --
id,method,operated_by
S1,steam,own
C1,steam,contractor
-- loads.csv --
id,started,sterilizer,ended,decision,certificate
L-01,2025-01-10,S1,2025-01-10,released,
L-02,2026-11-10,S1,2026-11-10,released,
-- packs.csv --
id,load,packaging
CAS-1,L-01,cassette
CAS-2,L-01,cassette
K-9,HC-778,pouch
-- visits.csv --
client,started,procedures,packs
C-1,2026-03-02,nail-trim,
C-2,2026-03-03,nail-trim,
C-3,2026-03-04,callus-reduction,
C-1,2026-11-16,nail-trim,CAS-1
C-2,2026-11-17,nail-trim,CAS-1; CAS-2
C-3,2026-11-18,callus-reduction,K-9
C-4,2026-11-19,other:heel cream,
C-5,2026-11-19,nail-trim,CAS-2
`},
	{"one client seen twice in a morning, one typed under two spellings, and a load whose day is of the month after", `
-- sterilizers.csv --
id,method
S1,steam
-- loads.csv --
id,started,decision
L-1,2026-04-02,released
L-2,2026-03-02,pending
-- packs.csv --
id,load
K-1,L-1
K-2,L-1
K-3,L-3
-- visits.csv --
client,started,procedures,packs
C-1,2026-03-03 09:00,nail-trim,K-1
C-1,2026-03-03 11:00,rotary-sanding,K-1
C-0147,2026-03-04,nail-trim,K-2
C-147,2026-03-04,nail-trim,K-2
C-5,2026-11-24,nail-trim,K-3
`},
	{"numbers that start again each year, packs typed from January on; engraved cassettes whose packaging is not written", `
-- sterilizers.csv --
id,method
S1,steam
-- loads.csv --
id,started,ended,decision
L-1,2026-01-05 08:00,2026-01-05 09:00,released
L-2,2026-01-06 18:00,2026-01-06 19:00,released
-- packs.csv --
id,load
1,L-1
2,L-1
3,L-1
4,L-1
5,L-1
6,L-1
7,L-1
8,L-2
9,L-2
10,L-2
CAS-1,L-2
-- visits.csv --
client,started,packs
C-1,2025-12-19 09:00,1
C-2,2025-12-20 09:00,9
C-3,2026-01-06 09:00,1
C-4,2026-01-06 10:00,2
C-5,2026-01-06 11:00,3
C-6,2026-01-06 12:00,CAS-1
C-7,2026-01-07 09:00,4
C-8,2026-01-07 10:00,5
C-9,2026-01-07 11:00,6
C-10,2026-01-07 12:00,7
C-11,2026-01-07 13:00,CAS-1
C-12,2026-01-08 09:00,8
C-13,2026-01-08 10:00,10
`},
	{"a load that failed in the evening and was run again in the morning with its labels, and a lot number of packs bought ready", `
-- sterilizers.csv --
id,method
S1,steam
-- loads.csv --
id,started,ended,decision,packs_made,fault
L-1,2026-03-02 18:00,,rejected,6,power cut
L-2,2026-03-03 07:30,2026-03-03 08:20,released,6,
-- packs.csv --
id,load
K-1,L-1
K-2,L-1
K-3,L-1
LOT-5511,
-- visits.csv --
client,started,packs
C-1,2026-03-03 10:00,K-1
C-2,2026-03-03 11:00,K-2
C-3,2026-03-03 12:00,LOT-5511
C-4,2026-03-04 10:00,K-3
C-5,2026-03-04 11:00,LOT-5511
`},
	{"a couple at home with one pouch of two sets, a pouch put into the bag and not written down, a torn one put aside, and one of the old log", `
-- practice.yaml --
name: Practice of the case
regulator: Council of the case
coverage:
  - {kind: loads, from: 2026-03-01, share: all}
  - {kind: visits, from: 2026-03-01, share: all}
  - {kind: stock, from: 2026-03-01, share: all}
  - {kind: trips, from: 2026-03-01, share: all}
-- sites.csv --
id,kind
room,clinic
bag,mobile
-- instruments.csv --
id,kind,reuse
N-1,curette,reusable
-- sterilizers.csv --
id,method,site
S1,steam,room
-- loads.csv --
id,started,ended,packs_made,decision
L-11,2026-03-02 08:00,2026-03-02 09:20,5,released
-- packs.csv --
id,load,stored_at,condition,opened_at
K-1,L-11,room,intact,
K-2,L-11,room,intact,
K-3,L-11,room,intact,
K-4,L-11,room,torn,2026-03-03
K-5,L-11,room,,
K-6,L-9,room,,
-- stock.csv --
item,on,reason,quantity,site
sterile-pack,2026-03-01,count,0,room
sterile-pack,2026-03-01,count,0,bag
-- trips.csv --
on,from_site,to_site,packs_out
2026-03-03,room,bag,K-1
-- visits.csv --
id,client,started,site,procedures,packs,instruments
V-1,C-1,2026-03-03 10:00,bag,nail-trim,K-1,
V-2,C-2,2026-03-03 10:40,bag,nail-trim,K-1,
V-3,C-3,2026-03-03 13:00,bag,nail-trim,K-2; K-3,N-1
V-4,C-4,2026-03-04 09:00,room,nail-trim,K-6,
`},
}

// Nothing above an observation is said of the packs of an honest folder.
func TestHonestPacks(t *testing.T) {
	for _, h := range honestPacks {
		t.Run(h.name, func(t *testing.T) {
			r := honestRun(t, h.folder, All())
			for _, f := range r.Findings {
				above := f.Grade != result.Observation && len(f.Check) > len("packs/") && f.Check[:len("packs/")] == "packs/"
				assert.False(t, above || f.Grade == result.Critical || f.Grade == result.Major, "%s %s, %s %s: %s", f.Grade, f.Check, f.Subject.Kind, f.Subject.ID, f.Summary)
			}
		})
	}
}
