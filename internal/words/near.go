package words

import (
	"cmp"
	"slices"
	"strings"
)

// most is how many words are offered for one that is not known.
const most = 5

// near gives the words nearest to one that is not known: those that hold it or are
// held by it, and those of which a third of the letters or fewer are others.
func (g *glossary) near(word string) []string {
	asked := fold(word)
	best := map[*Entry]int{}
	for name, e := range g.find {
		away := distance(asked, name)
		switch {
		case len(asked) >= 3 && strings.Contains(name, asked), len(name) >= 4 && strings.Contains(asked, name):
			away = min(away, 1)
		case away > max(len([]rune(name)), len([]rune(asked)))/3:
			continue
		}
		if had, ok := best[e]; !ok || away < had {
			best[e] = away
		}
	}
	var out []string
	for e := range best {
		out = append(out, e.Word)
	}
	slices.SortFunc(out, func(a, b string) int {
		return cmp.Or(cmp.Compare(best[g.find[fold(a)]], best[g.find[fold(b)]]), cmp.Compare(a, b))
	})
	return out[:min(len(out), most)]
}

// longest is how many letters of a word are compared; no word here has as many.
const longest = 60

// distance counts the letters that must be put in, left out or changed to make one
// word of the other.
func distance(a, b string) int {
	x, y := []rune(a), []rune(b)
	x, y = x[:min(len(x), longest)], y[:min(len(y), longest)]
	row := make([]int, len(y)+1)
	for j := range row {
		row[j] = j
	}
	for i, r := range x {
		diagonal := row[0]
		row[0] = i + 1
		for j, s := range y {
			cost := 1
			if r == s {
				cost = 0
			}
			diagonal, row[j+1] = row[j+1], min(row[j+1]+1, row[j]+1, diagonal+cost)
		}
	}
	return row[len(y)]
}
