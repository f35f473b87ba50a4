package result

import (
	"slices"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"

	"footing/schemas"
)

// search readies the ids to be looked for within texts. Short ones and common words are
// not looked for there: they would be found in words that mean something else.
func (s *sharer) search() {
	for _, kind := range SharedKinds() {
		for id, name := range s.names[kind] {
			p, folded := Pseudonym{name, kind, id}, folded(id)
			letters, digits := made(folded)
			add := func(to map[string]Pseudonym, as string) {
				if old, there := to[as]; !there || old.Kind == kind && p.ID < old.ID {
					to[as] = p
				}
				s.long = max(s.long, len(as))
			}
			n := utf8.RuneCountInString(folded)
			if letters && digits && n >= 3 || strings.ContainsFunc(id, unicode.IsSpace) {
				add(s.exact, strings.ToLower(id))
			}
			if letters && digits && n >= 2 || digits && n >= 4 || letters && n >= 3 && !common(folded) {
				add(s.loose, folded)
			}
			if bare := unmarked(id); n == 2 && !digits && !strings.ContainsFunc(bare, unicode.IsLower) {
				add(s.signed, bare)
			}
		}
	}
}

func made(text string) (letters, digits bool) {
	return strings.ContainsFunc(text, unicode.IsLetter), strings.ContainsFunc(text, unicode.IsDigit)
}

// common reports whether a word stands in the names of records whoever they are of.
func common(word string) bool {
	_, kind := schemas.Match(word)
	return kind || slices.Contains(strings.Fields("csv tsv json jsonl yaml yml txt xlsx pdf row sheet records traces export file"), word)
}

// folded is an id without case and without what stands between its letters and digits.
func folded(id string) string { return strings.Map(unicode.ToLower, unmarked(id)) }

// unmarked is an id without what stands between its letters and digits.
func unmarked(id string) string {
	return strings.Map(func(r rune) rune {
		if !wordly(r) {
			return -1
		}
		return r
	}, id)
}

func wordly(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) || unicode.IsMark(r) }

// alone reports whether a whole text is an id that is looked for.
func (s *sharer) alone(text string) bool {
	_, there := s.loose[folded(text)]
	_, signed := s.signed[unmarked(text)]
	return there || signed
}

// typed replaces each id in a text that a hand typed, however its letters are set.
func (s *sharer) typed(text string) string { return s.text(text, asTyped) }

// said replaces ids in a text of ours that may name someone: after a word that says that an
// id follows, and where an id is like no word.
func (s *sharer) said(text string) string { return s.text(text, asSaid) }

// spoken replaces ids in a sentence of ours where they are like no word.
func (s *sharer) spoken(text string) string { return s.text(text, asSpoken) }

// held stands for the first name put into a text until all are found, so that no id is
// looked for within a name; the private characters after it stand for the others.
const held = rune(0xF0000)

func (s *sharer) text(text string, t treatment) string {
	if text == "" || t == asIs {
		return text
	}
	text = strings.Map(func(r rune) rune {
		if r >= held {
			return utf8.RuneError
		}
		return r
	}, text)
	var names []string
	hold := func(p Pseudonym) string {
		names = append(names, s.use(p))
		return string(held + rune(len(names)-1))
	}
	if t != asTyped {
		text = s.quotedIn(text, t, func(copied string) string {
			names = append(names, copied)
			return string(held + rune(len(names)-1))
		})
	}
	if t != asSpoken { // next, since these words tell a client from a person of the same id
		text = s.introduced(text, hold)
	}
	text = s.scan(text, s.exact, strings.ToLower, false, hold)
	if t == asTyped {
		text = s.scan(text, s.loose, folded, true, hold)
		text = s.scan(text, s.signed, unmarked, true, hold)
	}
	for i, name := range names {
		text = strings.ReplaceAll(text, string(held+rune(i)), name)
	}
	return text
}

