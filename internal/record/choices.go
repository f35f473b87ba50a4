package record

import (
	"strings"

	"footing/internal/quantity"
	"footing/schemas"
)

// chosen gives the choice that s means, or s as it is where it means none.
func (l *lane) chosen(s string) string {
	if l.col.field.Choices == nil {
		return s
	}
	if c, ok := l.choice(s); ok {
		return c
	}
	return s
}

// choice gives the choice that s means: by its name or another word for it, with a tick, a
// full stop or the field's own name beside it ("nitrile gloves"), in the plural; a size
// such as "7,50" is looked for as "7.5" too.
func (l *lane) choice(s string) (string, bool) {
	f := l.col.field
	if f.Choices == nil {
		return "", false
	}
	if c, ok := f.Choice(s); ok {
		return c, true
	}
	if len(s) > longestChoice {
		return "", false
	}
	if plain := plainNumber(s); plain != s {
		return f.Choice(plain)
	}
	word := quantity.Tidy(s)
	if c, ok := f.Choice(word); ok {
		return c, true
	}
	folded := schemas.Fold(word)
	for _, tail := range [...]string{schemas.Fold(f.Name), strings.TrimSuffix(schemas.Fold(f.Name), "s"), "s"} {
		if less, ok := strings.CutSuffix(folded, tail); ok && less != "" && tail != "" {
			if c, ok := f.Choice(less); ok {
				return c, true
			}
		}
	}
	return "", false
}

const longestChoice = 200

// named gives the thing that the first or the last words of a text name, of a field that
// says what a thing is: "gloves" of "nitrile gloves" and of "Gloves (nitrile)". It is for
// a message only: "no gloves" names them too.
func (l *lane) named(text string) string {
	f := l.col.field
	if f.Choices == nil || f.Name != "item" && f.Name != "kind" || len(text) > longestChoice {
		return ""
	}
	words := strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune(" ,()[]", r) })
	for n := len(words) - 1; n > 0; n-- {
		for _, part := range [][]string{words[len(words)-n:], words[:n]} {
			if c, ok := l.choice(strings.Join(part, " ")); ok {
				return c
			}
		}
	}
	return ""
}

// unsaid is true for words by which nothing is written in a field that may be left
// blank: "n/a", "?", "unknown". They are no mistake, so nothing is told of them.
func (l *lane) unsaid(text string) bool {
	return !l.col.field.Required && quantity.NotSaid(text)
}

// silent is unsaid for words, choices and ids. A row may be called "unknown"; none is
// called "n/a".
func (l *lane) silent(text string) bool {
	switch f := l.col.field; {
	case !l.unsaid(text):
		return false
	case f.Choices != nil:
		_, known := l.choice(text)
		return !known
	case f.Form == schemas.Ref:
		return true
	default:
		return (f.Form == schemas.ID || f.Form == schemas.Text) && quantity.NoAnswer(text)
	}
}

// nearest gives the choice whose name differs from s in at most two letters, or "".
func nearest(names []string, s string) string {
	folded := schemas.Fold(s)
	if len(folded) < 3 || len(folded) > 60 {
		return ""
	}
	best, least := "", 3
	for _, name := range names {
		other := schemas.Fold(name)
		if d := distance(folded, other); d < least && 2*d < len(other) {
			best, least = name, d
		}
	}
	return best
}

// distance counts the letters to insert, delete, replace or swap to make b of a.
func distance(a, b string) int {
	x, y := []rune(a), []rune(b)
	before, last, row := make([]int, len(y)+1), make([]int, len(y)+1), make([]int, len(y)+1)
	for j := range last {
		last[j] = j
	}
	for i := range x {
		row[0] = i + 1
		for j := range y {
			cost := 1
			if x[i] == y[j] {
				cost = 0
			}
			row[j+1] = min(row[j]+1, last[j+1]+1, last[j]+cost)
			if i > 0 && j > 0 && x[i] == y[j-1] && x[i-1] == y[j] {
				row[j+1] = min(row[j+1], before[j-1]+1)
			}
		}
		before, last, row = last, row, before
	}
	return last[len(y)]
}

// plainNumber writes a decimal comma as a point and drops zeros at the end of the
// decimals: "7,50" becomes "7.5". Anything that is not such a number stays as it is.
func plainNumber(s string) string {
	n, ok := numberText(s)
	if !ok {
		return s
	}
	if strings.Contains(n, ".") {
		n = strings.TrimRight(strings.TrimRight(n, "0"), ".")
	}
	return n
}
