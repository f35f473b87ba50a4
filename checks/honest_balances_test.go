package checks

import (
	"testing"

	"footing/internal/audit"
	"footing/internal/result"
)

// Folders as honest people keep them, in which packs do not add up, or instruments
// come back too soon, for a reason that the rows do not tell. How people write is common
// practice, no source.
var honestBalances = []struct{ name, folder string }{
	{"packs counted in the morning, loads run in the evening, a bag that nobody counts", `
-- practice.yaml --
name: Practice of the case
regulator: Council of the case
coverage: [{kind: loads, share: all, from: 2026-03-01}, {kind: visits, share: all, from: 2026-03-01}, {kind: stock, share: all, from: 2026-03-01}]
-- sites.csv --
id,kind
clinic,clinic
bag,mobile
-- sterilizers.csv --
id,method,site
S1,steam,clinic
-- loads.csv --
id,started,packs_made,decision
L-1,2026-03-02,6,released
L-2,2026-03-04,6,released
-- stock.csv --
item,on,reason,quantity,site
sterile-pack,2026-03-03,count,0,clinic
sterile-pack,2026-03-05,count,1,clinic
-- visits.csv --
client,started,packs_used,site
C-1,2026-03-03,4,clinic
C-2,2026-03-04,4,bag
C-3,2026-03-05,6,clinic
C-4,2026-03-06,2,bag
`},
	{"a trip written now and then, and packs put into a drawer", `
-- practice.yaml --
name: Practice of the case
regulator: Council of the case
coverage: [{kind: loads, share: all, from: 2026-03-01}]
-- sites.csv --
id,kind
clinic,clinic
bag,mobile
-- sterilizers.csv --
id,method,site
S1,steam,clinic
-- loads.csv --
id,started,packs_made,decision
L-1,2026-03-02,4,released
-- stock.csv --
item,on,reason,quantity,site
sterile-pack,2026-03-01,count,2,clinic
sterile-pack,2026-03-01,count,0,bag
sterile-pack,2026-03-20,count,5,clinic
sterile-pack,2026-03-20,count,0,bag
-- trips.csv --
on,from_site,to_site,packs_out
2026-03-03,clinic,bag,2
-- visits.csv --
client,started,packs_used,site
C-1,2026-03-03,2,bag
C-2,2026-03-04,3,bag
C-3,2026-03-05,3,clinic
`},
	{"a few months of the log typed, visits from the diary, and a load that is on the page before", `
-- practice.yaml --
name: Practice of the case
regulator: Council of the case
-- sterilizers.csv --
method
steam
-- loads.csv --
started,packs_made,sets,decision
2026-03-09,4,nail x 4,released
2026-03-16,,nippers;curettes,released
-- stock.csv --
item,on,reason,quantity
sterile-pack,2026-03-02,count,1
-- visits.csv --
client,started,packs_used
C-1,2026-03-03,1
C-2,2026-03-04,1
C-3,2026-03-10,1
C-4,2026-03-17,9
`},
	{"one number for all nippers, and one for all files of clients", `
-- practice.yaml --
name: Practice of the case
regulator: Council of the case
-- clients.csv --
id
C-1
C-2
C-3
C-4
-- instruments.csv --
id,kind,reuse,owner
NIP,double-action-nipper,reusable,
OWN,file,client-owned,C-1
-- sterilizers.csv --
method
steam
-- loads.csv --
id,started,ended,decision
L-1,2026-03-01 17:00,2026-03-01 18:00,released
L-2,2026-03-02 17:00,2026-03-02 18:00,released
-- packs.csv --
id,load,instruments
K-1,L-1,NIP
K-2,L-1,NIP
K-3,L-1,NIP
K-4,L-1,NIP
K-5,L-2,NIP
-- visits.csv --
id,client,started,ended,packs,instruments
V-1,C-1,2026-03-02 09:00,2026-03-02 09:40,K-1,OWN
V-2,C-2,2026-03-02 09:45,2026-03-02 10:20,K-2,OWN
V-3,C-3,2026-03-02 10:30,2026-03-02 11:00,K-3,OWN
V-4,C-4,2026-03-02 11:10,2026-03-02 11:40,K-4,OWN
`},
	{"two rows for one visit, two people at work with sets of the same number, and no hours", `
-- practice.yaml --
name: Practice of the case
regulator: Council of the case
-- instruments.csv --
id,kind,reuse
N-1,double-action-nipper,reusable
N-2,double-action-nipper,
N-3,curette,reusable
-- visits.csv --
id,client,started,ended,instruments
V-1,C-1,2026-03-02 09:00,2026-03-02 09:30,N-1
V-2,C-1,2026-03-02 09:30,2026-03-02 09:50,N-1
V-3,C-2,2026-03-03 09:00,2026-03-03 10:00,N-2
V-4,C-3,2026-03-03 09:15,2026-03-03 10:00,N-2
V-5,C-4,2026-03-04,,N-3
V-6,C-5,2026-03-04,,N-3
`},
	{"a couple at home with one pouch each time, lot numbers of packs bought ready, a visit typed twice", `
-- practice.yaml --
name: Practice of the case
regulator: Council of the case
coverage: [{kind: loads, share: all, from: 2026-03-01}, {kind: visits, share: all, from: 2026-03-01}, {kind: packs, share: all, from: 2026-03-01}, {kind: stock, share: all, from: 2026-03-01}]
-- sterilizers.csv --
id,method
S1,steam
-- stock.csv --
item,on,reason,quantity
sterile-pack,2026-03-01,count,0
-- loads.csv --
id,started,ended,packs_made,decision
L-1,2026-03-02 08:00,2026-03-02 09:00,3,released
-- packs.csv --
id,load
260302-1,L-1
260302-2,L-1
260302-3,L-1
-- visits.csv --
id,client,started,ended,packs,instruments
V-1,C-1,2026-03-02 10:00,2026-03-02 10:30,260302-1,N-1; N-2
V-2,C-2,2026-03-02 10:30,2026-03-02 11:00,260302-1,N-3; N-4
V-3,C-3,2026-03-03 10:00,2026-03-03 10:30,LOT 5511,N-5
V-4,C-4,2026-03-03 11:00,2026-03-03 11:30,LOT 5511,
V-5,C-5,2026-03-04 10:00,2026-03-04 10:30,260302-2,
V-6,C-5,2026-03-04 10:00,2026-03-04 10:30,260302-2,
V-7,C-6,2026-03-05 10:00,2026-03-05 10:30,260302-3,
`},
	{"the cupboard counted one day and the drawer the next", `
-- practice.yaml --
name: Practice of the case
regulator: Council of the case
coverage: [{kind: loads, share: all, from: 2026-03-01}, {kind: visits, share: all, from: 2026-03-01}, {kind: packs, share: all, from: 2026-03-01}, {kind: stock, share: all, from: 2026-03-01}]
-- sterilizers.csv --
id,method
S1,steam
-- stock.csv --
item,on,reason,quantity,note
sterile-pack,2026-03-02,count,6,cupboard
sterile-pack,2026-03-03,count,1,drawer
-- visits.csv --
client,started,packs_used,instruments
C-1,2026-03-04,2,N-1
C-2,2026-03-05,2,N-2
C-3,2026-03-06,2,N-3
`},
	{"a short cycle between two visits, instruments named by themselves, and a log without hours", `
-- practice.yaml --
name: Practice of the case
regulator: Council of the case
-- sterilizers.csv --
id,method
S1,steam
-- instruments.csv --
id,kind,reuse
N-1,rotary-handpiece,reusable
-- loads.csv --
id,started,ended,decision
L-1,2026-03-02 09:35,2026-03-02 09:55,released
L-2,2026-03-03,,released
-- visits.csv --
id,client,started,ended,instruments
V-1,C-1,2026-03-02 09:00,2026-03-02 09:30,N-1
V-2,C-2,2026-03-02 10:00,2026-03-02 10:30,N-1
V-3,C-3,2026-03-03 09:00,2026-03-03 09:30,N-1
V-4,C-4,2026-03-03 10:00,2026-03-03 10:30,N-1
V-5,C-5,2026-03-04 10:00,2026-03-04 10:30,N-1
`},
}

// Nothing in them is called critical, major or minor by a check of balances or of
// instruments, and nothing critical or major by any.
func TestHonestBalances(t *testing.T) {
	mine := map[string]bool{"packs/enough": true, "packs/turnaround": true, "packs/two-places": true, "packs/single-use": true, "packs/owner": true}
	for _, h := range honestBalances {
		t.Run(h.name, func(t *testing.T) {
			r := honestRun(t, h.folder, All())
			for _, f := range r.Findings {
				if f.Grade == result.Critical || f.Grade == result.Major || mine[f.Check] && f.Grade != audit.Observation.String() {
					t.Errorf("%s %s, %s %s: %s", f.Grade, f.Check, f.Subject.Kind, f.Subject.ID, f.Summary)
				}
			}
		})
	}
}
