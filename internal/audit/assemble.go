package audit

import (
	"fmt"
	"slices"
	"strings"

	"footing/internal/practice"
	"footing/internal/result"
)

// assemble makes the result of what the checks said.
func assemble(p *practice.Practice, book *Book, exams []*examined, opt Options) *result.Result {
	r := &result.Result{Format: result.Format, Tool: opt.Tool, AsOf: p.AsOf.String(), RuleSet: book.set, Seed: opt.Seed, Grades: Meanings(), Rules: book.Changes}
	profile(r, p)
	intake(r, p)
	for _, e := range exams {
		r.Checks = append(r.Checks, e.summary())
		r.Findings = append(r.Findings, e.findings()...)
		r.Conclusion.Stops = append(r.Conclusion.Stops, e.stops...)
		r.Due = append(r.Due, e.dueList(p)...)
		for _, f := range e.figures {
			r.Figures = append(r.Figures, result.Figure{Check: e.check.ID, Name: f.name, Value: f.value, Unit: f.unit, Low: f.low, High: f.high})
		}
		for i, s := range e.exhibits {
			r.Exhibits = append(r.Exhibits, result.Exhibit{ID: fmt.Sprintf("%s-%d", strings.ReplaceAll(e.check.ID, "/", "-"), i+1), Kind: "table", Check: e.check.ID, Title: s.title, Columns: s.columns, Rows: s.rows})
		}
	}
	slices.SortFunc(r.Due, compareDue)
	r.Due = slices.CompactFunc(r.Due, func(a, b result.Due) bool { return a.ID == b.ID })
	linked(r, p, exams)
	accept(r, p)
	r.Coverage = coverage(p)
	r.Actions = followed(p)
	result.Sort(r)
	r.NextField = nextField(exams)
	r.Sources = sources(r, book)
	count(r)
	conclude(r)
	r.Headline = headline(p)
	r.Declarations = declarations(p)
	return r
}

func (e *examined) summary() result.Check {
	c := e.check
	out := result.Check{ID: c.ID, Title: c.Title, Why: c.Why, Thing: c.Thing, Things: c.Things, Fix: slices.Clone(c.Fix), Verify: c.Verify,
		Outcome: e.outcome(), Criteria: slices.Clone(c.Uses), Missing: e.missingList(), Reasons: e.reasonList()}
	for _, g := range c.Grades {
		out.Grades = append(out.Grades, g.String())
	}
	n := e.counts
	out.Counts = result.CheckCounts{Examined: n.met + n.notMet + n.unclear, Conforming: n.met, Nonconforming: n.notMet, NotAssessed: n.unclear, NotApplicable: n.passed}
	switch {
	case e.broken != "":
		out.Reason = "the check itself broke, which says nothing about the practice: " + e.broken
	case len(e.absent) > 0:
		out.Reason = e.whyAbsent()
	case out.Outcome == result.NotAssessed && len(out.Reasons) > 0:
		out.Reason = out.Reasons[0].Text
	case out.Outcome == result.NotApplicable && e.nothing != "":
		out.Reason = e.nothing
	case out.Outcome == result.NotApplicable:
		out.Reason = "nothing in the records falls under it"
	}
	return out
}

// whyAbsent tells a kind of which nothing is typed from one of which nothing is left to judge.
func (e *examined) whyAbsent() string {
	var parts, none, lost []string
	for _, kind := range e.absent {
		switch gone := e.lost(kind); {
		case kind == "traces" && gone:
			parts = append(parts, "every data-logger file lies after the day of the audit, so not judged")
		case kind == "traces":
			parts = append(parts, "no data-logger file is in the folder traces, so not judged")
		case gone:
			lost = append(lost, kind)
		default:
			none = append(none, kind)
		}
	}
	if len(none) > 0 {
		parts = append(parts, "nothing typed for "+words(none)+", so not judged")
	}
	if len(lost) > 0 {
		parts = append(parts, "what is typed for "+words(lost)+" could not be read, or lies after the day of the audit, so not judged")
	}
	return strings.Join(parts, "; ")
}

// words joins names as a sentence does: "a", "a and b", "a, b and c".
func words(names []string) string {
	if len(names) < 2 {
		return strings.Join(names, "")
	}
	last := len(names) - 1
	return strings.Join(names[:last], ", ") + " and " + names[last]
}

func profile(r *result.Result, p *practice.Practice) {
	on, kind := p.Horizon()
	r.Purpose = result.Purpose{Kind: kind, On: on.String()}
	r.Practice, r.Period, r.Contacts = Whose(p)
}

// Whose is what each document begins with: whose records they are, of what time, and
// the telephone numbers that are written, by whom they reach. Days are ISO dates; ""
// where none is written.
func Whose(p *practice.Practice) (whose result.Practice, period result.Period, contacts map[string]string) {
	f := &p.Profile
	whose = result.Practice{Name: f.Name, Regulator: f.Regulator, Jurisdiction: f.Jurisdiction, TimeZone: f.TimeZone, RenewalOn: f.RenewalOn.String(), InspectionOn: f.InspectionOn.String()}
	first, last := p.Period()
	contacts = map[string]string{}
	for name, text := range map[string]string{"public_health": f.Contacts.PublicHealth, "regulator": f.Contacts.Regulator, "insurer": f.Contacts.Insurer} {
		if text != "" {
			contacts[name] = text
		}
	}
	return whose, result.Period{From: first.String(), Until: last.String()}, contacts
}

