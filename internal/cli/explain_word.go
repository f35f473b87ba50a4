package cli

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"footing/checks"
	"footing/internal/audit"
	glossary "footing/internal/words"
	"footing/schemas"
)

// mostUses is how many checks are named that use a word, and how many columns
// are described that have one name.
const mostUses = 8

// explanation is what is known of a word, as text for the screen; empty where nothing is.
func explanation(asked string) (string, error) {
	criteria, err := checks.Criteria()
	if err != nil {
		return "", err
	}
	var b strings.Builder
	if checkPointed(&b, asked, criteria) {
		return b.String(), nil
	}
	entry, _ := glossary.Find(asked)
	named, chosen := columnsMeant(asked)
	if kind, ok := schemas.Match(asked); ok && asked != "" {
		showRecordKind(&b, kind)
		if entry == nil {
			return b.String(), nil
		}
		line(&b, "")
	}
	if entry == nil && len(named)+len(chosen) == 0 {
		return b.String(), nil
	}
	if entry == nil {
		line(&b, asked)
	} else {
		showWordEntry(&b, entry)
		named = columnsOnce(slices.Concat(columnsTyped(entry), named))
	}
	showWordColumns(&b, columnsOnce(slices.Concat(named, chosen)))
	showWordUses(&b, named)
	if entry != nil {
		showWordSources(&b, entry, criteria)
	}
	return b.String(), nil
}

// checkPointed sends who asks for a check or a criterion to the command that shows it.
func checkPointed(w io.Writer, asked string, criteria *audit.Criteria) bool {
	for _, c := range checks.All() {
		if c.ID == asked {
			line(w, c.ID+" is a check")
			line(w, indented("Met when "+c.Title+".", "  "))
			line(w, indented("footing checks "+c.ID+" shows it in full, with its criteria and sources.", "  "))
			return true
		}
		if slices.Contains(c.Uses, asked) {
			line(w, asked+" is a criterion")
			line(w, indented(criteria.Values(asked)[0].Text+".", "  "))
			line(w, indented("footing checks "+c.ID+" shows its values and sources.", "  "))
			return true
		}
	}
	return false
}

func showWordEntry(w io.Writer, e *glossary.Entry) {
	line(w, e.Word)
	line(w, indented(e.Meaning, "  "))
	if len(e.Also) > 0 {
		line(w, "")
		line(w, indented("Also: "+strings.Join(e.Also, ", "), "  "))
	}
	if len(e.See) > 0 {
		line(w, indented("See also: "+strings.Join(e.See, ", "), "  "))
	}
}

// columnsTyped are the columns in which a word is written.
func columnsTyped(e *glossary.Entry) (columns []wordColumn) {
	for _, at := range e.Where {
		kind, name, _ := strings.Cut(at, ".")
		if k, ok := schemas.Lookup(kind); ok {
			if f, ok := k.Field(name); ok {
				columns = append(columns, wordColumn{at, f})
			}
		}
	}
	return columns
}

// showWordUses names the checks that ask for one of the columns.
func showWordUses(w io.Writer, columns []wordColumn) {
	var uses []audit.Check
	for _, c := range checks.All() {
		if slices.ContainsFunc(columns, func(k wordColumn) bool { return slices.Contains(c.Needs, k.at) || slices.Contains(c.Helps, k.at) }) {
			uses = append(uses, c)
		}
	}
	if len(uses) == 0 {
		return
	}
	line(w, "")
	line(w, "Checks that use it")
	for _, c := range uses[:min(len(uses), mostUses)] {
		line(w, "  "+c.ID)
		line(w, indented(c.Title, "    "))
	}
	if more := len(uses) - mostUses; more > 0 {
		line(w, fmt.Sprintf("  and %d more; footing checks lists them all", more))
	}
}

func showWordSources(w io.Writer, e *glossary.Entry, criteria *audit.Criteria) {
	line(w, "")
	if len(e.Sources) == 0 {
		line(w, "Source: common practice, no source")
		return
	}
	line(w, "Sources")
	for _, id := range e.Sources {
		s, _ := criteria.Source(id)
		var parts []string
		for _, part := range []string{s.Title, s.Body, s.Edition, s.Year} {
			if part != "" && !slices.Contains(parts, part) {
				parts = append(parts, part)
			}
		}
		line(w, indented(strings.Join(parts, ", "), "  "))
	}
	line(w, indented("The rules where you work and the maker's instructions come first.", "  "))
}
