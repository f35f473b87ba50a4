package report

import (
	"bytes"
	"io"
	"strings"

	"footing/internal/result"
)

// LookbackMarkdown writes the page of one look-back. The HTML page is made from
// exactly this text. The same answer gives the same bytes.
func LookbackMarkdown(a *result.Answer) []byte { return lookPageOf(a).markdown() }

// LookbackHTML makes one self-contained page from the Markdown of a, as HTML does of
// a result. Printed on A4 its lists can be ticked by hand.
func LookbackHTML(a *result.Answer) ([]byte, error) {
	p := lookPageOf(a)
	return p.html(p.markdown())
}

// LookbackCSV writes what a lists for a spreadsheet: a line a pack, load, visit and
// link of a chain, with the columns kind, id, on, site, client, window, how, file,
// row, in UTF-8 with a mark that says so. No cell can begin a formula.
func LookbackCSV(a *result.Answer) []byte { return sheetOf(veiled(a)) }

// LookbackText writes a for a terminal: what to do now, then the tables. It writes
// once.
func LookbackText(w io.Writer, a *result.Answer, opt SummaryOptions) {
	a = veiled(a)
	s := newSummary(lookIndex(a), opt)
	s.lookback(a)
	if opt.ReportPath != "" {
		// A path is printed as it is, so that it can be copied.
		s.b.WriteString("\nThe whole of it, to print and to tick: " + strings.Map(printable, opt.ReportPath) + "\n")
	}
	_, _ = w.Write(s.b.Bytes())
}

// lookPage collects the Markdown of a look-back.
type lookPage struct {
	page
	a *result.Answer
}

func lookPageOf(a *result.Answer) *lookPage {
	a = veiled(a)
	return &lookPage{page: page{index: lookIndex(a)}, a: a}
}

// lookIndex is what a look-back shares with an audit: whose it is, of when, under
// which rules.
func lookIndex(a *result.Answer) *index {
	return newIndex(&result.Result{Tool: a.Tool, AsOf: a.AsOf, Practice: a.Practice, Period: a.Period,
		Contacts: a.Contacts, RuleSet: a.RuleSet, Rules: a.Rules})
}

// markdown starts anew each time, so that one page can be asked twice.
func (p *lookPage) markdown() []byte {
	p.b = bytes.Buffer{}
	p.heading(1, say("Look-back: %s", asked(p.a)))
	p.sharedNote(p.a.Shared)
	first, rest := cut(p.a.Says)
	p.para(text(stop(first)))
	p.now()
	p.short(rest)
	p.decides()
	p.pull()
	p.telephone()
	p.windows()
	p.narrowing()
	p.loads()
	p.visits()
	p.clients()
	p.chains()
	p.others()
	p.bullets(titleMissing, p.a.Missing)
	p.bullets(titleLimits, p.a.Limits)
	if p.RuleSet != "" || len(p.Rules) > 0 {
		p.rules()
	}
	p.words()
	p.closing()
	return p.b.Bytes()
}

// asked is the question in words; without words, its kind and id.
func asked(a *result.Answer) string {
	return orElse(a.Asked.Words, orElse(named(a.Asked.Kind, a.Asked.ID), "a question without words"))
}

func cut(lines []string) (first string, rest []string) {
	if len(lines) == 0 {
		return "", nil
	}
	return lines[0], lines[1:]
}
