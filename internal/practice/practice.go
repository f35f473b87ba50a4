// Package practice is the nouns: a folder's accepted rows as typed kinds, with
// their indexes, ordered views, references and local time, finished before any
// check runs.
package practice

import (
	"context"
	"time"

	"footing/internal/quantity"
	"footing/internal/record"
	"footing/internal/trace"
)

// Practice is one folder as it stood at the end of the audit day.
type Practice struct {
	Records
	AsOf   quantity.Day
	Zone   *time.Location
	Intake *record.Intake

	// Later and Corrected count, by file, the accepted rows that are not judged:
	// events after the audit day, and rows that another row corrects.
	Later, Corrected map[string]int
	// Dangling lists each reference that leads to no single accepted row.
	Dangling []Dangling
	// Assumed counts the blank references that were read as the only row of their kind.
	Assumed map[Link]int

	// Layouts is what traces/layout.yaml says of the columns of data-logger files.
	Layouts *trace.Layouts

	index
	views
	laterLoads []Load // after the audit day: their files are not seen either
	traces     []*Traced
	tracesOf   map[*Load][]*Traced
}

// Link names a reference field: the kind it stands in and the field.
type Link struct{ Kind, Field string }

// Read reads the records below dir and makes the practice of them as it stood
// on asOf. It fails only where the folder as a whole cannot be read.
func Read(ctx context.Context, dir string, asOf quantity.Day, opt record.Options) (*Practice, error) {
	p := &Practice{AsOf: asOf, Later: map[string]int{}, Corrected: map[string]int{}, Assumed: map[Link]int{}}
	intake, err := record.Fill(ctx, dir, &p.Records, opt)
	if err != nil {
		return nil, err
	}
	p.Intake, p.Zone = intake, intake.Zone
	if p.Zone == nil {
		p.Zone = time.UTC
	}
	p.layouts()
	for _, l := range p.Loads {
		if l.Started.Day() > asOf {
			p.laterLoads = append(p.laterLoads, l)
		}
	}
	p.settle()
	p.callings(&p.Records)
	together(func() { p.index.build(&p.Records, p.Intake) }, p.refer)
	p.assume()
	p.views.build(&p.Records, p.EquipmentOf)
	p.lead()
	return p, nil
}

// Horizon is the day the audit looks forward to: the inspection or the renewal,
// whichever comes first after the audit day. Purpose is "inspection", "renewal"
// or, with no such day, "self-audit".
func (p *Practice) Horizon() (day quantity.Day, purpose string) {
	ahead := func(d quantity.Day) bool { return d.Written() && d >= p.AsOf }
	renewal, inspection := p.Profile.RenewalOn, p.Profile.InspectionOn
	switch {
	case ahead(inspection) && (!ahead(renewal) || inspection <= renewal):
		return inspection, "inspection"
	case ahead(renewal):
		return renewal, "renewal"
	}
	return 0, "self-audit"
}

// Ahead is the later of the inspection and the renewal that lie ahead, 0 with neither:
// what runs out by then may be asked for, whichever a report is made for.
func (p *Practice) Ahead() quantity.Day {
	if on := max(p.Profile.RenewalOn, p.Profile.InspectionOn); on >= p.AsOf {
		return on
	}
	return 0
}

// Covered reports whether practice.coverage says that all rows of the kind from
// one day until another are in the folder, by one entry or by several that follow
// on. A coverage with no first day reaches back to records_from; with no last day
// it reaches the audit day.
func (p *Practice) Covered(kind string, from, until quantity.Day) bool {
	for reached := false; !reached; {
		reached = true
		for _, c := range p.Profile.Coverage {
			if c.Kind != kind || c.Share != "all" {
				continue
			}
			first, last := c.From, c.Until
			if !first.Written() {
				first = p.Profile.RecordsFrom
			}
			if !last.Written() {
				last = p.AsOf
			}
			if first <= from && until <= last {
				return true
			}
			if first <= from && from <= last {
				from, reached = last.AddDays(1), false
			}
		}
	}
	return false
}

// Count is the number of judged rows of a kind, or of data-logger files for "traces".
func (p *Practice) Count(kind string) int {
	if kind == "traces" {
		return len(p.traces)
	}
	return p.index.counts[kind]
}

// Typed reports whether any row of the kind was found in the folder, even one
// that was set aside or lies after the audit day; of "traces", whether any file was.
func (p *Practice) Typed(kind string) bool {
	if kind == "traces" {
		return len(p.Intake.Traces) > 0
	}
	for _, f := range p.Intake.Files {
		if f.Kind == kind && f.Rows > 0 {
			return true
		}
	}
	return p.index.counts[kind] > 0
}
