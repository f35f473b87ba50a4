package report

import (
	"slices"
	"strings"

	"footing/internal/result"
)

// mostActions is how many actions stand on the first page.
const mostActions = 10

// action is one thing to do: what, why, and the findings behind it.
type action struct {
	do       string
	why      string
	grade    string
	stop     bool // it says stop, whatever its grade
	findings []int
}

// actions lists what to do, the most urgent first: the first step of each finding
// that says stop, the latest first, and of each critical and major one; then what runs
// out before the day that the audit looks forward to; then minor findings and
// observations. Findings of one check with the same first step are one action.
func (ix *index) actions() []action {
	var out []action
	stops := ix.stops()
	add := func(order []int, from, to int, stop bool) {
		for _, i := range order {
			f := &ix.Findings[i]
			if rank := result.GradeRank(f.Grade); rank < from || rank > to || len(f.Steps) == 0 {
				continue
			}
			if slices.ContainsFunc(out, func(a action) bool { return slices.Contains(a.findings, i) }) {
				continue
			}
			if f.Accepted && f.Grade != result.Critical && !stop { // what says stop stays on the list
				continue
			}
			if f.Check == "people/due" && len(ix.Due) > 0 {
				continue
			}
			same := slices.IndexFunc(out, func(a action) bool {
				return len(a.findings) > 0 && a.do == f.Steps[0] && a.grade == f.Grade && a.stop == stop && ix.Findings[a.findings[0]].Check == f.Check
			})
			if same >= 0 {
				out[same].findings = append(out[same].findings, i)
				continue
			}
			out = append(out, action{do: f.Steps[0], grade: f.Grade, stop: stop, findings: []int{i}})
		}
	}
	add(stops, 0, 4, true)
	add(ix.order, 3, 4, false)
	if a, ok := ix.runsOut(); ok {
		out = append(out, a)
	}
	add(ix.order, 2, 2, false)
	add(ix.order, 0, 1, false)
	if missing := missingKinds(ix.Result); ix.Purpose.Kind == "inspection" && len(missing) > 0 {
		out = append(out, action{do: "Look out the papers for what was not typed: " + join(missing),
			why: "an inspection may ask for them; take them as they are"})
	}
	for i := range out {
		if n := len(out[i].findings); n > 0 {
			f := &ix.Findings[out[i].findings[0]]
			out[i].why = ix.about(f) + ix.others(out[i].findings) + ": " + ix.inBrief(f)
		}
	}
	return out
}

// inBrief is what was found, without what each rule set says of it where they differ:
// that stands in the finding.
func (ix *index) inBrief(f *result.Finding) string {
	s := plain(f.Summary)
	if brief, _, ok := strings.Cut(s, "; as typed, against "); ok && ix.undecided(f) {
		return brief + "; your rule decides whether it is one"
	}
	return s
}

// undecided says whether no rule set is chosen, and one calls a finding met and another not.
func (ix *index) undecided(f *result.Finding) bool {
	says := func(word string) bool {
		return slices.ContainsFunc(f.Verdicts, func(v result.SetVerdict) bool { return v.Verdict == word })
	}
	return ix.RuleSet == "" && says("met") && says("not met")
}

// ungraded says whether an action stands without its grade: what says stop and is not
// critical, as a failed spore test, which is nobody's fault, is no mere observation.
func (a *action) ungraded() bool { return a.stop && a.grade != result.Critical }

// graded is the grade of an action with its mark, or that it says stop.
func (a *action) graded() md {
	if a.ungraded() {
		return "says stop"
	}
	return say("%s %s", mark(a.grade), a.grade)
}

// stops are the findings that say stop, the latest first: a spore test that failed
// yesterday waits less than a short hold of last summer.
func (ix *index) stops() []int {
	var list []int
	for _, i := range ix.order {
		if slices.Contains(ix.Conclusion.Stops, ix.Findings[i].Fingerprint) {
			list = append(list, i)
		}
	}
	slices.SortStableFunc(list, func(a, b int) int { return strings.Compare(ix.Findings[b].Extent.Last, ix.Findings[a].Extent.Last) })
	return list
}

