package checks

import (
	"slices"
	"strings"

	"footing/internal/audit"
	"footing/internal/practice"
)

var _ = define(audit.Check{
	ID:    "cycles/method",
	Title: "each sterilizer works by a method that the rules accept for what its instruments touch",
	Why: "Boxes with hot beads, ultraviolet light, boiling water, microwave and kitchen ovens and pressure cookers do not reach every surface evenly, cannot be watched by a test, or both. " +
		"For instruments that touch broken skin, mucous membrane or tissue under the skin, published texts name steam first.",
	Grades:  []audit.Grade{audit.Critical, audit.Observation},
	Subject: "sterilizers", Thing: "sterilizer", Things: "sterilizers",
	Needs: []string{"sterilizers"},
	Helps: []string{"loads", "instruments.touches", "packs.instruments"},
	Uses:  []string{"cycles.method"},
	Fix: []string{
		"Use nothing that went through this device until it has been processed again by an accepted method; take single-use instruments meanwhile, or a contractor.",
		"Keep the log and what is written of its use as they are.",
		"If the method is written wrongly, correct the sterilizer's row.",
		"Telephone your regulator and public health today and ask what is to be done about instruments already used. Contact no client about it on your own.",
		"Take the device out of the room, and write the day into its row.",
	},
	Verify: "Instruments that touch more than whole skin go through an accepted method, and the log shows it.",
	Run: func(x *audit.Examination) {
		loads := map[string][]*practice.Load{}
		for _, l := range x.P.LoadsByTime() {
			if l.Decision != "rejected" && l.Decision != "pending" {
				loads[l.Sterilizer] = append(loads[l.Sterilizer], l)
			}
		}

		for i := range x.P.Sterilizers {
			s := &x.P.Sterilizers[i]
			cyclesMethodOf(x, s, loads[practice.Key(&s.Row)])
		}
	},
})

// cyclesMethodTouches lists what asks for an accepted method, the gravest first.
func cyclesMethodTouches() []string {
	return []string{"sterile-tissue", "mucous-membrane", "broken-skin"}
}

func cyclesMethodWords(touches string) string {
	if touches == "sterile-tissue" {
		return "tissue under the skin"
	}
	return strings.ReplaceAll(touches, "-", " ")
}

func cyclesMethodOf(x *audit.Examination, s *practice.Sterilizer, loads []*practice.Load) {
	subject := audit.About("sterilizers", &s.Row)
	method := strings.ReplaceAll(s.Method, "-", " ")
	f := audit.Fault{Grade: audit.Observation, Matter: "kept", Found: "kept: a sterilizer that works by " + method, Evidence: []audit.Evidence{audit.At(&s.Row, "method")}}
	r := cyclesMethodAsk(x, s, cyclesMethodTouches())
	released := slices.DeleteFunc(slices.Clone(loads), func(l *practice.Load) bool { return !l.Released() })
	switch {
	case s.Method == "other":
		x.Unclear(subject, "the method is written as other", audit.Field{Kind: "sterilizers", Name: "method"})
	case r.Verdict == audit.Meets:
		x.Met(subject)
	case len(loads) == 0 && s.RetiredOn.Written():
		x.Pass()
	case len(released) == 0:
		f.Found += ", with no released load of it written"
		f.Steps = []string{
			"If it is used, write its loads and what went into them; if not, take it out of the room and write the day into its row.",
			"Keep using an accepted method for all that touches more than whole skin.",
		}
		x.Settle(subject, r, f, cyclesMethodNeed, "")
	default:
		cyclesMethodUsed(x, subject, s, released, r, f)
	}
}

