package checks

import (
	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/quantity"
)

var _ = define(audit.Check{
	ID:      "cycles/hinges",
	Title:   "hinged instruments lay open in each load",
	Why:     "Steam kills only where it reaches. Where nippers or scissors lie closed, the faces of joint and blades touch, and steam may not get between them.",
	Grades:  []audit.Grade{audit.Minor},
	Subject: "sterilizers", Thing: "released load", Things: "released loads",
	Needs: []string{"loads"},
	Helps: []string{"loads.hinges_open", "packs.load", "packs.instruments", "instruments.hinged", "loads.decision"},
	Fix: []string{
		"Look at what was in these loads: where nothing in them had a hinge, or the hinges did lie open, write the correction as a new row with today's date.",
		"Set the packs of these loads that are still closed aside, and process the hinged instruments in them again, open.",
		"If such a pack was used, ask your regulator or public health what they want done; contact no client about it on your own.",
		"From today on, lay hinged instruments open on the tray or in the pouch, and write so for each load.",
	},
	Verify: "Each later load with hinged instruments says that they lay open.",
	Run: func(x *audit.Examination) {
		x.Nothing("no load is written, but rejected or pending ones, that could hold hinged instruments")
		for _, l := range x.P.LoadsByTime() {
			if l.Decision == "rejected" || l.Decision == "pending" {
				x.Pass()
				continue
			}
			cyclesHingesOf(x, l)
		}
	},
})

func cyclesHingesOf(x *audit.Examination, l *practice.Load) {
	subject := cyclesSubject(l)
	held, by := cyclesHingesHeld(x.P, l)
	field := audit.Field{Kind: "loads", Name: "hinges_open"}
	switch {
	case held == quantity.No:
		x.Pass()
	case l.HingesOpen == quantity.IsYes:
		x.Met(subject)
	case l.HingesOpen == quantity.NotWritten:
		x.Unclear(subject, "whether hinged instruments lay open is not written", field)
	case held == quantity.Unsure:
		x.Unclear(subject, "hinges did not lie open, as written, and no record says that a hinged instrument was in the load", audit.Field{Kind: "packs", Name: "instruments"}, audit.Field{Kind: "instruments", Name: "hinged"})
	case l.Decision == "":
		x.Unclear(subject, "no release is written, so whether the load was used cannot be told", audit.Field{Kind: "loads", Name: "decision"})
	default:
		x.NotMet(subject, audit.Fault{Grade: audit.Minor, Matter: "closed", Day: l.Started.Day(),
			Found:    "hinged instruments were in the load, and hinges did not lie open, as written",
			Needed:   "hinged instruments lie open, so that steam reaches their joints; a tick in the wrong column would explain it",
			Evidence: append([]audit.Evidence{audit.At(&l.Row, "hinges_open")}, by...)})
	}
}

// cyclesHingesHeld says whether a load held hinged instruments, and the pack and the
// instrument that show it: No only where every pack made has its row, and each
// instrument in them is written as without a hinge.
func cyclesHingesHeld(p *practice.Practice, l *practice.Load) (quantity.Tri, []audit.Evidence) {
	key := practice.Key(&l.Row)
	if _, state := p.Load(key); state != practice.One {
		return quantity.Unsure, nil
	}
	packs := p.PacksOf(key)
	all := len(packs) > 0 && l.PacksMade.Written && float64(len(packs)) >= l.PacksMade.Value
	for _, k := range packs {
		all = all && len(k.Instruments.Items) > 0
		for _, id := range k.Instruments.Items {
			i, state := p.Instrument(id)
			if state == practice.One && i.Hinged == quantity.IsYes {
				return quantity.Yes, []audit.Evidence{audit.At(&k.Row, "instruments", "a pack of the load"), audit.At(&i.Row, "hinged", "an instrument in it")}
			}
			all = all && state == practice.One && i.Hinged == quantity.IsNo
		}
	}
	if all {
		return quantity.No, nil
	}
	return quantity.Unsure, nil
}
