package audit

import (
	"cmp"
	"slices"
	"strings"

	"footing/internal/practice"
	"footing/internal/quantity"
	"footing/internal/record"
	"footing/internal/result"
	"footing/schemas"
)

// findings groups the faults of one check: those of one grade, subject and
// matter are one finding, with their count and every record in its evidence.
func (e *examined) findings() []result.Finding {
	type key struct {
		grade   Grade
		subject Subject
		matter  string
	}
	groups := map[key][]*Fault{}
	var order []key
	for i := range e.faults {
		f := &e.faults[i]
		k := key{f.Grade, f.subject, f.Matter}
		if groups[k] == nil {
			order = append(order, k)
		}
		groups[k] = append(groups[k], &f.Fault)
	}
	var list []result.Finding
	for _, k := range order {
		list = append(list, e.finding(k.subject, groups[k]))
	}
	return list
}

// finding makes one finding of a group; the sentence speaks of the one furthest off,
// of those alike first of one that says stop.
func (e *examined) finding(s Subject, group []*Fault) result.Finding {
	worst := group[0]
	var first, last quantity.Day
	for _, f := range group {
		if f.Weight > worst.Weight || f.Weight == worst.Weight && f.Stop && !worst.Stop {
			worst = f
		}
		if f.Day.Written() {
			if !first.Written() || f.Day < first {
				first = f.Day
			}
			last = max(last, f.Day)
		}
	}
	c := e.check
	out := result.Finding{
		Fingerprint: result.Fingerprint(c.ID, s.Kind, s.ID, worst.Matter), Check: c.ID, Grade: worst.Grade.String(),
		Subject: result.Subject{Kind: s.Kind, ID: s.ID}, Matter: worst.Matter, Summary: sentence(c, worst, len(group)),
		Extent: result.Extent{N: len(group), Of: max(e.among(s, worst.Grade), len(group)), First: first.String(), Last: last.String()},
		Steps:  c.Fix, Verify: c.Verify,
	}
	if len(worst.Steps) > 0 {
		out.Steps = worst.Steps
	}
	if worst.Verify != "" {
		out.Verify = worst.Verify
	}
	if worst.Grade == Critical || slices.ContainsFunc(group, func(f *Fault) bool { return f.Stop }) {
		e.stops = append(e.stops, out.Fingerprint)
	}
	if worst.Criterion != nil {
		out.Criterion = shown(*worst.Criterion)
	}
	out.Verdicts = verdicts(group)
	seen := map[result.Evidence]bool{}
	for _, f := range group {
		for _, ev := range f.Evidence {
			if ev.Trace != nil {
				e.drawn = append(e.drawn, drawn{ev.Trace, f.Grade, f.Weight, c.ID, out.Fingerprint})
			}
			if shown := evidence(ev); !seen[shown] {
				seen[shown] = true
				out.Evidence = append(out.Evidence, shown)
			}
		}
	}
	return out
}

// among is how many things of a subject the ones found are among: those assessed; with
// observations, which may be told of what was left open, these too.
func (e *examined) among(s Subject, g Grade) int {
	t := e.of(s)
	if g == Observation {
		return t.assessed + t.unclear
	}
	return t.assessed
}

func sentence(c *Check, f *Fault, n int) string {
	found := f.Found
	if n > 1 && f.Weight != 0 {
		found += " (the furthest off of " + Plural(n, c.Thing, c.Things) + ")"
	}
	if f.Needed == "" {
		return found
	}
	return found + "; " + f.Needed
}

func shown(c Criterion) *result.Criterion {
	out := &result.Criterion{ID: c.ID, When: c.When.String(), Value: c.Value(), Set: c.Set, Source: c.Source, Section: c.Section, Known: c.Known, Level: c.Level, Text: c.Text}
	if q := c.value.quantity; q.Written() && out.Value == q.String() {
		if amount, unit, ok := strings.Cut(out.Value, " "); ok && !strings.Contains(unit, " ") {
			out.Value, out.Unit = amount, unit
		}
	}
	return out
}

// verdicts sums, over a group, how each rule set judges it: by the gravest of its
// answers, and the value that it was given by.
func verdicts(group []*Fault) []result.SetVerdict {
	var list []result.SetVerdict
	var worst []Verdict
	for _, f := range group {
		for _, v := range f.By {
			i := slices.IndexFunc(list, func(r result.SetVerdict) bool { return r.Set == v.Criterion.Set })
			if i < 0 {
				i = len(list)
				list, worst = append(list, result.SetVerdict{Set: v.Criterion.Set}), append(worst, Silent)
			}
			at := &list[i]
			if at.Verdict == "" || gravity[v.Verdict] > gravity[worst[i]] {
				worst[i], at.Verdict, at.Value, at.Source = v.Verdict, v.Verdict.String(), v.Criterion.Value(), v.Criterion.Source
			}
			if v.Verdict == Fail {
				at.N++
			}
		}
	}
	return list
}

// evidence finds where a field stands: in its row, or at a place that no accepted row holds.
func evidence(e Evidence) result.Evidence {
	out := result.Evidence{Kind: e.Kind, Field: e.Field, Note: e.Note, Value: e.Value}
	if t := e.Trace; t != nil {
		out.Kind, out.ID, out.File, out.Line = "traces", t.Name, t.File, e.Line
		if t.Load != nil {
			out.Note = joinNote("load "+practice.Key(&t.Load.Row), out.Note)
		}
		return out
	}
	place := e.Place
	if e.Row != nil {
		at := e.Row.Place(e.Field)
		place = &at
		out.Kind, out.ID, out.Value = e.Row.Kind(), practice.Key(e.Row), e.Row.Text(e.Field)
	}
	if place != nil {
		out.File, out.Line, out.Column, out.EndColumn, out.Row, out.Heading = place.File, place.Line, place.Column, place.EndColumn, place.Row, place.Heading
		out.Sheet, out.Cell = place.Sheet, place.Cell
	}
	if kind, ok := schemas.Lookup(out.Kind); ok {
		if field, ok := kind.Field(e.Field); ok {
			out.Private = field.Private
		}
	}
	return out
}

// dueList is what runs out, soonest first.
func (e *examined) dueList(p *practice.Practice) []result.Due {
	var list []result.Due
	for _, d := range e.due {
		state := "runs out"
		if d.On < p.AsOf {
			state = "overdue"
		}
		list = append(list, result.Due{ID: result.Fingerprint(d.Row.Kind(), d.Field, dueRecord(d.Row), d.On.String()), On: d.On.String(),
			Kind: d.Row.Kind(), Record: dueRecord(d.Row), What: d.What, State: state})
	}
	return list
}

// dueRecord is what the row is known by; the practice itself needs no name.
func dueRecord(r *record.Row) string {
	if r.Kind() == "practice" {
		return ""
	}
	return practice.Key(r)
}

func compareDue(a, b result.Due) int {
	return cmp.Or(cmp.Compare(a.On, b.On), cmp.Compare(a.Kind, b.Kind), cmp.Compare(a.Record, b.Record), cmp.Compare(a.What, b.What))
}

func joinNote(a, b string) string {
	if b == "" {
		return a
	}
	return a + "; " + b
}
