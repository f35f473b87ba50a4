package report

import (
	"strconv"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"footing/internal/result"
)

// day writes 2026-03-31 as 31 Mar 2026 and keeps a clock that follows it. What
// is no date stays as it is.
func day(s string) string {
	head, rest := s, ""
	if len(s) > 10 {
		head, rest = s[:10], s[10:]
	}
	t, err := time.Parse(time.DateOnly, head)
	if err != nil {
		return s
	}
	return t.Format("2 Jan 2006") + strings.Replace(rest, "T", " ", 1)
}

// days counts the days from one date to another; ok is false without both.
func days(from, to string) (n int, ok bool) {
	a, errA := time.Parse(time.DateOnly, from)
	b, errB := time.Parse(time.DateOnly, to)
	if errA != nil || errB != nil {
		return 0, false
	}
	return int(b.Sub(a).Hours() / 24), true
}

// span writes "4 Aug 2026 to 2 Nov 2026", or the one day.
func span(first, last string) string {
	switch {
	case first == "" || first == last:
		return day(last)
	case last == "":
		return "from " + day(first)
	case first[:min(4, len(first))] == last[:min(4, len(last))] && strings.HasSuffix(day(first), " "+first[:min(4, len(first))]):
		return strings.TrimSuffix(day(first), " "+first[:4]) + " to " + day(last)
	}
	return day(first) + " to " + day(last)
}

// away says how far a day lies from the day of the audit.
func away(asOf, on string) string {
	n, ok := days(asOf, on)
	switch {
	case !ok:
		return ""
	case n == 0:
		return "today"
	case n == 1:
		return "tomorrow"
	case n > 1:
		return "in " + strconv.Itoa(n) + " days"
	case n == -1:
		return "yesterday"
	}
	return strconv.Itoa(-n) + " days ago"
}

// several writes a count with its noun.
func several(n int, one, more string) string {
	if n == 1 {
		return "1 " + one
	}
	return strconv.Itoa(n) + " " + more
}

// upper writes a sentence with a capital.
func upper(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	if r == utf8.RuneError {
		return s
	}
	return string(unicode.ToUpper(r)) + s[n:]
}

// stop ends a sentence with a full stop if it has no end yet.
func stop(s string) string {
	s = plain(s)
	if s == "" || strings.ContainsAny(s[len(s)-1:], ".!?:") {
		return s
	}
	return s + "."
}

// quoted sets what a description of a field marks as code in quotation marks.
func quoted(s string) string {
	parts := strings.Split(s, "`")
	if len(parts)%2 == 0 { // a mark without its partner
		return s
	}
	var b strings.Builder
	for i, part := range parts {
		if i%2 == 1 {
			part = "“" + part + "”"
		}
		b.WriteString(part)
	}
	return b.String()
}

// join lists words: "a, b and c".
func join(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}

// singular names one subject of a record kind.
func singular(kind string) string {
	switch kind {
	case "":
		return ""
	case "people":
		return "person"
	case "baths", "sterilizers", "sites", "clients", "visits", "instruments", "loads", "packs", "tests", "soaks",
		"products", "trips", "screens", "consents", "referrals", "observations", "incidents", "complaints", "actions", "programs", "credentials", "files", "rules", "cleanings":
		return strings.TrimSuffix(kind, "s")
	case "histories":
		return "history"
	case "policies":
		return "policy"
	case "stock":
		return "stock item"
	case kindTraces:
		return "data-logger file"
	}
	return kind
}

// mark is the shape that stands with a grade, so that grades can be told apart
// without colour.
func mark(grade string) md {
	switch grade {
	case result.Critical:
		return "◆"
	case result.Major:
		return "▲"
	case result.Minor:
		return "■"
	}
	return "○"
}

// grades, as reports print them.
var grades = []string{result.Critical, result.Major, result.Minor, result.Observation}