func intake(r *result.Result, p *practice.Practice) {
	for _, f := range p.Intake.Files {
		file := result.File{File: f.Name, SHA256: f.SHA256, Kind: f.Kind, Encoding: f.Encoding, Delimiter: f.Delimiter, Rows: f.Rows, Accepted: f.Accepted, SetAside: f.SetAside,
			Later: p.Later[f.Name], Corrected: p.Corrected[f.Name]}
		for _, h := range f.Headings {
			file.Headings = append(file.Headings, result.HeadingPair{Written: h.Written, Field: h.Field, Near: h.Near})
		}
		r.Intake = append(r.Intake, file)
	}
	if l := p.Intake.Layout; l != nil && p.Layouts != nil {
		r.Intake = append(r.Intake, result.File{File: l.Name, SHA256: l.SHA256, Kind: "trace-layout", Encoding: "UTF-8", Rows: p.Layouts.Entries + p.Layouts.LeftOut, Accepted: p.Layouts.Entries, SetAside: p.Layouts.LeftOut})
	}
	for _, n := range p.Intake.NotRead {
		r.NotRead = append(r.NotRead, result.NotRead{File: n.Name, Why: n.Why})
	}
	slices.SortFunc(r.NotRead, func(a, b result.NotRead) int { return strings.Compare(a.File, b.File) })
}

func sources(r *result.Result, book *Book) []result.Source {
	used := map[string]bool{}
	for _, f := range r.Findings {
		if f.Criterion != nil {
			used[f.Criterion.Source] = true
		}
		for _, v := range f.Verdicts {
			used[v.Source] = true
		}
	}
	for _, c := range r.Checks {
		for _, id := range c.Criteria {
			for _, v := range book.Values(id) {
				used[v.Source] = true
			}
		}
	}
	var list []result.Source
	for id := range used {
		if s, ok := book.Source(id); ok {
			list = append(list, s)
		}
	}
	slices.SortFunc(list, func(a, b result.Source) int { return strings.Compare(a.ID, b.ID) })
	return list
}

func count(r *result.Result) {
	n := &r.Counts
	n.Checks = len(r.Checks)
	for _, c := range r.Checks {
		switch c.Outcome {
		case result.Conforming:
			n.Conforming++
		case result.Nonconforming:
			n.Nonconforming++
		case result.NotAssessed:
			n.NotAssessed++
		case result.NotApplicable:
			n.NotApplicable++
		default:
			n.Broken++
		}
	}
	for _, f := range r.Findings {
		switch f.Grade {
		case result.Critical:
			n.Critical++
		case result.Major:
			n.Major++
		case result.Minor:
			n.Minor++
		default:
			n.Observation++
		}
	}
	for _, f := range r.Intake {
		n.Rows += f.Rows
		n.Accepted += f.Accepted
		n.SetAside += f.SetAside
		n.Later += f.Later
	}
}

func conclude(r *result.Result) {
	c := &r.Conclusion
	c.Stop = len(c.Stops) > 0
	c.Sentence = `Nothing typed here says "stop using this".`
	if c.Stop {
		c.Sentence = fmt.Sprintf("%s written here %s: stop, and see to it before the next client.", Plural(len(c.Stops), "thing", "things"), map[bool]string{true: "says", false: "say"}[len(c.Stops) == 1])
	}
	looked := r.Counts.Checks - r.Counts.NotApplicable
	blind := r.Counts.NotAssessed + r.Counts.Broken
	partly := 0
	for _, k := range r.Checks {
		if k.Counts.NotAssessed > 0 && (k.Outcome == result.Conforming || k.Outcome == result.Nonconforming) {
			partly++
		}
	}
	switch {
	case blind == 0 && partly == 0:
		c.Unseen = fmt.Sprintf("All %d checks that apply could look at what is typed.", looked)
	case blind == 0:
		c.Unseen = fmt.Sprintf("All %d checks that apply could look, %d of them only in part.", looked, partly)
	case partly == 0:
		c.Unseen = fmt.Sprintf("%d of %d checks could not look, so this is not the whole picture.", blind, looked)
	default:
		c.Unseen = fmt.Sprintf("%d of %d checks could not look, and %d saw only a part, so this is not the whole picture.", blind, looked, partly)
	}
}

// headline says what was taken for granted while reading.
func headline(p *practice.Practice) []string {
	var lines []string
	for link, n := range p.Assumed {
		lines = append(lines, fmt.Sprintf("%s of %s was left blank %s and read as the only one there is", link.Field, link.Kind, times(n)))
	}
	slices.Sort(lines)
	return lines
}

func times(n int) string {
	if n == 1 {
		return "once"
	}
	return fmt.Sprintf("%d times", n)
}

// Plural is a count with its noun: "1 load", "3 loads".
func Plural(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
