package audit

import "strings"

// Verdict is how one rule set judges one thing.
type Verdict uint8

const (
	Silent     Verdict = iota // the rule set says nothing of it
	Meets                     // it meets the rule set
	Fail                      // it does not
	CannotTell                // what is written leaves it open
)

var verdictNames = [...]string{"silent", "met", "not met", "cannot be told"}

// gravity orders verdicts for a sum of them.
var gravity = [...]int{Silent: 0, Meets: 1, CannotTell: 2, Fail: 3}

// String is the verdict's name as it stands in reports.
func (v Verdict) String() string { return verdictNames[v] }

// SetVerdict is one rule set's verdict, with the criterion it rests on.
type SetVerdict struct {
	Criterion Criterion
	Verdict   Verdict
}

// Ruling is the verdict on one thing once every rule set that could hold has
// been asked. Where nobody chose a rule: Fail only if all that speak fail it,
// Meets if all meet it, and Depends where they differ.
type Ruling struct {
	Verdict   Verdict
	Depends   bool
	Criterion Criterion    // the one to cite: the baseline's where it agrees with the verdict
	By        []SetVerdict // nil when only one rule set spoke
}

func rule(all []Criterion, chosen bool, judge func(Criterion) Verdict) Ruling {
	var r Ruling
	var seen [len(verdictNames)]int
	for _, c := range all {
		v := judge(c)
		seen[v]++
		r.By = append(r.By, SetVerdict{c, v})
		if chosen {
			break
		}
	}
	switch {
	case seen[Meets]+seen[Fail]+seen[CannotTell] == 0:
		r.Verdict = Silent
	case seen[Fail] > 0 && seen[Meets] > 0:
		r.Verdict, r.Depends = Fail, true
	case seen[CannotTell] > 0:
		r.Verdict = CannotTell
	case seen[Fail] > 0:
		r.Verdict = Fail
	default:
		r.Verdict = Meets
	}
	for _, v := range r.By {
		if v.Verdict == r.Verdict {
			r.Criterion = v.Criterion
			break
		}
	}
	if seen[Meets]+seen[Fail]+seen[CannotTell] < 2 {
		r.By = nil
	}
	return r
}

// differ says which rule sets are met and which are not.
func (r Ruling) differ(needed func(Criterion) string) string {
	var parts []string
	for _, v := range r.By {
		if v.Verdict == Silent {
			continue
		}
		parts = append(parts, v.Criterion.Set+" "+v.Verdict.String()+" ("+needed(v.Criterion)+")")
	}
	return strings.Join(parts, ", ")
}
