package audit

import (
	"fmt"
	"maps"
	"slices"

	"footing/internal/practice"
	"footing/internal/quantity"
	"footing/internal/record"
)

// Subject names whom or what a finding is about.
type Subject struct{ Kind, ID string }

// About makes a subject of a row.
func About(kind string, r *record.Row) Subject { return Subject{kind, practice.Key(r)} }

// Whole is the practice itself as a subject.
var Whole = Subject{Kind: "practice"}

// Field names a kind, or one field of it, whose lack left something unassessed.
type Field struct{ Kind, Name string }

// Evidence is one place in the records that a finding rests on.
type Evidence struct {
	Row   *record.Row
	Field string // "" for the whole row
	Note  string
	Place *record.Place    // given instead of a row for a place in a file that was not accepted
	Value string           // what stands there, where no row can say it
	Trace *practice.Traced // given instead of a row for a data-logger file
	Line  int              // with Trace; 0 for the whole file
	Kind  string           // with Place
}

// At is the evidence of one field of one row.
func At(r *record.Row, field string, note ...string) Evidence {
	e := Evidence{Row: r, Field: field}
	if len(note) > 0 {
		e.Note = note[0]
	}
	return e
}

// Fault is one thing that does not meet what is needed. Faults of one check,
// grade, subject and matter become one finding.
type Fault struct {
	Grade     Grade
	Matter    string       // a short stable key within the check: "short", "cold"
	Found     string       // "exposure written as 20 min at 121 °C": one thing, no ids
	Needed    string       // "30 min is needed"
	Weight    float64      // how far off; the finding speaks of the furthest
	Day       quantity.Day // when it happened
	Criterion *Criterion   // what it was compared with
	By        []SetVerdict // how each rule set judges it, where they differ
	Evidence  []Evidence
	Steps     []string // instead of the check's Fix
	Verify    string   // instead of the check's own
	Stop      bool     // says stop, whatever its grade; a critical fault always does
}

// InTrace is the evidence of a data-logger file: a line of it, or 0 for the whole,
// and what it shows ("held 3 min 10 s to 3 min 30 s").
func InTrace(t *practice.Traced, line int, value string) Evidence {
	return Evidence{Trace: t, Line: line, Value: value}
}

// Due is something with a last day that a report lists before the renewal or inspection.
type Due struct {
	Row   *record.Row
	Field string
	On    quantity.Day
	What  string // "liability cover of P-01"
}

// Examination is one check at work on one practice. A check says Met, NotMet,
// Unclear or Pass for each thing it examines, or Nothing for the whole; the
// examination counts. It is used by one goroutine.
type Examination struct {
	P *practice.Practice

	check     *Check
	book      *Book
	tally     map[Subject]*tally
	last      Subject
	lastTally *tally
	counts    counts
	faults    []taggedFault
	missing   map[Field]map[Subject]bool
	reasons   map[string]int
	nothing   string
	figures   []figure
	exhibits  []exhibit
	due       []Due
	ranked    []ranked
	marks     map[*practice.Traced]mark
	drawn     []drawn
	stops     []string // fingerprints of the findings that say stop
	held      map[string][]held
	every     map[string][]Criterion
	once      map[any]any
	chains    chains
	seed      int64
}

// held is what holds for one criterion in circumstances asked for before: a check
// asks the same of thousands of rows.
type held struct {
	when   When
	all    []Criterion
	chosen bool
}

func (x *Examination) holding(id string, when When) ([]Criterion, bool) {
	for _, h := range x.held[id] {
		if maps.Equal(h.when, when) {
			return h.all, h.chosen
		}
	}
	h := held{when: maps.Clone(when)}
	h.all, h.chosen = x.book.holding(id, when)
	if x.held == nil {
		x.held = map[string][]held{}
	}
	x.held[id] = append(x.held[id], h)
	return h.all, h.chosen
}

type tally struct{ assessed, unclear int }

type counts struct{ met, notMet, unclear, passed int }

type taggedFault struct {
	subject Subject
	Fault
}

type figure struct {
	name, unit string
	value      float64
	low, high  *float64
}

type exhibit struct {
	title   string
	columns []string
	rows    [][]string
}

// of is the tally of one subject; rows of one subject often follow each other.
func (x *Examination) of(s Subject) *tally {
	if x.lastTally != nil && x.last == s {
		return x.lastTally
	}
	t := x.tally[s]
	if t == nil {
		t = &tally{}
		x.tally[s] = t
	}
	x.last, x.lastTally = s, t
	return t
}

// Met says that one thing was examined and met what is needed.
func (x *Examination) Met(s Subject) { x.of(s).assessed++; x.counts.met++ }

// MetAll says that of so many things, all of one subject.
func (x *Examination) MetAll(s Subject, things int) {
	if things > 0 {
		x.of(s).assessed += things
		x.counts.met += things
	}
}

// NotMet says that one thing did not. A fault graded Observation is told and
// leaves the thing conforming.
func (x *Examination) NotMet(s Subject, f Fault) {
	x.mayGive(f.Grade)
	if f.Criterion != nil {
		x.mayUse(f.Criterion.ID)
	}
	x.of(s).assessed++
	if f.Grade == Observation {
		x.counts.met++
	} else {
		x.counts.notMet++
	}
	x.faults = append(x.faults, taggedFault{s, f})
}

