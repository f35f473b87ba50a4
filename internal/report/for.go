package report

import (
	"slices"
	"strconv"
	"strings"

	"footing/internal/result"
)

// Titles of the sections that only an occasion has.
const (
	titleAsked    = "What an inspector asks for, in order"
	titleTouching = "Findings that touch these records"
	titleEvidence = "Keep these files as they are"
)

// occasion is what the report was asked to open with; "" where nobody asked.
func (ix *index) occasion() string {
	if !ix.Purpose.Chosen {
		return ""
	}
	return ix.Purpose.Kind
}

// lead is what the report opens with: by its occasion the first lines, and the sections
// that this occasion reads first. The findings after it are the same.
func (p *page) lead() {
	switch p.occasion() {
	case result.Renewal:
		p.short()
		p.toDo()
		p.declared()
		p.due()
	case result.Inspection:
		p.short()
		p.toDo()
		p.asked()
	case result.Complaint:
		p.short()
		p.bundle()
		p.toDo()
	default:
		p.inShort()
		p.toDo()
	}
}

// leads reports whether what runs out and what is declared stand at the beginning.
func (p *page) leads() bool { return p.occasion() == result.Renewal }

// firstLine is one of the first lines of an occasion: what it is about, what is to be
// said, and where the report says more.
type firstLine struct {
	lead, text string
	see        md
}

// firstLines are those of the occasion, one thing a line.
func (ix *index) firstLines() []firstLine {
	switch ix.occasion() {
	case result.Renewal:
		return ix.forRenewal()
	case result.Inspection:
		return ix.forInspection()
	case result.Complaint:
		return ix.forComplaint()
	}
	return nil
}

// short prints the first lines.
func (p *page) short() {
	p.heading(2, titleShort)
	var items []md
	for _, l := range p.firstLines() {
		item := text(l.text)
		if l.lead != "" {
			item = md(strings.TrimSpace(string(say("**%s** %s", l.lead, l.text))))
		}
		if l.see != "" {
			item = say("%s See %s.", item, l.see)
		}
		items = append(items, item)
	}
	items = append(items, p.sinceShort(), p.acceptedShort())
	p.list(items...)
}

// occasionLines prints the first lines on a terminal.
func (s *summary) occasionLines() {
	for _, l := range s.firstLines() {
		style := strong
		if s.Conclusion.Stop && l.lead == s.Conclusion.Sentence {
			style = alarm
		}
		if l.lead == "" {
			s.hang(nil, "- ", l.text)
			continue
		}
		s.hang(style, "- ", l.lead+" "+l.text)
	}
}

// said are the first two answers of every occasion: whether anything says stop, and what
// could not be seen; what was found, as counts; each look-back that a failed test leads, or nothing bounds.
func (ix *index) said() []firstLine {
	lines := []firstLine{{lead: stop(ix.Conclusion.Sentence), text: ix.Conclusion.Unseen, see: "[not judged](#unseen)"}}
	leading, _ := reaches(ix.Result)
	for _, l := range leading {
		lines = append(lines, firstLine{lead: l, see: "[how far back](#failed)"})
	}
	if counts := gradeCounts(ix.Counts); len(counts) > 0 {
		lines = append(lines, firstLine{text: "Found: " + strings.Join(counts, " · ") + ".", see: "[findings](#findings)"})
	}
	return lines
}

// untypedLine says what was not judged.
func (ix *index) untypedLine() []firstLine {
	if s := untyped(ix.Result); s != "" {
		return []firstLine{{text: s, see: "[not judged](#unseen)"}}
	}
	return nil
}

// fewOf lists words, and counts those after the first few.
func fewOf(list []string, most int, of string) string {
	if more := len(list) - most; more > 0 {
		list = append(list[:most:most], "and "+strconv.Itoa(more)+" more"+of)
		return strings.Join(list, ", ")
	}
	return join(list)
}

// mostFromToday is how many records the lines of from today on name.
const mostFromToday = 3

// fromTodayLines are the record that would let most be seen, and the next ones. They look
// forward and never back.
func (ix *index) fromTodayLines() (lines []string) {
	n := ix.NextField
	if n != nil {
		why := quoted(upper(plain(n.Why)))
		if why == "" {
			why = several(len(n.Checks), "check waits", "checks wait") + " for it"
		}
		lines = append(lines, stop("From today, never backwards: "+keep(n)+". "+why))
	}
	for _, g := range gaps(ix.Result) {
		if len(lines) == mostFromToday {
			break
		}
		typed := slices.ContainsFunc(ix.Intake, func(f result.File) bool { return f.Kind == g.kind && f.Accepted > 0 })
		if n != nil && g.kind == n.Kind && g.field == n.Field || g.field == "" && typed {
			continue // of what is kept, only coverage is in want
		}
		next := &result.NextField{Kind: g.kind, Field: g.field}
		lines = append(lines, "From today: "+keep(next)+". "+several(len(g.checks), "check waits", "checks wait")+" for it.")
	}
	return lines
}
