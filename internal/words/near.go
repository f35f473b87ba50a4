package words

import (
	"cmp"
	"maps"
	"slices"
	"strings"
)

// most is how many words are offered for one that is not known.
const most = 5

// near gives the words nearest to one that is not known, each entry by its word or by the
// other word for it that is nearest: those that hold it or are held by it, and those of
// which a third of the letters or fewer are others.
func (g *glossary) near(word string) []string {
	asked := fold(word)
	best := map[*Entry]nearest{}
	for name, e := range g.find {
		apart := distance(asked, name)
		away := apart
		switch {
		case len(asked) >= 3 && strings.Contains(name, asked), len(name) >= 4 && strings.Contains(asked, name):
			away = min(away, 1)
		case away > max(len([]rune(name)), len([]rune(asked)))/3:
			continue
		}
		one := nearest{away, apart, g.spelled(name)}
		if had, ok := best[e]; !ok || one.compare(had) < 0 {
			best[e] = one
		}
	}
	list := slices.SortedFunc(maps.Values(best), nearest.compare)
	var out []string
	for _, n := range list[:min(len(list), most)] {
		out = append(out, n.word)
	}
	return out
}

// nearest is a word and how far it is away, with one that holds the other near; and by
// letters alone.
type nearest struct {
	away, apart int
	word        string
}

func (n nearest) compare(m nearest) int {
	return cmp.Or(cmp.Compare(n.away, m.away), cmp.Compare(n.apart, m.apart), cmp.Compare(n.word, m.word))
}

// spelled is a folded word as it is listed.
func (g *glossary) spelled(folded string) string {
	e := g.find[folded]
	for _, name := range append([]string{e.Word}, e.Also...) {
		if fold(name) == folded {
			return name
		}
	}
	return e.Word
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
