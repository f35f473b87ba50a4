package report

import (
	"io"
	"strconv"
	"strings"

	"footing/internal/result"
)

// Title of the part of a comparison that names each finding.
const titleEach = "Finding by finding"

// CompareMarkdown writes what became of one reading in another, which is r; r.Since
// holds the earlier one and must not be nil. swapped says that they were named the other way round. The
// HTML page is made from exactly this text. The same results give the same bytes.
func CompareMarkdown(r *result.Result, swapped bool) []byte {
	return comparePage(r, swapped).b.Bytes()
}

// CompareHTML makes one self-contained page from the Markdown of CompareMarkdown.
func CompareHTML(r *result.Result, swapped bool) ([]byte, error) {
	p := comparePage(r, swapped)
	return p.html(p.b.Bytes())
}

func comparePage(r *result.Result, swapped bool) *page {
	p := &page{index: newIndex(r)}
	p.heading(1, say("What changed: %s", orElse(p.Practice.Name, "a practice without a name")))
	p.para(text(p.comparedDays(swapped)))
	if w := p.otherPractice(); w != "" {
		p.para(say("**%s**", w))
	}
	p.heading(2, titleShort)
	p.list(texts(p.comparedShort())...)
	p.heading(2, titleWhat)
	p.list(
		"Two readings of records side by side. Neither is an inspection.",
		say("The rules of %s, public health, the makers' instructions and licensed practice come first.", p.regulator()),
		"Findings are the same where check and subject are; words, weights and places may have changed. Not found any more does not mean put right, and not typed does not mean not done.",
	)
	p.heading(2, titleEach)
	if len(p.Since.Findings)+len(p.Since.Closed) == 0 {
		p.para("Neither reading found anything that falls short, in what could be seen.")
	}
	p.sinceSorts(fingerprintOf)
	p.acceptedTable(func(findings []int) md {
		if len(findings) == 1 {
			return text(p.Findings[findings[0]].Fingerprint)
		}
		return say("%s findings", len(findings))
	})
	p.gradesDefined()
	p.closing()
	return p
}

// comparedDays says which readings stand side by side.
func (ix *index) comparedDays(swapped bool) string {
	out := "The reading of " + day(ix.Since.AsOf) + " beside the reading of " + day(ix.AsOf) + "."
	if n, ok := days(ix.Since.AsOf, ix.AsOf); ok && n > 0 {
		out = strings.TrimSuffix(out, ".") + ", " + several(n, "day", "days") + " later."
	}
	if swapped {
		out += " They were named the other way round; the earlier one stands first here."
	}
	return out
}

// comparedShort is what changed in a few lines, then what is concluded now and then.
func (ix *index) comparedShort() []string {
	s := ix.Since
	lines := []string{stop(upper(ix.sinceCounts()))}
	then := func(now, before string) string {
		if plain(now) == plain(before) {
			return stop(now) + " So it said before."
		}
		return stop(orElse(now, "nothing is concluded")) + " Before: " + stop(orElse(before, "nothing was concluded"))
	}
	if plain(ix.Conclusion.Sentence+s.Sentence) != "" {
		lines = append(lines, then(ix.Conclusion.Sentence, s.Sentence))
	}
	if plain(ix.Conclusion.Unseen+s.Unseen) != "" {
		lines = append(lines, then(ix.Conclusion.Unseen, s.Unseen))
	}
	grades := func(c result.Counts) string {
		return orElse(strings.Join(gradeCounts(c), " · "), "nothing that falls short, in what could be seen")
	}
	lines = append(lines, "Found: "+grades(ix.Counts)+". Before: "+grades(s.Counts)+".")
	if n := len(ix.limitLines()); n > 0 {
		lines = append(lines, several(n, "thing keeps", "things keep")+" the two from being compared in full; each stands at the end of the list of findings.")
	}
	return lines
}

// CompareText writes the same for a terminal. It writes once, and gives the error of that.
func CompareText(w io.Writer, r *result.Result, swapped bool, opt SummaryOptions) error {
	s := newSummary(newIndex(r), opt)
	s.line(strong, "What changed: "+orElse(s.Practice.Name, "a practice without a name"))
	s.line(nil, s.comparedDays(swapped)+" Two readings of records, not an inspection.")
	if w := s.otherPractice(); w != "" {
		s.line(alarm, w)
	}
	s.b.WriteByte('\n')
	short := s.comparedShort()
	s.line(strong, short[0])
	for _, l := range short[1:] {
		s.line(nil, l)
	}
	where := "; --out DIR writes a page with more"
	if opt.ReportPath != "" {
		where = " in the page"
	}
	for sort, items := range s.sinceItems() {
		s.compared(sort, items, where)
	}
	if n := len(s.Since.Earlier); n > 0 {
		s.line(nil, earlierWords(n))
	}
	if lines := s.limitLines(); len(lines) > 0 {
		s.title(titleCannot)
		for _, l := range lines[:min(len(lines), mostChanges)] {
			s.hang(nil, "- ", l)
		}
		s.rest(len(lines)-mostChanges, where)
	}
	if opt.ReportPath != "" {
		s.b.WriteString("\nThe whole of it: " + strings.Map(printable, opt.ReportPath) + "\n")
	}
	_, err := w.Write(s.b.Bytes())
	return err
}

// compared writes the findings of one sort, the first few in full.
func (s *summary) compared(sort int, items []sinceItem, where string) {
	if len(items) == 0 {
		return
	}
	s.title(sinceSorts[sort].title + " (" + strconv.Itoa(len(items)) + ")")
	if note := sinceSorts[sort].note; note != "" {
		s.line(faint, note)
	}
	for _, i := range items[:min(len(items), mostChanges)] {
		words := i.words()
		if d := lasting(i.days); d != "" && i.finding >= 0 {
			words = d + ". " + words
		}
		s.hang(i.style, "- ", words)
	}
	s.rest(len(items)-mostChanges, where)
}

// rest counts what is not named, and says where it is.
func (s *summary) rest(more int, where string) {
	if more > 0 {
		s.line(faint, "and "+strconv.Itoa(more)+" more"+where+".")
	}
}
