package audit

import (
	"slices"
	"strings"
	"sync"

	"footing/schemas"
)

// spell brings the words of a list that a practice typed to the spelling of the
// criterion's own words, else to that of the record kinds, so that "Local
// anaesthetic" is the question local_anaesthetic. A word that neither has is a
// word of the practice's.
func (v *value) spell(c *criterion) {
	for i, word := range v.items {
		v.items[i] = spelled(c, word)
	}
}

func spelled(c *criterion, word string) string {
	fold := schemas.Fold(word)
	for _, shipped := range c.values {
		if at := slices.IndexFunc(shipped.value.items, func(s string) bool { return schemas.Fold(s) == fold }); at >= 0 {
			return shipped.value.items[at]
		}
	}
	if known, ok := vocabulary()[fold]; ok {
		return known
	}
	return strings.ToLower(strings.Join(strings.Fields(word), " "))
}

// vocabulary is every choice and field of the record kinds, by its fold; a choice
// goes before a field, and the first kind before others.
var vocabulary = sync.OnceValue(func() map[string]string {
	words := map[string]string{}
	add := func(word string) {
		if fold := schemas.Fold(word); words[fold] == "" {
			words[fold] = word
		}
	}
	var fields []string
	for _, name := range schemas.Kinds() {
		kind, _ := schemas.Lookup(name)
		for _, f := range kind.Fields {
			fields = append(fields, f.Name)
			for _, choice := range f.Choices {
				add(choice)
			}
		}
	}
	for _, name := range fields {
		add(name)
	}
	return words
})
