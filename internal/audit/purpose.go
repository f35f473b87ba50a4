package audit

import (
	"fmt"
	"slices"

	"footing/internal/practice"
	"footing/internal/quantity"
	"footing/internal/result"
)

// Occasion is what an audit is asked to be made for. It changes what the report opens
// with, and no finding. The zero value leaves the purpose to the dates of practice.yaml.
type Occasion struct {
	Kind      string // "" or one of result.Renewal, result.Inspection, result.Complaint
	Complaint string // the id, of a complaint
	Check     string // the check by whose criteria Walks and Bundle compute

	// Walks draws, for an inspection, a pack and a visit and follows both.
	Walks func(*Examination) Walks
	// Bundle answers, for a complaint, what lies behind the visits that it is about. Its
	// error is the answer's own.
	Bundle func(*Examination) (Answer, error)
}

// Walks are what an inspector may draw, each followed; nil for nothing to draw from.
type Walks struct {
	Pack, Visit     *Chain
	Packs, Visits   int    // of how many each was drawn
	PackOf, VisitOf string // of what: "packs that are closed still"
}

// NoDate is the error of an occasion whose day practice.yaml does not have.
type NoDate struct {
	Field string       // "renewal_on"
	On    quantity.Day // the day that is written, where it has passed; else 0
}

// Error is what is missing.
func (e *NoDate) Error() string {
	if e.On.Written() {
		return fmt.Sprintf("practice.yaml has %s as %s, which has passed", e.Field, e.On.Words())
	}
	return "practice.yaml has no " + e.Field
}

// put makes a result one for the occasion.
func (o *Occasion) put(r *result.Result, p *practice.Practice, book *Book, battery []Check, seed int64) error {
	if o.Kind == "" {
		return nil
	}
	r.Purpose = result.Purpose{Kind: o.Kind, Complaint: o.Complaint, Chosen: true}
	switch o.Kind {
	case result.Renewal:
		on := p.Profile.RenewalOn
		if !on.Written() || on < p.AsOf {
			return &NoDate{Field: "renewal_on", On: on}
		}
		r.Purpose.On = on.String()
	case result.Inspection:
		if on := p.Profile.InspectionOn; on >= p.AsOf {
			r.Purpose.On = on.String()
		}
		r.AskedFor = (&asking{p: p, book: book}).all(o.walks(p, book, battery, seed))
	case result.Complaint:
		answer, err := o.Bundle(o.examination(p, book, battery, seed))
		if err != nil {
			return err
		}
		r.Bundle = bundle(p, o.Complaint, &answer)
	default:
		return fmt.Errorf("there is no occasion %q", o.Kind)
	}
	return nil
}

func (o *Occasion) walks(p *practice.Practice, book *Book, battery []Check, seed int64) Walks {
	if o.Walks == nil {
		return Walks{}
	}
	return o.Walks(o.examination(p, book, battery, seed))
}

// examination is one by the criteria of the check that the occasion names.
func (o *Occasion) examination(p *practice.Practice, book *Book, battery []Check, seed int64) *Examination {
	i := slices.IndexFunc(battery, func(c Check) bool { return c.ID == o.Check })
	if i < 0 {
		panic("audit: an occasion computes by a check that the battery does not have: " + o.Check)
	}
	x := newExamination(p, book, &battery[i])
	x.seed = seed
	return x
}
