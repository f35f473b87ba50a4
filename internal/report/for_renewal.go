package report

import (
	"strings"

	"footing/internal/result"
)

const (
	mostRunsOut = 8  // things that run out, in one line
	mostInOrder = 8  // steps in one line
	soonDays    = 21 // within so many days it is for this week
)

// forRenewal are the first lines some weeks before the renewal. They never say what to
// sign.
func (ix *index) forRenewal() []firstLine {
	on := ix.Purpose.On
	lines := []firstLine{{lead: "Renewal is on " + day(on) + ", " + orElse(away(ix.AsOf, on), "a day that cannot be read") + ".",
		text: "This does not tell you what to sign. Ask " + ix.regulator() + " where in doubt."}}
	lines = append(lines, ix.said()...)
	lines = append(lines, ix.runsOutLine())
	for i := range ix.Declarations {
		d := &ix.Declarations[i]
		lines = append(lines, firstLine{lead: "“" + plain(d.Text) + "”:", text: stop(orElse(d.State, "nothing is said of it")), see: "[what you are asked to declare](#declared)"})
	}
	if len(ix.Declarations) == 0 {
		lines = append(lines, firstLine{text: "No declaration is typed. Copy the words of the renewal form into practice.yaml, under declarations, with the kinds of record that each rests on; then each is set beside what is typed."})
	}
	if s := ix.inOrder(); s != "" {
		lines = append(lines, firstLine{lead: "Do in this order:", text: s})
	}
	lines = append(lines, ix.untypedLine()...)
	for _, l := range ix.fromTodayLines() {
		lines = append(lines, firstLine{text: l})
	}
	return append(lines, firstLine{lead: "From today on, and never backwards:", text: "what was not written then is not filled in now. What you find on paper goes in with the day on the paper, and with today's date under entered_on."})
}

// runsOutLine is what runs out before the renewal, each with what to do first.
func (ix *index) runsOutLine() firstLine {
	var parts []string
	for _, d := range ix.dueBefore() {
		when := day(d.On)
		if d.On < ix.AsOf {
			when = "was due " + when
		}
		parts = append(parts, plain(d.What)+" "+when+" ("+ix.doFirst(d)+")")
	}
	if len(parts) == 0 {
		return firstLine{text: "Nothing that is typed runs out before then."}
	}
	if more := len(parts) - mostRunsOut; more > 0 {
		parts = append(parts[:mostRunsOut:mostRunsOut], several(more, "other", "others"))
	}
	return firstLine{lead: "Runs out before then:", text: stop(strings.Join(parts, "; ")), see: "[what runs out](#due)"}
}

// dueBefore is what runs out before the renewal, but the renewal itself; packs are one,
// by the first of them.
func (ix *index) dueBefore() (list []result.Due) {
	packs := 0
	for _, d := range ix.Due {
		switch {
		case d.Kind == "practice" || !ix.soon(d):
		case d.Kind == "packs":
			if packs++; packs == 1 {
				list = append(list, d)
			}
		default:
			list = append(list, d)
		}
	}
	for i := range list {
		if list[i].Kind == "packs" && packs > 1 {
			list[i].What = several(packs, "pack", "packs") + ", the first"
		}
	}
	return list
}

// doFirst is the first thing to do about something that runs out.
func (ix *index) doFirst(d result.Due) string {
	what := strings.ReplaceAll(strings.ToLower(plain(d.What)), "-", " ")
	do := map[string]string{"upkeep": "book the technician", "policies": "read it against what is done, then sign the new version", "packs": "use first, or process again",
		"stock": "order before that day", "tests": "order a new lot", "products": "order before that day", "credentials": "renew it"}[d.Kind]
	if d.Kind == "credentials" {
		for _, of := range []struct{ begins, do string }{{"liability cover", "ask the insurer for the new certificate"}, {"registration", "it is part of the renewal"}, {"respirator fit", "book the fit test"},
			{"first aid", "book the course"}, {"infection control", "book the course"}, {"reprocessing", "book the course"}, {"hazardous products", "book the course"}, {"education", "look up the hours asked for"}} {
			if strings.HasPrefix(what, of.begins) {
				do = of.do
			}
		}
	}
	if do == "" {
		do = "see to it"
	}
	if n, ok := days(ix.AsOf, d.On); ok && n <= soonDays && !strings.HasPrefix(do, "it is") {
		do += " this week"
	}
	return do
}

// inOrder is what to do for the renewal, what is late or runs out first before what a
// declaration lacks.
func (ix *index) inOrder() string {
	var steps []string
	add := func(s string) {
		if len(steps) < mostInOrder {
			steps = append(steps, s)
		}
	}
	if all := ix.actions(); len(all) > 0 && all[0].stop {
		add("what says stop, above all else")
	}
	for _, d := range ix.dueBefore() {
		add(strings.TrimSuffix(ix.doFirst(d), " this week") + ": " + plain(d.What))
	}
	for i := range ix.Declarations {
		for _, s := range ix.Declarations[i].Support {
			switch {
			case s.Rows == 0:
				add("look for the papers of " + kindName(s.Kind))
			case len(s.Without) > 0:
				add("look for " + kindName(s.Kind) + " of " + fewOf(monthNames(s.Without), 3, " months") + ", and do not write them anew")
			}
		}
	}
	return stop(strings.Join(unique(steps), " · "))
}

// monthNames writes 2026-06 as June 2026.
func monthNames(months []string) []string {
	out := make([]string, len(months))
	for i, m := range months {
		out[i] = m
		if d := day(m + "-01"); strings.HasPrefix(d, "1 ") {
			out[i] = strings.TrimPrefix(d, "1 ")
		}
	}
	return out
}