// scan replaces the longest stretches, from one edge of a word to another, that are an id.
// With inner set a stretch ends with a letter or digit.
func (s *sharer) scan(text string, ids map[string]Pseudonym, as func(string) string, inner bool, hold func(Pseudonym) string) string {
	if len(ids) == 0 || text == "" {
		return text
	}
	var b strings.Builder
	edges := edgesOf(text)
	at := 0
	for i := 0; i+1 < len(edges); i++ {
		from := edges[i]
		if r, _ := utf8.DecodeRuneInString(text[from:]); from < at || !wordly(r) {
			continue
		}
		for k := min(len(edges)-1, i+12); k > i; k-- {
			if r, _ := utf8.DecodeLastRuneInString(text[:edges[k]]); inner && !wordly(r) {
				continue
			}
			if edges[k]-from > 4*s.long+8 {
				continue
			}
			if p, ok := ids[as(text[from:edges[k]])]; ok {
				b.WriteString(text[at:from] + hold(p))
				at = edges[k]
				break
			}
		}
	}
	b.WriteString(text[at:])
	return b.String()
}

// edgesOf are the places at which a word, or what stands between two, begins, and the end.
func edgesOf(text string) (edges []int) {
	last := -1
	for i, r := range text {
		now := 0
		if wordly(r) {
			now = 1
		}
		if now != last {
			edges = append(edges, i)
		}
		last = now
	}
	return append(edges, len(text))
}

// introductions are the words after which an id stands in texts of ours, with its kind.
var introductions = sync.OnceValue(func() map[string]string {
	words := map[string]string{"client ": "clients", "person ": "people", "certificate of ": "people", "cover of ": "people"}
	if kind, ok := schemas.Lookup("credentials"); ok {
		if f, ok := kind.Field("kind"); ok {
			for _, c := range f.Choices {
				words[strings.ReplaceAll(c, "-", " ")+" of "] = "people"
			}
		}
	}
	return words
})

// introduced replaces an id that stands after words that say that one follows.
func (s *sharer) introduced(text string, hold func(Pseudonym) string) string {
	for word, kind := range introductions() {
		at := 0
		for {
			i := indexFold(text[at:], word)
			if i < 0 {
				break
			}
			start := at + i
			at = start + len(word)
			if r, _ := utf8.DecodeLastRuneInString(text[:start]); start > 0 && wordly(r) {
				continue
			}
			if id := s.follows(kind, text[at:]); id != "" {
				name := hold(Pseudonym{s.names[kind][id], kind, id})
				text = text[:at] + name + text[at+len(id):]
				at += len(name)
			}
		}
	}
	return text
}

// indexFold is where a word of small letters begins, with or without a capital; -1 for nowhere.
func indexFold(text, word string) int {
	capital := strings.ToUpper(word[:1]) + word[1:]
	i, k := strings.Index(text, word), strings.Index(text, capital)
	if i < 0 || k >= 0 && k < i {
		return k
	}
	return i
}

// follows is the longest id of a kind with which a text begins, up to an edge of a word.
func (s *sharer) follows(kind, text string) (found string) {
	const most = 60 // edges: no id has more
	edges := edgesOf(text)
	for _, end := range edges[:min(len(edges), most)] {
		if _, ok := s.names[kind][text[:end]]; ok && end > 0 {
			found = text[:end]
		}
	}
	return found
}

// listed replaces each item of a value that holds ids of people alone.
func (s *sharer) listed(kinds []string, e Evidence) string {
	var b strings.Builder
	rest := e.Value
	for _, item := range inList(e) {
		at := strings.Index(rest, item)
		name := item
		for _, kind := range kinds {
			if as, ok := s.who(kind, item); ok {
				name = as
				break
			}
		}
		if name == item {
			name = s.typed(item)
		}
		b.WriteString(rest[:at] + name)
		rest = rest[at+len(item):]
	}
	return b.String() + rest
}

// inList are the items of a value: all of it, or what stands between the marks of a list.
func inList(e Evidence) (items []string) {
	marks := ""
	if f := fieldOf(e); f != nil && (f.Form == schemas.List || f.Form == schemas.CountOrList) {
		marks = ",;|[]\"\n"
	}
	for _, item := range strings.FieldsFunc(e.Value, func(r rune) bool { return strings.ContainsRune(marks, r) }) {
		if item = strings.Trim(item, " ,\t"); item != "" {
			items = append(items, item)
		}
	}
	return items
}
