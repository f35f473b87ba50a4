package checks

import (
	"fmt"

	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/quantity"
)

// only tells of a hold that the tables take, though it is shorter than the one
// program that is typed of the sterilizer, whose temperature was reached.
func (r *tracesHoldRun) only(subject audit.Subject, t *practice.Traced) {
	all := tracesPrograms(r.P, t)
	if t.Program != nil || len(all) != 1 {
		return
	}
	g := all[0]
	h := tracesHold(t, g.Temperature.In(quantity.Celsius))
	if h == nil || !h.Reached || tracesHoldAgainst(t, g.Temperature, g.Exposure) != audit.Fail {
		return
	}
	r.Remark(subject, audit.Fault{Matter: "only program", Day: tracesDay(t),
		Found:    tracesHeld(t, h, g.Temperature.String()) + ", which a table allows",
		Needed:   "the only program that is typed of the sterilizer asks for " + g.Exposure.String() + "; which program ran is not written",
		Evidence: []audit.Evidence{audit.InTrace(t, 0, tracesBetween(h.Least, h.Most)+" at "+g.Temperature.String()), audit.At(&g.Row, "exposure", "the only program typed")},
		Steps: []string{
			"Look at the printout or the display's history: which program ran?",
			"If it was another one, type that program and name it in the load. If it was this one, set the load's packs aside and treat it as a load that fell short of its program.",
		}})
}

const tracesHoldInnocent = "a clock or sensor of the logger that is off, or the file of another cycle, would explain it"

// tracesHoldProgram is the fault of a hold shorter than the named program's.
func tracesHoldProgram(t *practice.Traced) audit.Fault {
	g := t.Program
	f := tracesHoldFault(t, g.Temperature, g.Exposure, g.Exposure)
	f.Matter, f.Needed = "short of its program", "its program asks for "+g.Exposure.String()+"; "+tracesHoldInnocent
	f.Evidence = append(f.Evidence, audit.At(&g.Row, "exposure", "its program"))
	return f
}

// tracesHoldFault is that of a hold at a temperature that lasted less than needed;
// asked is what is needed of the hold that the log has.
func tracesHoldFault(t *practice.Traced, at, needed, asked quantity.Quantity) audit.Fault {
	h := tracesHold(t, at.In(quantity.Celsius))
	f := audit.Fault{Grade: audit.Critical, Matter: "short", Day: tracesDay(t), Found: tracesHeld(t, h, at.String()),
		Weight:   cyclesSeconds(needed) - h.Most,
		Evidence: []audit.Evidence{audit.InTrace(t, 0, tracesBetween(h.Least, h.Most)+" at "+at.String())}}
	l := t.Load
	if l == nil || !l.Exposure.Written() {
		return f
	}
	f.Evidence = append(f.Evidence, audit.At(&l.Row, "exposure", "the log"))
	log := l.Exposure.String()
	if l.Temperature.Written() && l.Temperature.In(quantity.Celsius) != at.In(quantity.Celsius) {
		log += " at " + l.Temperature.String()
	}
	if l.Exposure.AtLeast(asked, quantity.Quantity{}) == quantity.No {
		f.Found += fmt.Sprintf("; the log, a second witness, has %s and is short too", log)
	} else {
		f.Found += fmt.Sprintf(", though the log has %s", log)
	}
	return f
}

// tracesHoldOther is another program of the sterilizer that fits the hold where the
// named one does not, and that nothing written of the load speaks against.
func tracesHoldOther(p *practice.Practice, t *practice.Traced) *practice.Program {
	for _, g := range tracesPrograms(p, t) {
		if g != t.Program && tracesHoldAgainst(t, g.Temperature, g.Exposure) == audit.Meets && (t.Load == nil || cyclesMayHold(g, t.Load)) {
			return g
		}
	}
	return nil
}

// another tells of a hold that fits another program than the one named.
func (r *tracesHoldRun) another(subject audit.Subject, t *practice.Traced, g *practice.Program) {
	r.Unclear(subject, "the hold fits another program than the one named", audit.Field{Kind: "loads", Name: "program"})
	f := tracesHoldProgram(t)
	f.Matter = "another program"
	f.Needed = "its program asks for " + t.Program.Exposure.String() + "; another program of this sterilizer fits the file, so perhaps that one ran"
	f.Evidence = append(f.Evidence, audit.At(&g.Row, "exposure", "the program that fits"))
	f.Steps = []string{
		"Look at the printout or the display's history: which program ran?",
		"If it was the other one, and that one suits what was in the load, correct the program in a new row with today's date.",
		"If it was the one named, treat the load as one that fell short of its program: set its packs aside and ask your regulator and public health.",
	}
	r.Remark(subject, f)
}
