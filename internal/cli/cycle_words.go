package cli

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"footing/internal/quantity"
	"footing/internal/steam"
	"footing/internal/trace"
)

// noBand says that no band above the set temperature is drawn: which one holds
// depends on the rule set, and here is none.
var noBand = math.NaN()

// plain makes one line of any text, without what steers a terminal.
func plain(s string) string {
	return strings.Map(func(r rune) rune {
		if r == ' ' || unicode.IsPrint(r) {
			return r
		}
		return -1
	}, strings.Join(strings.Fields(s), " "))
}

// rows are what is told of one file: the figures of the chart's table, with what
// the columns were taken for, how the set temperature was come by, and the verdict.
func (q *question) rows(t *trace.Trace, figures [][]string, hold *steam.Hold, how string) (rows [][]string) {
	add := func(what, value string) { rows = append(rows, []string{what, plain(value)}) }
	for _, f := range figures {
		what, value := f[0], f[1]
		switch {
		case what == "Set temperature":
			value = how
		case what == "Longest unbroken hold" && cutOff(&t.Cycle, hold) != "":
			value += "; the file " + cutOff(&t.Cycle, hold) + " in it, so that it may have lasted longer"
		case what == "Temperature" && hold == nil:
			add("Set temperature", how)
			q.addVerdict(add, hold)
		}
		add(what, value)
		switch what {
		case "First reading":
			add("Columns", columns(t, q.altitude))
		case "Longest unbroken hold":
			q.addVerdict(add, hold)
		}
	}
	return rows
}

func (q *question) addVerdict(add func(what, value string), hold *steam.Hold) {
	if q.hold.Written() {
		word, why := q.verdict(hold)
		add("Held as asked", word+": "+why)
	}
}

// columns says what each column was taken for.
func columns(t *trace.Trace, altitude quantity.Quantity) string {
	var list []string
	for i, c := range t.Columns {
		heading := "“" + c.Heading + "”"
		if c.Heading == "" {
			heading = fmt.Sprintf("column %d", i+1)
		}
		list = append(list, heading+": "+taken(c, altitude))
	}
	if len(list) == 0 {
		return "none was known"
	}
	text := strings.Join(list, "; ") + written(&t.Header)
	if t.Layout != "" {
		text += "; as " + t.Layout + " of the layout says"
	}
	return text
}

// written says how fields, numbers and times were taken to be written.
func written(h *trace.Header) string {
	if h.Delimiter == "" {
		return ""
	}
	mark := "point"
	if h.DecimalComma {
		mark = "comma"
	}
	text := "; fields parted by a " + h.Delimiter + ", a decimal " + mark
	switch h.Clock {
	case trace.Elapsed:
		text += ", times from the start of the cycle"
	case trace.OfDay:
		text += ", times of the day"
	case trace.Dated:
		text += ", times with their day"
	}
	return text
}

// taken says what one column was taken for.
func taken(c trace.Column, altitude quantity.Quantity) string {
	switch {
	case c.Ignored != "":
		return "not judged (" + c.Ignored + ")"
	case c.Role == trace.Time:
		return "time"
	case c.Role == trace.Date:
		return "date"
	case c.Role == trace.PhaseName:
		return "phase"
	case c.Role == trace.Temperature:
		return "temperature in " + c.Unit.String()
	case c.Role == trace.Pressure:
		return "pressure in " + strings.TrimSpace(c.Unit.String()+" "+c.Ref.String()) + referred(c, altitude)
	}
	return "not used"
}

func referred(c trace.Column, altitude quantity.Quantity) string {
	switch {
	case c.Ref == quantity.Unsaid:
		return " (gauge or absolute is not said: write it into the heading or a layout.yaml)"
	case c.Ref != quantity.Gauge:
		return ""
	case altitude.Written():
		return ", turned absolute at " + altitude.String()
	}
	return ", not turned absolute: --altitude says the height of the place"
}

// note is a problem with what to do.
func note(p trace.Problem) string { return plain(strings.TrimSpace(p.Sentence + " " + p.Todo)) }

// noEntry says of a file that cannot be judged that a layout was there and no entry of it
// is for the file, which its name or the sterilizer in its lines would explain.
func noEntry(t *trace.Trace) {
	fits := func(p trace.Problem) bool { return p.Cause == "layout" } // told there, with the entry
	if what, todo, _ := cutLast(t.Unusable, ". "); strings.Contains(todo, "layout.yaml") && !slices.ContainsFunc(t.Problems, fits) {
		t.Unusable = what + ", and no entry of the layout is for this file. " +
			"Look whether files in an entry fits the file's name; an entry with sterilizer is only for files that name it in a line above their table, as in Sterilizer: S1."
	}
}

// cutLast is strings.Cut at the last of several.
func cutLast(s, sep string) (before, after string, found bool) {
	if i := strings.LastIndex(s, sep); i >= 0 {
		return s[:i], s[i+len(sep):], true
	}
	return s, "", false
}

// unusable is the error of a file that cannot be judged. The reason ends with what to do.
func unusable(name, reason string) error {
	what, next, found := cutLast(strings.TrimSuffix(plain(reason), "."), ". ")
	if next = lower(next); !found {
		next = "look at the file"
	}
	return problem(name+" cannot be judged: "+lower(what), next)
}

func lower(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	if n == 0 {
		return ""
	}
	return string(unicode.ToLower(r)) + s[n:]
}

// clock is how long a hold has lasted, at least to at most, in minutes and seconds:
// "4:48–4:52"; "4:48–" where an end of it lies outside the file, and nobody knows how far.
func clock(c *steam.Cycle, h *steam.Hold) string {
	whole := func(seconds float64) string {
		n := int(seconds)
		return fmt.Sprintf("%d:%02d", n/60, n%60)
	}
	if h.Most <= 0 {
		return "none"
	}
	if cutOff(c, h) != "" {
		return whole(h.Least+1e-6) + "–"
	}
	return whole(h.Least+1e-6) + "–" + whole(math.Ceil(h.Most-1e-6))
}

// figure is a value without its unit.
func figure(text string) string {
	value, _, _ := strings.Cut(text, " ")
	return value
}
