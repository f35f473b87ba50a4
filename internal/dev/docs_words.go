package dev

import (
	"bytes"
	"fmt"
	"strings"

	"footing/internal/audit"
	glossary "footing/internal/words"
)

// wordsPage lists every word with an anchor of its own.
func wordsPage(criteria *audit.Criteria) []byte {
	var b bytes.Buffer
	b.WriteString(generated + "# Words\n\nWords that stand in records and reports, in plain words. `footing explain WORD` says the same on the screen, and what each record, column and choice is.\nA word without a source is common practice. Your regulator's own rules, the maker's instructions and licensed practice come first.")
	letter := ""
	for _, e := range glossary.All() {
		if first := strings.ToUpper(e.Word[:1]); first != letter {
			letter = first
			b.WriteString("\n\n")
		} else {
			b.WriteString(" · ")
		}
		fmt.Fprintf(&b, "[%s](#%s)", e.Word, anchor(e.Word))
	}
	b.WriteString("\n")
	for _, e := range glossary.All() {
		fmt.Fprintf(&b, "\n## %s\n\n%s\n\n- In short: %s\n", e.Word, e.Meaning, e.Short)
		if len(e.Also) > 0 {
			fmt.Fprintf(&b, "- Also: %s\n", strings.Join(e.Also, ", "))
		}
		if len(e.Where) > 0 {
			fmt.Fprintf(&b, "- Typed in: %s\n", typedIn(e.Where))
		}
		if len(e.See) > 0 {
			links := make([]string, len(e.See))
			for i, s := range e.See {
				links[i] = fmt.Sprintf("[%s](#%s)", s, anchor(s))
			}
			fmt.Fprintf(&b, "- See also: %s\n", strings.Join(links, ", "))
		}
		for _, id := range e.Sources {
			s, _ := criteria.Source(id)
			fmt.Fprintf(&b, "- Source: %s\n", strings.Join(present(s.Title, s.Body, s.Edition, s.Year), ", "))
		}
		if len(e.Sources) == 0 {
			b.WriteString("- Source: common practice, no source\n")
		}
	}
	return b.Bytes()
}

// anchor is the place of a heading, as the usual readers of Markdown make it.
func anchor(heading string) string {
	return strings.ReplaceAll(strings.ToLower(heading), " ", "-")
}

// typedIn links each KIND.FIELD to the page of its kind.
func typedIn(where []string) string {
	links := make([]string, len(where))
	for i, at := range where {
		kind, _, _ := strings.Cut(at, ".")
		links[i] = fmt.Sprintf("[%s](records/%s.md)", at, kind)
	}
	return strings.Join(links, ", ")
}
