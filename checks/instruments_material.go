package checks

import (
	"slices"
	"strings"

	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/quantity"
)

var _ = define(audit.Check{
	ID:      "instruments/material",
	Title:   "instruments stand the process they go through, and no nipper is chrome-plated",
	Why:     "Plating on a cutting edge chips and lets rust and dirt in behind it. What does not stand heat warps or cracks in a sterilizer, and cracks cannot be cleaned.",
	Grades:  []audit.Grade{audit.Minor},
	Subject: "instruments", Thing: "reusable instrument", Things: "reusable instruments",
	Needs: []string{"instruments"},
	Helps: []string{"instruments.material", "instruments.heat_safe", "packs.instruments", "packs.load"},
	Uses:  []string{"instruments.plating", "instruments.heat-safe"},
	Fix: []string{
		"Look at the instrument: take it out of use if plating has chipped, or if it is rusty, warped or cracked.",
		"Ask its maker what it is made of and which process it stands; if its row is wrong, correct it.",
		"Replace it by one of stainless steel that stands steam, and write the day it was retired.",
	},
	Verify: "Its row, or that of the instrument that replaces it, names a material and a process that go together.",
	Run: func(x *audit.Examination) {
		heated := instrumentsMaterialHeated(x.P)
		x.Nothing("no reusable instrument in use is written")
		for n := range x.P.Instruments {
			i := &x.P.Instruments[n]
			if i.RetiredOn.Written() || i.Reuse == "single-use" {
				x.Pass()
				continue
			}
			instrumentsMaterialOf(x, i, heated)
		}
	},
})

func instrumentsMaterialOf(x *audit.Examination, i *practice.Instrument, heated map[string]*practice.Pack) {
	subject := audit.About("instruments", &i.Row)
	plating, _ := x.Criterion("instruments.plating", nil)
	stands, _ := x.Criterion("instruments.heat-safe", nil)
	nipper := strings.HasSuffix(i.Type, "nipper")
	plated := slices.ContainsFunc(i.Material.Items, plating.Has)
	safe := i.HeatSafe
	if safe == quantity.NotWritten && len(i.Material.Items) > 0 && !slices.ContainsFunc(i.Material.Items, func(m string) bool { return !stands.Has(m) }) {
		safe = quantity.IsYes
	}
	pack := heated[practice.Key(&i.Row)]
	var missing []audit.Field
	if nipper && !i.Material.Written {
		missing = append(missing, audit.Field{Kind: "instruments", Name: "material"})
	}
	switch {
	case safe == quantity.NotWritten:
		missing = append(missing, audit.Field{Kind: "instruments", Name: "heat_safe"})
	case safe == quantity.IsNo && pack == nil:
		missing = append(missing, audit.Field{Kind: "packs", Name: "instruments"})
	}
	switch {
	case nipper && plated:
		x.NotMet(subject, audit.Fault{Grade: audit.Minor, Matter: "plating", Criterion: &plating, Found: "a nipper written as " + strings.ReplaceAll(strings.Join(i.Material.Items, ", "), "-", " "),
			Needed: "nippers are to be without plating: stainless steel, or tungsten carbide at the edge", Evidence: []audit.Evidence{audit.At(&i.Row, "material")}})
	case safe == quantity.IsNo && pack != nil:
		x.NotMet(subject, audit.Fault{Grade: audit.Minor, Matter: "heat", Found: "written as not standing heat, and packed for a load of a sterilizer",
			Needed: "an instrument goes only through a process that it stands", Evidence: []audit.Evidence{audit.At(&i.Row, "heat_safe"), audit.At(&pack.Row, "instruments")}})
	case missing != nil:
		x.Unclear(subject, "what it is made of, whether it stands heat, or which process it goes through is not written", missing...)
	default:
		x.Met(subject)
	}
}

// instrumentsMaterialHeated finds, for each instrument, the first pack typed
// that took it through a sterilizer's heat.
func instrumentsMaterialHeated(p *practice.Practice) map[string]*practice.Pack {
	heated := map[string]*practice.Pack{}
	for n := range p.Packs {
		k := &p.Packs[n]
		l, state := p.Load(k.Load)
		if k.Load == "" || state != practice.One {
			continue
		}
		s, state := p.Sterilizer(l.Sterilizer)
		if state != practice.One || s.Method == "ultraviolet" || s.Method == "other" {
			continue
		}
		for _, id := range k.Instruments.Items {
			if _, state := p.Instrument(id); state == practice.One && heated[id] == nil {
				heated[id] = k
			}
		}
	}
	return heated
}
