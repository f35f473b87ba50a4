package report

import (
	"bytes"
	"io"
	"strconv"
	"strings"

	"footing/internal/result"

	terminal "github.com/jedib0t/go-pretty/v6/text"
)

// SummaryOptions says how the summary is to look.
type SummaryOptions struct {
	Width      int    // columns of the terminal; 0 means 80
	Color      bool   // whether colours may be used
	ReportPath string // where the report lies; "" when none was written
}

// mostOnTerminal is how many actions the summary shows.
const mostOnTerminal = 5

// Summary writes what the first page says, for a terminal. Without Color there
// is no escape sequence in it. It writes once, and gives the error of that.
func Summary(w io.Writer, r *result.Result, opt SummaryOptions) error {
	s := newSummary(newIndex(forPage(r)), opt)
	s.write()
	if opt.ReportPath != "" {
		// A path is printed as it is, so that it can be copied.
		s.b.WriteString("\nReport: " + strings.Map(printable, opt.ReportPath) + "\n")
	}
	_, err := w.Write(s.b.Bytes())
	return err
}

func newSummary(ix *index, opt SummaryOptions) *summary {
	s := &summary{index: ix, width: opt.Width, color: opt.Color}
	if s.width <= 0 {
		s.width = 80
	}
	s.width = max(s.width, 40)
	return s
}

func printable(r rune) rune {
	if unseen(r) {
		return -1
	}
	return r
}

type summary struct {
	*index
	b     bytes.Buffer
	width int
	color bool
}

var (
	strong = terminal.Colors{terminal.Bold}
	alarm  = terminal.Colors{terminal.Bold, terminal.FgRed}
	warn   = terminal.Colors{terminal.Bold, terminal.FgYellow}
	faint  = terminal.Colors{terminal.Faint}
)

func (s *summary) write() {
	s.line(strong, "Readiness report: "+orElse(s.Practice.Name, "a practice without a name"))
	s.line(nil, s.readOn()+" A reading of records, not an inspection; the rules of "+s.regulator()+", the makers' instructions and licensed practice come first.")
	s.b.WriteByte('\n')
	if s.occasion() != "" {
		s.occasionLines()
		s.since()
		s.line(nil, acceptedLine(s.Result))
		s.actions()
		return
	}
	said := strong
	if s.Conclusion.Stop {
		said = alarm
	}
	leading, others := reaches(s.Result)
	if s.Conclusion.Stop {
		s.line(said, s.Conclusion.Sentence)
	}
	for _, l := range leading {
		s.line(strong, l)
	}
	if !s.Conclusion.Stop {
		s.line(said, s.Conclusion.Sentence)
	}
	s.line(nil, s.Conclusion.Unseen)
	for _, l := range others {
		s.line(nil, l)
	}
	if counts := gradeCounts(s.Counts); len(counts) > 0 {
		s.line(nil, "Found: "+strings.Join(counts, " · ")+".")
	}
	s.line(nil, outcomes(s.Counts))
	s.line(nil, typed(s.Result))
	for _, u := range unread(s.Result) {
		s.line(nil, u)
	}
	s.line(nil, loggersShort(s.Result))
	s.line(nil, untyped(s.Result))
	s.since()
	s.line(nil, acceptedLine(s.Result))
	s.actions()
	if s.NextField != nil {
		s.b.WriteByte('\n')
		s.line(nil, "From today on, never backwards: "+keep(s.NextField)+". "+stop(quoted(upper(s.NextField.Why))))
	}
}

func (s *summary) actions() {
	all := s.index.actions()
	if len(all) == 0 {
		return
	}
	s.b.WriteByte('\n')
	s.line(strong, string(firstTitle(s.Result)))
	for i, a := range all[:min(len(all), mostOnTerminal)] {
		text := stop(upper(a.do))
		if a.why != "" {
			text += " " + stop(upper(a.why))
		}
		style := terminal.Colors(nil)
		lead := strconv.Itoa(i+1) + ". "
		if a.grade != "" && !a.ungraded() {
			lead += string(mark(a.grade)) + " "
		}
		switch {
		case a.stop, a.grade == result.Critical:
			style = alarm
		case a.grade == result.Major:
			style = warn
		}
		s.hang(style, lead, text)
	}
	if more := len(all) - mostOnTerminal; more > 0 {
		s.line(faint, "   "+strconv.Itoa(more)+" more in the report.")
	}
}

// line writes one thing, wrapped.
func (s *summary) line(style terminal.Colors, text string) { s.hang(style, "", text) }

// hang writes text wrapped, with lead before its first line and as many spaces
// before the others. The style holds for the lead, or for all where there is none.
func (s *summary) hang(style terminal.Colors, lead, text string) {
	indent := terminal.StringWidth(lead)
	body := style
	if lead != "" {
		body = nil
	}
	for i, l := range wrap(plain(text), s.width-indent) {
		if i == 0 {
			s.b.WriteString(s.paint(style, lead))
		} else {
			s.b.WriteString(strings.Repeat(" ", indent))
		}
		s.b.WriteString(s.paint(body, l) + "\n")
	}
}

func (s *summary) paint(style terminal.Colors, text string) string {
	if !s.color || len(style) == 0 || text == "" {
		return text
	}
	return style.EscapeSeq() + text + terminal.EscapeReset
}

// wrap breaks plain text at spaces so that no line is wider than width columns; a
// word that is wider, or a line of a script without spaces, is broken where it must be.
func wrap(text string, width int) []string {
	var lines []string
	line, used := "", 0
	for _, word := range pieces(text, width) {
		n := terminal.StringWidth(word)
		if used > 0 && used+1+n > width {
			lines = append(lines, line)
			line, used = "", 0
		}
		if used > 0 {
			line += " "
			used++
		}
		line += word
		used += n
	}
	if used > 0 {
		lines = append(lines, line)
	}
	return lines
}

// pieces are the words of a text, the wide ones in pieces of at most width columns.
func pieces(text string, width int) (parts []string) {
	for _, word := range strings.Fields(text) {
		from, used := 0, 0
		for i, r := range word {
			n := terminal.RuneWidth(r)
			if used+n > width && i > from {
				parts = append(parts, word[from:i])
				from, used = i, 0
			}
			used += n
		}
		parts = append(parts, word[from:])
	}
	return parts
}
