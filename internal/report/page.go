package report

import (
	"bytes"
	"strings"

	glossary "footing/internal/words"
)

// page collects the Markdown of a report.
type page struct {
	*index
	b         bytes.Buffer
	wordTerms terms                    // made at the first use
	explained map[*glossary.Entry]bool // words whose first use leads to what they mean
}

// heading starts a section; levels go down one at a time.
func (p *page) heading(level int, words md) {
	p.b.WriteString(strings.Repeat("#", level) + " " + string(words) + "\n\n")
}

// para writes a paragraph. Nothing is written for an empty one, nor for nothing in bold,
// which would be a line across the page.
func (p *page) para(words md) {
	if strings.Trim(string(words), "* ") != "" {
		p.b.WriteString(string(words) + "\n\n")
	}
}

// list writes one thing a line.
func (p *page) list(items ...md) {
	for _, item := range items {
		if item != "" {
			p.b.WriteString("- " + string(item) + "\n")
		}
	}
	if len(items) > 0 {
		p.b.WriteString("\n")
	}
}

// steps writes a numbered list.
func (p *page) steps(items []md) {
	for i, item := range items {
		p.b.WriteString(string(say("%s. %s\n", i+1, item)))
	}
	if len(items) > 0 {
		p.b.WriteString("\n")
	}
}

// table writes a table; without rows, nothing.
func (p *page) table(columns []md, rows [][]md) {
	if len(rows) == 0 {
		return
	}
	p.row(columns)
	rule := make([]md, len(columns))
	for i := range rule {
		rule[i] = "---"
	}
	p.row(rule)
	for _, r := range rows {
		p.row(r)
	}
	p.b.WriteString("\n")
}

func (p *page) row(cells []md) {
	p.b.WriteString("|")
	for _, c := range cells {
		p.b.WriteString(" " + string(c) + " |")
	}
	p.b.WriteString("\n")
}

// fence writes lines as they are. Each must begin with a digit, a letter of our
// own or "…", so that none can close the fence.
func (p *page) fence(info string, lines []string) {
	p.b.WriteString("```" + info + "\n")
	for _, l := range lines {
		p.b.WriteString(l + "\n")
	}
	p.b.WriteString("```\n\n")
}

// texts escapes each.
func texts(words []string) []md {
	out := make([]md, len(words))
	for i, w := range words {
		out[i] = text(w)
	}
	return out
}
