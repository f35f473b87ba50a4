package practice

import (
	"slices"
	"strings"

	"footing/internal/quantity"
	"footing/internal/record"
	"footing/internal/trace"
)

// Traced is one data-logger file with the load that it belongs to.
type Traced struct {
	*trace.Trace
	Load *Load // nil where none was found
	// By says how the load was found: "name", "counter" or "start"; Why, without a
	// load, says why none was.
	By, Why string
	// After says that it lies after the day of the audit, or its load does: then it has
	// no Load, and is not seen.
	After bool
	// OfTest says that it is of a leak test or an air-removal test that is written, and so of no load.
	OfTest bool
	// File is its path in the folder of records.
	File string
	// Sterilizer is the load's; without a load the one that the file's header or path
	// names, or the only one there is; nil where it cannot be told.
	Sterilizer *Sterilizer
	// Program is the one that the load, or else the file's header, names; nil where
	// neither does, though the sterilizer may have only one that is typed.
	Program *Program
	// Unread says why the file could not be read to its end; then Trace holds its name alone.
	Unread string
}

// Traces is every data-logger file, by name, once they have been read: see WithTraces.
func (p *Practice) Traces() []*Traced { return p.traces }

// TracesOf is the data-logger files of a load, by name; most loads have one.
func (p *Practice) TracesOf(l *Load) []*Traced { return p.tracesOf[l] }

// WithTraces is the same practice with its data-logger files read.
func (p *Practice) WithTraces(list []*Traced) *Practice {
	q := *p
	q.traces, q.tracesOf = list, map[*Load][]*Traced{}
	for _, t := range list {
		if t.Load != nil {
			q.tracesOf[t.Load] = append(q.tracesOf[t.Load], t)
		}
	}
	return &q
}

// Copied is a pair of data-logger files that show the same, or nearly so.
type Copied struct {
	A, B *Traced
	Same bool // every reading is the same
}

const (
	fineHalf = 0.1  // K: half of the last digit of a display on which no two cycles show the same
	someHeat = 20.0 // K: what a cycle heats at least, on such a display
)

// Distinct reports whether no other cycle would honestly show the very same readings:
// they move enough, or are shown finely enough. On a coarse display they may.
func (t *Traced) Distinct() bool {
	return t.Sketch.Telling() || t.TemperatureHalf() <= fineHalf && t.Cycle.Highest-t.Cycle.Lowest >= someHeat
}

// CopiedTraces are the pairs of files whose readings are the same, or whose
// movement is the same by at least a share (0 to 1); clocks and headers do not count.
func (p *Practice) CopiedTraces(least float64) (pairs []Copied) {
	var usable []*Traced
	var list []trace.Sketch
	for _, t := range p.traces {
		if t.Unread == "" && t.Unusable == "" {
			usable, list = append(usable, t), append(list, t.Sketch)
		}
	}
	for _, q := range trace.Copies(list, least) {
		if q.Same && q.Share == 0 && !usable[q.A].Distinct() {
			continue
		}
		pairs = append(pairs, Copied{usable[q.A], usable[q.B], q.Same})
	}
	return pairs
}

// layouts reads traces/layout.yaml; what is wrong with it is told with the other
// problems of reading.
func (p *Practice) layouts() {
	text := p.Intake.Layout
	if text == nil {
		return
	}
	var problems []trace.Problem
	p.Layouts, problems = trace.ParseLayouts(text.Text)
	for _, q := range problems {
		effect := record.Noted
		if q.Grave {
			effect = record.SetAside
		}
		p.Intake.Problems = append(p.Intake.Problems, record.Problem{File: text.Name, Cause: q.Cause, Effect: effect, Sentence: text.Name + ": " + q.Sentence, Todo: q.Todo,
			Places: []record.Place{{File: text.Name, Line: q.Line}}, Values: []string{""}})
	}
}

// BelowTraces is a path of the folder without its first part, the folder of
// data-logger files.
func BelowTraces(file string) string {
	_, below, _ := strings.Cut(file, "/")
	return below
}

// AltitudeOf is the altitude of a sterilizer's site, else the practice's; false
// where neither is written.
func (p *Practice) AltitudeOf(s *Sterilizer) (quantity.Quantity, bool) {
	if s != nil && s.Site != "" {
		if site, state := p.Site(s.Site); state == One && site.Altitude.Written() {
			return site.Altitude, true
		}
	}
	return p.Profile.Altitude, p.Profile.Altitude.Written()
}

// NoLogger reports whether every sterilizer that is typed says that it has no data logger.
func (p *Practice) NoLogger() bool {
	for i := range p.Sterilizers {
		if p.Sterilizers[i].Logger != quantity.IsNo {
			return false
		}
	}
	return len(p.Sterilizers) > 0
}

// HasLogger reports whether a sterilizer has a data logger, as written, or a load
// names a file of one.
func (p *Practice) HasLogger() bool {
	return slices.ContainsFunc(p.Sterilizers, func(s Sterilizer) bool { return s.Logger == quantity.IsYes }) ||
		slices.ContainsFunc(p.Loads, func(l Load) bool { return l.Trace != "" })
}
