// Package words explains the words of the trade that stand in records and reports:
// what exposure is, gravity and dynamic, gauge and absolute, class, coverage.
package words

import (
	"cmp"
	_ "embed"
	"fmt"
	"slices"
	"strings"
	"sync"

	"go.yaml.in/yaml/v4"
)

// Entry explains one word.
type Entry struct {
	Word    string   `yaml:"word"`
	Also    []string `yaml:"also"`    // other words and spellings for it
	Meaning string   `yaml:"meaning"` // a few sentences, on one line
	Short   string   `yaml:"short"`   // a clause to stand in brackets after the word where it is first met: "how long the load was held at temperature"
	Where   []string `yaml:"where"`   // KIND.FIELD that it is written in
	See     []string `yaml:"see"`     // other words
	Sources []string `yaml:"sources"` // ids in checks/criteria/sources.yaml; none for common practice
	Running []string `yaml:"running"` // forms to look for in running text; none where each has an everyday meaning too
}

//go:embed words.yaml
var text []byte

// glossary is every entry, and where each word and spelling leads.
type glossary struct {
	all  []*Entry
	find map[string]*Entry // by fold; words go before spellings of other words
}

var loaded = sync.OnceValue(func() *glossary {
	g, err := parse(text)
	if err != nil {
		panic("words: " + err.Error()) // embedded, and a test reads it
	}
	return g
})

// parse reads entries strictly: a name that Entry does not have, an entry without a
// word, a meaning or a short one, and a word or spelling that two entries share, are errors.
func parse(data []byte) (*glossary, error) {
	g := &glossary{find: map[string]*Entry{}}
	if err := yaml.Load(data, &g.all, yaml.WithKnownFields()); err != nil {
		return nil, err
	}
	for _, e := range g.all {
		e.Meaning = strings.TrimSpace(e.Meaning)
		if e.Word == "" || e.Meaning == "" || e.Short == "" {
			return nil, fmt.Errorf("%q needs a word, a meaning and a short one", e.Word)
		}
		for _, name := range append([]string{e.Word}, e.Also...) {
			if other := g.find[fold(name)]; other != nil {
				return nil, fmt.Errorf("%q stands with %q and with %q", name, other.Word, e.Word)
			}
			g.find[fold(name)] = e
		}
	}
	slices.SortFunc(g.all, func(a, b *Entry) int {
		return cmp.Or(cmp.Compare(strings.ToLower(a.Word), strings.ToLower(b.Word)), cmp.Compare(a.Word, b.Word))
	})
	return g, nil
}

// All gives every entry, by word. The entries are shared: nobody changes them.
func All() []*Entry { return slices.Clone(loaded().all) }

// Find gives the entry of a word, or of another word or spelling for it, without
// regard to case, plural, spaces, hyphens and underscores; else the words that are
// nearest, at most five, the nearest first.
func Find(word string) (e *Entry, near []string) {
	g := loaded()
	for _, f := range forms(word) {
		if e := g.find[f]; e != nil {
			return e, nil
		}
	}
	return nil, g.near(word)
}

// fold writes a word in lower case, without spaces, hyphens and underscores.
func fold(s string) string {
	return strings.ToLower(strings.NewReplacer(" ", "", "-", "", "_", "", "\t", "", "\u2010", "", "\u2011", "").Replace(s))
}

// forms are the folded word, and what it would be as one of several: "indicators",
// "policies", "batches".
func forms(word string) []string {
	f := fold(word)
	out := []string{f}
	if len(f) < 4 {
		return out
	}
	if stem, ok := strings.CutSuffix(f, "ies"); ok {
		out = append(out, stem+"y")
	}
	if stem, ok := strings.CutSuffix(f, "es"); ok {
		out = append(out, stem)
	}
	if stem, ok := strings.CutSuffix(f, "s"); ok {
		out = append(out, stem)
	} else {
		out = append(out, f+"s")
	}
	return out
}
