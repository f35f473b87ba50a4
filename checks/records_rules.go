package checks

import (
	"fmt"
	"strings"

	"footing/internal/audit"
)

var _ = define(audit.Check{
	ID:    "records/rules",
	Title: "Each local rule names its source, and none asks for less than the baseline without saying so",
	Why: "Your own rules decide what is judged and how. A rule without a source cannot be shown to anyone who asks why, and one that cannot be followed is left out, so that a shipped value holds in its place. " +
		"That a rule asks for less than the baseline is no fault where you practise under it; it is shown, so that nobody is surprised by it.",
	Grades:  []audit.Grade{audit.Minor, audit.Observation},
	Subject: "rules",
	Thing:   "local rule",
	Things:  "local rules",
	Helps:   []string{"rules.criteria", "rules.scope", "practice.rule_set"},
	Fix: []string{
		"Find the text that the rule comes from: the regulator's standard, a letter, the maker's instructions. Write its title, section and year beside the rule as its source.",
		"If there is none, take the rule out; the shipped value then holds.",
		"Where an entry cannot be followed, write it as the message asks; until then the shipped value holds.",
		"Where your rule asks for less than the baseline, check that the text still says so, and keep a copy where you can lay hands on it.",
	},
	Verify: "every entry of rules.yaml has a source, and the report's list of rules shows each one as you meant it",
	Run: func(x *audit.Examination) {
		p := x.P
		entries := len(p.Rules.Criteria) + len(p.Rules.Scope) + len(p.Rules.Accepted)
		if p.Profile.RuleSet != "" {
			entries++
		}
		met := entries
		seen := map[string]int{}
		for _, m := range x.Rules() {
			f := audit.Fault{Grade: audit.Minor, Matter: "entry", Found: m.Found, Needed: m.Todo, Evidence: recordsRulesEvidence(x, m.Criterion)}
			s := audit.Subject{Kind: "rules", ID: m.Criterion}
			switch {
			case m.Looser:
				f.Matter, f.Needed = "looser", "no fault where that is the rule you practise under; keep its text at hand"
				x.Remark(s, f)
				continue
			case m.NoSource:
				f.Matter = "no source"
			}
			if seen[m.Criterion]++; seen[m.Criterion] > 1 {
				f.Matter = fmt.Sprintf("%s %d", f.Matter, seen[m.Criterion])
			}
			met--
			x.NotMet(s, f)
		}
		for _, g := range p.Rules.Scope {
			if strings.TrimSpace(g.Source) != "" {
				continue
			}
			met--
			x.NotMet(audit.Subject{Kind: "rules", ID: g.Permits}, audit.Fault{Grade: audit.Minor, Matter: "no source", Found: "your grant of " + strings.Replace(g.Permits, ":", " ", 1) + " names no source",
				Needed: "write where it stands (document, section, year) beside it", Evidence: recordsRulesAt(x, "scope", g.Permits)})
		}
		for range met {
			x.Met(audit.Subject{Kind: "rules"})
		}
		switch {
		case p.Unread("rules"):
			x.Unclear(audit.Subject{Kind: "rules"}, "part of the rules could not be read, so what it asks for is not judged by", audit.Field{Kind: "rules"})
		case entries == 0:
			x.Nothing("no local rules are written, and no rule set is chosen")
		}
	},
})

// recordsRulesEvidence is where an entry on a criterion stands, or the choice of a rule set.
func recordsRulesEvidence(x *audit.Examination, criterion string) []audit.Evidence {
	if criterion == "rule_set" {
		return []audit.Evidence{audit.At(&x.P.Profile.Row, "rule_set")}
	}
	return recordsRulesAt(x, "criteria", criterion)
}

// recordsRulesAt is a list of rules.yaml, with the entry of it that is meant.
func recordsRulesAt(x *audit.Examination, field, entry string) []audit.Evidence {
	place := x.P.Rules.Row.Place(field)
	return []audit.Evidence{{Place: &place, Kind: "rules", Field: field, Value: entry}}
}
