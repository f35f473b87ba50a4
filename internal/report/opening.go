package report

import (
	"slices"
	"strings"

	"footing/internal/result"
)

// opening names the practice, the day, and what a reading of records is worth.
func (p *page) opening() {
	p.heading(1, say("Readiness report: %s", orElse(p.Practice.Name, "a practice without a name")))
	p.para(say("%s A reading of records, not an inspection.", p.readOn()))
}

// whatThisIs says what comes before the report and what was read for it.
func (p *page) whatThisIs() {
	p.heading(2, titleWhat)
	read := md("the records that were typed")
	if len(p.Traces) > 0 {
		read += " and of the data-logger files"
	}
	p.list(
		say("A reading of %s. It is not an inspection: nobody has looked at a room, an instrument or a person.", read),
		say("The rules of %s, public health, the makers' instructions and licensed practice come first. Where they say otherwise, follow them.", p.regulator()),
		"Not typed does not mean not done. What was not typed is listed as not judged.",
		"Change, tidy or back-date nothing. What is missing stays missing, or is written as a late entry with the date of the day on which it is written.",
	)
	p.para("What was read:")
	p.list(p.wasRead()...)
}

// waits prints the cautions that wait for no report.
func (p *page) waits() {
	p.heading(2, titleWaits)
	p.list(append([]md{
		"Bleeding, or a cut from a needle or blade: first aid now, a medical assessment within hours.",
		"A severe allergic reaction: an emergency call. Then log it.",
		"An ulcer, an infection, a hot swollen foot or dead tissue: refer now.",
	}, p.cautions()...)...)
}

// readOn is the day of the audit, the time it covers and what it looks forward to.
func (ix *index) readOn() string {
	out := "Read on " + day(ix.AsOf)
	if s := span(ix.Period.From, ix.Period.Until); s != "" {
		out += " from what was typed (" + s + ")"
	}
	out += "."
	if on := ix.Purpose.On; on != "" && ix.Purpose.Kind != "self-audit" {
		out += " The " + ix.Purpose.Kind + " is on " + day(on) + ", " + orElse(away(ix.AsOf, on), "a day that cannot be read") + "."
	}
	return out
}

func (ix *index) regulator() string {
	if name := plain(ix.Practice.Regulator); name != "" {
		return "your regulator (" + name + ")"
	}
	return "your regulator"
}

// inShort answers the two questions: does anything say stop, and what was not seen.
func (p *page) inShort() {
	p.heading(2, titleShort)
	c := p.Conclusion
	leading, others := reaches(p.Result)
	var items []md
	for _, s := range leading {
		items = append(items, say("**%s** See [how far back](#failed).", s))
	}
	// Where a test failed, or nothing bounds a look-back, its figure leads; only what says stop goes before.
	if s := plain(c.Sentence); s != "" {
		at := len(items)
		if c.Stop {
			at = 0
		}
		items = slices.Insert(items, at, say("**%s**", s))
	}
	items = append(items, p.found(), p.notSeen())
	for _, s := range others {
		items = append(items, say("%s See [how far back](#failed).", s))
	}
	items = append(items, p.sinceShort(), p.acceptedShort())
	if p.Purpose.Complaint != "" {
		items = append(items, say("Complaint %s: keep everything about it as it is, on paper and here. Nothing here judges what happened.", ident("complaints", p.Purpose.Complaint)))
	}
	p.list(items...)
}

// notSeen is what could not look, and the records most waited for.
func (p *page) notSeen() md {
	unseen, untyped := text(p.Conclusion.Unseen), p.untyped()
	switch {
	case unseen == "":
		return untyped
	case untyped == "":
		return unseen
	}
	return say("%s %s See [not judged](#unseen).", unseen, untyped)
}

// wasRead counts what came out and what was read, and says what was taken for granted.
func (p *page) wasRead() []md {
	items := []md{p.outcomes(), p.typed()}
	for _, u := range unread(p.Result) {
		items = append(items, text(u))
	}
	items = append(items, p.loggersInShort(), p.fromToday(), p.changed())
	for _, h := range p.Headline {
		if h != p.Conclusion.Sentence && h != p.Conclusion.Unseen && !told(p.Result, h) {
			items = append(items, text(stop(upper(h))))
		}
	}
	return items
}

// loggersInShort leads to what the data loggers show.
func (p *page) loggersInShort() md {
	s := loggersShort(p.Result)
	if s == "" {
		return ""
	}
	return say("%s See [what they show](#loggers).", s)
}

// found counts the findings by grade.
func (p *page) found() md {
	counts := gradeCounts(p.Counts)
	if len(counts) == 0 {
		return "Found: nothing that falls short, in what could be seen."
	}
	return say("Found: **%s**.", md(strings.Join(counts, "** · **")))
}

// gradeCounts writes each grade that was given, with its mark and its count.
func gradeCounts(c result.Counts) []string {
	count := map[string]int{result.Critical: c.Critical, result.Major: c.Major, result.Minor: c.Minor, result.Observation: c.Observation}
	var out []string
	for _, g := range grades {
		switch {
		case count[g] == 0:
		case g == result.Observation:
			out = append(out, string(mark(g))+" "+several(count[g], "observation", "observations"))
		default:
			out = append(out, string(mark(g))+" "+several(count[g], g, g))
		}
	}
	return out
}

// outcomes never gives what conforms without what could not be seen.
func (p *page) outcomes() md {
	return text(outcomes(p.Counts))
}

func outcomes(c result.Counts) string {
	s := "Of " + several(c.Checks, "check", "checks") + ": " + several(c.Conforming, "conforms", "conform") + ", " +
		several(c.Nonconforming, "does not", "do not") + ", " + several(c.NotAssessed, "could not look", "could not look")
	if c.NotApplicable > 0 {
		s += ", " + several(c.NotApplicable, "does not apply", "do not apply")
	}
	if c.Broken > 0 {
		s += ", " + several(c.Broken, "failed to run", "failed to run")
	}
	return s + "."
}

func orElse(s, other string) string {
	if plain(s) == "" {
		return other
	}
	return s
}

func sortedKeys(m map[string]string) []string {
	keys := make([]string, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}
