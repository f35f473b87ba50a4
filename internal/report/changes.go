package report

import (
	"fmt"
	"io"
	"strings"

	"footing/internal/result"

	terminal "github.com/jedib0t/go-pretty/v6/text"
)

// mostChanges is how many findings, files or checks of one sort are named; the rest are counted.
const mostChanges = 8

// Changes is what changed from one reading of a folder to the next, in words.
type Changes struct {
	lines []changed
	short string
}

// changed is one line: what happened, to which grade, and what it is.
type changed struct {
	lead, grade, text string
	at                string // the id of its part of the page; "" where it has none
	style             terminal.Colors
}

// ChangesOf puts into words what changed between two audits of one folder.
func ChangesOf(before, after *result.Result) *Changes {
	c := result.Compare(before, after)
	w := &changeWords{was: newIndex(before), is: newIndex(after)}
	w.files(c.Files)
	w.conclusion(c.Conclusion, unseenOf(&c) > 0)
	w.findings(&c)
	w.checks(c.Checks, c.Closed)
	if !c.Same() {
		w.counts(c.Counts, len(c.Open))
	}
	return &Changes{lines: w.lines, short: shortWords(&c)}
}

// Short is what changed in half a sentence: "2 new, 1 no longer found".
func (c *Changes) Short() string { return c.short }

// Text writes what changed for a terminal, a line each.
func (c *Changes) Text(w io.Writer, opt SummaryOptions) error {
	s := newSummary(newIndex(&result.Result{}), opt)
	for _, l := range c.lines {
		s.hang(l.style, "- ", l.said())
	}
	_, err := w.Write(s.b.Bytes())
	return err
}

// said is a line without the colours.
func (l changed) said() string {
	if l.lead != "" {
		return l.lead + ": " + l.words()
	}
	return l.words()
}

// words is a line without its lead.
func (l changed) words() string {
	if l.grade != "" {
		return string(mark(l.grade)) + " " + l.grade + ". " + l.text
	}
	return l.text
}

func shortWords(c *result.Changes) string {
	var parts []string
	unseen := unseenOf(c)
	for _, p := range []struct {
		n    int
		word string
	}{{len(c.New), "new"}, {len(c.Closed) - unseen, "no longer found"}, {unseen, "no longer found but with less to see"}, {len(c.Graded), "graded anew"}, {len(c.Resized), "with more, fewer or other things"}} {
		if p.n > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", p.n, p.word))
		}
	}
	switch {
	case len(parts) > 0:
		return strings.Join(parts, ", ")
	case c.Same() && len(c.Files) == 0:
		return "nothing changed in what the records say"
	case c.Same():
		return "nothing changed in what was found"
	}
	return "the same findings, other counts"
}

// unseenOf counts the findings that may be gone only because there is less to see.
func unseenOf(c *result.Changes) (n int) {
	for _, f := range c.Closed {
		if f.Unseen {
			n++
		}
	}
	return n
}

// changeWords collects the lines.
type changeWords struct {
	was, is *index
	lines   []changed
}

func (w *changeWords) add(l changed) { w.lines = append(w.lines, l) }

// most adds lines of one sort, the first few in full.
func (w *changeWords) most(lead string, all []changed) {
	for _, l := range all[:min(len(all), mostChanges)] {
		l.lead = lead
		w.add(l)
	}
	if more := len(all) - mostChanges; more > 0 {
		w.add(changed{lead: lead, text: several(more, "more", "more") + "."})
	}
}

func (w *changeWords) conclusion(c *result.ConclusionPair, less bool) {
	if c == nil {
		return
	}
	if c.Before.Sentence != c.After.Sentence || c.Before.Stop != c.After.Stop {
		style := strong
		if c.After.Stop {
			style = alarm
		}
		text := stop(orElse(c.After.Sentence, "nothing is concluded")) + " Before: " + stop(orElse(c.Before.Sentence, "nothing was concluded"))
		if less {
			text += " There is less to see now than before, so it may not have been mended."
		}
		w.add(changed{lead: "Now", text: text, style: style})
	}
	if c.Before.Unseen != c.After.Unseen && plain(c.After.Unseen) != "" {
		w.add(changed{lead: "What could be seen", text: stop(c.After.Unseen)})
	}
}

// counts tells the sums that moved, each with what it was.
func (w *changeWords) counts(c result.CountsPair, open int) {
	a, b := c.Before, c.After
	if strings.Join(gradeCounts(a), "") != strings.Join(gradeCounts(b), "") {
		w.add(changed{lead: "Found", text: orElse(strings.Join(gradeCounts(b), " · "), "nothing that falls short") + ". Before: " + orElse(strings.Join(gradeCounts(a), " · "), "nothing that falls short") + "."})
	}
	if outcomes(a) != outcomes(b) {
		w.add(changed{text: fmt.Sprintf("%s Before: %d conformed, %d did not, %d could not look.", outcomes(b), a.Conforming, a.Nonconforming, a.NotAssessed)})
	}
	if a.Rows != b.Rows || a.SetAside != b.SetAside {
		w.add(changed{lead: "Rows of all records", text: fmt.Sprintf("%d%s; %d of them set aside%s.", b.Rows, moved(a.Rows, b.Rows), b.SetAside, moved(a.SetAside, b.SetAside))})
	}
	if open > 0 {
		w.add(changed{lead: "As before", text: several(open, "finding is", "findings are") + " unchanged.", style: faint})
	}
}

// moved is ", 2 more", ", 1 fewer" or nothing.
func moved(before, after int) string {
	switch n := after - before; {
	case n > 0:
		return fmt.Sprintf(", %d more", n)
	case n < 0:
		return fmt.Sprintf(", %d fewer", -n)
	}
	return ""
}
