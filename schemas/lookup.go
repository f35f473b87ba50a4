package schemas

import (
	"io/fs"
	"runtime"
	"strings"
	"sync"
	"sync/atomic"
	"unicode"
	"unicode/utf8"
)

type catalogue struct {
	kinds map[string]*Kind
	names map[string]*Kind // by folded name or synonym
}

var loaded = sync.OnceValue(func() *catalogue {
	kinds, errs := make([]*Kind, len(order)), make([]error, len(order))
	var next atomic.Int32
	var wg sync.WaitGroup
	for range min(4, runtime.GOMAXPROCS(0)) {
		wg.Go(func() {
			for i := next.Add(1) - 1; int(i) < len(order); i = next.Add(1) - 1 {
				kinds[i], errs[i] = parse(order[i])
			}
		})
	}
	wg.Wait()
	c := &catalogue{kinds: make(map[string]*Kind, len(order)), names: make(map[string]*Kind, 8*len(order))}
	for i, k := range kinds {
		if errs[i] != nil {
			panic("schemas: " + order[i] + ".json: " + errs[i].Error()) // embedded, and each is tested
		}
		c.kinds[k.Name] = k
		c.names[Fold(k.Name)] = k
		for _, s := range k.Synonyms {
			c.names[Fold(s)] = k
		}
	}
	return c
})

// Kinds returns the names of all kinds, in the order of the guide.
func Kinds() []string { return append([]string(nil), order...) }

// Lookup returns the kind of exactly that name.
func Lookup(name string) (*Kind, bool) {
	k, ok := loaded().kinds[name]
	return k, ok
}

// Match returns the kind that a sheet or file of that name holds, by its name or
// a synonym, without regard to case, spaces, hyphens and underscores.
func Match(name string) (*Kind, bool) {
	k, ok := loaded().names[Fold(name)]
	return k, ok
}

// Fold returns s in lower case, without spaces, hyphens and underscores: two
// headings that fold alike are the same heading.
func Fold(s string) string {
	same := true
	for i := range len(s) {
		c := s[i]
		if c >= utf8.RuneSelf {
			return strings.Map(foldRune, s)
		}
		same = same && c > ' ' && c != '-' && c != '_' && (c < 'A' || c > 'Z')
	}
	if same {
		return s
	}
	b := make([]byte, 0, len(s))
	for i := range len(s) {
		if r := foldRune(rune(s[i])); r >= 0 {
			b = append(b, byte(r))
		}
	}
	return string(b)
}

func foldRune(r rune) rune {
	switch {
	case 'a' <= r && r <= 'z':
		return r
	case r == '-', r == '_', r == '\u2010', r == '\u2011', r == '\u2013', r == '\ufeff', unicode.IsSpace(r):
		return -1
	}
	return unicode.ToLower(r)
}

// Resource returns the bytes of a schema by the stem of its file, as "loads",
// "common" or "result".
func Resource(name string) ([]byte, bool) {
	if strings.ContainsAny(name, `/\`) {
		return nil, false
	}
	b, err := files.ReadFile(name + ".json")
	return b, err == nil
}

// Resources returns the stems of all schema files, sorted.
func Resources() []string {
	entries, err := fs.ReadDir(files, ".")
	if err != nil {
		panic("schemas: " + err.Error()) // an embedded folder can always be listed
	}
	names := make([]string, 0, len(entries))
	for _, e := range entries {
		names = append(names, strings.TrimSuffix(e.Name(), ".json"))
	}
	return names
}

// Field returns the field of exactly that name.
func (k *Kind) Field(name string) (*Field, bool) {
	f, ok := k.names[name]
	return f, ok
}

// Match returns the field that a heading means, by its name or a synonym, without
// regard to case, spaces, hyphens, underscores and a mark at its end ("Released?").
// A unit in brackets is the caller's to take off.
func (k *Kind) Match(heading string) (*Field, bool) { return match(k.headings, heading) }

func match(headings map[string]*Field, heading string) (*Field, bool) {
	s := Fold(heading)
	f, ok := headings[s]
	if !ok {
		f, ok = headings[strings.TrimRight(s, "?:.*")]
	}
	return f, ok
}

// Field returns the field of that name of the objects that f holds.
func (f *Field) Field(name string) (*Field, bool) {
	g, ok := f.names[name]
	return g, ok
}

// Match is Kind.Match for the fields of the objects that f holds.
func (f *Field) Match(heading string) (*Field, bool) { return match(f.headings, heading) }

// Choice returns the choice that s means: one of Choices, by its name or a
// synonym, folded like a heading; or, where f has an Open prefix, the prefix with
// the words after it. It serves the items of a list as well.
func (f *Field) Choice(s string) (string, bool) {
	s = strings.TrimSpace(s)
	if c, ok := f.choices[Fold(s)]; ok {
		return c, true
	}
	if f.Open != "" && len(s) > len(f.Open) && strings.EqualFold(s[:len(f.Open)], f.Open) {
		if rest := strings.TrimSpace(s[len(f.Open):]); rest != "" {
			return f.Open + rest, true
		}
	}
	return "", false
}
