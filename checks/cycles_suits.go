package checks

import (
	"strings"

	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/quantity"
)

var _ = define(audit.Check{
	ID:    "cycles/suits",
	Title: "wrapped or hollow items ran only in a steam cycle meant for them",
	Why: "Wrapping and hollow handles hold air back, and steam does not reach where air is. A cycle meant for bare, solid items does not draw that air out, however long it holds. " +
		"Whether this counts as major or critical is a criterion that you can set.",
	Grades:  []audit.Grade{audit.Critical, audit.Major, audit.Observation},
	Subject: "sterilizers", Thing: "released load", Things: "released loads",
	Needs: []string{"loads", "sterilizers"},
	Helps: []string{"loads.wrapped", "loads.program", "loads.decision", "programs.suits", "sterilizers.class", "packs.instruments", "instruments.hollow"},
	Uses:  []string{"cycles.suits"},
	Fix: []string{
		"Look into the maker's instructions: which program is meant for wrapped and for hollow items? If the one that ran is, write that into its row of programs.",
		"Until then set aside the packs of these loads that are still closed, and process them again in a program that is meant for them.",
		"If the sterilizer has no such program, run bare, solid items only and use them at once, or have the rest done by a contractor.",
		"Where packs of such loads were used, ask your regulator or public health whether anything is to be done. Contact no client about it on your own.",
		"From today on, write the program of each load, and whether it was wrapped.",
	},
	Verify: "The maker's instructions are at hand, each program says what it suits, and later wrapped or hollow loads ran in one that suits them.",
	Run: func(x *audit.Examination) {
		c, ok := x.Criterion("cycles.suits", nil)
		if !ok {
			x.Nothing("no rule says how much such a cycle weighs")
			return
		}
		kept := cyclesSuitsHollow(x.P)
		cyclesEachSteam(x, func(subject audit.Subject, l *practice.Load, s *practice.Sterilizer) {
			items := cyclesItems(x.P, l)
			var held []string
			if l.Wrapped == quantity.IsYes {
				held = append(held, "wrapped")
			}
			if items == "hollow" {
				held = append(held, "hollow")
			}
			var open []audit.Field
			if l.Wrapped == quantity.NotWritten {
				open = append(open, audit.Field{Kind: "loads", Name: "wrapped"})
			}
			if items == "" && kept {
				open = append(open, audit.Field{Kind: "packs", Name: "instruments"})
			}
			if held == nil && open == nil {
				x.Nothing("no load is written as wrapped, or as holding hollow items")
				x.Pass()
				return
			}
			cyclesSuitsOf(x, subject, l, s, held, open, &c)
		})
	},
})

// cyclesSuitsHollow reports whether any instrument is written as hollow, so that
// it matters what a load held.
func cyclesSuitsHollow(p *practice.Practice) bool {
	for i := range p.Instruments {
		if p.Instruments[i].Hollow == quantity.IsYes {
			return true
		}
	}
	return false
}

// cyclesSuitsOf judges one load: held is what it surely held, open what is not
// written of that.
func cyclesSuitsOf(x *audit.Examination, subject audit.Subject, l *practice.Load, s *practice.Sterilizer, held []string, open []audit.Field, c *audit.Criterion) {
	a := cyclesAgainstPrograms(x.P, l, s)
	if a.named && a.program == nil {
		x.Unclear(subject, a.why, a.missing...)
		return
	}
	var unfit []string
	unsure := false
	for _, what := range held {
		switch cyclesSuitsMeant(x.P, l, s, a, what) {
		case quantity.No:
			unfit = append(unfit, what)
		case quantity.Unsure:
			unsure = true
		}
	}
	switch {
	case unfit != nil:
		f := audit.Fault{Grade: audit.Major, Criterion: c, Matter: strings.Join(unfit, " and "), Found: strings.Join(unfit, " and ") + " items in a program that is not written as meant for them",
			Needed: "they need a program that its maker means for " + strings.Join(unfit, " and ") + " items", Day: l.Started.Day(), Evidence: []audit.Evidence{audit.At(&l.Row, "wrapped")}}
		if c.Yes() {
			f.Grade = audit.Critical
		}
		if a.named && a.program.Suits.Written {
			f.Evidence = append(f.Evidence, audit.At(&a.program.Row, "suits", "its program"))
		} else {
			f.Grade, f.Matter = audit.Observation, f.Matter+" by class"
			f.Found = strings.Join(unfit, " and ") + " items in a sterilizer of class N, which is the class for bare, solid items"
			f.Needed = "if the maker's instructions name a program for them, write into its row of programs what it suits"
			f.Evidence = append(f.Evidence, audit.At(&s.Row, "class"))
		}
		if l.Decision == "" {
			cyclesUndecided(x, subject, f)
			return
		}
		x.NotMet(subject, f)
	case unsure && a.none:
		x.Unclear(subject, "no program of the sterilizer is typed that says what it is meant for", audit.Field{Kind: "programs", Name: "suits"})
	case unsure && a.program == nil:
		x.Unclear(subject, "which program ran is not written", audit.Field{Kind: "loads", Name: "program"})
	case unsure && !a.named && a.program.Suits.Written:
		x.Unclear(subject, "the only program typed is not meant for these items, but the load does not name its program", audit.Field{Kind: "loads", Name: "program"})
	case unsure && a.program.Suits.Written:
		x.Unclear(subject, "the sterilizer is of class B, whose cycle for wrapped items is meant for hollow ones too, but its program's row does not say so", audit.Field{Kind: "programs", Name: "suits"})
	case unsure:
		x.Unclear(subject, "what the program is meant for is not written", audit.Field{Kind: "programs", Name: "suits"})
	case open != nil && !cyclesSuitsEvery(x.P, l, s, a, open):
		x.Unclear(subject, "whether the load was wrapped, or held hollow items, is not written", open...)
	default:
		x.Met(subject)
	}
}

// cyclesSuitsEvery reports whether the cycle suits even what may have been in
// the load beside what is written.
func cyclesSuitsEvery(p *practice.Practice, l *practice.Load, s *practice.Sterilizer, a cyclesAgainst, open []audit.Field) bool {
	for _, f := range open {
		what := "hollow"
		if f.Name == "wrapped" {
			what = "wrapped"
		}
		if cyclesSuitsMeant(p, l, s, a, what) != quantity.Yes {
			return false
		}
	}
	return true
}

// cyclesSuitsMeant says whether the cycle is meant for wrapped or for hollow
// items: by its program, else by the sterilizer's class. A program that the load
// does not name can only speak for it.
func cyclesSuitsMeant(p *practice.Practice, l *practice.Load, s *practice.Sterilizer, a cyclesAgainst, what string) quantity.Tri {
	meant := func(g *practice.Program) bool {
		return g.Suits.Has(what) || what == "wrapped" && g.Suits.Has("porous")
	}
	if a.named && a.program.Suits.Written {
		switch {
		case meant(a.program):
			return quantity.Yes
		case s.Class == "B" && a.program.Suits.Has("wrapped"):
			// EN 13060: the cycle of class B for wrapped items is for hollow ones too.
			return quantity.Unsure
		}
		return quantity.No
	}
	if !a.named {
		written, all := false, true
		for i := range p.Programs {
			if g := &p.Programs[i]; g.Sterilizer == practice.Key(&s.Row) {
				written = written || g.Suits.Written
				all = all && g.Suits.Written && meant(g)
			}
		}
		switch {
		case written && all:
			return quantity.Yes
		case written:
			return quantity.Unsure
		}
	}
	switch s.Class {
	case "B":
		return quantity.Yes
	case "N":
		return quantity.No
	}
	return quantity.Unsure
}
