package report

import (
	"slices"
	"strconv"
	"strings"

	"footing/internal/result"
)

// typed counts the rows that could be read, by kind.
func (p *page) typed() md {
	return text(typed(p.Result))
}

func typed(r *result.Result) string {
	rows := map[string]int{}
	for _, f := range r.Intake {
		rows[f.Kind] += f.Accepted
	}
	kinds := make([]string, 0, len(rows))
	for k := range rows {
		if k != "" && k != "practice" && k != "rules" && k != "trace-layout" && rows[k] > 0 {
			kinds = append(kinds, k)
		}
	}
	slices.SortFunc(kinds, func(a, b string) int {
		if rows[a] != rows[b] {
			return rows[b] - rows[a]
		}
		return strings.Compare(a, b)
	})
	const most = 8
	parts := make([]string, 0, most+1)
	for i, k := range kinds {
		if i == most {
			parts = append(parts, several(len(kinds)-most, "other kind", "other kinds"))
			break
		}
		name := k
		if rows[k] == 1 {
			name = singular(k)
		}
		parts = append(parts, strconv.Itoa(rows[k])+" "+name)
	}
	s := "Typed: " + join(parts)
	if len(parts) == 0 {
		s = "Typed: no rows yet"
	}
	if c := r.Counts; c.SetAside > 0 {
		s += "; " + several(c.SetAside, "row", "rows") + " of " + strconv.Itoa(c.Rows) + " could not be used and " + map[bool]string{true: "is", false: "are"}[c.SetAside == 1] + " set aside"
	}
	return s + "."
}

// untyped names the kinds of record of which no row was typed and that most
// checks wait for.
func (p *page) untyped() md {
	return text(untyped(p.Result))
}

// kindName is a kind in a list of what is missing.
func kindName(kind string) string {
	if kind == kindTraces {
		return "data-logger files"
	}
	return kind
}

// missingKinds are those kinds, at most six, the one most waited for first.
func missingKinds(r *result.Result) []string {
	var kinds []string
	for _, g := range gaps(r) {
		if g.field == "" && len(kinds) < 6 {
			kinds = append(kinds, kindName(g.kind))
		}
	}
	return kinds
}

func untyped(r *result.Result) string {
	kinds := missingKinds(r)
	if len(kinds) == 0 {
		return ""
	}
	return "Not typed, or not typed in full, so not judged: " + join(kinds) + ". It does not mean that they were not done."
}

// fromToday names the one record that would let most be seen.
func (p *page) fromToday() md {
	if p.NextField == nil {
		return ""
	}
	return say("**From today on, never backwards: %s.** %s", keep(p.NextField), stop(quoted(upper(p.NextField.Why))))
}

func keep(n *result.NextField) string {
	switch {
	case n.Kind == kindTraces:
		return "copy the data logger's files into the folder traces"
	case n.Field == "":
		return "keep " + plain(n.Kind)
	case n.Kind == "practice" || n.Kind == "rules": // single documents, which have no rows
		return "write “" + plain(n.Field) + "” in " + plain(n.Kind)
	}
	return "write “" + plain(n.Field) + "” in each row of " + plain(n.Kind)
}

// changed says at the top what was chosen or changed of the rules.
func (p *page) changed() md {
	if p.RuleSet == "" && len(p.Rules) == 0 {
		return "No rule set was chosen. Where the shipped rule sets differ, the result under each is shown; look up which one holds for you before you call it a gap."
	}
	out := md("")
	if p.RuleSet != "" {
		out = say("Rule set: %s.", p.RuleSet)
	}
	looser := 0
	for _, r := range p.Rules {
		if r.Looser {
			looser++
		}
	}
	if len(p.Rules) > 0 {
		out += say(" %s chosen or changed", several(len(p.Rules), "rule was", "rules were"))
		if looser > 0 {
			out += say(", %s looser than the baseline", several(looser, "of them", "of them"))
		}
		out += ": see [the rules](#rules)."
	}
	return md(strings.TrimSpace(string(out)))
}
