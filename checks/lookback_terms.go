package checks

import (
	"slices"
	"strings"

	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/quantity"
)

// isGood says whether a load shows by itself that it worked. Nothing of it stands
// in for a spore test: it counts under the lenient rule alone.
func (r *lookbackRun) isGood(l *practice.Load) quantity.Tri {
	if known, ok := r.good[l]; ok {
		return known
	}
	v := r.judged(l)
	r.good[l] = v
	return v
}

func (r *lookbackRun) judged(l *practice.Load) quantity.Tri {
	indicators := []string{l.OutsideIndicator, l.InsideIndicator}
	switch {
	case l.Decision == "rejected", slices.Contains(indicators, "fail"), l.PacksDry == quantity.IsNo:
		return quantity.No
	case !slices.Contains(indicators, "pass"):
		return quantity.Unsure
	}
	return r.heldOf(l)
}

// heldOf says whether the data-logger files of a load show that it was held, as
// traces/hold has it: Unsure without a file that can be judged, or where several differ.
func (r *lookbackRun) heldOf(l *practice.Load) quantity.Tri {
	seen := map[quantity.Tri]int{}
	for _, t := range r.P.TracesOf(l) {
		seen[r.held(t)]++
	}
	switch {
	case seen[quantity.Yes] > 0 && seen[quantity.No] == 0:
		return quantity.Yes
	case seen[quantity.No] > 0 && seen[quantity.Yes]+seen[quantity.Unsure] == 0:
		return quantity.No
	}
	return quantity.Unsure
}

// held says whether traces/hold calls the hold of a file long enough.
func (r *lookbackRun) held(t *practice.Traced) quantity.Tri {
	if t.Unread != "" || t.Unusable != "" || t.Sterilizer == nil || !slices.Contains(tracesMethods, t.Sterilizer.Method) {
		return quantity.Unsure
	}
	a := (&tracesHoldRun{Examination: r.Examination}).question(t)
	short := a.ruling.Verdict == audit.Fail && !a.ruling.Depends
	switch {
	case a.program == audit.Fail:
		return quantity.No
	case a.program == audit.CannotTell, a.ruling.Depends:
		return quantity.Unsure
	case a.program == audit.Meets && !a.chosen && !short:
		return quantity.Yes
	case a.mixed:
		return quantity.Unsure
	case short && (a.inside != nil && !a.firm || a.may && !a.chosen):
		return quantity.Unsure
	case short:
		return quantity.No
	case a.ruling.Verdict == audit.Meets:
		return quantity.Yes
	}
	return quantity.Unsure
}

// shows says in words what a load's indicators and data-logger file show.
func (r *lookbackRun) shows(l *practice.Load) string {
	word := func(name, value string) string {
		switch value {
		case "":
			return name + " not written"
		case "none":
			return name + ": none used"
		}
		return name + ": " + value
	}
	return strings.Join([]string{word("outside indicator", l.OutsideIndicator), word("inside indicator", l.InsideIndicator), r.fileWords(l)}, "; ")
}

func (r *lookbackRun) fileWords(l *practice.Load) string {
	switch {
	case len(r.P.TracesOf(l)) == 0:
		return "no data-logger file"
	case r.heldOf(l) == quantity.Yes:
		return "data-logger file: held"
	case r.heldOf(l) == quantity.No:
		return "data-logger file: not held long enough, see traces/hold"
	}
	return "data-logger file: cannot be told, see traces/hold"
}
