package report

import (
	"slices"
	"strconv"
	"strings"

	"footing/internal/result"
)

const (
	mostFind    = 3 // lines of what to look for
	mostExplain = 3 // lines of what to be ready to explain
	mostRules   = 2 // findings that hang on which rule holds
	mostLacks   = 8 // things lacking in one line
)

// forInspection are the first lines of the evening before an inspection.
func (ix *index) forInspection() []firstLine {
	lines := append(ix.said(), firstLine{text: "The rules of " + ix.regulator() + ", public health and the makers' instructions come first. Nothing here says what an inspector will find."})
	if all := ix.actions(); len(all) > 0 {
		a := all[0]
		lines = append(lines, firstLine{lead: string(firstTitle(ix.Result)) + ":", text: stop(upper(a.do)) + " " + stop(upper(a.why)), see: "[what to do first](#first)"})
	}
	lines = append(lines, ix.find()...)
	lines = append(lines, ix.whichRule()...)
	lines = append(lines, ix.explain()...)
	_, others := reaches(ix.Result)
	for _, l := range others {
		lines = append(lines, firstLine{text: l, see: "[how far back](#failed)"})
	}
	if s := ix.mayAsk(); s != "" {
		lines = append(lines, firstLine{lead: "You may be asked for:", text: s, see: "[each of them](#asked)"})
	}
	lines = append(lines, ix.untypedLine()...)
	return append(lines, firstLine{lead: "Change, tidy or back-date nothing.", text: "What is missing stays missing, or is written as a late entry with the date of the day on which it is written."})
}

// find says what to look for, and where first.
func (ix *index) find() (lines []firstLine) {
	lead, rest := "Find first:", 0
	if n, ok := days(ix.AsOf, ix.Purpose.On); ok && n <= 1 {
		lead = "Find tonight:"
	} else if ok {
		lead = "Find before then:"
	}
	for i := range ix.AskedFor {
		a := &ix.AskedFor[i]
		if a.Look == "" || len(a.Lacks) == 0 || a.Walk != nil {
			continue
		}
		if len(lines) == mostFind {
			rest++
			continue
		}
		look := a.Look
		if len(a.KeptAt) > 0 {
			look += " (kept: " + fewOf(a.KeptAt, 2, "") + ")"
		}
		lines = append(lines, firstLine{lead: lead, text: lower(a.Topic) + ": " + lacksOf(a.Lacks, mostLacks) + ". " + lacking(a) + "; " + stop(look)})
	}
	if rest > 0 {
		lines = append(lines, firstLine{text: several(rest, "other thing is", "other things are") + " not typed, or in part.", see: "[each of them](#asked)"})
	}
	return lines
}

// lacksOf lists what is lacking; weeks are called weeks once.
func lacksOf(list []string, most int) string {
	const week = "the week of "
	if len(list) < 2 || slices.ContainsFunc(list, func(s string) bool { return !strings.HasPrefix(s, week) }) {
		return fewOf(list, most, "")
	}
	days := make([]string, len(list))
	for i, s := range list {
		days[i] = strings.TrimPrefix(s, week)
	}
	return "the weeks of " + fewOf(days, most, "")
}

// lacking says what a lack means: a certificate may also have ended.
func lacking(a *result.AskedFor) string {
	if a.Things == "certificates" {
		return "Not typed, or ended with no later one typed"
	}
	return "Not typed"
}

// whichRule names the findings that one rule set calls met and another not.
func (ix *index) whichRule() (lines []firstLine) {
	if ix.RuleSet != "" {
		return nil
	}
	for _, i := range ix.order {
		f := &ix.Findings[i]
		if !ix.undecided(f) || len(lines) == mostRules {
			continue
		}
		var by []string
		for _, v := range f.Verdicts {
			if v.Verdict != "met" && v.Verdict != "not met" {
				continue
			}
			how := v.Verdict
			if v.N > 0 && v.Verdict == "not met" {
				how += " in " + strconv.Itoa(v.N)
			}
			by = append(by, "against "+plain(v.Value)+" ("+plain(v.Set)+"): "+how)
		}
		found, _, _ := strings.Cut(plain(f.Summary), "; as typed, against ") // each set's answer follows
		lines = append(lines, firstLine{lead: "Which rule holds for you is not in the folder.", text: ix.about(f) + ": " + stop(found) + " " + upper(strings.Join(by, "; ")) + ". Look it up before you call it a gap.", see: ix.link(i)})
	}
	if len(lines) == 0 {
		lines = append(lines, firstLine{text: "No rule set was chosen. Where the shipped rule sets differ, the result under each is shown; look up which one holds for you before you call it a gap."})
	}
	return lines
}

// coincidences are the checks that tell of something with an innocent cause, of which an
// inspector would ask.
var coincidences = []string{"cycles/counter", "cycles/identical", "cycles/overlap", "cycles/against", "traces/copied"}

// explain says what to have an answer to.
func (ix *index) explain() (lines []firstLine) {
	for _, i := range ix.order {
		f := &ix.Findings[i]
		if !slices.Contains(coincidences, f.Check) || len(lines) == mostExplain {
			continue
		}
		why := ""
		if len(f.Steps) > 0 {
			why = " " + stop(upper(f.Steps[0]))
		}
		lines = append(lines, firstLine{lead: "Be ready to explain:", text: lower(ix.about(f)) + ": " + stop(f.Summary) + why, see: ix.link(i)})
	}
	return lines
}

// mayAsk is "12 months of log (4 typed; rest: blue book) · …" in one line.
func (ix *index) mayAsk() string {
	var parts []string
	for i := range ix.AskedFor {
		a := &ix.AskedFor[i]
		if a.State == result.AskedNone {
			continue
		}
		part := lower(a.Topic) + " (" + counted(a)
		if len(a.KeptAt) > 0 && a.State != result.AskedFound {
			where := "rest"
			if a.Of > 0 && a.Found >= a.Of {
				where = "kept"
			}
			part += "; " + where + ": " + fewOf(a.KeptAt, 1, " places")
		}
		parts = append(parts, part+")")
	}
	return stop(strings.Join(parts, " · "))
}

// counted is "4 of 12 months", or the state where nothing says how many there should be.
func counted(a *result.AskedFor) string {
	switch {
	case a.State == result.AskedUntyped:
		return a.State
	case a.Of == 0 && a.Found > 0:
		return strconv.Itoa(a.Found) + " typed"
	case a.Of == 0:
		return a.State
	}
	return strconv.Itoa(a.Found) + " of " + strconv.Itoa(a.Of) + " " + plain(a.Things)
}

// lower writes the first letter small, but of a word that has capitals or figures.
func lower(s string) string {
	s = plain(s)
	if strings.HasPrefix(s, "A ") || len(s) > 1 && s[0] >= 'A' && s[0] <= 'Z' && s[1] >= 'a' && s[1] <= 'z' {
		return strings.ToLower(s[:1]) + s[1:]
	}
	return s
}
