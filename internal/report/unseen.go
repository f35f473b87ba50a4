package report

import (
	"cmp"
	"slices"
	"strings"

	"footing/internal/result"
)

// gap is a kind of record, or a field of one, with the checks that wait for it.
type gap struct {
	kind, field string
	subjects    int
	checks      []string
}

// gaps gathers what is missing over all checks that could not look, at all or
// in part: what most checks wait for first.
func gaps(r *result.Result) []gap {
	type name struct{ kind, field string }
	at := map[name]int{}
	var out []gap
	for _, c := range r.Checks {
		if c.Outcome != result.NotAssessed && c.Counts.NotAssessed == 0 {
			continue
		}
		for _, m := range c.Missing {
			n := name{m.Kind, m.Field}
			i, known := at[n]
			if !known {
				i = len(out)
				at[n] = i
				out = append(out, gap{kind: m.Kind, field: m.Field})
			}
			out[i].subjects += m.Subjects
			if !slices.Contains(out[i].checks, c.ID) {
				out[i].checks = append(out[i].checks, c.ID)
			}
		}
	}
	slices.SortStableFunc(out, func(a, b gap) int {
		return cmp.Or(cmp.Compare(len(b.checks), len(a.checks)), cmp.Compare(b.subjects, a.subjects),
			cmp.Compare(a.kind, b.kind), cmp.Compare(a.field, b.field))
	})
	return out
}

// notJudged prints what could not be seen, by what is missing, and what would
// let most be seen.
func (p *page) notJudged() {
	p.heading(2, titleUnseen)
	p.para(text(stop(orElse(p.Conclusion.Unseen, outcomes(p.Counts)))))
	p.para("Not typed does not mean not done.")
	if n := p.NextField; n != nil {
		p.para(p.fromToday())
		p.para(say("What could look at more then: %s.", join(n.Checks)))
	}
	var rows [][]md
	for _, g := range gaps(p.Result) {
		what := text(g.field)
		switch {
		case what != "":
		case g.kind == kindTraces:
			what = "the files, in the folder traces"
		default:
			what = p.explain("the rows, or coverage in the practice file that says all are here")
		}
		rows = append(rows, []md{text(kindName(g.kind)), what,
			text(strings.Join(g.checks, ", "))})
	}
	if len(rows) > 0 {
		p.heading(3, "What is missing")
		p.table([]md{"Record", "What of it", "Checks that wait for it"}, rows)
	}
	var blind, partly [][]md
	for _, c := range p.Checks {
		switch {
		case c.Outcome == result.NotAssessed:
			blind = append(blind, []md{text(c.ID), text(c.Title), text(orElse(c.Reason, reasons(c)))})
		case c.Counts.NotAssessed > 0:
			partly = append(partly, []md{text(c.ID), say("%s of %s %s", c.Counts.NotAssessed, c.Counts.Examined, c.Things), text(orElse(reasons(c), c.Reason))})
		}
	}
	if len(blind) > 0 {
		p.heading(3, say("Checks that could not look (%s)", len(blind)))
		p.table([]md{"Check", "What it would show", "Why it could not"}, blind)
	}
	if len(partly) > 0 {
		p.heading(3, say("Checks that could look at a part (%s)", len(partly)))
		p.table([]md{"Check", "Not judged", "Why not"}, partly)
	}
}

// reasons joins the causes of one check with their counts.
func reasons(c result.Check) string {
	const most = 4
	var out []string
	for i, r := range c.Reasons {
		if i == most {
			out = append(out, several(len(c.Reasons)-most, "other reason", "other reasons"))
			break
		}
		s := plain(r.Text)
		if r.Count > 0 {
			s += " (" + several(r.Count, orElse(c.Thing, "thing"), orElse(c.Things, "things")) + ")"
		}
		out = append(out, s)
	}
	return strings.Join(out, "; ")
}