// cyclesMethodUsed judges a sterilizer that has released loads by what its
// instruments touch.
func cyclesMethodUsed(x *audit.Examination, subject audit.Subject, s *practice.Sterilizer, released []*practice.Load, r audit.Ruling, f audit.Fault) {
	held := cyclesMethodHeld(x.P, released)
	if day := released[len(released)-1].Started.Day(); held == nil && len(x.P.Sterilizers) == 1 && x.P.Covered("instruments", day, day) {
		held = cyclesMethodAll(x.P)
	}
	blank := false
	for _, touches := range cyclesMethodTouches() {
		for _, i := range held {
			blank = blank || i.Touches == ""
			if i.Touches != touches {
				continue
			}
			f.Grade, f.Matter, f.Day = audit.Critical, "used", released[len(released)-1].Started.Day()
			f.Found = "used for instruments that touch " + cyclesMethodWords(touches) + ": a sterilizer that works by " + strings.ReplaceAll(s.Method, "-", " ")
			f.Evidence = append(f.Evidence, audit.At(&released[0].Row, "decision", "a released load of it"), audit.At(&i.Row, "touches", "an instrument that went through it, as far as is written"))
			x.Settle(subject, cyclesMethodAsk(x, s, []string{touches}), f, cyclesMethodNeed, "")
			return
		}
	}
	if held != nil && !blank {
		x.Pass()
		return
	}
	f.Matter, f.Found = "in use", "in use: a sterilizer that works by "+strings.ReplaceAll(s.Method, "-", " ")
	if r.Depends {
		x.Settle(subject, r, f, cyclesMethodNeed, "")
		return
	}
	if blank {
		x.Unclear(subject, "what its instruments touch is not written", audit.Field{Kind: "instruments", Name: "touches"})
	} else {
		x.Unclear(subject, "which instruments went through it is not written", audit.Field{Kind: "packs", Name: "instruments"}, audit.Field{Kind: "instruments", Name: "touches"})
	}
	f.Needed, f.Criterion = cyclesMethodNeed(r.Criterion), &r.Criterion
	f.Steps = []string{
		"Until it is clear what went through it, use an accepted method for all that touches more than whole skin.",
		"Write what each instrument touches, and which instruments are in which pack or load.",
	}
	x.Remark(subject, f)
}

// cyclesMethodHeld are the instruments in the packs of these loads.
func cyclesMethodHeld(p *practice.Practice, loads []*practice.Load) (held []*practice.Instrument) {
	for _, l := range loads {
		key := practice.Key(&l.Row)
		if _, state := p.Load(key); state != practice.One {
			continue
		}
		for _, k := range p.PacksOf(key) {
			for _, id := range k.Instruments.Items {
				if i, state := p.Instrument(id); state == practice.One {
					held = append(held, i)
				}
			}
		}
	}
	return held
}

// cyclesMethodAll are all the reusable instruments, where every one touches more
// than whole skin, so that it does not matter which went through the sterilizer;
// else none.
func cyclesMethodAll(p *practice.Practice) (all []*practice.Instrument) {
	for i := range p.Instruments {
		t := &p.Instruments[i]
		if t.Reuse == "single-use" || t.Reuse == "client-owned" || t.RetiredOn.Written() {
			continue
		}
		if !slices.Contains(cyclesMethodTouches(), t.Touches) {
			return nil
		}
		all = append(all, t)
	}
	return all
}

// cyclesMethodAsk rules on the method for all that is touched: not met where it
// is not met for each, and dependent on the rule where the answers differ.
func cyclesMethodAsk(x *audit.Examination, s *practice.Sterilizer, touched []string) (r audit.Ruling) {
	for n, touches := range touched {
		one := x.Ask("cycles.method", audit.When{"touches": touches}, func(c audit.Criterion) audit.Verdict {
			if c.Has(s.Method) {
				return audit.Meets
			}
			return audit.Fail
		})
		if n == 0 || r.Verdict == audit.Meets || one.Depends {
			r = one
		}
	}
	return r
}

func cyclesMethodNeed(c audit.Criterion) string {
	return "accepted: " + strings.ReplaceAll(c.Value(), "-", " ")
}
