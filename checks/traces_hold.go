package checks

import (
	"fmt"
	"slices"

	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/quantity"
)

var _ = define(audit.Check{
	ID:    "traces/hold",
	Title: "the data-logger file of each load shows that it was held hot enough for long enough, without a break",
	Why: "The log has what somebody wrote down; the data-logger file has what the sensor felt. The hold is the longest unbroken time at or above the set temperature, with the two moments of crossing read off a straight line between readings. " +
		"It is told with its bounds, since readings lie seconds apart and no sensor is exact: what hangs on less than that is not judged. Where the log falls short too, that is told once more under cycles, from the log alone: two witnesses of one fault.",
	Grades:  []audit.Grade{audit.Critical, audit.Observation},
	Subject: "sterilizers", Thing: "data-logger file", Things: "data-logger files",
	Needs:  []string{"traces"},
	Helps:  []string{"sterilizers", "programs", "loads.program", "loads.trace", "loads.counter", "loads.wrapped", "loads.decision", "sterilizers.air_removal", "sterilizers.air", "sterilizers.sensor_tolerance"},
	Uses:   []string{"traces.error", "cycles.exposure", "cycles.dry-heat"},
	Fix:    tracesHoldFix,
	Verify: "The files of the next loads, and of the tests that the maker asks for after a fault, show the needed hold; the sensor has a calibration report.",
	Watch:  tracesSetting,
	Run: func(x *audit.Examination) {
		r := &tracesHoldRun{Examination: x}
		tracesEachOf(x, tracesMethods, func(subject audit.Subject, t *practice.Traced) {
			if tracesSteam(t) == quantity.No {
				if h, _ := tracesSet(x, t); h != nil {
					x.Mark(t, h.Level, h.Level)
				}
			}
			r.judge(subject, t, r.question(t))
		})
		tracesSpread(x, "hold beyond what was needed", "s", r.beyond)
	},
})

var tracesHoldFix = []string{
	"Look first whether the file belongs to the load: a clock that is wrong, an export that was doubled, or the file of a test or of a cycle that was broken off explains some of these. Where it does, correct the load's row with a new row of today's date.",
	"Set aside and mark every pack of the loads named here that is still closed; use none until this is settled. Keep the files, the log, strips and packs as they are.",
	"Compare with the printout or the display's history of the same cycle, and ask when the logger's sensor was last calibrated.",
	"Where packs of such a load were used and nothing explains the file, telephone public health and your regulator today and ask what to do. Contact no client about it on your own.",
	"Ask the maker or your service firm why the cycle was short or cool, and leave the sterilizer out of use until they have answered.",
	"From today on, look at the hold in the logger's file or on the printout before you release a load.",
}

// tracesHoldSensors is what to do about a file whose sensors do not agree.
var tracesHoldSensors = []string{
	"Look into the logger's instructions: where is each sensor, and which of them is in the chamber? Say so once in traces/layout.yaml, and audit again.",
	"If the cooler one is in the chamber too, compare with the printout or the display's history, and set the load's packs aside until you know why it stayed cool: air left in the chamber or a sensor that is off would explain it.",
}

// tracesMethods are those whose files show a hold at a set temperature.
var tracesMethods = []string{"steam", "dry-heat"}

// tracesHoldRun is the check at work.
type tracesHoldRun struct {
	*audit.Examination
	beyond []float64 // s, for each file whose verdict is firm
}

// tracesHoldAnswer is how one file stands against its program and the tables.
type tracesHoldAnswer struct {
	t       *practice.Traced
	program audit.Verdict // of the program that is named; Silent where none is
	ruling  audit.Ruling  // of the tables
	mixed   bool          // enough under some circumstances, and not under others
	chosen  bool          // the practice chose the rule that the tables stand in
	firm    bool          // it holds for cycles inside their maker's program too; of the pairs for dry heat no text says so
	missing []audit.Field
	inside  *practice.Program // one that may have run and whose hold was reached
	may     bool              // perhaps inside one that may have run
	air     []string
	items   string
}

func (r *tracesHoldRun) question(t *practice.Traced) *tracesHoldAnswer {
	a := &tracesHoldAnswer{t: t}
	for _, g := range tracesPrograms(r.P, t) {
		if t.Program != nil && g != t.Program {
			continue
		}
		v := tracesHoldAgainst(t, g.Temperature, g.Exposure)
		if g == t.Program {
			a.program = v
		}
		if v == audit.Meets && a.inside == nil {
			a.inside = g
		}
		a.may = a.may || v == audit.CannotTell
	}
	a.ask(r)
	return a
}

// tracesHoldAgainst compares the hold at a temperature with a time.
func tracesHoldAgainst(t *practice.Traced, at, needed quantity.Quantity) audit.Verdict {
	h := tracesHold(t, at.In(quantity.Celsius))
	if h == nil {
		return audit.CannotTell
	}
	none := quantity.Quantity{}
	switch {
	case quantity.Exact(h.Least, quantity.Second).AtLeast(needed, none) == quantity.Yes:
		return audit.Meets
	case quantity.Exact(h.Most, quantity.Second).AtLeast(needed, none) == quantity.No && !tracesCut(t, h):
		return audit.Fail
	}
	return audit.CannotTell
}

const tracesHoldNear = "the hold hangs on less than the distance of the readings and the error of the sensor, or on a part that was not recorded, or in which the sensor leapt"

