package record

import (
	"math"
	"sync"
	"unicode/utf8"

	"github.com/santhosh-tekuri/jsonschema/v5"
)

// accept is a compiled schema brought to the few questions that it asks of a string,
// or of a list of strings. It answers only yes or "ask the schema": where it says yes,
// the schema does too (a property test holds the two together).
type accept struct {
	text, list bool // the types allowed
	least      int  // characters
	most       int  // characters, -1 for any number
	pattern    *matcher
	format     func(any) bool
	enum       map[string]bool
	any        []*accept
	all        []*accept // of $ref
	items      *accept   // nil if any item will do
	only       *accept   // that settles the verdict on words by itself
	number     bool      // a whole number from low to high is accepted
	low, high  float64
}

var accepts sync.Map // *jsonschema.Schema: *accept, nil where only the schema can tell

// newAccept gives nil for a schema that asks more than accept can. What it has made of a
// schema it gives again: the forms of common.json are shared by all kinds.
func newAccept(s *jsonschema.Schema) *accept {
	if known, ok := accepts.Load(s); ok {
		return known.(*accept)
	}
	a := makeAccept(s)
	accepts.Store(s, a)
	return a
}

func makeAccept(s *jsonschema.Schema) *accept {
	if asksMore(s) {
		return nil
	}
	a := &accept{least: s.MinLength, most: s.MaxLength, text: len(s.Types) == 0, list: len(s.Types) == 0}
	for _, t := range s.Types {
		a.text = a.text || t == "string"
		a.list = a.list || t == "array"
		a.number = a.number || t == "number" || t == "integer"
	}
	a.number = a.number || len(s.Types) == 0
	a.low, a.high = math.Inf(-1), math.Inf(1)
	if s.Minimum != nil {
		a.low, _ = s.Minimum.Float64()
		a.low = math.Ceil(a.low)
	}
	if s.Maximum != nil {
		a.high, _ = s.Maximum.Float64()
		a.high = math.Floor(a.high)
	}
	if s.ExclusiveMinimum != nil || s.ExclusiveMaximum != nil || s.MultipleOf != nil {
		a.number = false
	}
	if s.Format != "" {
		if a.format = jsonschema.Formats[s.Format]; a.format == nil {
			return nil
		}
	}
	if s.Pattern != nil {
		a.pattern = newMatcher(s.Pattern)
	}
	if len(s.Enum)+len(s.Constant) > 0 {
		a.enum, a.list, a.number = map[string]bool{}, false, false
		if len(s.Enum) > 0 && len(s.Constant) > 0 {
			return nil
		}
		for _, v := range append(s.Enum, s.Constant...) {
			if word, ok := v.(string); ok {
				a.enum[word] = true
			}
		}
	}
	ok := true
	sub := func(s *jsonschema.Schema) *accept {
		b := newAccept(s)
		ok = ok && b != nil
		return b
	}
	for _, branch := range s.AnyOf {
		a.any = append(a.any, sub(branch))
	}
	if s.Ref != nil {
		a.all = append(a.all, sub(s.Ref))
	}
	if s.Items2020 != nil {
		a.items = sub(s.Items2020)
	}
	if !ok {
		return nil
	}
	a.only = a.deciding()
	return a
}

// deciding finds the one schema below that asks anything of words; a itself if there is
// more than one, or none.
func (a *accept) deciding() *accept {
	if !a.text || a.least > 0 || a.most != -1 || a.pattern != nil || a.format != nil || a.enum != nil {
		return a
	}
	below := a.all
	for _, b := range a.any {
		if b.text {
			below = append(below[:len(below):len(below)], b)
		}
	}
	if len(below) != 1 || len(a.any) > 0 && len(a.all) > 0 {
		return a
	}
	return below[0].only
}

// asksMore finds keywords that accept does not know and that bear on strings or lists.
// Those on numbers and objects do not matter to it.
func asksMore(s *jsonschema.Schema) bool {
	return s.Always != nil || s.RecursiveRef != nil || s.DynamicRef != nil || s.Not != nil || len(s.AllOf) > 0 ||
		len(s.OneOf) > 0 || s.If != nil || s.MinItems > 0 || s.MaxItems != -1 || s.UniqueItems || s.Items != nil ||
		s.AdditionalItems != nil || len(s.PrefixItems) > 0 || s.Contains != nil || s.UnevaluatedItems != nil ||
		s.ContentEncoding != "" || s.ContentMediaType != "" || len(s.Extensions) > 0
}

// word is true if the schema surely accepts the string.
func (a *accept) word(s string) bool {
	a = a.only
	if !a.text {
		return false
	}
	if a.least > 0 || a.most != -1 {
		n := len(s)
		if a.most != -1 && n > a.most || n < 4*a.least { // else the bytes tell enough
			n = utf8.RuneCountInString(s)
		}
		if n < a.least || a.most != -1 && n > a.most {
			return false
		}
	}
	if a.enum != nil && !a.enum[s] || a.pattern != nil && !a.pattern.match(s) || a.format != nil && !a.format(s) {
		return false
	}
	if len(a.all)+len(a.any) == 0 {
		return true
	}
	return a.branches(func(b *accept) bool { return b.word(s) })
}

// words is true if the schema surely accepts the list.
func (a *accept) words(items []string) bool {
	if !a.list {
		return false
	}
	if a.items != nil {
		for _, s := range items {
			if !a.items.word(s) {
				return false
			}
		}
	}
	return a.branches(func(b *accept) bool { return b.words(items) })
}

// count is true if the schema surely accepts the whole number n, which is small enough
// for a float64 to hold it exactly.
func (a *accept) count(n float64) bool {
	return a.number && a.low <= n && n <= a.high && a.branches(func(b *accept) bool { return b.count(n) })
}

func (a *accept) branches(ok func(*accept) bool) bool {
	for _, b := range a.all {
		if !ok(b) {
			return false
		}
	}
	for _, b := range a.any {
		if ok(b) {
			return true
		}
	}
	return len(a.any) == 0
}
