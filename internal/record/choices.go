package record

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

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
// such as "7,50" is looked for as "7.5" too. Beside an answer, or what a control did, the
// field's name says more: "no latex" may be an allergy, "positive control" which one it is.
func (l *lane) choice(s string) (string, bool) {
	f := l.col.field
	if f.Choices == nil {
		return "", false
	}
	if c, settled := l.wholeWord(s); settled {
		return c, c != ""
	}
	if plain := plainNumber(s); plain != s {
		return f.Choice(plain)
	}
	word := quantity.Tidy(s)
	if c, settled := l.wholeWord(word); settled {
		return c, c != ""
	}
	if v, err := quantity.ParseYesNo(word); err == nil && v == quantity.IsYes && word[0] >= utf8.RuneSelf {
		return f.Choice("✓")
	}
	folded, name := schemas.Fold(word), schemas.Fold(f.Name)
	if slices.Contains(f.Choices, "yes") || f.Name == "control" {
		name = ""
	}
	for _, tail := range [...]string{name, strings.TrimSuffix(name, "s"), "s"} {
		if less, ok := strings.CutSuffix(folded, tail); ok && less != "" && tail != "" && (tail != "s" || len(less) >= shortestPlural) {
			if c, ok := f.Choice(less); ok {
				return c, true
			}
		}
	}
	return "", false
}

// wholeWord gives the choice whose name or other word s is, as it stands. It settles also
// that there is none, "", for what must not be looked at further.
func (l *lane) wholeWord(s string) (c string, settled bool) {
	c, ok := l.col.field.Choice(s)
	switch {
	case len(s) > longestChoice, ok && l.col.field.Open != "" && strings.HasPrefix(c, l.col.field.Open):
		return c, true
	case dashed(s):
		return l.signed(s), true
	case l.unsigned(s):
		return "", true
	}
	return c, ok
}

// A word shorter than shortestPlural has no plural: "SS" is no S.
const longestChoice, shortestPlural = 200, 3

// dashed is true for a dash that is no hyphen within a word, and for more lines than one:
// "no - growth" and "growth -" say something else than "no-growth" and "growth".
func dashed(s string) bool {
	before := ' '
	for _, r := range trim(s) {
		if dash(r) && !inWord(before) || dash(before) && !inWord(r) || strings.ContainsRune("\n\v\f\r\u0085\u2028\u2029", r) {
			return true
		}
		before = r
	}
	return dash(before)
}

func dash(r rune) bool {
	return r == '-' || r == '_' || '\u2010' <= r && r <= '\u2015' || r == '−'
}

func inWord(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) }

// signed gives the choice of a word that begins with a minus, which has to be among the
// field's words as it is: "-ve".
func (l *lane) signed(s string) string {
	word := quantity.Tidy(s)
	if r, n := utf8.DecodeRuneInString(word); dash(r) {
		return l.col.field.ChoiceSynonyms["-"+strings.ToLower(word[n:])]
	}
	return ""
}

// unsigned is true for what is left of such a word where its minus was lost: "ve".
func (l *lane) unsigned(s string) bool {
	if len(s) > 4 || l.col.field.ChoiceSynonyms == nil {
		return false
	}
	_, minus := l.col.field.ChoiceSynonyms["-"+strings.ToLower(trim(s))]
	return minus
}

// named gives the thing that the first or the last words of a text name, of a field that
// says what a thing is, and the other words: "gloves" of "nitrile gloves" and of "Gloves
// (nitrile)". It gives "" where another word belongs to another choice: "double action nail
// nippers", and of "no gloves". What it gives is only advised, unless the other words are known.
func (l *lane) named(text string) (choice string, others []string) {
	f := l.col.field
	if f.Choices == nil || f.Name != "item" && f.Name != "kind" || len(text) > longestChoice {
		return "", nil
	}
	words := thingWords(text)
	if len(words) > 0 && slices.Contains([]string{"no", "not", "non", "without"}, strings.ToLower(words[0])) {
		return "", nil
	}
	for n := len(words) - 1; n > 0; n-- {
		for _, at := range []int{len(words) - n, 0} {
			if c, ok := l.choice(strings.Join(words[at:at+n], " ")); ok {
				others = append(slices.Clone(words[:at]), words[at+n:]...)
				if slices.ContainsFunc(others, func(w string) bool { return l.ofAnother(c, w) }) {
					return "", nil
				}
				return c, others
			}
		}
	}
	return "", nil
}

// thingWords are the words of a text without the marks between them.
func thingWords(text string) []string {
	words := strings.FieldsFunc(quantity.Tidy(text), func(r rune) bool { return strings.ContainsRune(" ,()[]", r) })
	return slices.DeleteFunc(words, func(w string) bool { return strings.IndexFunc(w, inWord) < 0 && dashed(w) })
}

// ofAnother is true for a word that stands in the name of another choice than c, or in
// another word for it.
func (l *lane) ofAnother(c, word string) bool {
	word = schemas.Fold(word)
	holds := func(name string) bool {
		for _, w := range strings.FieldsFunc(strings.ToLower(name), func(r rune) bool { return !inWord(r) }) {
			if w == word || w+"s" == word || w == word+"s" {
				return true
			}
		}
		return false
	}
	for _, name := range l.col.field.Choices {
		if name != c && holds(name) {
			return true
		}
	}
	for name, other := range l.col.field.ChoiceSynonyms {
		if other != c && holds(name) {
			return true
		}
	}
	return false
}

// materials are what gear is made of. Beside its name they do not change what it is, nor
// with what it is counted.
var materials = []string{"nitrile", "vinyl", "latex", "rubber", "neoprene", "plastic", "paper", "cotton", "metal", "steel"}

// made is named where all other words are materials and the kind has a column for them.
func (l *lane) made(text string) (choice, of string) {
	c, others := l.named(text)
	if c == "" || l.col.field.Name != "item" || l.sheet == nil || l.sheet.plan == nil {
		return "", ""
	}
	if _, ok := l.sheet.plan.kind.Field("material"); !ok {
		return "", ""
	}
	for _, w := range others {
		if !slices.Contains(materials, strings.ToLower(w)) {
			return "", ""
		}
	}
	return c, strings.Join(others, " ")
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
