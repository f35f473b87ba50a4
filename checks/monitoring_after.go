package checks

import (
	"sort"

	"footing/internal/audit"
	"footing/internal/chain"
	"footing/internal/practice"
	"footing/internal/quantity"
)

// monitoringUsedAfter are the loads put to use after a test and before a later one, or
// up to the last where that is nil; maybe are those of which the hours do not tell.
func monitoringUsedAfter(clock chain.Clock, loads []*practice.Load, t, next *practice.Test) (sure, maybe []*practice.Load) {
	from := sort.Search(len(loads), func(i int) bool { return loads[i].Started.Day() >= t.RunAt.Day() })
	for _, l := range loads[from:] {
		if next != nil && l.Started.Day() > next.RunAt.Day() {
			break
		}
		if !monitoringInUse(l) {
			continue
		}
		after, before := clock.Before(t.RunAt, l.Started), quantity.Yes
		if next != nil {
			before = clock.Before(l.Started, next.RunAt)
		}
		switch {
		case after == quantity.Yes && before == quantity.Yes:
			sure = append(sure, l)
		case after != quantity.No && before != quantity.No:
			maybe = append(maybe, l)
		}
	}
	return sure, maybe
}

// monitoringReleased is the first of some loads that is written as released, else the
// first of all; nil of none.
func monitoringReleased(loads []*practice.Load) *practice.Load {
	for _, l := range loads {
		if l.Released() {
			return l
		}
	}
	if len(loads) > 0 {
		return loads[0]
	}
	return nil
}

// monitoringEachDynamic calls look for each steam sterilizer of the practice's own that
// draws its air out. One of which that cannot be told is unclear.
func monitoringEachDynamic(x *audit.Examination, look func(audit.Subject, *practice.Sterilizer)) {
	monitoringEach(x, func(subject audit.Subject, s *practice.Sterilizer) {
		air := cyclesAir(s, nil)
		switch {
		case s.Method != "steam" || len(air) == 1 && air[0] != "dynamic":
			x.Pass()
		case len(air) > 1:
			x.Unclear(subject, "how the sterilizer gets the air out of its chamber is not written", audit.Field{Kind: "sterilizers", Name: "air_removal"})
		default:
			look(subject, s)
		}
	})
	x.Nothing("no sterilizer of the practice's own draws its air out by pumps or pulses, or none was used")
}

// monitoringClock is how far clocks may differ; a check that uses it uses records.clock.
func monitoringClock(x *audit.Examination) (c chain.Clock) {
	if limit, ok := x.Criterion("records.clock", nil); ok {
		c.Tolerance = limit.Quantity()
	}
	return c
}

// monitoringDoubt tells of a fault that rests on something not known for sure: it is not
// assessed, and an observation.
func monitoringDoubt(x *audit.Examination, s audit.Subject, f audit.Fault, why string, missing audit.Field) {
	x.Unclear(s, why, missing)
	f.Grade, f.Weight, f.Criterion = audit.Observation, 0, nil
	f.Matter += " perhaps"
	x.Remark(s, f)
}

// monitoringUndecided is why a fault in loads that have no release written is not assessed.
const monitoringUndecided = "no release of the loads is written, so whether they were used cannot be told"