// judge says what the answer amounts to.
func (r *tracesHoldRun) judge(subject audit.Subject, t *practice.Traced, a *tracesHoldAnswer) {
	short := a.ruling.Verdict == audit.Fail && !a.ruling.Depends
	switch {
	case a.program == audit.Fail:
		if g := tracesHoldOther(r.P, t); g != nil {
			r.another(subject, t, g)
			return
		}
		r.short(subject, t, t.Program.Temperature, tracesHoldProgram(t))
	case a.program == audit.CannotTell:
		r.Unclear(subject, tracesHoldNear)
	case a.program == audit.Meets && !a.chosen && !a.ruling.Depends && !short:
		r.met(subject, t, t.Program.Temperature, t.Program.Exposure)
	case a.mixed:
		r.Unclear(subject, "held long enough under some circumstances and not under others, and which of them held is not written", a.missing...)
	case short && a.inside != nil && !a.firm:
		f := a.fault(r, t)
		f.Grade, f.Matter = audit.Observation, "inside the program"
		h := tracesHold(t, a.inside.Temperature.In(quantity.Celsius))
		f.Found = tracesHeld(t, h, a.inside.Temperature.String()) + ", as its maker's program sets it"
		f.Evidence = append(f.Evidence, audit.At(&a.inside.Row, "exposure", "the maker's program"))
		f.Steps = []string{
			"Look up which rule holds where you practise, and write it into rules.yaml or practice.rule_set; then audit again.",
			"Ask the maker for the instructions of this program, and keep them with the log.",
		}
		r.Settle(subject, a.ruling, f, a.need, "")
	case short && a.may && !a.chosen:
		r.Unclear(subject, "short by every shipped rule, but perhaps inside its maker's program, and no rule was chosen", audit.Field{Kind: "practice", Name: "rule_set"})
	case short:
		f := a.fault(r, t)
		c := a.ruling.Criterion
		f.Criterion, f.By, f.Needed = &c, a.ruling.By, a.need(c)+"; "+tracesHoldInnocent
		at, _, _ := tracesHoldRow(t, c)
		r.short(subject, t, at, f)
	case a.ruling.Verdict == audit.Meets:
		at, needed, _ := tracesHoldRow(t, a.ruling.Criterion)
		r.met(subject, t, at, needed)
		r.only(subject, t)
	default:
		r.Settle(subject, a.ruling, a.fault(r, t), a.need, tracesHoldNear)
	}
}

// met tells of a file that conforms, and by how much.
func (r *tracesHoldRun) met(subject audit.Subject, t *practice.Traced, at, needed quantity.Quantity) {
	h := tracesHold(t, at.In(quantity.Celsius))
	r.Met(subject)
	r.Ranked(t, h.Least/cyclesSeconds(needed))
	r.beyond = append(r.beyond, h.Least-cyclesSeconds(needed))
}

// short tells of a file whose hold at a temperature is too short, unless another file,
// or another sensor of it, explains it.
func (r *tracesHoldRun) short(subject audit.Subject, t *practice.Traced, at quantity.Quantity, f audit.Fault) {
	others := t.Load != nil && slices.ContainsFunc(r.P.TracesOf(t.Load), func(o *practice.Traced) bool {
		return o != t && o.Unread == "" && o.Unusable == "" && r.question(o).holds()
	})
	never := !slices.ContainsFunc(tracesLevels(r.Examination, t), func(level float64) bool {
		h := tracesHold(t, level)
		return h != nil && h.Most > 0
	})
	h := tracesHold(t, at.In(quantity.Celsius))
	apart := h != nil && !h.Reached && tracesDisagree(r.Examination, t, h.Level)
	switch {
	case others:
		r.Unclear(subject, "the load has several data-logger files, and the hold of another one is not short")
	case never && t.Load == nil:
		r.Unclear(subject, "no load was found for the data-logger file, and no set temperature was reached in it: a leak test or a cycle broken off looks like that")
	case never && t.By == "start":
		r.Unclear(subject, "the data-logger file was found by its start alone, and no set temperature was reached in it: it may be that of a leak test or of a cycle broken off", audit.Field{Kind: "loads", Name: "trace"})
		f.Grade, f.Matter, f.By = audit.Observation, "never hot", nil
		f.Needed += "; it began within ten minutes of a load, and may be the file of another cycle"
		f.Steps = slices.Concat([]string{"Look whether the file is the load's: if another one is, write its name into the load's row (trace) and audit again."}, tracesHoldFix)
		r.Remark(subject, f)
	case apart:
		r.Unclear(subject, "one sensor of the file was as hot as the set temperature while another was far cooler, and which of them is the chamber's is not known")
		f.Grade, f.Matter, f.By = audit.Observation, "sensors disagree", nil
		f.Needed += fmt.Sprintf("; another sensor shows up to %.1f °C", t.Cycle.Warmest)
		f.Steps = tracesHoldSensors
		r.Remark(subject, f)
	default:
		r.beyond = append(r.beyond, -f.Weight)
		tracesNotMet(r.Examination, subject, t, f)
	}
}

// holds reports whether a file's hold may be long enough.
func (a *tracesHoldAnswer) holds() bool {
	if a.program != audit.Silent {
		return a.program != audit.Fail
	}
	return a.ruling.Verdict != audit.Fail || a.ruling.Depends
}
