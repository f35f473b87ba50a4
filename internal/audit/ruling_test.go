package audit

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestRule(t *testing.T) {
	sets := func(verdicts ...Verdict) ([]Criterion, func(Criterion) Verdict) {
		var all []Criterion
		by := map[string]Verdict{}
		for i, v := range verdicts {
			all = append(all, Criterion{Set: setOrder[i]})
			by[setOrder[i]] = v
		}
		return all, func(c Criterion) Verdict { return by[c.Set] }
	}
	for _, c := range []struct {
		name     string
		verdicts []Verdict
		chosen   bool
		want     Verdict
		depends  bool
		cites    string
		by       int
	}{
		{"nobody speaks", nil, false, Silent, false, "", 0},
		{"all silent", []Verdict{Silent, Silent}, false, Silent, false, setOrder[0], 0},
		{"one speaks and fails", []Verdict{Silent, Fail}, false, Fail, false, setOrder[1], 0},
		{"all fail", []Verdict{Fail, Fail, Silent}, false, Fail, false, setOrder[0], 3},
		{"all meet", []Verdict{Meets, Meets}, false, Meets, false, setOrder[0], 2},
		{"they differ", []Verdict{Fail, Meets}, false, Fail, true, setOrder[0], 2},
		{"one cannot tell, one fails", []Verdict{CannotTell, Fail}, false, CannotTell, false, setOrder[0], 2},
		{"one cannot tell, one meets", []Verdict{Meets, CannotTell}, false, CannotTell, false, setOrder[1], 2},
		{"differ, and one cannot tell", []Verdict{Fail, Meets, CannotTell}, false, Fail, true, setOrder[0], 3},
		{"the chosen one alone decides", []Verdict{Meets, Fail}, true, Meets, false, setOrder[0], 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			all, judge := sets(c.verdicts...)
			r := rule(all, c.chosen, judge)
			assert.Equal(t, c.want, r.Verdict)
			assert.Equal(t, c.depends, r.Depends)
			assert.Equal(t, c.cites, r.Criterion.Set)
			assert.Len(t, r.By, c.by)
		})
	}
}
