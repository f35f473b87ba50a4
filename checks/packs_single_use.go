package checks

import (
	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/quantity"
)

var _ = define(audit.Check{
	ID:    "packs/single-use",
	Title: "nothing that is for single use went through the sterilizer",
	Why: "What its maker sells for single use may not stand cleaning and a cycle, and nobody has shown that it comes out clean. A cycle is the sign that it was kept for another use. " +
		"A new item that its maker says to sterilize before its only use explains some, and so does a wrong word in the list of instruments.",
	Grades:  []audit.Grade{audit.Major},
	Subject: "instruments", Thing: "instrument in a load", Things: "instruments in loads",
	Needs: []string{"instruments"},
	Helps: []string{"instruments.reuse", "packs.instruments", "packs.load", "cleanings.instruments", "cleanings.loads"},
	Fix: []string{
		"Look at its packaging: the crossed-out 2, or the words single use, decide. If it is not for single use, correct reuse in the list of instruments.",
		"If its maker says that a new one is sterilized before its only use, keep that instruction with your records, and write in the note that it was new.",
		"Otherwise take these items out of packs and drawers and throw them away, blades as sharps.",
		"Ask your regulator what it expects where one was used again. Contact no client about it on your own.",
	},
	Verify: "Later packs and cleanings name no single-use item.",
	Run: func(x *audit.Examination) {
		for i := range x.P.Packs {
			if k := &x.P.Packs[i]; len(k.Instruments.Items) > 0 {
				packsSingleUsePack(x, k)
			}
		}
		for i := range x.P.Cleanings {
			c := &x.P.Cleanings[i]
			if l := packsSingleUseLoad(x.P, c.Loads.Items...); l != nil {
				for _, id := range c.Instruments.Items {
					packsSingleUseOf(x, id, l, c.Started.Day(), audit.At(&c.Row, "instruments", "the cleaning before its load"))
				}
			}
		}
		if x.Silent() {
			x.Unclear(audit.Whole, "neither packs nor cleanings name the instruments of a load that is typed", audit.Field{Kind: "packs", Name: "instruments"}, audit.Field{Kind: "cleanings", Name: "instruments"})
		}
	},
})

func packsSingleUsePack(x *audit.Examination, k *practice.Pack) {
	l, state := x.P.LoadOfPack(k)
	if state != practice.One {
		x.Unclear(packsSite(k), "the load that a pack came from is not written, or not in the records as one row", audit.Field{Kind: "packs", Name: "load"})
		return
	}
	at := audit.At(&k.Row, "instruments", "the pack that holds it")
	for _, id := range k.Instruments.Items {
		packsSingleUseOf(x, id, l, l.Started.Day(), at)
	}
}

// packsSingleUseLoad is the first of the loads that is in the records as one row.
func packsSingleUseLoad(p *practice.Practice, ids ...string) *practice.Load {
	for _, id := range ids {
		if l, state := p.Load(id); state == practice.One {
			return l
		}
	}
	return nil
}

// packsSingleUseOf judges one item that a row says went through a load.
func packsSingleUseOf(x *audit.Examination, id string, l *practice.Load, day quantity.Day, at audit.Evidence) {
	n, state := x.P.Instrument(id)
	if state != practice.One {
		x.Unclear(audit.Whole, "an instrument named leads to no single row of instruments", audit.Field{Kind: "instruments"})
		return
	}
	switch s := packsToolAbout(n); n.Reuse {
	case "single-use":
		x.NotMet(s, audit.Fault{Grade: audit.Major, Matter: "single use", Day: day, Found: "an instrument written as single-use went through a cycle",
			Needed:   "what is for single use is thrown away after it; a wrong word in the list, or a new item that its maker says to sterilize before its only use, explains some",
			Evidence: []audit.Evidence{at, audit.At(&l.Row, "started", "its load"), audit.At(&n.Row, "reuse")}})
	case "":
		x.Unclear(s, "whether the instrument is for single use is not written", audit.Field{Kind: "instruments", Name: "reuse"})
	default:
		x.Met(s)
	}
}
