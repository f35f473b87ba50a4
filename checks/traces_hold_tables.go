package checks

import (
	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/quantity"
)

// ask puts the file to the tables that could hold, once for each set of
// circumstances that may have held, and joins the answers.
func (a *tracesHoldAnswer) ask(r *tracesHoldRun) {
	id := tracesTable(a.t)
	var rulings []audit.Ruling
	for _, when := range a.circumstances(r) {
		rulings = append(rulings, r.Ask(id, when, func(c audit.Criterion) audit.Verdict { return tracesHoldTable(a.t, c) }))
	}
	a.ruling, a.mixed = a.join(rulings)
	for _, q := range rulings {
		a.chosen = a.chosen || cyclesChosen(r.Examination, q.Criterion)
		a.firm = a.firm || q.Criterion.Set == audit.Yours || tracesSteam(a.t) != quantity.No && cyclesChosen(r.Examination, q.Criterion)
	}
}

// circumstances lists those that may have held, and notes what would tell.
func (a *tracesHoldAnswer) circumstances(r *tracesHoldRun) (all []audit.When) {
	l, s := a.t.Load, a.t.Sterilizer
	if l == nil {
		l = &practice.Load{}
	} else {
		a.items = cyclesItems(r.P, l)
	}
	dry := tracesSteam(a.t) == quantity.No
	a.air = cyclesAir(s, a.t.Program)
	if dry {
		a.air = tracesHoldAir(s)
	}
	for _, wrapped := range cyclesExposureWrapped(l) {
		for _, air := range a.air {
			if dry {
				all = append(all, audit.When{"wrapped": wrapped, "air": air})
				continue
			}
			for _, kind := range cyclesExposureKinds(a.items) {
				all = append(all, audit.When{"wrapped": wrapped, "air_removal": air, "items": kind})
			}
		}
	}
	switch {
	case !dry:
		a.missing = cyclesExposureBlank(l, a.air, a.items)
	default:
		if l.Wrapped == quantity.NotWritten {
			a.missing = append(a.missing, audit.Field{Kind: "loads", Name: "wrapped"})
		}
		if len(a.air) > 1 {
			a.missing = append(a.missing, audit.Field{Kind: "sterilizers", Name: "air"})
		}
	}
	return all
}

// tracesHoldAir lists the ways in which the air of a dry-heat sterilizer may move.
func tracesHoldAir(s *practice.Sterilizer) []string {
	if s.Air != "" {
		return []string{s.Air}
	}
	return []string{"static", "forced"}
}

// tracesHoldTable holds a file against one table: met if any row is, not met only
// if none can be.
func tracesHoldTable(t *practice.Traced, c audit.Criterion) audit.Verdict {
	verdict := audit.Fail
	for _, row := range c.Steps() {
		switch tracesHoldAgainst(t, row[0], row[1]) {
		case audit.Meets:
			return audit.Meets
		case audit.CannotTell:
			verdict = audit.CannotTell
		}
	}
	return verdict
}

// tracesHoldRow is the row of a table that the hold comes nearest to, and what
// share of its time it lasted at most.
func tracesHoldRow(t *practice.Traced, c audit.Criterion) (at, needed quantity.Quantity, share float64) {
	share = -1
	for _, row := range c.Steps() {
		h := tracesHold(t, row[0].In(quantity.Celsius))
		if h == nil {
			continue
		}
		if s := h.Most / cyclesSeconds(row[1]); s > share {
			at, needed, share = row[0], row[1], s
		}
	}
	return at, needed, share
}

// join makes one ruling of several: met or not met only if it is so whatever held.
func (a *tracesHoldAnswer) join(rulings []audit.Ruling) (r audit.Ruling, mixed bool) {
	seen := map[audit.Verdict]int{}
	var gentlest, split audit.Ruling
	depends := 0
	for _, q := range rulings {
		switch {
		case q.Depends:
			split = q
			depends++
		case q.Verdict == audit.Fail:
			q.Criterion = a.mildest(q)
			if seen[audit.Fail] == 0 || a.nearer(q.Criterion, gentlest.Criterion) {
				gentlest = q
			}
			seen[audit.Fail]++
		default:
			seen[q.Verdict]++
		}
	}
	switch n := len(rulings); n {
	case seen[audit.Fail]:
		return gentlest, false
	case seen[audit.Meets], seen[audit.Silent], seen[audit.CannotTell]:
		return rulings[0], false
	case seen[audit.Fail] + depends:
		return split, false
	}
	return audit.Ruling{Verdict: audit.CannotTell}, true
}

// mildest is, where several rule sets are all not met, the one that the hold comes
// nearest to, so that the sentence holds under each.
func (a *tracesHoldAnswer) mildest(r audit.Ruling) audit.Criterion {
	best := r.Criterion
	for _, v := range r.By {
		if v.Verdict == audit.Fail && a.nearer(v.Criterion, best) {
			best = v.Criterion
		}
	}
	return best
}

func (a *tracesHoldAnswer) nearer(c, than audit.Criterion) bool {
	_, _, near := tracesHoldRow(a.t, c)
	_, _, far := tracesHoldRow(a.t, than)
	return near > far
}

// fault is that of a hold which the tables find short, told at the row that it
// comes nearest to; where rule sets differ, at the temperature it was set to.
func (a *tracesHoldAnswer) fault(r *tracesHoldRun, t *practice.Traced) audit.Fault {
	c := a.ruling.Criterion
	if a.ruling.Verdict != audit.Fail {
		return audit.Fault{}
	}
	at, needed, _ := tracesHoldRow(t, c)
	f := tracesHoldFault(t, at, needed, a.logged(t.Load, needed))
	if h, _ := tracesSet(r.Examination, t); a.ruling.Depends && h != nil {
		level := tracesLevel(r.P, t, h.Level)
		f.Found, f.Weight = tracesHeld(t, h, level), 0
		f.Evidence[0] = audit.InTrace(t, 0, tracesBetween(h.Least, h.Most)+" at "+level)
	}
	return f
}

// logged is what the gentlest of the tables asks of the hold that the log has, at
// the temperature that it has; else what is needed of the file.
func (a *tracesHoldAnswer) logged(l *practice.Load, needed quantity.Quantity) quantity.Quantity {
	if l == nil || !l.Temperature.Written() {
		return needed
	}
	for _, v := range a.ruling.By {
		if _, n, ok := v.Criterion.At(l.Temperature); ok && cyclesSeconds(n) < cyclesSeconds(needed) {
			needed = n
		}
	}
	return needed
}

// need is the second half of a finding's sentence.
func (a *tracesHoldAnswer) need(c audit.Criterion) string {
	at, needed, _ := tracesHoldRow(a.t, c)
	return needed.String() + " at " + at.String() + " is needed"
}
