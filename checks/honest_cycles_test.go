package checks

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"footing/internal/audit"
	"footing/internal/result"
)

// honestCycles are the checks of a log's numbers, hours and tests.
var honestCycles = []string{"cycles/chamber", "cycles/counter", "cycles/hinges", "cycles/identical", "cycles/overlap", "cycles/printout",
	"monitoring/air-removal", "monitoring/leak-rate", "monitoring/requalified"}

const honestCovered = `
-- practice.yaml --
name: Practice of the case
regulator: Council of the case
coverage:
  - {kind: loads, from: 2026-01-01, until: 2026-11-24, share: all}
  - {kind: tests, from: 2026-01-01, until: 2026-11-24, share: all}
  - {kind: packs, from: 2026-01-01, until: 2026-11-24, share: all}
`

// honestLogs are logs as honest practices keep them, each with something that a
// practitioner could explain in a minute. How practices write is common practice, no source.
var honestLogs = []struct{ name, folder string }{
	{"four months of a book, test cycles on another sheet, and a new board at the yearly service", `
-- sterilizers.csv --
id,method,class
S1,steam,B
-- upkeep.csv --
equipment,task,done_on
S1,service,2026-04-14
-- loads.csv --
id,started,counter,temperature,exposure,decision
L-1,2026-03-02,3980,134 °C,3.5 min,released
L-2,2026-03-05,3983,134 °C,3.5 min,released
L-3,2026-03-09,3988,134 °C,3.5 min,released
L-4,2026-04-16,4,134 °C,3.5 min,released
L-5,2026-04-20,7,134 °C,3.5 min,released
L-6,2026-04-20,9,134 °C,3.5 min,released
`},
	{"everything typed, a first test that failed and was repeated, hours only where they mattered", honestCovered + `
-- sterilizers.csv --
id,method,air_removal,air_detector,most_packs,installed_on
S1,steam,dynamic,yes,10,2019-05-06
-- upkeep.csv --
equipment,task,done_on,result,note
S1,repair,2026-03-04,,handle of the door
S1,validation,2026-03-04,pass,with the repair
S1,gasket,2026-03-06,,
-- loads.csv --
id,started,ended,counter,packs_made,printout,hinges_open,decision
L-1,2026-03-02,,398,10,yes,yes,released
L-2,2026-03-03 10:00,2026-03-03 10:50,402,9,yes,yes,released
L-3,2026-03-03 11:00,2026-03-03 11:50,403,12,yes,yes,rejected
L-4,2026-03-05,,407,8,yes,yes,released
L-5,2026-03-09,,410,8,yes,yes,released
-- tests.csv --
kind,run_at,counter,leak_rate,result
leak,2026-03-02,396,0.9 mbar/min,pass
air-removal,2026-03-02,397,,pass
leak,2026-03-03 07:30,399,1.6 mbar/min,fail
leak,2026-03-03 08:00,400,1.1 mbar/min,pass
air-removal,2026-03-03 08:40,401,,pass
air-removal,2026-03-05,406,,pass
leak,2026-03-09,408,0.8 mbar/min,pass
air-removal,2026-03-09,409,,pass
`},
	{"a counter that begins anew each day, a machine with neither printer nor decimals, and values from its display", honestCovered + `
-- sterilizers.csv --
id,method,air_removal
S1,steam,gravity
-- instruments.csv --
id,kind,hinged
C-1,curette,no
-- packs.csv --
id,load,instruments
K-1,L-1,C-1
-- loads.csv --
id,started,ended,counter,temperature,pressure,exposure,drying,hinges_open,packs_made,decision
L-1,2026-03-02 09:00,2026-03-02 10:10,1,121 °C,205 kPa absolute,30 min,30 min,no,1,released
L-2,2026-03-02 11:00,2026-03-02 12:10,2,121 °C,205 kPa absolute,30 min,30 min,,6,released
L-3,2026-03-03 09:00,2026-03-03 10:10,1,121 °C,205 kPa absolute,30 min,30 min,,6,released
L-4,2026-03-03 11:00,2026-03-03 12:10,2,121 °C,205 kPa absolute,30 min,30 min,,6,released
L-5,2026-03-03 13:00,2026-03-03 14:10,3,121 °C,205 kPa absolute,30 min,30 min,,6,released
L-6,2026-03-05 09:00,2026-03-05 10:10,1,121 °C,205 kPa absolute,30 min,30 min,,6,released
L-7,2026-03-06 09:00,2026-03-06 10:10,1,121 °C,205 kPa absolute,30 min,30 min,,6,released
L-8,2026-03-06 11:00,2026-03-06 12:10,2,121 °C,205 kPa absolute,30 min,30 min,,6,released
L-9,2026-03-09 09:00,2026-03-09 10:10,1,121 °C,205 kPa absolute,30 min,30 min,,6,released
L-10,2026-03-10 09:00,2026-03-10 10:10,1,121 °C,205 kPa absolute,30 min,30 min,,6,released
L-11,2026-03-11 09:00,2026-03-11 10:10,1,121 °C,205 kPa absolute,30 min,30 min,,6,released
`},
	{"rows out of order, two rows for one load, and spore tests dated when they were put in", honestCovered + `
-- sterilizers.csv --
method
steam
-- loads.csv --
id,started,counter,decision
L-2,2026-03-02,399,released
L-1,2026-03-02,398,released
L-3,2026-03-03 09:00,400,released
L-3b,2026-03-03 09:00,400,released
L-4,2026-03-04,402,released
L-5,2026-03-05,,released
L-6,2026-03-06,404,released
-- tests.csv --
kind,run_at,counter,result
spore,2026-03-04,400,pass
leak,2026-03-03,401,pass
`},
	{"numbers of one's own that begin anew each month", honestCovered + `
-- sterilizers.csv --
method
steam
-- tests.csv --
kind,run_at,counter,result
spore,2026-01-05,1,pass
-- loads.csv --
` + honestMonths()},
	{"a contractor's numbers, which run on with other customers' loads", honestCovered + `
-- sterilizers.csv --
id,method,air_removal,operated_by
C1,steam,dynamic,contractor
-- tests.csv --
kind,run_at,counter,result
spore,2026-03-02,1000,pass
-- loads.csv --
id,started,counter,certificate,decision
L-1,2026-03-02,1012,HC-1,released
L-2,2026-03-09,1160,HC-2,released
L-3,2026-03-16,87,HC-3,released
`},
	{"two sterilizers in one book, and who ran what not always written", honestCovered + `
-- sterilizers.csv --
id,method,air_removal
S1,steam,gravity
S2,steam,dynamic
-- tests.csv --
kind,run_at,equipment,counter,result
spore,2026-03-02,S1,396,pass
air-removal,2026-03-02,,,pass
-- loads.csv --
id,started,ended,sterilizer,counter,decision
L-1,2026-03-02 09:00,2026-03-02 10:00,S1,397,released
L-2,2026-03-02 09:05,2026-03-02 10:05,S2,51,released
L-3,2026-03-02 09:10,2026-03-02 10:10,,398,released
L-4,2026-03-03 09:00,2026-03-03 10:00,S1,399,released
`},
}

func honestMonths() string {
	var b strings.Builder
	b.WriteString("id,started,counter,decision\n")
	for month := 1; month <= 6; month++ {
		for n := range 12 {
			number := n + 1
			if month == 1 {
				number++
			}
			fmt.Fprintf(&b, "M-%d-%d,2026-%02d-%02d,%d,released\n", month, n, month, 6+n, number)
		}
	}
	return b.String()
}

// Nothing in these logs is told as more than an observation.
func TestHonestLogs(t *testing.T) {
	mine := slices.DeleteFunc(All(), func(c audit.Check) bool { return !slices.Contains(honestCycles, c.ID) })
	require.Len(t, mine, len(honestCycles))
	for _, h := range honestLogs {
		t.Run(h.name, func(t *testing.T) {
			r := honestRun(t, h.folder, mine)
			require.Zero(t, r.Counts.SetAside)
			assert.Zero(t, r.Counts.Broken)
			for _, f := range r.Findings {
				if f.Grade != result.Observation {
					t.Errorf("%s %s, %s %s: %s", f.Grade, f.Check, f.Subject.Kind, f.Subject.ID, f.Summary)
				}
			}
		})
	}
}
