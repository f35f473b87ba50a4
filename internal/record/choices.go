package record

import (
	"strings"

	"footing/internal/quantity"
	"footing/schemas"
)

// chosen gives the choice that s means, or s as it is where it means none. A size
// such as "7,50" is looked for as "7.5" too.
func (l *lane) chosen(s string) string {
	f := l.col.field
	if f.Choices == nil {
		return s
	}
	if c, ok := f.Choice(s); ok {
		return c
	}
	if plain := plainNumber(s); plain != s {
		if c, ok := f.Choice(plain); ok {
			return c
		}
	}
	if word := quantity.Ticked(s); word != s {
		if c, ok := f.Choice(word); ok {
			return c
		}
	}
	return s
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
