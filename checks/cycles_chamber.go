package checks

import (
	"fmt"

	"footing/internal/audit"
	"footing/internal/chain"
	"footing/internal/practice"
)

var _ = define(audit.Check{
	ID:      "cycles/chamber",
	Title:   "no load held more packs than the chamber takes",
	Why:     "Steam has to flow around each pack. The maker says how many packs the chamber takes; where more are pushed in, air stays between them and packs come out wet.",
	Grades:  []audit.Grade{audit.Minor},
	Subject: "sterilizers", Thing: "load", Things: "loads",
	Needs: []string{"loads", "sterilizers"},
	Helps: []string{"sterilizers.most_packs", "loads.packs_made", "loads.sets", "packs.load"},
	Fix: []string{
		"Compare the number written with the packs themselves or their labels: packs of two loads written as one, or instruments counted in place of packs, explain some.",
		"Look whether the number that the chamber takes is that of the maker's instructions, for the packs you use.",
		"Look at the indicators and at the packs of these loads: one that was wet or torn is processed again.",
		"From today on, split what does not fit into two loads.",
	},
	Verify: "Each later load holds no more packs than the maker's instructions allow.",
	Run: func(x *audit.Examination) {
		x.Nothing("no load is written but rejected ones")
		for _, l := range x.P.LoadsByTime() {
			if l.Decision == "rejected" {
				x.Pass()
				continue
			}
			cyclesChamberOf(x, l)
		}
	},
})

func cyclesChamberOf(x *audit.Examination, l *practice.Load) {
	subject := cyclesSubject(l)
	s, state := x.P.Sterilizer(l.Sterilizer)
	switch {
	case state != practice.One:
		x.Unclear(subject, "which sterilizer ran the load cannot be told", audit.Field{Kind: "loads", Name: "sterilizer"})
		return
	case !s.MostPacks.Written:
		x.Unclear(subject, "how many packs the chamber takes is not written", audit.Field{Kind: "sterilizers", Name: "most_packs"})
		return
	}
	n := cyclesChamberCount(x.P, l)
	switch {
	case n.packs > s.MostPacks.Value:
		x.NotMet(subject, audit.Fault{Grade: audit.Minor, Matter: "full", Weight: n.packs - s.MostPacks.Value, Day: l.Started.Day(),
			Found:    fmt.Sprintf("a load of %g packs%s", n.packs, n.by),
			Needed:   fmt.Sprintf("the chamber takes %s at most; two loads written as one, or instruments counted in place of packs, would explain it", cyclesChamberPacks(s.MostPacks.Value)),
			Evidence: append(n.evidence, audit.At(&s.Row, "most_packs", "what its chamber takes"))})
	case n.whole:
		x.Met(subject)
	default:
		x.Unclear(subject, "how many packs the load held is not written", audit.Field{Kind: "loads", Name: "packs_made"})
	}
}

func cyclesChamberPacks(n float64) string {
	if n == 1 {
		return "1 pack"
	}
	return fmt.Sprintf("%g packs", n)
}

// cyclesChamberLoad is how many packs a load held, as far as is written.
type cyclesChamberLoad struct {
	packs    float64
	whole    bool   // else it held no fewer
	by       string // how they were counted
	evidence []audit.Evidence
}

// cyclesChamberCount counts the packs of a load: as it says, else by its sets, else the
// packs that name it, of which more may not have been typed.
func cyclesChamberCount(p *practice.Practice, l *practice.Load) (n cyclesChamberLoad) {
	if l.PacksMade.Written {
		return cyclesChamberLoad{l.PacksMade.Value, true, "", []audit.Evidence{audit.At(&l.Row, "packs_made")}}
	}
	if sets, ok := chain.SetsOf(l); ok {
		for _, s := range sets {
			n.packs += s.Count
		}
		n.whole, n.by, n.evidence = true, ", by its list of sets", []audit.Evidence{audit.At(&l.Row, "sets")}
		return n
	}
	key, day := practice.Key(&l.Row), l.Started.Day()
	if _, state := p.Load(key); state != practice.One {
		return n
	}
	packs := p.PacksOf(key)
	n.packs, n.whole, n.by = float64(len(packs)), len(packs) > 0 && p.Whole("packs", day, day), ", by the packs that name it"
	n.evidence = []audit.Evidence{audit.At(&l.Row, "")}
	for _, k := range packs {
		n.evidence = append(n.evidence, audit.At(&k.Row, "load", "a pack of it"))
	}
	return n
}
