package report

import (
	"slices"
	"strings"

	"footing/internal/result"
)

// balanceCheck sets packs made against packs used.
const balanceCheck = "packs/enough"

// cautions are those that the findings which say stop call for.
func (p *page) cautions() []md {
	var out []md
	families := map[string]bool{}
	for _, f := range p.Findings {
		if slices.Contains(p.Conclusion.Stops, f.Fingerprint) {
			family, _, _ := strings.Cut(f.Check, "/")
			families[family] = true
		}
	}
	for _, family := range []string{"cycles", "traces", "monitoring", "packs", "instruments", "soaks"} {
		if families[family] {
			out = append(out, say("If instruments were used that were not processed as the rules ask: stop using the item, keep every record, pouch and strip as it is, and ask public health and %s today. Contact no client about it on your own.", p.regulator()))
			break
		}
	}
	if families["people"] || families["scope"] {
		out = append(out, "If work was done without registration, cover or scope: speak to an adviser or your insurer before anything is sent.")
	}
	if families["traces"] {
		out = append(out, "What a data logger shows may have a plain cause: a sensor not calibrated, a clock that is wrong, an export taken twice.")
	}
	if slices.ContainsFunc(p.Findings, func(f result.Finding) bool { return f.Check == balanceCheck }) {
		out = append(out, "A balance of packs that does not add up: packs that were never counted explain most of these. Count before you conclude.")
	}
	if numbers := p.contacts(); numbers != "" {
		out = append(out, say("Whom to call, as you wrote it – %s.", numbers))
	}
	return out
}

func (p *page) contacts() string {
	var out []string
	for _, name := range sortedKeys(p.Contacts) {
		if c := plain(p.Contacts[name]); c != "" {
			out = append(out, strings.ReplaceAll(name, "_", " ")+": "+c)
		}
	}
	return strings.Join(out, "; ")
}
