package result

import (
	"bytes"
	"cmp"
	"crypto/hmac"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"reflect"
	"slices"
	"strings"
)

// sharedKinds are the kinds whose ids get pseudonyms, with what these begin with: people,
// clients, and the cards that are kept one a client and may be numbered like them.
var sharedKinds = []struct{ kind, prefix string }{
	{"clients", "client-"}, {"people", "person-"}, {"histories", "history-"}, {"screens", "screen-"}, {"consents", "consent-"},
}

// SharedKinds names them.
func SharedKinds() (kinds []string) {
	for _, k := range sharedKinds {
		kinds = append(kinds, k.kind)
	}
	return kinds
}

func personal(kind string) bool { return slices.Contains(SharedKinds(), kind) }

// sharer rewrites one document.
type sharer struct {
	secret []byte
	names  map[string]map[string]string // kind → id → pseudonym
	used   map[Pseudonym]bool
	exact  map[string]Pseudonym // ids that no sentence of ours can mean otherwise
	loose  map[string]Pseudonym // folded ids, looked for in what was typed
	signed map[string]Pseudonym // ids that are two capitals, looked for there too, as capitals
	quoted []quote              // longest first
	long   int                  // of the longest, in bytes
	marks  map[string]bool      // fingerprints that tell of an id
}

func newSharer(known map[string][]string, secret []byte) *sharer {
	s := &sharer{secret: secret, names: map[string]map[string]string{}, used: map[Pseudonym]bool{}, marks: map[string]bool{},
		exact: map[string]Pseudonym{}, loose: map[string]Pseudonym{}, signed: map[string]Pseudonym{}}
	for _, kind := range SharedKinds() {
		s.names[kind] = map[string]string{}
		for _, id := range known[kind] {
			s.meet(kind, id)
		}
	}
	return s
}

// meet notes an id that is to get a pseudonym.
func (s *sharer) meet(kind, id string) {
	if id = strings.TrimSpace(id); id != "" && personal(kind) {
		s.names[kind][id] = ""
	}
}

// number gives the pseudonyms. A keyed hash of the id decides the order, so that
// neither the order nor a number tells anything of an id to whoever lacks the secret.
func (s *sharer) number() {
	for _, k := range sharedKinds {
		ids := make([]string, 0, len(s.names[k.kind]))
		for id := range s.names[k.kind] {
			ids = append(ids, id)
		}
		slices.SortFunc(ids, func(a, b string) int {
			return cmp.Or(bytes.Compare(s.keyed(k.kind, a), s.keyed(k.kind, b)), cmp.Compare(a, b))
		})
		n := 0
		for _, id := range ids {
			n++
			for s.taken(fmt.Sprint(k.prefix, n)) {
				n++
			}
			s.names[k.kind][id] = fmt.Sprint(k.prefix, n)
		}
	}
	s.search()
}

// taken reports whether a pseudonym is an id that somebody has already.
func (s *sharer) taken(name string) bool {
	for _, ids := range s.names {
		for _, form := range []string{name, strings.ToUpper(name), strings.ToUpper(name[:1]) + name[1:]} {
			if _, there := ids[form]; there {
				return true
			}
		}
	}
	return false
}

func (s *sharer) keyed(parts ...string) []byte {
	mac := hmac.New(sha256.New, s.secret)
	for _, p := range parts {
		fmt.Fprintf(mac, "%d:%s", len(p), p)
	}
	return mac.Sum(nil)
}

// who is the pseudonym of an id of a kind, and whether it has one.
func (s *sharer) who(kind, id string) (string, bool) {
	trimmed := strings.TrimSpace(id)
	name := s.names[kind][trimmed]
	if name == "" {
		return id, false
	}
	return s.use(Pseudonym{name, kind, trimmed}), true
}

func (s *sharer) use(p Pseudonym) string {
	s.used[p] = true
	return p.Name
}

// mark is a fingerprint as the copy has it: one that was made from an id could be
// guessed back, so it is hashed again with the secret.
func (s *sharer) mark(fingerprint string) string {
	if !s.marks[fingerprint] {
		return fingerprint
	}
	return hex.EncodeToString(s.keyed("fingerprint", fingerprint)[:6])
}

// key lists the pseudonyms that stand in the copy, by kind and number.
func (s *sharer) key() (list []Pseudonym) {
	for p := range s.used {
		list = append(list, p)
	}
	at := SharedKinds()
	slices.SortFunc(list, func(a, b Pseudonym) int {
		return cmp.Or(cmp.Compare(slices.Index(at, a.Kind), slices.Index(at, b.Kind)), cmp.Compare(len(a.Name), len(b.Name)), cmp.Compare(a.Name, b.Name))
	})
	return list
}

// collect notes every id that a field of the document holds by itself.
func (s *sharer) collect(v reflect.Value) {
	eachStruct(v, func(st reflect.Value) {
		for i := range st.NumField() {
			kind, ok := idKind(st, st.Type().Field(i).Name)
			if !ok {
				continue
			}
			switch f := st.Field(i); f.Kind() {
			case reflect.String:
				s.meet(kind, f.String())
			case reflect.Slice:
				for k := range f.Len() {
					s.meet(kind, f.Index(k).String())
				}
			}
		}
		if e, ok := st.Interface().(Evidence); ok {
			for _, kind := range namedKinds(e) {
				for _, id := range inList(e) {
					s.meet(kind, id)
				}
			}
		}
	})
}

// eachStruct shows every struct of a document, the outer before the inner.
func eachStruct(v reflect.Value, look func(reflect.Value)) {
	switch v.Kind() {
	case reflect.Struct:
		look(v)
		for i := range v.NumField() {
			eachStruct(v.Field(i), look)
		}
	case reflect.Slice:
		if v.Type().Elem().Kind() == reflect.Float64 {
			return
		}
		for i := range v.Len() {
			eachStruct(v.Index(i), look)
		}
	case reflect.Pointer:
		if !v.IsNil() {
			eachStruct(v.Elem(), look)
		}
	}
}
