package audit

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"footing/internal/practice"
	"footing/internal/result"
	"footing/schemas"
)

// Book is the criteria as they hold for one practice: the shipped ones, the rule
// set it chose, and the values of its own rules.yaml.
type Book struct {
	*Criteria
	set      string
	yours    map[string][]Criterion
	Changes  []result.Rule // what was chosen or changed against the shipped values
	Mistakes []Mistake     // what rules.yaml or practice.rule_set asks for that cannot be done
}

// Mistake is an entry of rules.yaml, or a rule set, that could not be followed.
type Mistake struct {
	Criterion string
	Found     string
	Todo      string
	NoSource  bool // the entry holds, but names no source
	Looser    bool // the entry holds, and asks for less than the shipped value
}

// Choose makes the book of one practice. Nothing fails: what cannot be followed
// is left out and kept in Mistakes.
func (b *Criteria) Choose(p *practice.Practice) *Book {
	k := &Book{Criteria: b, yours: map[string][]Criterion{}}
	if set := p.Profile.RuleSet; set != "" {
		if slices.Contains(setOrder, set) {
			k.set = set
		} else {
			k.Mistakes = append(k.Mistakes, Mistake{Criterion: "rule_set", Found: fmt.Sprintf("practice.rule_set says %q, which is no rule set that is shipped", set),
				Todo: "write one of " + strings.Join(setOrder, ", ") + ", or leave it out and write your own rules into rules.yaml"})
		}
	}
	for _, choice := range p.Rules.Criteria {
		k.choose(choice)
	}
	for _, g := range p.Rules.Scope {
		k.Changes = append(k.Changes, granted(g))
	}
	return k
}

// granted is a scope grant as the report lists it: whom it permits what, and since when.
func granted(g practice.ScopeGrant) result.Rule {
	var when []string
	if g.To != "" {
		when = append(when, "to "+g.To)
	}
	if g.From.Written() {
		when = append(when, "from "+g.From.Words())
	}
	if g.Until.Written() {
		when = append(when, "until "+g.Until.Words())
	}
	return result.Rule{Criterion: "scope", When: strings.Join(when, ", "), Ours: "no grant", Theirs: "permits " + g.Permits, Source: g.Source}
}

func (k *Book) choose(choice practice.RuleChoice) {
	c := k.byID[strings.ToLower(strings.TrimSpace(choice.Criterion))]
	if c == nil {
		k.Mistakes = append(k.Mistakes, Mistake{Criterion: choice.Criterion, Found: fmt.Sprintf("rules names a criterion %q that does not exist", choice.Criterion),
			Todo: "footing checks lists each check; footing checks ID shows the criteria that it compares with"})
		return
	}
	when, err := parseWhen(choice.When)
	if err == nil {
		when, err = c.known(when)
	}
	var v value
	if err == nil {
		v, err = parseValue(c.form, choice.Value)
	}
	if err != nil {
		k.Mistakes = append(k.Mistakes, Mistake{Criterion: c.id, Found: fmt.Sprintf("rules: %s: %v", c.id, err), Todo: "correct the entry; until then the shipped values hold"})
		return
	}
	if slices.ContainsFunc(k.yours[c.id], func(o Criterion) bool { return maps.Equal(o.When, when) }) {
		k.Mistakes = append(k.Mistakes, Mistake{Criterion: c.id, Found: "your rule for " + c.text + forCase(when) + " is written twice",
			Todo: "keep the one that holds and take the other out; until then the first is followed"})
		return
	}
	v.spell(c)
	yours := Criterion{ID: c.id, Set: Yours, When: when, Level: "must", Known: "local", Source: choice.Source, Text: c.text, Stricter: c.stricter, value: v}
	k.yours[c.id] = append(k.yours[c.id], yours)
	rule := result.Rule{Criterion: c.id, When: when.String(), Theirs: v.String(), Source: choice.Source, Note: choice.Note}
	shipped := c.baseline(when)
	rule.Ours = listed(shipped)
	if i := slices.IndexFunc(shipped, func(s Criterion) bool { return looser(c.stricter, v, s.value) }); i >= 0 {
		rule.Looser = true
		k.Mistakes = append(k.Mistakes, Mistake{Criterion: c.id, Looser: true,
			Found: fmt.Sprintf("your rule for %s asks for %s; the shipped one asks for %s", c.text, rule.Theirs, listed(shipped[i:i+1]))})
	}
	k.Changes = append(k.Changes, rule)
	if strings.TrimSpace(choice.Source) == "" {
		k.Mistakes = append(k.Mistakes, Mistake{Criterion: c.id, NoSource: true, Found: "your rule for " + c.text + " names no source",
			Todo: "write where the rule stands (document, section, year) beside it"})
	}
}