// others counts the findings that ask for the same as the first of a list. That which
// was found in them may be something else.
func (ix *index) others(findings []int) string {
	n := len(findings) - 1
	if n == 0 {
		return ""
	}
	first := plain(ix.Findings[findings[0]].Summary)
	if slices.ContainsFunc(findings, func(i int) bool { return plain(ix.Findings[i].Summary) != first }) {
		return " (" + several(n, "more finding asks", "more findings ask") + " for the same)"
	}
	return " and " + several(n, "other", "others")
}

// runsOut is one action for all that runs out before the horizon.
func (ix *index) runsOut() (action, bool) {
	var parts []string
	rest := 0
	for _, d := range ix.Due {
		if !ix.soon(d) || d.Kind == "practice" {
			continue // the renewal itself runs out too
		}
		if len(parts) == 4 {
			rest++
			continue
		}
		if d.On < ix.AsOf {
			parts = append(parts, plain(d.What)+", was due on "+day(d.On))
			continue
		}
		parts = append(parts, plain(d.What)+", "+day(d.On)+" ("+orElse(away(ix.AsOf, d.On), "no day")+")")
	}
	if len(parts) == 0 {
		return action{}, false
	}
	if rest > 0 {
		parts = append(parts, several(rest, "other", "others"))
	}
	return action{do: "Renew or book what has run out, or runs out " + ix.before(), why: strings.Join(parts, "; ")}, true
}

// soon says whether something runs out by the day that the audit looks forward
// to; without such a day, all that the result lists counts.
func (ix *index) soon(d result.Due) bool {
	return ix.Purpose.On == "" || d.On <= ix.Purpose.On
}

// before names the horizon in a sentence.
func (ix *index) before() string {
	if ix.Purpose.On == "" || ix.Purpose.Kind == "self-audit" {
		return "next"
	}
	return "before the " + plain(ix.Purpose.Kind)
}

// firstTitle heads the list of actions.
func firstTitle(r *result.Result) md {
	n, ok := days(r.AsOf, r.Purpose.On)
	switch {
	case !ok || n < 0:
		return titleToday
	case r.Purpose.Kind == "inspection" && n <= 1:
		return titleBeforeOpening
	case r.Conclusion.Stop: // no heading may put it off for weeks
		return titleToday
	case r.Purpose.Kind == "inspection":
		return titleBeforeInspection
	case r.Purpose.Kind == "renewal":
		return titleBeforeRenewal
	}
	return titleToday
}

// mostFirst is how many actions stand before all else.
const mostFirst = 3

// toDo prints the first actions.
func (p *page) toDo() {
	p.heading(2, firstTitle(p.Result))
	all := p.actions()
	if len(all) == 0 {
		p.para("Nothing that was read asks for an action. What could not be seen stands under [Not judged](#unseen).")
		return
	}
	p.doing(all[:min(len(all), mostFirst)], 1)
	if more := min(len(all), mostActions) - mostFirst; more > 0 {
		p.para(say("Then [%s](#after).", several(more, "more thing to do", "more things to do")))
	}
}

// afterThese prints the actions after the first, at most ten in all.
func (p *page) afterThese() {
	all := p.actions()
	if len(all) <= mostFirst {
		return
	}
	p.heading(2, titleAfter)
	p.doing(all[mostFirst:min(len(all), mostActions)], mostFirst+1)
	if more := len(all) - mostActions; more > 0 {
		p.para(say("%s under [Findings](#findings).", several(more, "more stands", "more stand")))
	}
}

// doing prints actions as a list that counts from a number: what to do, and below it
// why.
func (p *page) doing(actions []action, from int) {
	for n, a := range actions {
		item := say("**%s**", stop(upper(orElse(a.do, "look at the finding"))))
		if a.why != "" {
			item = say("%s %s", item, stop(upper(a.why)))
		}
		if refs := p.refs(a.findings); refs != "" {
			item = say("%s (%s: %s)", item, a.graded(), refs)
		}
		p.b.WriteString(string(say("%s. %s\n", from+n, item)))
	}
	p.b.WriteString("\n")
}

// refs links to findings: at most five, then a count.
func (p *page) refs(findings []int) md {
	var out []string
	for n, i := range findings {
		if n == 5 {
			out = append(out, several(len(findings)-5, "more", "more"))
			break
		}
		out = append(out, string(p.link(i)))
	}
	return md(strings.Join(out, ", "))
}
