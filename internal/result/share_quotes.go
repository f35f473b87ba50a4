package result

import (
	"cmp"
	"reflect"
	"slices"
	"strings"
	"unicode/utf8"
)

// quote is a text that the practice typed and that sentences of ours repeat, and what
// stands for it in the copy.
type quote struct{ typed, copied string }

// quotes finds the contacts and the places where records are kept that name somebody.
func (s *sharer) quotes(v reflect.Value) {
	found := map[string]string{}
	note := func(text string) {
		text = strings.TrimSpace(text)
		if copied := s.typed(text); copied != text {
			found[text] = copied
		}
	}
	eachStruct(v, func(st reflect.Value) {
		if f := st.FieldByName("Contacts"); f.IsValid() {
			for _, text := range f.Interface().(map[string]string) {
				note(text)
			}
		}
		if f := st.FieldByName("KeptAt"); f.IsValid() {
			for _, text := range f.Interface().([]string) {
				note(text)
			}
		}
	})
	for typed, copied := range found {
		s.quoted = append(s.quoted, quote{typed, copied})
	}
	slices.SortFunc(s.quoted, func(a, b quote) int {
		return cmp.Or(cmp.Compare(len(b.typed), len(a.typed)), cmp.Compare(a.typed, b.typed))
	})
}

// quotedIn replaces what a sentence of ours repeats. One word alone may be a word of ours
// in a sentence that names nobody.
func (s *sharer) quotedIn(text string, t treatment, hold func(copied string) string) string {
	for _, q := range s.quoted {
		if t == asSpoken && !strings.Contains(q.typed, " ") {
			continue
		}
		for at := 0; ; {
			i := strings.Index(text[at:], q.typed)
			if i < 0 {
				break
			}
			from, to := at+i, at+i+len(q.typed)
			if within(text, from) || within(text, to) {
				at = to
				continue
			}
			name := hold(q.copied)
			text = text[:from] + name + text[to:]
			at = from + len(name)
		}
	}
	return text
}

// within reports whether a place lies within a word.
func within(text string, at int) bool {
	before, _ := utf8.DecodeLastRuneInString(text[:at])
	after, _ := utf8.DecodeRuneInString(text[at:])
	return at > 0 && at < len(text) && wordly(before) && wordly(after)
}
