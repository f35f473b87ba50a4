package report

import (
	"fmt"
	"slices"
	"strings"

	"footing/internal/result"
)

// limitLines say what cannot be compared, a line each. Checks that found nothing in
// either reading are counted.
func (ix *index) limitLines() (out []string) {
	now, then := 0, 0
	for _, l := range ix.Since.Limits {
		switch lonely := l.N == 0 && (l.About == result.LimitSight || l.About == result.LimitCheck); {
		case lonely && (l.After == "" || blind(l.After)):
			then++
		case lonely:
			now++
		default:
			out = append(out, limitWords(l))
		}
	}
	if then > 0 {
		out = append(out, several(then, "check", "checks")+" that could look then cannot now. Nothing was found by "+them(then)+" then.")
	}
	if now > 0 {
		out = append(out, several(now, "check", "checks")+" that could not look then can now. Nothing is found by "+them(now)+".")
	}
	return slices.DeleteFunc(out, func(s string) bool { return s == "" })
}

func them(n int) string {
	if n == 1 {
		return "it"
	}
	return "them"
}

// blind reports whether a check of that outcome could not look.
func blind(outcome string) bool { return outcome == result.NotAssessed || outcome == result.Broken }

// limitWords is one of them in a sentence.
func limitWords(l result.Limit) string {
	before, after := stripped(l.Before), stripped(l.After)
	switch l.About {
	case result.LimitPractice:
		return fmt.Sprintf("The two readings bear other names: “%s” then, “%s” now. If these are two practices, nothing here compares them.", orElse(before, "no name"), orElse(after, "no name"))
	case result.LimitShared:
		return "At least one of the two is a copy for someone else, with pseudonyms of its own. A finding about a client or a person may stand as gone and as new though it is one and the same."
	case result.LimitSameDay:
		return "Both readings are of " + day(l.After) + ", so for how long a finding was there cannot be told."
	case result.LimitTool:
		return fmt.Sprintf("They were made by %s and by %s. A check may look at more, or say it otherwise, so a finding may come or go by that alone.", orElse(before, "an unnamed program"), orElse(after, "an unnamed program"))
	case result.LimitRuleSet:
		return fmt.Sprintf("Another rule set: %s then, %s now. What comes or goes by that alone stands apart.", orElse(before, "none chosen"), orElse(after, "none chosen"))
	case result.LimitCriterion:
		return fmt.Sprintf("Another rule for %s: %s then, %s now%s.", plain(l.Name), orElse(before, "none"), orElse(after, "none"), hanging(l.N))
	case result.LimitCheck:
		if after == "" {
			return fmt.Sprintf("“%s” was looked at then, and this version does not look at it%s.", plain(l.Name), hanging(l.N))
		}
		return fmt.Sprintf("“%s” is looked at now, and was not then%s.", plain(l.Name), hanging(l.N))
	case result.LimitSight:
		if blind(after) {
			return fmt.Sprintf("“%s”: could look then, and cannot now%s.", plain(l.Name), hanging(l.N))
		}
		return fmt.Sprintf("“%s”: could not look then, and can now%s.", plain(l.Name), hanging(l.N))
	case result.LimitCoverage:
		return fmt.Sprintf("Of %s the practice said then: %s; now: %s. What follows from a row that is not there changes with that.", plain(l.Name), coverWords(before), coverWords(after))
	case result.LimitPeriod:
		return fmt.Sprintf("The records go over another time: %s then, %s now. What fell before that is not seen any more.", periodWords(before), periodWords(after))
	case result.LimitRows:
		return fmt.Sprintf("Fewer rows of %s: %s then, %s now. If they were taken out or cannot be read, what they showed is not seen any more; no row needs to go for a finding to close.", kindName(plain(l.Name)), before, after)
	case result.LimitHorizon:
		return fmt.Sprintf("They look forward to other days: %s then, %s now. What runs out is counted up to that day.", orElse(day(before), "none"), orElse(day(after), "none"))
	case result.LimitSeed:
		return "The visits drawn at random were drawn from another number, so they are other visits."
	}
	return ""
}

// hanging says how many findings hang on a limit.
func hanging(n int) string {
	if n == 0 {
		return ""
	}
	return "; " + several(n, "finding hangs on it", "findings of the two readings hang on it")
}

// coverWords puts "all 2026-01-01/2026-06-30; some 2026-07-01/" into words.
func coverWords(s string) string {
	if s == "" {
		return "nothing"
	}
	var parts []string
	for part := range strings.SplitSeq(s, "; ") {
		share, time, _ := strings.Cut(part, " ")
		parts = append(parts, share+" rows"+timeWords(time))
	}
	return join(parts)
}

func timeWords(s string) string {
	from, until, _ := strings.Cut(s, "/")
	out := ""
	if from != "" {
		out = " from " + day(from)
	}
	if until != "" {
		out += " until " + day(until)
	}
	return out
}

func periodWords(s string) string {
	from, until, _ := strings.Cut(s, "/")
	return orElse(span(from, until), "no day")
}

// stripped is text of a result on one line, without what only ends a sentence.
func stripped(s string) string { return strings.TrimSuffix(plain(s), ".") }
