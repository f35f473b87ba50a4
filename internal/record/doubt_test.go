package record

import (
	"slices"
	"strings"
	"testing"
	"unicode"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"footing/internal/quantity"
	"footing/schemas"
)

// doubts are what people put around a word to deny or question it; "%" is the word.
var doubts = []string{"not %", "not-%", "no %", "no - %", "no – %", "no\n%", "not\n%", "non %", "never %", "not yet %", "isn't %", "% not", "% - no", "% – not really", "%?", "% ?", "?%", "? %", "¿%?",
	"%？", "%??", "%?.", "“%?”", "%? ✓", "✓ %?", "(%)", "(%?)", "% (no)", "% ✗", "✗ %", "% ❌", "❌ %", "☐ %", "x %", "- %", "-%", "% -", "%-", "%–", "−%", "_%", "% _ no", "~%", "almost %", "nearly %", "% or not", "%/no", "no/%",
	"% no", "% if dry", "un %", "un-%", "\u202e%", "%\u202e", "% pending", "%!?", "% ✓✗", "n’t %", "%, not", "not, %", "0 %", "% (pending)", "“% -”", "“-%”", "'%-'", "“no - %”", "\u200b- %", "% -\u00a0", "not\u00a0-\u00a0%", "no\u2028%", "no\v%", "no\t%"}

// wordsOf are all words of a choice, by their names folded.
func wordsOf(f *schemas.Field) (words []string, known map[string]string) {
	known = map[string]string{}
	for _, c := range f.Choices {
		words, known[schemas.Fold(c)] = append(words, c), c
	}
	for w, c := range f.ChoiceSynonyms {
		words, known[schemas.Fold(w)] = append(words, w), c
	}
	slices.Sort(words)
	return words, known
}

// No word of any choice, denied or questioned, is read as the plain word; it is read at all
// only where the schema has it so: "no growth", "not changed".
func TestDeniedAndQuestionedWords(t *testing.T) {
	for _, name := range schemas.Kinds() {
		kind, _ := schemas.Lookup(name)
		for _, f := range kind.Fields {
			if f.Choices == nil || f.Open != "" {
				continue
			}
			l := &lane{col: &column{field: f}}
			words, known := wordsOf(f)
			for _, w := range words {
				plain := known[schemas.Fold(w)]
				for _, d := range doubts {
					s := strings.ReplaceAll(d, "%", w)
					got, ok := l.choice(s)
					if quantity.Ticked(w+" a") == "a" { // a tick beside a word says no more than the word
						ok = ok && got == plain
					}
					if f.Name == "label" && strings.HasSuffix(s, " no") { // its number
						continue
					}
					if ok && (got == plain || known[schemas.Fold(s)] != got || strings.ContainsAny(s, "?？")) {
						t.Errorf("%s.%s: %q is read as %q", name, f.Name, s, got)
					}
					if parts := l.parted(s); parts != nil {
						t.Errorf("%s.%s: %q is read as %q", name, f.Name, s, parts)
					}
				}
			}
		}
	}
}

// The same of yes and no, in the words that all fields have and in each field's own.
func TestDeniedAndQuestionedAnswers(t *testing.T) {
	for _, name := range schemas.Kinds() {
		kind, _ := schemas.Lookup(name)
		for _, f := range kind.Fields {
			if f.Form != schemas.YesNo {
				continue
			}
			l := &lane{col: &column{field: f}}
			own := ownAnswers[f.Name]
			for _, w := range []string{"yes", "y", "true", "✓", "✅", "no", "n", "false", f.Name, strings.ReplaceAll(f.Name, "_", " "), "not " + f.Name, own[0], own[1]} {
				if w == "" {
					continue
				}
				plain := l.ownAnswer(w)
				for _, d := range doubts {
					s := strings.ReplaceAll(d, "%", w)
					got := l.ownAnswer(s)
					if got != quantity.NotWritten && (got == plain || plain == quantity.NotWritten || strings.ContainsAny(s, "?？\n") || got == quantity.IsYes) {
						t.Errorf("%s.%s: %q is read as %v", name, f.Name, s, got)
					}
				}
			}
		}
	}
}

// Whatever stands around a word of a result or a decision, it is that word only if what
// stands there is blanks, quotation marks, ticks or full stops.
func TestNothingButDecorationIsLeftOut(t *testing.T) {
	type at struct{ kind, field string }
	rapid.Check(t, func(t *rapid.T) {
		p := rapid.SampledFrom([]at{{"tests", "result"}, {"tests", "control"}, {"loads", "outside_indicator"}, {"loads", "inside_indicator"}, {"loads", "decision"}, {"packs", "condition"}, {"soaks", "strength_test"}, {"upkeep", "result"}, {"screens", "latex"}, {"histories", "diabetes"}}).Draw(t, "at")
		kind, _ := schemas.Lookup(p.kind)
		f, _ := kind.Field(p.field)
		words, known := wordsOf(f)
		w := rapid.SampledFrom(words).Draw(t, "word")
		mark := rapid.StringOfN(rapid.RuneFrom([]rune(" .?!-–+~x✗✓✔❌()/,;'\"’“0_\n")), 1, 5, -1)
		before, after := mark.Draw(t, "before"), mark.Draw(t, "after")
		s := before + w + after
		got, ok := (&lane{col: &column{field: f}}).choice(s)
		if !ok || known[schemas.Fold(s)] == got || quantity.Ticked(w+" a") == "a" && got != known[w] {
			return // of a tick and a word, the word counts
		}
		for _, r := range before + after {
			if !unicode.IsSpace(r) && !strings.ContainsRune(".'\"’“✓✔\ufe0fs", r) {
				t.Fatalf("%s.%s: %q is read as %q", p.kind, p.field, s, got)
			}
		}
		require.Equal(t, known[schemas.Fold(w)], got, s)
	})
}

// A cell in which only strokes stand answers nothing.
func TestStrokesAreNoAnswer(t *testing.T) {
	for _, s := range []string{"-", "--", "- -", "_", "'-'", "“-”", "—", "– –", ".", "“_”"} {
		for _, at := range []string{"loads.wrapped", "sites.reprocessing", "loads.packs_dry"} {
			name, field, _ := strings.Cut(at, ".")
			kind, _ := schemas.Lookup(name)
			f, _ := kind.Field(field)
			require.Equal(t, quantity.NotWritten, (&lane{col: &column{field: f}}).ownAnswer(s), "%s %q", at, s)
		}
	}
}
