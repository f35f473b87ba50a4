package audit

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"footing/internal/practice"
	"footing/internal/record"
	"footing/internal/result"
	"footing/internal/steam"
)

// mark is what a chart of a data-logger file draws besides its readings.
type mark struct{ set, band float64 }

// charts adds the charts of the files that findings rest on, worst first, and of
// the best and the least good of those that conform and of which nothing is found.
func (s *tracing) charts(r *result.Result, p *practice.Practice, exams []*examined) {
	var all []drawn
	var conforming []ranked
	marks := map[*practice.Traced]mark{}
	for _, e := range exams {
		all = append(all, e.drawn...)
		conforming = append(conforming, e.ranked...)
		for t, m := range e.marks {
			marks[t] = m
		}
	}
	order, of := worstFirst(all)
	conforming = slices.DeleteFunc(conforming, func(c ranked) bool { return of[c.trace] != nil })
	most, least := ends(conforming)
	room := mostDrawn
	for _, c := range []ranked{most, least} {
		if c.trace != nil {
			room--
		}
	}
	w := s.worker()
	defer w.Close()
	files := map[string]record.Trace{}
	for _, f := range s.p.Intake.Traces {
		files[f.Name] = f
	}
	draw := func(t *practice.Traced, conforming, check string) {
		again := w.file(files[t.File], 1000)
		if again.SHA256 != t.SHA256 || len(again.Points) == 0 {
			return
		}
		m, ok := marks[t]
		if !ok {
			m.band = math.NaN()
		}
		x := ShowTrace(again.Trace, plateau(t, m, ok), m.band)
		x.ID = fmt.Sprintf("trace-%d", len(r.Exhibits)+1)
		x.Chart.File, x.Chart.Start, x.Chart.Conforming = t.File, t.Start.String(), conforming
		if t.Load != nil {
			x.Chart.Load = practice.Key(&t.Load.Row)
		}
		if t.Sterilizer != nil {
			x.Chart.Sterilizer = practice.Key(&t.Sterilizer.Row)
		}
		x.Chart.Findings = []string{}
		for _, d := range of[t] {
			x.Chart.Findings = append(x.Chart.Findings, d.fingerprint)
		}
		x.Check = check
		r.Exhibits = append(r.Exhibits, x)
	}
	before := len(r.Exhibits)
	for _, t := range order {
		if t.Trace.Readings > 0 && len(r.Exhibits)-before < room {
			draw(t, "", of[t][0].check)
		}
	}
	r.Undrawn = len(order) - (len(r.Exhibits) - before)
	if least.trace != nil {
		draw(least.trace, "least", least.check)
	}
	if most.trace != nil {
		draw(most.trace, "most", most.check)
	}
	if len(order) == 0 && most.trace == nil {
		for _, t := range first(p.Traces()) {
			draw(t, "", "")
		}
	}
}

// mostUnjudged is how many charts there are where no check could judge any file.
const mostUnjudged = 2

// first are the first files that show anything: where no check could judge one,
// what they show is all that can be said.
func first(all []*practice.Traced) (list []*practice.Traced) {
	for _, t := range all {
		if t.Unread == "" && t.Unusable == "" && len(list) < mostUnjudged {
			list = append(list, t)
		}
	}
	return list
}

// ends are the best and the least good of those that conform; with one alone
// there is only a best.
func ends(list []ranked) (most, least ranked) {
	for _, c := range list {
		if most.trace == nil || c.margin > most.margin {
			most = c
		}
		if least.trace == nil || c.margin < least.margin {
			least = c
		}
	}
	if most.trace == least.trace {
		return most, ranked{}
	}
	return most, least
}

// plateau is the hold at the set temperature that a check marked, else the one at
// the hottest level that was held for as much as a minute.
func plateau(t *practice.Traced, m mark, marked bool) *steam.Hold {
	var best *steam.Hold
	for i := range t.Cycle.Holds {
		h := &t.Cycle.Holds[i]
		if marked && h.Level == m.set {
			return h
		}
		if !marked && h.Reached && h.Seconds() >= 60 {
			best = h
		}
	}
	return best
}

// Mark says at which set temperature and band, both in °C, a chart of the file
// marks its plateau; band is NaN where there is none.
func (x *Examination) Mark(t *practice.Traced, set, band float64) {
	if x.marks == nil {
		x.marks = map[*practice.Traced]mark{}
	}
	if band <= set {
		band = math.NaN()
	}
	x.marks[t] = mark{set, band}
}

// listTraces accounts for every data-logger file.
func listTraces(r *result.Result, p *practice.Practice, later []*practice.Traced) {
	add := func(t *practice.Traced, after bool) {
		out := result.Trace{File: t.File, SHA256: t.SHA256, Bytes: t.Bytes, Lines: t.Lines, Heading: t.Heading, Readings: t.Trace.Readings, Aside: t.Aside,
			Layout: t.Layout, Start: t.Start.String(), By: t.By, Why: t.Why, Judged: t.Unread == "" && t.Unusable == "" && !after}
		if t.Load != nil {
			out.Load = practice.Key(&t.Load.Row)
		}
		if t.Sterilizer != nil {
			out.Sterilizer = practice.Key(&t.Sterilizer.Row)
		}
		if t.Program != nil {
			out.Program = practice.Key(&t.Program.Row)
		}
		switch {
		case t.Unread != "":
			out.Why = t.Unread
		case t.Unusable != "":
			out.Why = t.Unusable
		case after:
			out.Why = "it lies after the day of the audit"
		}
		r.Traces = append(r.Traces, out)
	}
	for _, t := range p.Traces() {
		add(t, false)
	}
	for _, t := range later {
		add(t, true)
	}
	slices.SortFunc(r.Traces, func(a, b result.Trace) int { return strings.Compare(a.File, b.File) })
}
