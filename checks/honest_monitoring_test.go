package checks

import (
	"testing"

	"footing/internal/result"
)

// honestMonitoring are folders of practices that test their sterilizer as they should,
// or that typed only a part of it: each holds something that looks like a lapse. How
// practices write is common practice, no source.
var honestMonitoring = []struct{ name, folder string }{
	{"some of the laboratory's reports are typed, and weekly is the rule", `
-- practice.yaml --
name: Practice of the case
regulator: Council of the case
rule_set: cdc-2008
records_from: 2026-08-03
-- sterilizers.csv --
id,method
S1,steam
-- loads.csv --
id,started,decision
L-1,2026-08-03,released
L-2,2026-08-10,released
L-3,2026-08-18,released
L-4,2026-08-25,released
L-5,2026-09-01,released
L-6,2026-09-15,released
-- tests.csv --
id,kind,run_at,reported_on,result
T-1,spore,2026-08-03,2026-08-11,pass
T-2,spore,2026-09-01,2026-09-09,pass
`},
	{"the first cycle of each day is the air-removal test, typed among the loads, with the hour at which its sheet was read", `
-- practice.yaml --
name: Practice of the case
regulator: Council of the case
rule_set: cdc-2008
records_from: 2026-06-01
coverage:
  - {kind: tests, share: all}
  - {kind: loads, share: all}
-- sterilizers.csv --
id,method,air_removal,class,installed_on
S1,steam,dynamic,B,2019-03-01
-- loads.csv --
id,counter,started,ended,packs_made,decision
L-1,1,2026-06-01 08:00,2026-06-01 08:20,,released
L-2,2,2026-06-01 09:00,2026-06-01 09:50,6,released
L-3,3,2026-06-02 08:00,2026-06-02 08:20,,released
L-4,4,2026-06-02 09:00,2026-06-02 09:50,6,released
-- tests.csv --
kind,run_at,load,counter,reported_on,result
air-removal,2026-06-01 08:30,L-1,1,,pass
spore,2026-06-01 09:05,,2,2026-06-11,pass
air-removal,2026-06-02 08:30,,3,,pass
`},
	{"a spore test failed, the firm repaired and validated the sterilizer, and its report holds the repeats", `
-- practice.yaml --
name: Practice of the case
regulator: Council of the case
rule_set: cdc-2008
records_from: 2026-06-01
coverage:
  - {kind: tests, share: all}
  - {kind: loads, share: all}
-- sterilizers.csv --
id,method,air_removal
S1,steam,gravity
-- loads.csv --
id,started,released_at,decision
L-1,2026-06-01 09:00,2026-06-01 10:00,released
L-2,2026-06-08 09:00,2026-06-08 10:00,released
-- tests.csv --
kind,run_at,load,read_at,control,result
spore,2026-06-01 09:00,L-1,2026-06-02 10:00,growth,fail
-- upkeep.csv --
equipment,task,done_on,result
S1,repair,2026-06-04,
S1,validation,2026-06-05,pass
`},
	{"a vacuum sterilizer failed its leak test, the seal was changed, and it was used again", `
-- practice.yaml --
name: Practice of the case
regulator: Council of the case
rule_set: uk-practice
records_from: 2026-06-01
coverage:
  - {kind: tests, share: all}
  - {kind: loads, share: all}
-- sterilizers.csv --
id,method,air_removal
S1,steam,dynamic
-- loads.csv --
id,started,decision
L-1,2026-06-01 09:00,released
L-2,2026-06-02 11:00,released
-- tests.csv --
kind,run_at,leak_rate,result
leak,2026-06-01 07:40,1.0 mbar/min,pass
air-removal,2026-06-01 08:00,,pass
leak,2026-06-02 07:40,2.4 mbar/min,fail
air-removal,2026-06-02 10:00,,pass
-- upkeep.csv --
equipment,task,done_on
S1,gasket,2026-06-02
`},
	{"a test in each week, on whatever day there was time, all typed", `
-- practice.yaml --
name: Practice of the case
regulator: Council of the case
rule_set: cdc-2008
records_from: 2026-06-01
coverage:
  - {kind: tests, share: all}
  - {kind: loads, share: all}
-- sterilizers.csv --
id,method
S1,steam
-- loads.csv --
id,started,decision
L-1,2026-06-01,released
L-2,2026-06-03,released
L-3,2026-06-09,released
L-4,2026-06-12,released
L-5,2026-06-16,released
L-6,2026-06-23,released
-- tests.csv --
id,kind,run_at,load,reported_on,result
T-1,spore,2026-06-01,L-1,2026-06-08,pass
T-2,spore,2026-06-12,L-4,2026-06-19,pass
T-3,spore,2026-06-16,L-5,2026-06-23,pass
T-4,spore,2026-06-25,,,pending
`},
	{"three weeks closed in summer, and the test on the first day back; the last report has not come", `
-- practice.yaml --
name: Practice of the case
regulator: Council of the case
rule_set: cdc-2008
records_from: 2026-06-29
coverage:
  - {kind: tests, share: all}
-- sterilizers.csv --
id,method
S1,steam
-- loads.csv --
id,started,decision
L-1,2026-06-29,released
L-2,2026-07-03,released
L-3,2026-07-27,released
L-4,2026-08-03,released
L-5,2026-08-07,released
-- tests.csv --
id,kind,run_at,load,reported_on,result
T-1,spore,2026-06-29,L-1,2026-07-07,pass
T-2,spore,2026-07-27,L-3,2026-08-04,pass
T-3,spore,2026-08-03,L-4,,pending
`},
	{"a failure last spring, its repeats in the laboratory's e-mails, and the log going on", `
-- practice.yaml --
name: Practice of the case
regulator: Council of the case
rule_set: cdc-2008
-- sterilizers.csv --
id,method
S1,steam
-- upkeep.csv --
equipment,task,done_on,result
S1,out-of-use,2026-03-10,
S1,repair,2026-03-12,pass
S1,back-in-use,2026-03-16,
-- loads.csv --
id,started,released_at,decision
L-1,2026-03-02,2026-03-02,released
L-2,2026-03-16,2026-03-16,released
L-3,2026-03-18,2026-03-18,released
-- tests.csv --
id,kind,run_at,reported_on,control,result
T-1,spore,2026-03-02,2026-03-10,growth,fail
T-2,spore,2026-03-23,2026-03-31,growth,pass
`},
	{"a result typed as failed and put right; a strip read twenty minutes before its time, which is written in whole hours", `
-- practice.yaml --
name: Practice of the case
regulator: Council of the case
rule_set: cdc-2008
records_from: 2026-03-02
coverage:
  - {kind: tests, share: all}
-- sterilizers.csv --
id,method
S1,steam
-- loads.csv --
id,started,released_at,decision
L-1,2026-03-02 09:00,2026-03-02 10:00,released
L-2,2026-03-05 09:00,2026-03-05 10:00,released
-- tests.csv --
id,kind,run_at,incubated_at,read_after,read_at,control,result,corrects
T-1,spore,2026-03-02 09:00,2026-03-02 10:00,24 h,2026-03-03 09:40,growth,fail,
T-1b,spore,2026-03-02 09:00,2026-03-02 10:00,24 h,2026-03-03 09:40,growth,pass,T-1
`},
	{"a load finished on the day on which the failure came in, none after, and repeats run as loads", `
-- practice.yaml --
name: Practice of the case
regulator: Council of the case
rule_set: cdc-2008
records_from: 2026-03-02
coverage:
  - {kind: tests, share: all}
  - {kind: loads, share: all}
-- sterilizers.csv --
id,method
S1,steam
-- loads.csv --
id,started,counter,released_at,decision
L-1,2026-03-02,101,2026-03-02,released
L-2,2026-03-04,102,2026-03-04,released
L-3,2026-03-05,103,2026-03-05,released
L-4,2026-03-05,104,2026-03-05,released
L-5,2026-03-05,105,2026-03-05,rejected
L-6,2026-03-09,106,2026-03-09,released
-- tests.csv --
id,kind,run_at,load,counter,read_at,control,result
T-1,spore,2026-03-02,L-1,,2026-03-04,growth,fail
T-2,spore,2026-03-05,L-3,,2026-03-06,growth,pass
T-3,spore,2026-03-05,,104,2026-03-06,growth,pass
T-4,spore,2026-03-06,,,2026-03-07,growth,pass
`},
	{"two programs, one used twice a year, tests that name no program", `
-- practice.yaml --
name: Practice of the case
regulator: Council of the case
rule_set: cdc-2008
records_from: 2026-03-02
coverage:
  - {kind: tests, share: all}
-- sterilizers.csv --
id,method
S1,steam
-- programs.csv --
id,name,temperature,exposure
P134,wrapped,134 °C,4 min
P121,gentle,121 °C,30 min
-- loads.csv --
id,started,program,decision
L-1,2026-03-02,P134,released
L-2,2026-03-05,P121,released
-- tests.csv --
id,kind,run_at,reported_on,result
T-1,spore,2026-03-02,2026-03-10,pass
`},
}

// Nothing in an honest practice's monitoring is called critical or major, nor minor by a
// check of the family.
func TestHonestMonitoring(t *testing.T) {
	for _, h := range honestMonitoring {
		t.Run(h.name, func(t *testing.T) {
			r := honestRun(t, h.folder, All())
			for _, f := range r.Findings {
				switch {
				case f.Grade == result.Critical || f.Grade == result.Major,
					f.Grade == result.Minor && (f.Check == "monitoring/spore-interval" || f.Check == "monitoring/spore-valid" || f.Check == "monitoring/programs"):
					t.Errorf("%s %s, %s %s: %s", f.Grade, f.Check, f.Subject.Kind, f.Subject.ID, f.Summary)
				}
			}
		})
	}
}
