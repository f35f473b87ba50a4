package result

import (
	"cmp"
	"slices"
	"strconv"
	"strings"
)

// Limit is one thing that keeps two readings from being compared, or that differs for
// another cause than what was mended.
type Limit struct {
	About  string `json:"about"`
	Name   string `json:"name"` // of the criterion, check or kind of record; "" where there is none
	Before string `json:"before"`
	After  string `json:"after"`
	N      int    `json:"n"` // findings that hang on it, in both readings; 0 where it cannot be told
}

// What a Limit is about.
const (
	LimitPractice  = "practice" // another name
	LimitTool      = "tool"
	LimitRuleSet   = "rule set"
	LimitCriterion = "criterion" // chosen or changed in one of the two alone, or otherwise
	LimitCheck     = "check"     // that only one of the two has
	LimitSight     = "sight"     // a check that looked in only one of the two
	LimitCoverage  = "coverage"  // of a kind of record
	LimitPeriod    = "period"    // the later one begins later, or they share no day
	LimitRows      = "rows"      // of a kind of record are fewer
	LimitHorizon   = "horizon"   // the day to which each looks forward
	LimitSeed      = "seed"      // visits are drawn from
	LimitSameDay   = "same day"
	LimitShared    = "shared" // a copy for someone else, with other pseudonyms
)

// limits finds them, the widest first.
func limits(before, after *Result) []Limit {
	var out []Limit
	differ := func(about, a, b string) {
		if a != b {
			out = append(out, Limit{About: about, Before: a, After: b})
		}
	}
	differ(LimitPractice, strings.TrimSpace(before.Practice.Name), strings.TrimSpace(after.Practice.Name))
	if before.Shared+after.Shared != "" && !Same(before, after) {
		out = append(out, Limit{About: LimitShared})
	}
	if before.AsOf == after.AsOf && before.AsOf != "" && !Same(before, after) {
		out = append(out, Limit{About: LimitSameDay, Before: before.AsOf, After: after.AsOf})
	}
	differ(LimitTool, before.Tool, after.Tool)
	differ(LimitRuleSet, before.RuleSet, after.RuleSet)
	out = append(out, criteriaLimits(before, after)...)
	out = append(out, checkLimits(before, after)...)
	out = append(out, coverageLimits(before, after)...)
	out = append(out, periodLimits(before, after)...)
	out = append(out, rowLimits(before, after)...)
	differ(LimitHorizon, before.Purpose.On, after.Purpose.On)
	if before.Seed != after.Seed {
		out = append(out, Limit{About: LimitSeed})
	}
	return out
}

// Same reports whether two readings found the same, saw as much and read the same files.
func Same(before, after *Result) bool {
	c := Compare(before, after)
	return c.Same() && len(c.Files) == 0
}

// tally counts the findings of each check in the readings named.
func tally(readings ...*Result) map[string]int {
	n := map[string]int{}
	for _, r := range readings {
		for i := range r.Findings {
			n[r.Findings[i].Check]++
		}
	}
	return n
}

// checkLimits are the checks that only one of the two has, or in only one of which they looked.
func checkLimits(before, after *Result) (out []Limit) {
	var sight []Limit
	n, had := tally(before, after), map[string]*Check{}
	for i := range before.Checks {
		had[before.Checks[i].ID] = &before.Checks[i]
	}
	blind := func(outcome string) bool { return outcome == NotAssessed || outcome == Broken }
	for i := range after.Checks {
		c := &after.Checks[i]
		was := had[c.ID]
		delete(had, c.ID)
		switch {
		case was == nil:
			out = append(out, Limit{LimitCheck, cmp.Or(c.Title, c.ID), "", c.Outcome, n[c.ID]})
		case blind(was.Outcome) != blind(c.Outcome):
			sight = append(sight, Limit{LimitSight, cmp.Or(c.Title, c.ID), was.Outcome, c.Outcome, n[c.ID]})
		}
	}
	for i := range before.Checks {
		if c := &before.Checks[i]; had[c.ID] != nil {
			out = append(out, Limit{LimitCheck, cmp.Or(c.Title, c.ID), c.Outcome, "", n[c.ID]})
		}
	}
	return append(out, sight...)
}

// periodLimits say that the later reading begins later, or that the two share no day.
func periodLimits(before, after *Result) []Limit {
	a, b := before.Period, after.Period
	if a.From == "" || b.From == "" || b.From <= a.From && (b.Until == "" || b.Until >= a.From) {
		return nil
	}
	return []Limit{{About: LimitPeriod, Before: a.From + "/" + a.Until, After: b.From + "/" + b.Until}}
}

// rowLimits are the kinds of record of which fewer rows were read.
func rowLimits(before, after *Result) (out []Limit) {
	had, has := rows(before), rows(after)
	for _, kind := range sortedKinds(had) {
		if has[kind] < had[kind] {
			out = append(out, Limit{About: LimitRows, Name: kind, Before: strconv.Itoa(had[kind]), After: strconv.Itoa(has[kind])})
		}
	}
	return out
}

func coverageLimits(before, after *Result) (out []Limit) {
	a, b := covered(before), covered(after)
	kinds := map[string]int{}
	for k := range a {
		kinds[k]++
	}
	for k := range b {
		kinds[k]++
	}
	for _, kind := range sortedKinds(kinds) {
		if a[kind] != b[kind] {
			out = append(out, Limit{About: LimitCoverage, Name: kind, Before: a[kind], After: b[kind]})
		}
	}
	return out
}

// covered is what each kind is covered by: "all 2026-01-01/2026-06-30; some 2026-07-01/".
func covered(r *Result) map[string]string {
	parts := map[string][]string{}
	for _, c := range r.Coverage {
		parts[c.Kind] = append(parts[c.Kind], cmp.Or(c.Share, "some")+" "+c.From+"/"+c.Until)
	}
	out := map[string]string{}
	for kind, all := range parts {
		slices.Sort(all)
		out[kind] = strings.Join(slices.Compact(all), "; ")
	}
	return out
}
