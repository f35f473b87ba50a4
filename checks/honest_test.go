package checks

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"footing/internal/audit"
	"footing/internal/result"
)

// honest are small folders as an honest practice might type them, each with
// something that looks like a lapse and that its practitioner could explain in a
// minute. How practices write is common practice, no source.
var honest = []struct{ name, folder string }{
	{"a log on paper of a maker's program at 134 °C for 3 min, typed with its own headings", `
-- practice.yaml --
name: Practice of the case
regulator: Council of the case
dates: dmy
-- sterilizers.csv --
method
steam
-- loads.csv --
Date,Cycle no,Temp,Hold time,Result,Initials
02/03/2026,398,134 °C,3 min,pass,AB
03/03/2026,399,134 °C,3 min,pass,AB
`},
	{"the display a little under its program's number, and nobody chose a rule", `
-- sterilizers.csv --
id,method,class
S1,steam,B
-- programs.csv --
id,temperature,exposure,suits
U,134 °C,3.5 min,wrapped
-- instruments.csv --
id,kind,hollow
H-1,rotary-handpiece,yes
-- packs.csv --
id,load,instruments
K-1,L-1,H-1
-- loads.csv --
id,started,program,temperature,exposure,wrapped,decision
L-1,2026-03-02 09:00,U,133.8 °C,3.5 min,yes,released
L-2,2026-03-03 09:00,,131.6 °C,4 min,yes,released
`},
	{"pressure off a gauge, in a column that says absolute", `
-- practice.yaml --
name: Practice of the case
regulator: Council of the case
altitude: 650 m
units: {temperature: °C, pressure: kPa absolute}
-- sterilizers.csv --
method
steam
-- loads.csv --
started,temperature,pressure
2026-03-02,134.6,212
2026-03-03,134.9,214
2026-03-04,135.1,216
`},
	{"this year's certificates only, a renewal typed early, and visits of years before", `
-- people.csv --
id,role
P-1,practitioner
-- credentials.csv --
person,kind,valid_from,valid_until
P-1,registration,2026-01-01,2026-12-31
P-1,registration,2027-01-01,2027-12-31
P-1,liability-cover,2026-02-01,2027-01-31
-- visits.csv --
client,started,person,procedures
C-1,2024-05-06,P-1,nail-trim
C-1,2026-01-15,P-1,nail-trim
C-1,2026-11-20,P-1,nail-trim
`},
	{"a renewal typed under an id with a slip", `
-- people.csv --
id,role
P-01,practitioner
-- credentials.csv --
person,kind,valid_from,valid_until
P-01,registration,2025-01-01,2025-12-31
P-1,registration,2026-01-01,2026-12-31
P-01,liability-cover,2025-01-01,2025-12-31
P-1,liability-cover,2026-01-01,2026-12-31
-- visits.csv --
client,started,person,procedures
C-1,2026-03-02,P-01,nail-trim
`},
	{"two practitioners, the certificates of one typed, and a second register without a last day", `
-- people.csv --
id,role
P-1,practitioner
P-2,practitioner
-- credentials.csv --
person,kind,valid_from,valid_until,class,procedures
P-1,registration,2018-01-01,,nurse,
P-1,registration,2025-01-01,2025-12-31,,nail-trim
P-1,liability-cover,2026-01-01,2026-12-31,,other: foot care as registered
-- visits.csv --
client,started,person,procedures,site
C-1,2026-03-02,P-1,callus-reduction,
C-2,2026-03-02,P-2,corn-reduction,
`},
	{"a list of the registration in its own words, and grants spelt as people spell them", `
-- people.csv --
id,role
P-1,practitioner
-- credentials.csv --
person,kind,valid_from,valid_until,procedures
P-1,registration,2026-01-01,2026-12-31,other: basic foot care
P-1,liability-cover,2026-01-01,2026-12-31,all
-- rules.yaml --
scope:
  - {permits: "instrument:Scalpel handle", to: Practitioner, source: council letter 12}
-- instruments.csv --
id,kind
H-1,scalpel
-- visits.csv --
client,started,person,procedures,instruments
C-1,2026-03-02,P-1,nail-trim,
C-1,2026-03-03,P-1,scalpel,H-1
`},
	{"allergy answers of the cards that are typed, older than what coverage claims", `
-- practice.yaml --
name: Practice of the case
regulator: Council of the case
records_from: 2026-01-01
coverage:
  - {kind: screens, share: all}
  - {kind: visits, share: all}
-- clients.csv --
id,first_visit_on
C-1,2023-04-01
C-2,
-- screens.csv --
client,asked_on,any_known,latex
C-3,2026-02-01,no,
-- visits.csv --
client,started,procedures,gloves
C-1,2026-03-02,nail-trim,latex
C-2,2026-03-02,nail-trim,latex
C-3,2026-03-02,nail-trim,latex
`},
	{"an allergy answer under a pseudonym with a slip, all answers being here", `
-- practice.yaml --
name: Practice of the case
regulator: Council of the case
coverage:
  - {kind: screens, share: all}
-- clients.csv --
id,first_visit_on
C-0147,2026-02-01
-- screens.csv --
client,asked_on,latex
C-147,2026-02-01,no
-- visits.csv --
client,started,procedures
C-0147,2026-02-01,nail-trim
`},
	{"latex gloves on the day on which the first yes came out with a reaction", `
-- screens.csv --
client,asked_on,latex
C-1,2026-03-02,yes
-- visits.csv --
client,started,procedures,gloves,found
C-1,2026-03-02,nail-trim,latex,reaction
`},
	{"a client's own pumice, a razor gone long ago, and a corrosive product on a doctor's word", `
-- instruments.csv --
id,kind,reuse,owner,retired_on
I-1,pumice,reusable,C-0147,
I-2,razor,,,2020-05-01
-- products.csv --
id,name,use
A-1,corn plaster,corrosive
-- visits.csv --
client,started,products,instruments,note
C-0147,2026-03-02,A-1,I-1,"As directed by her GP, letter on file."
C-0148,2026-03-02,A-1,,Per Dr. F.
C-0149,2026-03-02,A-1,,
`},
	{"packs: a year with a slip, one opened only to be processed again, one number used again, no dates", `
-- loads.csv --
id,started
L-1,2026-01-15
-- packs.csv --
id,load,packaging,use_by,opened_at,discarded_on
K-1,L-1,pouch,2025-07-15,2026-02-03,
K-2,L-1,pouch,2026-07-15,2026-09-01,2026-09-01
K-3,L-1,covered-tray,,2026-02-03,2026-02-03
12,,pouch,2026-07-31,,
12,,pouch,2026-10-31,,
K-4,,pouch,,2026-02-03,
-- visits.csv --
client,started,packs
C-1,2026-09-02,12
`},
	{"released on a bare date, and over midnight, and with a day that cannot be", `
-- sterilizers.csv --
method
steam
-- loads.csv --
started,ended,released_by,released_at,decision
2026-03-02 23:30,2026-03-03 00:20,AB,2026-03-03,released
2026-03-04,2026-03-04,AB,2026-03-04,released
2026-03-05 09:00,,AB,2026-02-05 10:00,released
`},
	{"the clock put back between the end of a cycle and its release", `
-- practice.yaml --
name: Practice of the case
regulator: Council of the case
time_zone: America/St_Johns
-- sterilizers.csv --
method
steam
-- loads.csv --
started,ended,released_by,released_at,decision
2026-11-01 00:40,2026-11-01 01:50,AB,2026-11-01 01:10,released
`},
	{"a contractor's sterilizer, known by its certificates", `
-- practice.yaml --
name: Practice of the case
regulator: Council of the case
reprocessing: contracted
-- sterilizers.csv --
id,method,operated_by
C-1,steam,contractor
-- loads.csv --
id,started,sterilizer,certificate,decision
L-1,2026-03-02,C-1,HC-1,released
L-2,2026-03-09,C-1,,released
`},
	{"two sterilizers, one retired, whose service was done with the validation and upkeep that names neither", `
-- sterilizers.csv --
id,method,retired_on
S1,steam,
S2,steam,2025-06-01
-- upkeep.csv --
equipment,task,done_on,next_due_on
S1,service,2025-03-02,2026-03-02
S1,validation,2025-03-02,2026-03-02
S1,validation,2026-02-27,2027-02-27
S2,service,2024-03-02,2025-03-02
,service,2025-03-01,2026-03-01
-- loads.csv --
id,started,sterilizer
L-1,2026-05-02,S1
L-2,2025-01-02,S2
`},
	{"gloves bought since the count, for a site with a slip, in another scale, without a size", `
-- practice.yaml --
name: Practice of the case
regulator: Council of the case
coverage:
  - {kind: stock, share: all, from: 2026-11-01}
-- sites.csv --
id,kind
clinic,clinic
bag,mobile
-- people.csv --
id,role,sites,glove_size
P-1,practitioner,clinic,S
P-2,practitioner,bag,7
-- stock.csv --
item,on,reason,quantity,site,size
gloves,2026-11-01,count,0,clinic,S
gloves,2026-11-02,purchase,2,Clinc,S
gloves,2026-11-01,count,0,bag,7
gloves,2026-11-02,purchase,1,bag,M
-- visits.csv --
client,started,person,site
C-1,2026-11-05,P-1,clinic
C-1,2026-11-06,P-2,bag
`},
	{"a load and a certificate put right by later rows, and rows that share an id", `
-- sterilizers.csv --
id,method,air_removal
S1,steam,gravity
-- loads.csv --
id,started,temperature,exposure,wrapped,decision,corrects
L-1,2026-03-02 09:00,121 °C,3 min,yes,released,
L-1b,2026-03-02 09:00,121 °C,30 min,yes,released,L-1
-- people.csv --
id,role
P-1,practitioner
-- credentials.csv --
id,person,kind,valid_from,valid_until,corrects
R-1,P-1,registration,2025-01-01,2025-12-31,
R-1b,P-1,registration,2025-01-01,2026-12-31,R-1
-- instruments.csv --
id,kind
X-1,scalpel-handle
X-1,file
-- visits.csv --
id,client,started,person,procedures,instruments
V-1,C-1,2026-03-02,P-1,nail-trim,X-1
`},
	{"rows that cannot be read: the renewal's, the program's, a few of the visits'", `
-- people.csv --
id,role
P-1,practitioner
-- credentials.csv --
id,person,kind,valid_from,valid_until
R-1,P-1,registration,2025-01-01,2025-12-31
R-2,P-1,registration,spring 2026,2026-12-31
-- visits.csv --
id,client,started,person,procedures
V-1,C-1,2026-03-02,P-1,nail-trim
V-2,C-1,last week,P-1,nail-trim
-- sterilizers.csv --
id,method,air_removal
S1,steam,dynamic
-- programs.csv --
id,temperature,exposure
W,hot,3.5 min
V,121 °C,30 min
-- loads.csv --
id,started,program,temperature,exposure,wrapped,decision
L-1,2026-03-02 09:00,W,132 °C,3.5 min,yes,released
`},
	{"a student, a supervisor and a reprocessing worker without certificates of their own", `
-- people.csv --
id,role,supervisor
P-1,practitioner,
P-2,student,P-1
P-3,reprocessing,
-- credentials.csv --
person,kind,valid_from,valid_until,procedures
P-1,registration,2026-01-01,2026-12-31,nail-trim;callus-reduction
P-1,liability-cover,2026-01-01,2026-12-31,
-- visits.csv --
client,started,person,procedures
C-1,2026-03-02,P-2,callus-reduction
C-2,2026-03-02,P-3,foot-bath
`},
}

// honestRun puts checks to one folder, written as an archive of text, all of whose files are read.
func honestRun(t *testing.T, text string, battery []audit.Check) *result.Result {
	t.Helper()
	criteria, err := Criteria()
	require.NoError(t, err)
	r, err := audit.Run(t.Context(), folder(t, text), battery, criteria, audit.Options{Workers: 1})
	require.NoError(t, err)
	require.Empty(t, r.NotRead)
	require.Greater(t, r.Counts.Accepted, 1)
	assert.Zero(t, r.Counts.Broken)
	return r
}

// Nothing in an honest folder is called critical or major.
func TestHonestFolders(t *testing.T) {
	for _, h := range honest {
		t.Run(h.name, func(t *testing.T) {
			r := honestRun(t, h.folder, All())
			for _, f := range r.Findings {
				if f.Grade == result.Critical || f.Grade == result.Major {
					t.Errorf("%s %s, %s %s: %s", f.Grade, f.Check, f.Subject.Kind, f.Subject.ID, f.Summary)
				}
			}
		})
	}
}
