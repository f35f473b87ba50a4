package result

import (
	"maps"
	"slices"
	"strings"
)

// Coverage says for which time all (or some) rows of a kind are in the folder, as the
// practice wrote it.
type Coverage struct {
	Kind  string `json:"kind"`
	From  string `json:"from"`
	Until string `json:"until"`
	Share string `json:"share"`
}

// concerned are the checks that go by another rule set or criterion in one of the two.
func concerned(before, after *Result) map[string]bool {
	out, ids := map[string]bool{}, map[string]bool{}
	for _, l := range criteriaLimits(before, after) {
		ids[l.Name] = true
	}
	for _, k := range slices.Concat(before.Checks, after.Checks) {
		set := before.RuleSet != after.RuleSet && len(k.Criteria) > 0
		if set || slices.ContainsFunc(goesBy(k), func(id string) bool { return ids[id] }) {
			out[k.ID] = true
		}
	}
	return out
}

// grants is what a rule that permits something is named by in a result.
const grants = "scope"

// goesBy are the criteria of a check. Grants are no criterion: the checks of their family
// go by them.
func goesBy(c Check) []string {
	if strings.HasPrefix(c.ID, grants+"/") {
		return append(slices.Clone(c.Criteria), grants)
	}
	return c.Criteria
}

// criteriaLimits are the criteria that were chosen or changed in one reading alone, or
// otherwise in the other, by name and case.
func criteriaLimits(before, after *Result) (out []Limit) {
	a, b, n := chosen(before), chosen(after), judgedBy(before, after)
	for _, k := range chosenKeys(a, b) {
		was, had := a[k]
		is, has := b[k]
		if had == has && was.Theirs == is.Theirs {
			continue
		}
		ours := was.Ours
		if has {
			ours = is.Ours
		}
		l := Limit{About: LimitCriterion, Name: k.criterion, Before: ours, After: ours}
		if had {
			l.Before = was.Theirs
		}
		if has {
			l.After = is.Theirs
		}
		l.N = n[k.criterion]
		out = append(out, l)
	}
	return out
}

// judgedBy counts the findings of the checks that go by each criterion.
func judgedBy(readings ...*Result) map[string]int {
	n := map[string]int{}
	for _, r := range readings {
		of := tally(r)
		for _, k := range r.Checks {
			for _, id := range goesBy(k) {
				n[id] += of[k.ID]
			}
		}
	}
	return n
}

type ruleKey struct{ criterion, when, permits string }

// chosen are the rules of a reading. Several grants of scope have one name, so what they
// permit tells them apart.
func chosen(r *Result) map[ruleKey]Rule {
	out := map[ruleKey]Rule{}
	for _, rule := range r.Rules {
		k := ruleKey{rule.Criterion, rule.When, ""}
		if rule.Criterion == grants {
			k.permits = rule.Theirs
		}
		out[k] = rule
	}
	return out
}

func chosenKeys(all ...map[ruleKey]Rule) (keys []ruleKey) {
	for _, m := range all {
		keys = slices.AppendSeq(keys, maps.Keys(m))
	}
	slices.SortFunc(keys, func(a, b ruleKey) int {
		return slices.Compare([]string{a.criterion, a.when, a.permits}, []string{b.criterion, b.when, b.permits})
	})
	return slices.Compact(keys)
}

func sortedKinds(m map[string]int) []string { return slices.Sorted(maps.Keys(m)) }
