package checks

import (
	"strings"

	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/quantity"
)

// cyclesExposureKnown keeps what was answered: most loads of a log read alike.
type cyclesExposureKnown map[cyclesExposureKey]*cyclesExposureTrial

type cyclesExposureKey struct {
	temperature, exposure, tolerance quantity.Quantity
	wrapped                          quantity.YesNo
	air, items                       string
}

func (k cyclesExposureKnown) trial(x *audit.Examination, l *practice.Load, s *practice.Sterilizer, air []string, items string) *cyclesExposureTrial {
	key := cyclesExposureKey{l.Temperature, l.Exposure, s.SensorTolerance, l.Wrapped, strings.Join(air, " "), items}
	if t := k[key]; t != nil {
		return t
	}
	t := &cyclesExposureTrial{x: x, l: l, s: s}
	for _, wrapped := range cyclesExposureWrapped(l) {
		for _, way := range air {
			for _, kind := range cyclesExposureKinds(items) {
				t.ask(audit.When{"wrapped": wrapped, "air_removal": way, "items": kind})
			}
		}
	}
	t.ruling = t.result()
	k[key] = t
	return t
}

// cyclesExposureTrial puts one load to the tables, once for each set of
// circumstances, and joins the answers.
type cyclesExposureTrial struct {
	x       *audit.Examination
	l       *practice.Load
	s       *practice.Sterilizer
	rulings []audit.Ruling
	ruling  audit.Ruling // the answer to all of them
	coldest quantity.Quantity
	mixed   bool
}

func (t *cyclesExposureTrial) ask(when audit.When) {
	t.rulings = append(t.rulings, t.x.Ask("cycles.exposure", when, t.judge))
}

// judge looks the table up. A row whose temperature may or may not have been
// reached counts both ways.
func (t *cyclesExposureTrial) judge(c audit.Criterion) audit.Verdict {
	first := c.Steps()[0][0]
	if !t.coldest.Written() || first.In(quantity.Celsius) < t.coldest.In(quantity.Celsius) {
		t.coldest = first
	}
	sure, perhaps := t.rows(c)
	if !sure.Written() {
		if len(perhaps) == 0 {
			return audit.Silent
		}
		return audit.CannotTell
	}
	verdict := t.enough(sure)
	for _, row := range perhaps {
		if t.enough(row) != verdict {
			return audit.CannotTell
		}
	}
	return verdict
}

// rows finds the time of the hottest row that was surely reached, and those of
// hotter rows that may have been: with no tolerance written, a reading that rounds
// to one (133.8 °C to 134 °C) may.
func (t *cyclesExposureTrial) rows(c audit.Criterion) (sure quantity.Quantity, perhaps []quantity.Quantity) {
	for _, row := range c.Steps() {
		rounded := row[0]
		rounded.Value -= rounded.Half
		switch reached := t.l.Temperature.AtLeast(row[0], t.s.SensorTolerance); {
		case reached == quantity.Yes:
			sure = row[1]
		case reached == quantity.Unsure, !t.s.SensorTolerance.Written() && t.l.Temperature.AtLeast(rounded, quantity.Quantity{}) == quantity.Yes:
			perhaps = append(perhaps, row[1])
		}
	}
	return sure, perhaps
}

func (t *cyclesExposureTrial) enough(needed quantity.Quantity) audit.Verdict {
	switch t.l.Exposure.AtLeast(needed, quantity.Quantity{}) {
	case quantity.Yes:
		return audit.Meets
	case quantity.No:
		return audit.Fail
	}
	return audit.CannotTell
}