// Remark adds an observation about something that was counted already.
func (x *Examination) Remark(s Subject, f Fault) {
	f.Grade = Observation
	x.mayGive(f.Grade)
	x.faults = append(x.faults, taggedFault{s, f})
}

// Unclear says that one thing could not be assessed, why, and what record or
// field is missing. Why is a sentence that holds for many things at once.
func (x *Examination) Unclear(s Subject, why string, missing ...Field) {
	x.of(s).unclear++
	x.counts.unclear++
	x.reasons[why]++
	for _, f := range missing {
		if x.missing[f] == nil {
			x.missing[f] = map[Subject]bool{}
		}
		x.missing[f][s] = true
	}
}

// Pass says that one thing does not fall under the check.
func (x *Examination) Pass() { x.counts.passed++ }

// Nothing says why the whole check does not apply to this practice.
func (x *Examination) Nothing(why string) { x.nothing = why }

// Ranked says of a data-logger file that conforms by how much it does: 1 is just
// enough. The report draws the best and the least good of those with no finding.
func (x *Examination) Ranked(t *practice.Traced, margin float64) {
	x.ranked = append(x.ranked, ranked{t, margin, x.check.ID})
}

type ranked struct {
	trace  *practice.Traced
	margin float64
	check  string
}

// Silent reports whether the check has said nothing yet.
func (x *Examination) Silent() bool { return x.counts == (counts{}) && len(x.faults) == 0 }

// Figure adds a number that the check computed.
func (x *Examination) Figure(name string, value float64, unit string) {
	x.figures = append(x.figures, figure{name: name, unit: unit, value: value})
}

// Range adds a number that the check computed, with the least and the greatest that
// it stands for.
func (x *Examination) Range(name string, value, low, high float64, unit string) {
	x.figures = append(x.figures, figure{name: name, unit: unit, value: value, low: &low, high: &high})
}

// Show adds a table beside the findings.
func (x *Examination) Show(title string, columns []string, rows [][]string) {
	x.exhibits = append(x.exhibits, exhibit{title, columns, rows})
}

// Due lists something with a last day.
func (x *Examination) Due(d Due) { x.due = append(x.due, d) }

func (x *Examination) mayGive(g Grade) {
	if !slices.Contains(x.check.Grades, g) {
		panic(fmt.Sprintf("a grade that the check does not declare: %v", g))
	}
}

func (x *Examination) mayUse(id string) {
	if !slices.Contains(x.check.Uses, id) {
		panic(fmt.Sprintf("asked for the criterion %q, which the check does not declare", id))
	}
}

// Criterion is the one that holds where no judgement of several rule sets is
// wanted: the practice's own, else the chosen rule set's, else, where one was
// chosen, the foot-care list's. Where none was chosen, or both are silent, it is
// the baseline's, else the first other set's that speaks, the foot-care list last.
// False when none speaks to these circumstances.
func (x *Examination) Criterion(id string, when When) (Criterion, bool) {
	x.mayUse(id)
	all, _ := x.holding(id, when)
	if len(all) == 0 {
		return Criterion{}, false
	}
	return all[0], true
}

// Ask puts one thing to every rule set that could hold. Where the practice chose
// one, it alone decides. See Ruling for how several answers become one.
func (x *Examination) Ask(id string, when When, judge func(Criterion) Verdict) Ruling {
	x.mayUse(id)
	all, chosen := x.holding(id, when)
	return rule(all, chosen, judge)
}

// Settle turns a ruling on one thing into Met, NotMet or Unclear. The fault is
// used as it is where all rule sets agree that it is one, and as an observation
// where it depends on the rule; needed gives its second half for a criterion.
func (x *Examination) Settle(s Subject, r Ruling, f Fault, needed func(Criterion) string, unsure string, missing ...Field) {
	switch {
	case r.Depends:
		f.Grade, f.By, f.Criterion = Observation, r.By, nil
		f.Matter += " by rule"
		f.Needed = "whether that is enough depends on your rule: " + r.differ(needed)
		f.Steps = []string{"Look up which rule holds where you practise, and write it into rules.yaml or practice.rule_set; then audit again."}
		x.NotMet(s, f)
	case r.Verdict == Fail:
		c := r.Criterion
		f.Criterion, f.By, f.Needed = &c, r.By, needed(c)
		x.NotMet(s, f)
	case r.Verdict == Meets:
		x.Met(s)
	case r.Verdict == Silent:
		x.Unclear(s, "no rule set that was chosen or shipped speaks to this", missing...)
	default:
		x.Unclear(s, unsure, missing...)
	}
}

// Every is each value of a criterion that could hold for this practice in any
// circumstances: its own, those of the rule set it chose, or all that are shipped.
func (x *Examination) Every(id string) []Criterion {
	x.mayUse(id)
	all, known := x.every[id]
	if !known {
		all = x.book.every(id)
		if x.every == nil {
			x.every = map[string][]Criterion{}
		}
		x.every[id] = all
	}
	return all
}

// Once answers a question that a check asks of thousands of things alike: it is
// worked out for the first one with that key, a value of a type of its own, and
// kept. What it gives must not be changed.
func Once[K comparable, T any](x *Examination, key K, work func() T) T {
	if known, ok := x.once[key]; ok {
		return known.(T)
	}
	out := work()
	if x.once == nil {
		x.once = map[any]any{}
	}
	x.once[key] = out
	return out
}
