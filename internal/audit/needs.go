package audit

import (
	"slices"
	"strings"

	"footing/internal/practice"
	"footing/internal/record"
	"footing/schemas"
)

// Want is a kind of record, or a field of one, that is not written, with what it would
// let the checks see.
type Want struct {
	Field
	Look int // checks that could look with it and could not before
	Then int // checks that could look with it and all wants before it
	See  int // checks that can look, or then could, and would be helped by it
	// Gloss says in a few words what it is, to stand within a sentence.
	Gloss string
}

// leastHelped is how many checks something must help that lets none look.
const leastHelped = 3

// happens are fields that are honestly empty: what they tell of did not happen, or stands
// in the values themselves or in another field.
var happens = []string{"packs.discarded_on", "people.ended_on", "practice.units", "practice.dates", "practice.rule_set", "visits.loads", "visits.packs_used", "visits.supervisor", "visits.note",
	"loads.fault", "sterilizers.air", "upkeep.counter_after", "credentials.status", "practice.inspection_on"}

// Reach is which checks have every kind that they need.
type Reach struct {
	battery []Check
	have    map[string]bool
	p       *practice.Practice
}

// NewReach looks at what is typed. No check is run, and no data-logger file is opened:
// that there is one is enough.
func NewReach(p *practice.Practice, battery []Check) *Reach {
	r := &Reach{battery: battery, have: map[string]bool{"practice": true, "rules": true}, p: p}
	for i := range battery {
		for _, kind := range battery[i].Needs {
			if kind == "traces" {
				r.have[kind] = len(p.Intake.Traces) > 0
			} else if p.Count(kind) > 0 {
				r.have[kind] = true
			}
		}
	}
	return r
}

// Looking counts the checks that have every kind that they need.
func (r *Reach) Looking() (n int) {
	for i := range r.battery {
		if len(r.absent(&r.battery[i])) == 0 {
			n++
		}
	}
	return n
}

func (r *Reach) absent(c *Check) (kinds []string) {
	for _, kind := range c.Needs {
		if !r.have[kind] {
			kinds = append(kinds, kind)
		}
	}
	return kinds
}

// Kinds gives at most so many kinds of which nothing is typed, best first: each counts
// with those before it as if they were typed. Those of first come before all others. A
// kind of which rows were typed that cannot be judged is none of them, one that only
// helps is one only if it helps several checks, and data-logger files are one only where
// a data logger is known of.
func (r *Reach) Kinds(first []string, most int) (list []Want) {
	then := &Reach{battery: r.battery, have: map[string]bool{}, p: r.p}
	for kind, yes := range r.have {
		then.have[kind] = yes
	}
	for len(list) < most {
		best, worth, early := Want{}, 0.0, false
		for _, kind := range r.lacking(then) {
			w, share := then.with(kind)
			soon := slices.Contains(first, kind)
			// A check that waits for another kind besides counts in part, so that of two kinds that only help together one is begun.
			value := float64(w.Look) + share
			if value == 0 && w.See < leastHelped {
				continue
			}
			value += float64(w.See) / float64(len(r.battery)+1)
			if best.Kind == "" || soon && !early || soon == early && value > worth {
				best, worth, early = w, value, soon
			}
		}
		if best.Kind == "" {
			return list
		}
		then.have[best.Kind] = true
		if kind, ok := schemas.Lookup(best.Kind); ok {
			best.Gloss = inner(kind.Description)
		}
		list = append(list, best)
	}
	return list
}

// lacking is every kind that a check needs or is helped by, and of which nothing is typed.
func (r *Reach) lacking(then *Reach) (kinds []string) {
	add := func(name string) {
		kind, _, dotted := strings.Cut(name, ".")
		switch {
		case dotted, kind == "files", then.have[kind], slices.Contains(kinds, kind):
		case kind == "traces" && !r.p.HasLogger(), kind == "traces" && r.p.Typed(kind):
		case kind != "traces" && (r.p.Typed(kind) || r.p.Unread(kind)):
		default:
			kinds = append(kinds, kind)
		}
	}
	for i := range r.battery {
		for _, name := range slices.Concat(r.battery[i].Needs, r.battery[i].Helps) {
			add(name)
		}
	}
	slices.SortStableFunc(kinds, func(a, b string) int { return kindOrder(a) - kindOrder(b) })
	return kinds
}

// with is what one more kind would let be seen, and the sum over the checks that would
// still wait for others of the share that it is of what they wait for.
func (r *Reach) with(kind string) (w Want, share float64) {
	w.Kind = kind
	for i := range r.battery {
		c := &r.battery[i]
		absent := r.absent(c)
		waits := slices.Contains(absent, kind)
		switch {
		case len(absent) == 0:
			w.Then++
			if slices.Contains(c.Helps, kind) {
				w.See++
			}
		case waits && len(absent) == 1:
			w.Look++
			w.Then++
		case waits:
			share += 1 / float64(len(absent))
		}
	}
	return w, share
}

// Fields gives at most so many fields that are written in no row of their kind, of which
// there are rows, best first by the checks that can look and would be helped by it; one
// that helps few checks, or is honestly empty in most practices, is none of them.
func (r *Reach) Fields(most int) (list []Want) {
	at := map[string]int{}
	for i := range r.battery {
		c := &r.battery[i]
		if len(r.absent(c)) > 0 {
			continue
		}
		for _, name := range c.Helps {
			kind, field, dotted := strings.Cut(name, ".")
			if !dotted || slices.Contains(happens, name) {
				continue
			}
			if _, known := at[name]; !known {
				at[name] = -1
				if written, rows := r.p.Filled(kind, field); rows > 0 && written == 0 && r.p.Typed(kind) && !r.mistyped(kind, field) {
					at[name] = len(list)
					list = append(list, Want{Field: Field{Kind: kind, Name: field}, Gloss: glossOf(kind, field)})
				}
			}
			if k := at[name]; k >= 0 {
				list[k].See++
			}
		}
	}
	list = slices.DeleteFunc(list, func(w Want) bool { return w.See < leastHelped })
	slices.SortStableFunc(list, func(a, b Want) int { return b.See - a.See })
	return list[:min(len(list), most)]
}

// mistyped reports whether a field is typed, though not so that it could be read, or a
// file of its kind was refused.
func (r *Reach) mistyped(kind, field string) bool {
	return slices.ContainsFunc(r.p.Intake.Problems, func(q record.Problem) bool {
		return q.Kind == kind && (q.Effect == record.FileRefused || q.Effect < record.Noted && (q.Field == field || strings.HasPrefix(q.Field, field+".")))
	})
}

func glossOf(kind, field string) string {
	if k, ok := schemas.Lookup(kind); ok {
		if f, ok := k.Field(field); ok {
			return inner(f.Description)
		}
	}
	return ""
}