// result joins the rulings: met or not met only if it is so whatever held.
func (t *cyclesExposureTrial) result() audit.Ruling {
	var meets, fails, depends, silent int
	var gentlest, split audit.Ruling
	for _, r := range t.rulings {
		switch {
		case r.Depends:
			depends++
			if !split.Depends {
				split = r
			}
		case r.Verdict == audit.Fail:
			fails++
			if fails == 1 || t.lack(r.Criterion, r.Verdict) < t.lack(gentlest.Criterion, gentlest.Verdict) {
				gentlest = r
			}
		case r.Verdict == audit.Meets:
			meets++
		case r.Verdict == audit.Silent:
			silent++
		}
	}
	gentlest = t.mildest(gentlest)
	switch n := len(t.rulings); {
	case fails == n:
		return gentlest
	case meets == n || silent == n || n == 1:
		return t.rulings[0]
	case fails+depends == n:
		return split
	case meets+fails+depends+silent == 0:
		return audit.Ruling{Verdict: audit.CannotTell}
	}
	t.mixed = true
	return audit.Ruling{Verdict: audit.CannotTell}
}

// cyclesExposureWords are what a trial of steam and one of dry heat say differently.
type cyclesExposureWords struct {
	blank  []audit.Field // what would settle which circumstances held
	cool   string        // why a load has no time to compare with
	excuse bool          // a cycle inside its maker's program is no fault under the rule
	steps  []string      // what to do about such a cycle
}

// settle says what the answer amounts to for a load, of which there are more like the
// trial's own, given how it stands against its program.
func (t *cyclesExposureTrial) settle(subject audit.Subject, l *practice.Load, a cyclesAgainst, own cyclesExposureWords) {
	x, r := t.x, t.ruling
	f := audit.Fault{Grade: audit.Critical, Matter: "short", Found: cyclesHeld(l), Day: l.Started.Day(), Weight: t.lack(r.Criterion, r.Verdict),
		Evidence: []audit.Evidence{audit.At(&l.Row, "temperature"), audit.At(&l.Row, "exposure")}}
	short := r.Verdict == audit.Fail && !r.Depends
	switch {
	case t.mixed:
		x.Unclear(subject, "enough under some circumstances and not under others, and which held is not written", own.blank...)
	case r.Verdict == audit.Silent:
		x.Unclear(subject, own.cool)
	case short && l.Decision == "":
		f.Needed = t.need(r.Criterion)
		cyclesUndecided(x, subject, f)
	case short && a.inside != nil && own.excuse:
		f.Grade, f.Matter = audit.Observation, "inside the program"
		f.Found += ", as its maker's program sets it"
		f.Evidence = append(f.Evidence, audit.At(&a.inside.Row, "exposure", "the maker's program"))
		f.Steps = own.steps
		x.Settle(subject, r, f, t.need, "")
	case short && a.may && !cyclesChosen(x, r.Criterion):
		x.Unclear(subject, "short by every shipped rule, but perhaps inside its maker's program, and no rule was chosen", audit.Field{Kind: "practice", Name: "rule_set"})
	default:
		x.Settle(subject, r, f, t.need, "what is written is too near to what is needed, given the digits written and the sensor's tolerance")
	}
}

// mildest cites, where several rule sets are all not met, the one that asks for
// least, so that the sentence holds under each.
func (t *cyclesExposureTrial) mildest(r audit.Ruling) audit.Ruling {
	for _, v := range r.By {
		if v.Verdict == audit.Fail && t.lack(v.Criterion, v.Verdict) < t.lack(r.Criterion, r.Verdict) {
			r.Criterion = v.Criterion
		}
	}
	return r
}

// need is the second half of a finding's sentence.
func (t *cyclesExposureTrial) need(c audit.Criterion) string {
	at, needed, _ := c.At(t.l.Temperature)
	if !needed.Written() {
		return "nothing is said of so cool a cycle"
	}
	return needed.String() + " is needed from " + at.String() + " up"
}

// lack is by how many seconds the hold falls short; 0 where it does not.
func (t *cyclesExposureTrial) lack(c audit.Criterion, v audit.Verdict) float64 {
	if v != audit.Fail {
		return 0
	}
	_, needed, ok := c.At(t.l.Temperature)
	if !ok {
		return 0
	}
	return cyclesSeconds(needed) - cyclesSeconds(t.l.Exposure)
}
