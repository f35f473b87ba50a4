package audit

import (
	"cmp"
	"slices"

	"footing/internal/practice"
	"footing/internal/result"
)

// What checks that follow chains add to a result, beside their findings. The shapes
// are those of audit.json; places in them come from Locate.
type (
	Lookback  = result.Lookback
	Window    = result.Window
	InWindow  = result.InWindow
	Pull      = result.Pull
	Affected  = result.Affected
	Narrowing = result.Narrowing
	Chain     = result.Chain
	Link      = result.Link
	Trail     = result.Trail
	TrailLink = result.TrailLink
	Gap       = result.Gap
	Month     = result.Month
	Answer    = result.Answer
	Located   = result.Evidence
	Gear      = result.Gear
)

// ReadsLikeName reports whether the id of a record of that kind reads like a person's
// name, which a sentence leaves out.
func ReadsLikeName(kind, id string) bool { return result.ReadsLikeName(kind, id) }

// Where to look for a pack to put on hold.
const (
	PullShelf   = result.PullShelf
	PullBag     = result.PullBag
	PullUnknown = result.PullUnknown
	PullCount   = result.PullCount
)

// Whether gear is left.
const (
	GearLeft   = result.GearLeft
	GearGone   = result.GearGone
	GearUntold = result.GearUntold
)

// chains is what one check added.
type chains struct {
	lookback []Lookback
	trail    *Trail
	gaps     []Gap
	months   []Month
	gear     []Gear
}

// Locate finds where evidence stands.
func (x *Examination) Locate(e Evidence) Located { return evidence(e) }

// Lookback adds how far back a failure of one sterilizer would reach.
func (x *Examination) Lookback(l Lookback) { x.chains.lookback = append(x.chains.lookback, l) }

// Trail adds what a draw of visits came to.
func (x *Examination) Trail(t Trail) { x.chains.trail = &t }

// Gap adds a stretch in which a test is not written, for the calendar.
func (x *Examination) Gap(g Gap) { x.chains.gaps = append(x.chains.gaps, g) }

// Month adds one month of one sterilizer.
func (x *Examination) Month(m Month) { x.chains.months = append(x.chains.months, m) }

// Gear adds one size of gloves or gowns at one site.
func (x *Examination) Gear(g Gear) { x.chains.gear = append(x.chains.gear, g) }

// Seed is what random draws start from.
func (x *Examination) Seed() int64 { return x.seed }

// linked puts what the checks added into the result, and the calendar of the period.
func linked(r *result.Result, p *practice.Practice, exams []*examined) {
	for _, e := range exams {
		c := &e.chains
		r.Lookback, r.Gaps, r.Months = append(r.Lookback, c.lookback...), append(r.Gaps, c.gaps...), append(r.Months, c.months...)
		r.Gear = append(r.Gear, c.gear...)
		if c.trail != nil {
			r.Trail = c.trail
		}
	}
	r.Days = days(p)
}

// days is the calendar: each day of each sterilizer on which a load or test is written.
func days(p *practice.Practice) []result.Day {
	type key struct{ sterilizer, on string }
	at := map[key]*result.Day{}
	of := func(sterilizer, on string) *result.Day {
		k := key{sterilizer, on}
		if at[k] == nil {
			at[k] = &result.Day{On: on, Sterilizer: sterilizer}
		}
		return at[k]
	}
	for _, l := range p.LoadsByTime() {
		d := of(l.Sterilizer, l.Started.Day().String())
		if l.Decision == "rejected" {
			d.Rejected++
		} else {
			d.Loads++
		}
	}
	for i := range p.Tests {
		t := &p.Tests[i]
		id, on := p.EquipmentOf(t), t.RunAt.Day().String()
		switch t.Type {
		case "spore":
			of(id, on).Spore = worse(of(id, on).Spore, t.Result)
		case "air-removal":
			of(id, on).AirRemoval = worse(of(id, on).AirRemoval, t.Result)
		case "leak":
			of(id, on).Leak = worse(of(id, on).Leak, t.Result)
		}
	}
	list := make([]result.Day, 0, len(at))
	for _, d := range at {
		list = append(list, *d)
	}
	slices.SortFunc(list, func(a, b result.Day) int {
		return cmp.Or(cmp.Compare(a.Sterilizer, b.Sterilizer), cmp.Compare(a.On, b.On))
	})
	return list
}

// worse is the graver of two results of one day.
func worse(a, b string) string {
	if b == "" {
		b = "no result"
	}
	order := []string{"", "pass", "no result", "pending", "fail"}
	if slices.Index(order, b) > slices.Index(order, a) {
		return b
	}
	return a
}
