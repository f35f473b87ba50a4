package checks

import (
	"fmt"
	"slices"

	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/quantity"
)

// recordsMonthsDay is how one rule has one day of use: covered by a spore test, not
// covered as typed, surely not covered, or hanging on a test without a result.
type recordsMonthsDay struct{ late, sure, open bool }

// recordsMonthsTests answers, for each interval that could hold, how each day of use stands.
type recordsMonthsTests map[string]map[quantity.Day]recordsMonthsDay

// covers puts each day of use of one sterilizer to each interval, once.
func (r *recordsMonthsRun) covers(loads []*practice.Load, tests []*practice.Test) recordsMonthsTests {
	out := recordsMonthsTests{}
	stretches := monitoringStretches(monitoringDays(loads), tests)
	for _, c := range r.Every("monitoring.spore-interval") {
		interval, limited := c.Limit()
		if !limited || out[c.Value()] != nil {
			continue
		}
		days, stray := map[quantity.Day]recordsMonthsDay{}, monitoringReach{tests: r.stray}
		for i := range stretches {
			late, open := stretches[i].late(interval)
			for _, d := range late {
				// Use before the first test that is typed is not judged, unless all are here.
				open := stretches[i].before == nil || stray.covers(d.on, interval)
				days[d.on] = recordsMonthsDay{late: !open, open: open}
			}
			for _, d := range r.typed.sure(late, interval) {
				days[d.on] = recordsMonthsDay{late: true, sure: true}
			}
			for _, d := range open {
				days[d.on] = recordsMonthsDay{open: true}
			}
		}
		out[c.Value()] = days
	}
	return out
}

// spore asks whether the month's days of use are covered: as typed, surely, and
// whether surely none of them is.
func (r *recordsMonthsRun) spore(m *recordsMonth, tests recordsMonthsTests) (asTyped, some, none audit.Ruling) {
	ask := func(judge func(late, sure, open, all int) audit.Verdict) audit.Ruling {
		return r.Ask("monitoring.spore-interval", nil, func(c audit.Criterion) audit.Verdict {
			if _, limited := c.Limit(); !limited {
				return audit.Meets
			}
			late, sure, open := 0, 0, 0
			for _, l := range m.loads {
				switch d := tests[c.Value()][l.Started.Day()]; {
				case d.sure:
					late, sure = late+1, sure+1
				case d.late:
					late++
				case d.open:
					open++
				}
			}
			return judge(late, sure, open, len(m.loads))
		})
	}
	asTyped = ask(func(late, _, open, _ int) audit.Verdict {
		switch {
		case late > 0:
			return audit.Fail
		case open > 0:
			return audit.CannotTell
		}
		return audit.Meets
	})
	failsIf := func(fails func(sure, all int) bool) audit.Ruling {
		return ask(func(_, sure, _, all int) audit.Verdict {
			if fails(sure, all) {
				return audit.Fail
			}
			return audit.Meets
		})
	}
	some = failsIf(func(sure, _ int) bool { return sure > 0 })
	none = failsIf(func(sure, all int) bool { return sure == all })
	return asTyped, some, none
}

// recordsMonthsStray are the spore tests that may have been of any sterilizer, but for
// those that count for none.
func recordsMonthsStray(p *practice.Practice) []*practice.Test {
	return slices.DeleteFunc(monitoringStray(p, "spore"), func(t *practice.Test) bool { return monitoringCounts(t) == quantity.No })
}

// lateDays says how many days of use of a month no spore test is in time for, under one rule.
func (m *recordsMonth) lateDays(c audit.Criterion, tests recordsMonthsTests) string {
	days, late := monitoringDays(m.loads), 0
	for _, d := range days {
		if tests[c.Value()][d.on].late {
			late++
		}
	}
	if late == len(days) {
		return "any day of use"
	}
	return fmt.Sprintf("%d of %d days of use", late, len(days))
}