// known brings circumstances to the spelling of the criterion's shipped values,
// and refuses those that none of them has.
func (c *criterion) known(when When) (When, error) {
	spelled := When{}
	for _, key := range slices.Sorted(maps.Keys(when)) {
		var known []string
		found := false
		for _, v := range c.values {
			for k, w := range v.When {
				if schemas.Fold(k) != schemas.Fold(key) {
					continue
				}
				known = append(known, k+"="+w)
				if schemas.Fold(w) == schemas.Fold(when[key]) {
					spelled[k], found = w, true
				}
			}
		}
		if !found {
			if len(known) == 0 {
				return nil, fmt.Errorf("when %s=%s fits nothing; it is not told apart by %s", key, when[key], key)
			}
			slices.Sort(known)
			return nil, fmt.Errorf("when %s=%s fits nothing; what is told apart: %s", key, when[key], strings.Join(slices.Compact(known), ", "))
		}
	}
	return spelled, nil
}

func parseWhen(text string) (When, error) {
	if strings.TrimSpace(text) == "" {
		return nil, nil
	}
	w := When{}
	for _, part := range strings.FieldsFunc(text, func(r rune) bool { return r == ',' || r == ';' }) {
		key, word, ok := strings.Cut(part, "=")
		if !ok {
			return nil, fmt.Errorf("when %q: write it as name=value, apart by commas: air_removal=gravity, wrapped=yes", text)
		}
		w[strings.TrimSpace(key)] = strings.TrimSpace(word)
	}
	return w, nil
}

// covers reports whether a criterion's circumstances hold in those of a case.
func covers(c, case_ When) bool {
	for k, v := range c {
		if case_[k] != v {
			return false
		}
	}
	return true
}

// holding lists, one a rule set, the criteria that could hold in these
// circumstances, in the order of rule sets; chosen reports that the first one
// was chosen by the practice and decides alone.
func (k *Book) holding(id string, when When) (all []Criterion, chosen bool) {
	if c, ok := closest(k.yours[id], when); ok {
		return []Criterion{c}, true
	}
	def := k.byID[id]
	if def == nil {
		return nil, false
	}
	bySet := map[string]Criterion{}
	for _, set := range setOrder {
		var of []Criterion
		for _, v := range def.values {
			if v.Set == set {
				of = append(of, v)
			}
		}
		if c, ok := closest(of, when); ok {
			bySet[set] = c
		}
	}
	if k.set != "" {
		for _, set := range []string{k.set, FootCare} {
			if c, ok := bySet[set]; ok {
				return []Criterion{c}, true
			}
		}
	}
	for _, set := range setOrder {
		if c, ok := bySet[set]; ok && (set != FootCare || len(all) == 0) {
			all = append(all, c)
		}
	}
	return all, false
}

// closest is the value whose circumstances fit and are named most fully.
func closest(values []Criterion, when When) (best Criterion, ok bool) {
	for _, v := range values {
		if covers(v.When, when) && (!ok || len(v.When) > len(best.When)) {
			best, ok = v, true
		}
	}
	return best, ok
}

// every lists the values of a criterion that could hold in any circumstances.
func (k *Book) every(id string) []Criterion {
	all := slices.Clone(k.yours[id])
	def := k.byID[id]
	if def == nil {
		return all
	}
	chosen := func(set string) bool { return set == k.set || set == FootCare }
	any := slices.ContainsFunc(def.values, func(c Criterion) bool { return k.set != "" && chosen(c.Set) })
	for _, c := range def.values {
		if !any || chosen(c.Set) {
			all = append(all, c)
		}
	}
	return all
}
