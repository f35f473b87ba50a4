package cli

import (
	"strings"
	"testing"

	terminal "github.com/jedib0t/go-pretty/v6/text"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"footing/checks"
	glossary "footing/internal/words"
	"footing/schemas"
)

// Whatever a person may read in a record or a report is explained: each word and
// spelling, each kind, column, heading and choice, each check and criterion; on a
// screen's width, in one paragraph a thing.
func TestExplainKnowsWhatIsShown(t *testing.T) {
	var asked []string
	for _, e := range glossary.All() {
		asked = append(append(asked, e.Word), e.Also...)
	}
	for _, name := range schemas.Kinds() {
		k, _ := schemas.Lookup(name)
		asked = append(append(asked, name), k.Synonyms...)
	}
	for _, c := range allColumns() {
		asked = append(append(append(asked, c.at, c.field.Name), c.field.Choices...), c.field.Synonyms...)
	}
	for _, c := range checks.All() {
		asked = append(append(asked, c.ID), c.Uses...)
	}
	seen := map[string]bool{}
	for _, word := range asked {
		if seen[word] {
			continue
		}
		seen[word] = true
		text, err := explanation(word)
		require.NoError(t, err)
		if !assert.NotEmpty(t, text, "%q is shown somewhere and not explained", word) {
			continue
		}
		for l := range strings.Lines(text) {
			l = strings.TrimSuffix(l, "\n")
			assert.LessOrEqual(t, terminal.StringWidth(l), screen, "%s: %s", word, l)
			assert.Equal(t, strings.TrimRight(l, " "), l, word)
		}
		assert.False(t, strings.HasPrefix(text, "\n") || strings.HasSuffix(text, "\n\n") || strings.Contains(text, "\n\n\n"), "%s: %q", word, text)
	}
	assert.Greater(t, len(seen), 1000)
}

func TestExplainNamesEachColumnOnce(t *testing.T) {
	text, err := explanation("exposure")
	require.NoError(t, err)
	assert.Equal(t, 1, strings.Count(text, "loads.exposure\n"))
	text, err = explanation("id")
	require.NoError(t, err)
	assert.NotContains(t, text, "credential id", "a heading of one kind is none of the others")
}

func TestExplainUnknown(t *testing.T) {
	for _, word := range []string{"zebra", "\x1b[31m", "", " ", "loads.zebra", "cycles/zebra"} {
		got := call(t.Context(), "explain", word)
		assert.Equal(t, CouldNot, got.status, word)
		assert.Empty(t, got.out, word)
		assert.Contains(t, got.err, "next: ", word)
		assert.NotContains(t, got.err, "\x1b", word)
	}
}
