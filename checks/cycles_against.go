package checks

import (
	"strings"

	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/quantity"
)

// cyclesAgainst says how a load stands against the programs that may have run.
type cyclesAgainst struct {
	verdict audit.Verdict
	none    bool              // no program of the sterilizer is typed, and none is named
	named   bool              // the load names the program
	program *practice.Program // the one named, or the only one that could be meant
	inside  *practice.Program // one that may have run and that the load meets
	other   *practice.Program // with a named program that is not met: another that is
	may     bool              // it may be inside a program that may have run, but that cannot be told
	why     string
	missing []audit.Field
}

// cyclesAgainstPrograms judges one load. Fail only against a program that the
// load itself names, and where no other program of that sterilizer fits.
func cyclesAgainstPrograms(p *practice.Practice, l *practice.Load, s *practice.Sterilizer) (a cyclesAgainst) {
	var all []*practice.Program
	key := practice.Key(&s.Row)
	for i := range p.Programs {
		if p.Programs[i].Sterilizer == key {
			all = append(all, &p.Programs[i])
		}
	}
	if l.Program != "" {
		a.named = true
		g, state := p.Program(l.Program)
		if by := cyclesByName(all, l.Program); state == practice.Absent && by != nil {
			g, state = by, practice.One
		}
		switch {
		case state != practice.One:
			a.verdict, a.why = audit.CannotTell, "the program that the load names is not in the records as one row"
			a.missing, a.may = []audit.Field{{Kind: "programs"}}, state != practice.Absent
			return a
		case g.Sterilizer != "" && g.Sterilizer != key:
			a.verdict, a.why, a.may = audit.CannotTell, "the program that the load names is written as another sterilizer's", true
			return a
		}
		a.program = g
		return cyclesAgainstNamed(a, l, s, all)
	}
	if len(all) == 0 {
		a.none, a.verdict, a.why = true, audit.CannotTell, "no program of the sterilizer is typed"
		a.missing = []audit.Field{{Kind: "programs"}}
		return a
	}
	if len(all) == 1 {
		a.program = all[0]
	}
	a.verdict = audit.Meets
	for _, g := range all {
		if v := cyclesMeets(l, s, g); v != audit.Meets {
			a.verdict = audit.CannotTell
			a.may = a.may || v == audit.CannotTell
		} else if a.inside == nil {
			a.inside = g
		}
	}
	if a.verdict == audit.CannotTell {
		a.why, a.missing = "which program ran is not written", []audit.Field{{Kind: "loads", Name: "program"}}
		a.lacking(l)
	}
	return a
}

// cyclesByName is the one program whose name on the display is what a load has in
// place of an id; nil where none or several have it.
func cyclesByName(all []*practice.Program, name string) (found *practice.Program) {
	for _, g := range all {
		if !strings.EqualFold(strings.TrimSpace(g.Name), strings.TrimSpace(name)) {
			continue
		}
		if found != nil {
			return nil
		}
		found = g
	}
	return found
}

func cyclesAgainstNamed(a cyclesAgainst, l *practice.Load, s *practice.Sterilizer, all []*practice.Program) cyclesAgainst {
	a.verdict = cyclesMeets(l, s, a.program)
	switch a.verdict {
	case audit.Meets:
		a.inside = a.program
	case audit.CannotTell:
		a.why, a.may = "what is written is too near to what the program asks, given the digits written and the sensor's tolerance", true
		a.lacking(l)
	case audit.Fail:
		for _, g := range all {
			if g != a.program && cyclesMeets(l, s, g) == audit.Meets && cyclesMayHold(g, l) {
				a.verdict, a.other, a.inside = audit.CannotTell, g, g
				a.why = "what is written fits another program than the one named"
				a.missing = []audit.Field{{Kind: "loads", Name: "program"}}
				break
			}
		}
	}
	return a
}

// lacking names what is not written of the load itself, which comes first.
func (a *cyclesAgainst) lacking(l *practice.Load) {
	var missing []audit.Field
	if !l.Temperature.Written() {
		missing = append(missing, audit.Field{Kind: "loads", Name: "temperature"})
	}
	if !l.Exposure.Written() {
		missing = append(missing, audit.Field{Kind: "loads", Name: "exposure"})
	}
	if missing != nil {
		a.why, a.missing = "the temperature or the hold of the load is not written", missing
	}
}

// cyclesMayHold reports whether nothing written says that the program is not
// meant for what was in the load.
func cyclesMayHold(g *practice.Program, l *practice.Load) bool {
	return l.Wrapped != quantity.IsYes || !g.Suits.Written || g.Suits.Has("wrapped") || g.Suits.Has("porous")
}

// cyclesMeets compares a load with one program. The program's temperature is a
// reading's equal: no verdict hangs on less than half its last digit, or on 250 °F
// being a little more than 121 °C.
func cyclesMeets(l *practice.Load, s *practice.Sterilizer, g *practice.Program) audit.Verdict {
	hot := l.Temperature.AtLeast(g.Temperature, s.SensorTolerance)
	low := g.Temperature
	low.Value -= low.Half
	if hot == quantity.No && l.Temperature.AtLeast(low, s.SensorTolerance) != quantity.No {
		hot = quantity.Unsure
	}
	long := l.Exposure.AtLeast(g.Exposure, quantity.Quantity{})
	switch {
	case hot == quantity.No || long == quantity.No:
		return audit.Fail
	case hot == quantity.Yes && long == quantity.Yes:
		return audit.Meets
	}
	return audit.CannotTell
}
