package cli

import (
	"fmt"
	"io"
	"strings"

	"github.com/jedib0t/go-pretty/v6/text"

	"footing/internal/audit"
)

// label is the width of what stands before a value, blanks after it included.
const label = 25

// print writes what the files did: of one file all, of many a row each.
func (s *sitting) print(w io.Writer) {
	switch {
	case len(s.told) == 0:
		return
	case len(s.files) == 1:
		s.told[0].print(w)
	default:
		s.list(w)
	}
	line(w, "")
	line(w, indented(noRelease, ""))
}

// print writes one file's table, and the problems that were met in it.
func (t *told) print(w io.Writer) {
	row(w, "File", t.name)
	for _, r := range t.rows {
		row(w, r[0], r[1])
	}
	if len(t.notes) > 0 {
		line(w, "")
		line(w, "Met in the file, with the first line of each")
		for _, n := range t.notes {
			hang(w, "- ", n)
		}
	}
}

func row(w io.Writer, what, value string) {
	hang(w, what+strings.Repeat(" ", max(label-text.StringWidth(what), 1)), value)
}

// hang writes a value wrapped, with lead before its first line and blanks before the others.
func hang(w io.Writer, lead, value string) {
	indent := text.StringWidth(lead)
	for _, l := range strings.Split(text.WrapSoft(plain(value), screen-indent), "\n") {
		line(w, strings.TrimRight(lead+strings.TrimSpace(l), " "))
		lead = strings.Repeat(" ", indent)
	}
}

// column is one of the columns in which many files are listed.
type column struct {
	head  string
	width int
	right bool
	of    func(t *told) string
}

func (s *sitting) columns() []column {
	list := []column{
		{"start", 16, false, func(t *told) string { return t.line.start }},
		{"set", 6, true, func(t *told) string { return t.line.set }},
		{"held", 11, true, func(t *told) string { return t.line.held }},
		{"low", 5, true, func(t *told) string { return t.line.lowest }},
		{s.scale.Name, 5, true, func(t *told) string { return t.line.lethality }},
		{"P", 2, true, func(t *told) string { return t.line.pulses }},
		{"N", 2, true, func(t *told) string { return fmt.Sprint(t.line.problems) }},
	}
	if s.hold.Written() {
		list = append(list, column{"asked", 7, false, func(t *told) string { return shortly[t.word] }})
	}
	return list
}

var shortly = map[string]string{met: met, notMet: notMet, notToTell: "unclear"}

// list writes a row a file. A name that is wider than its column has a line of its own.
func (s *sitting) list(w io.Writer) {
	columns := s.columns()
	name := screen - len(columns)
	for _, c := range columns {
		name -= c.width
	}
	line(w, indented(s.legend(), ""))
	line(w, "")
	heads := pad("file", name, false)
	for _, c := range columns {
		heads += " " + pad(c.head, c.width, c.right)
	}
	line(w, strings.TrimRight(heads, " "))
	for i := range s.told {
		t := &s.told[i]
		if t.line.unusable != "" {
			hang(w, "", t.name+": cannot be judged: "+t.line.unusable)
			continue
		}
		first := t.name
		if text.StringWidth(first) > name {
			hang(w, "", first)
			first = ""
		}
		first = pad(first, name, false)
		for _, c := range columns {
			first += " " + pad(c.of(t), c.width, c.right)
		}
		line(w, strings.TrimRight(first, " "))
	}
	line(w, "")
	line(w, indented(s.counts(), ""))
}

func pad(value string, width int, right bool) string {
	blanks := strings.Repeat(" ", max(width-text.StringWidth(value), 0))
	if right {
		return blanks + value
	}
	return value + blanks
}

// legend explains the columns.
func (s *sitting) legend() string {
	unit := "minutes"
	if s.scale.Name == "A0" {
		unit = "seconds"
	}
	words := fmt.Sprintf("Temperatures in °C. Set: the set temperature%s. Held: the longest unbroken hold at or above it in minutes:seconds, at least to at most; with no most where the file begins or ends in it. Low: the lowest in it. "+
		"%s: lethality in %s at %.1f °C, over all readings; %s. P: pulses of pressure before the hold. N: problems met in the file; named alone, a file is told in full.",
		s.starred(), s.scale.Name, unit, s.scale.Reference, audit.SecondOpinion)
	if s.hold.Written() {
		words += fmt.Sprintf(" Asked: whether it was held for %s; unclear where it hangs on less than the readings leave open.", s.hold)
	}
	return words
}

func (s *sitting) starred() string {
	if s.set.Written() {
		return ""
	}
	return ", with * concluded from the usual ones"
}
