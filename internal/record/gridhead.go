package record

import (
	"slices"
	"strings"
	"sync"

	"footing/internal/workbook"
	"footing/schemas"
)

// headCell is one heading of a table.
type headCell struct {
	column       int
	text         string
	upper, lower string // the words of a heading in two rows
}

// heading is a row, or two rows, of headings.
type heading struct {
	cells []headCell
	rows  int // 1 or 2
	row   int // the last of them
	first int // the first

	called []string // names of the table, which may say what every row needs
}

// wordsOnly is true if a row holds nothing but words, and at least n of them.
func wordsOnly(cells []workbook.Cell, n int) bool {
	for i := range cells {
		if cells[i].Kind != workbook.Text {
			return false
		}
	}
	return len(cells) >= n
}

// longestHeading in bytes: what goes beyond is cut off.
const longestHeading = 300

// headText is the text of a cell as a heading.
func headText(c *workbook.Cell) string {
	text := trim(c.Text)
	if len(text) > longestHeading {
		return strings.ToValidUTF8(text[:longestHeading], "") + "…"
	}
	return text
}

// single takes a row for headings.
func single(l *gridLine) heading {
	h := heading{rows: 1, row: l.number, first: l.number}
	for i := range l.cells {
		if text := headText(&l.cells[i]); text != "" {
			h.cells = append(h.cells, headCell{column: l.cells[i].Column, text: text})
		}
	}
	return h
}

// double takes two rows for headings: what stands in the upper one, over one column or
// merged over several, goes with what stands below. kind settles which words to join.
func double(upper, lower *gridLine, kind *schemas.Kind) (heading, bool) {
	if lower == nil || lower.number != upper.number+1 || !wordsOnly(lower.cells, 1) || !wordsOnly(upper.cells, 1) {
		return heading{}, false
	}
	above, merged := map[int]string{}, false
	for i := range upper.cells {
		above[upper.cells[i].Column] = headText(&upper.cells[i])
	}
	for _, r := range upper.across {
		if r.LastRow == r.FirstRow && r.LastColumn-r.FirstColumn < mostLanes {
			for c := r.FirstColumn + 1; c <= r.LastColumn; c++ {
				above[c] = above[r.FirstColumn]
				merged = true
			}
		}
	}
	h := heading{rows: 2, row: lower.number, first: upper.number}
	below := map[int]string{}
	for i := range lower.cells {
		column, text := lower.cells[i].Column, headText(&lower.cells[i])
		below[column] = text
		h.cells = append(h.cells, headCell{column, joinHeading(kind, above[column], text), above[column], text})
	}
	for i := range upper.cells {
		column := upper.cells[i].Column
		if below[column] == "" {
			h.cells = append(h.cells, headCell{column: column, text: above[column]})
		}
	}
	slices.SortFunc(h.cells, func(a, b headCell) int { return a.column - b.column })
	return h, merged
}

// joinHeading finds the words of a heading in two rows that mean a field: "Indicators"
// over "outside" is "outside indicator".
func joinHeading(kind *schemas.Kind, above, below string) string {
	if above == "" || below == "" || above == below {
		return below + strings.TrimPrefix(above, below)
	}
	one := strings.TrimSuffix(above, "s")
	for _, words := range []string{below + " " + above, above + " " + below, below + " " + one, one + " " + below, below, above} {
		if fieldOf(kind, words) != nil {
			return words
		}
	}
	return above + " " + below
}

// says is true if the words are those of the heading, whole or those of either row.
func (c *headCell) says(text string) bool {
	if len(text) > 2*longestHeading {
		return false
	}
	f := schemas.Fold(text)
	return f == schemas.Fold(c.text) || c.lower != "" && (f == schemas.Fold(c.lower) || f == schemas.Fold(c.upper))
}

// fieldOf is the field that a heading means, with its unit in brackets or without.
func fieldOf(kind *schemas.Kind, heading string) *schemas.Field {
	s := sheet{plan: &plan{kind: kind}}
	f, _ := s.matchHeading(heading, &lane{})
	return f
}

// fit is how well headings are those of a kind.
type fit struct {
	kind   *schemas.Kind
	known  int  // fields that are named
	needed bool // all that are required are among them
}

// fits says so of one kind.
func (h *heading) fits(kind *schemas.Kind) fit {
	named := map[string]bool{}
	for _, c := range h.cells[:min(len(h.cells), mostLanes)] {
		if f := fieldOf(kind, c.text); f != nil {
			named[f.Name] = true
		}
	}
	out := fit{kind: kind, known: len(named), needed: true}
	for _, name := range kind.Required {
		out.needed = out.needed && (named[name] || h.say(kind, name))
	}
	return out
}

// say is true if a name of the table says what each row has in a field.
func (h *heading) say(kind *schemas.Kind, name string) bool {
	f, ok := kind.Field(name)
	return ok && f.Choices != nil && slices.ContainsFunc(h.called, func(words string) bool { return saidBy(words, kind, f) != "" })
}

// headingWords are the words that any kind of rows has for a field.
var headingWords = sync.OnceValue(func() map[string]bool {
	words := map[string]bool{}
	for _, name := range schemas.Kinds() {
		if kind, _ := schemas.Lookup(name); !kind.Single {
			for _, f := range kind.Fields {
				words[schemas.Fold(f.Name)] = true
				for _, s := range f.Synonyms {
					words[schemas.Fold(s)] = true
				}
			}
		}
	}
	return words
})

// mostHeadings is beyond what two tables of the longest kind have side by side.
const mostHeadings = 256

// aboutHeadings is true for a row of words of which at least two, and most, are headings
// of some kind.
func aboutHeadings(cells []workbook.Cell) bool {
	if len(cells) > mostHeadings || !wordsOnly(cells, 2) {
		return false
	}
	known, words := 0, headingWords()
	for i := range cells {
		text, _, _ := cutBrackets(headText(&cells[i]))
		if words[schemas.Fold(strings.TrimRight(text, "?:.* "))] {
			known++
		}
	}
	return known >= 2 && 2*known > len(cells)
}

// surely gives the kind whose headings these surely are: all that are required and at
// least three are named, and more than of any other kind.
func (h *heading) surely(not *schemas.Kind) (fit, bool) {
	var best fit
	second := 0
	for _, name := range schemas.Kinds() {
		kind, _ := schemas.Lookup(name)
		if kind.Single || kind == not {
			continue
		}
		switch f := h.fits(kind); {
		case !f.needed:
		case f.known > best.known:
			best, second = f, best.known
		case f.known > second:
			second = f.known
		}
	}
	return best, best.known >= 3 && best.known > second
}
