package practice

import (
	"footing/internal/quantity"
	"footing/internal/record"
	"footing/schemas"
)

// Unread reports whether something typed of a kind could not be taken in: a
// file or a row of it, or, in a single document, a value. What seems to be
// missing may be just that.
func (p *Practice) Unread(kind string) bool {
	worst := record.SetAside
	if k, ok := schemas.Lookup(kind); ok && k.Single {
		worst = record.Dropped
	}
	for i := range p.Intake.Problems {
		if q := &p.Intake.Problems[i]; (q.Kind == kind || q.Any) && q.Effect <= worst {
			return true
		}
	}
	for _, f := range p.Intake.Files {
		if f.Kind == kind && f.SetAside > 0 {
			return true
		}
	}
	return false
}

// Whole reports whether the lack of a row of the kind, from one day until
// another, says something: coverage claims them all, and none was left unread.
func (p *Practice) Whole(kind string, from, until quantity.Day) bool {
	return p.Covered(kind, from, until) && !p.Unread(kind)
}

// Works reports whether a person works here on the audit day, as written: a
// last day of work that is not written has not come.
func (v *Person) Works(asOf quantity.Day) bool {
	return !v.EndedOn.Written() || v.EndedOn >= asOf
}
