package result

import (
	"cmp"
	"reflect"
	"slices"
)

// Pseudonym is one line of the key of a shared copy: the name that stands in the copy, the
// kind of record, and the id that it stands for.
type Pseudonym struct{ Name, Kind, ID string }

// Share is r as a copy for someone else, and the key to it. Clients, people and the
// cards that are kept one a client (histories, screens, consents) have fresh pseudonyms,
// numbered in an order that secret alone decides; ids of them that stand within other ids,
// names of files and what was typed are replaced too, and private values and
// sentences that were typed into records are left out. The sentences of findings
// stay as they are. Known are the ids of the folder by kind; those that r alone names are
// added. The same result, ids and secret give the same copy. r is not changed.
func Share(r *Result, known map[string][]string, secret []byte) (*Result, []Pseudonym) {
	out, key := shared(r, r.Practice, known, secret)
	Sort(out)
	inOrder(out)
	return out, key
}

// ShareAnswer does for a look-back what Share does for an audit.
func ShareAnswer(a *Answer, known map[string][]string, secret []byte) (*Answer, []Pseudonym) {
	return shared(a, a.Practice, known, secret)
}

// ShareDraw does for a draw what Share does for an audit.
func ShareDraw(d *Draw, known map[string][]string, secret []byte) (*Draw, []Pseudonym) {
	return shared(d, d.Practice, known, secret)
}

func shared[T Result | Answer | Draw](document *T, whose Practice, known map[string][]string, secret []byte) (*T, []Pseudonym) {
	out := new(T)
	copied(reflect.ValueOf(document).Elem(), reflect.ValueOf(out).Elem())
	s := newSharer(known, secret)
	v := reflect.ValueOf(out).Elem()
	s.collect(v)
	s.number()
	s.quotes(v)
	s.rewrite(v)
	v.FieldByName("Shared").SetString(sharedSays(whose.Name))
	return out, s.key()
}

// sharedSays is what a copy says of itself.
func sharedSays(practice string) string {
	keeper := "the practice"
	if practice != "" {
		keeper = practice
	}
	return "This is a copy for someone else. Clients and people stand in it under names that were made for this copy alone (client-1, person-1); " +
		"private values and sentences typed into the records are left out. The key is not part of it: " + keeper + " keeps it apart. Days, places and numbers of packs and loads are as written."
}

// copied makes to a copy of from that shares no list with it.
func copied(from, to reflect.Value) {
	switch from.Kind() {
	case reflect.Struct:
		for i := range from.NumField() {
			copied(from.Field(i), to.Field(i))
		}
	case reflect.Slice:
		if from.IsNil() {
			return
		}
		to.Set(reflect.MakeSlice(from.Type(), from.Len(), from.Len()))
		for i := range from.Len() {
			copied(from.Index(i), to.Index(i))
		}
	case reflect.Map:
		if from.IsNil() {
			return
		}
		to.Set(reflect.MakeMap(from.Type()))
		for k, v := range from.Seq2() {
			to.SetMapIndex(k, v)
		}
	case reflect.Pointer:
		if !from.IsNil() {
			to.Set(reflect.New(from.Type().Elem()))
			copied(from.Elem(), to.Elem())
		}
	default:
		to.Set(from)
	}
}

// inOrder puts lists that follow the findings into the order that these have in the copy.
func inOrder(r *Result) {
	if r.Since == nil {
		return
	}
	at := map[named]int{}
	for i, f := range r.Findings {
		at[named{f.Fingerprint, f.Grade}] = i
	}
	slices.SortStableFunc(r.Since.Findings, func(a, b Followed) int {
		return cmp.Compare(at[named{a.Finding, a.Grade}], at[named{b.Finding, b.Grade}])
	})
	for _, list := range [][]Gone{r.Since.Closed, r.Since.Earlier} {
		slices.SortStableFunc(list, func(a, b Gone) int {
			return cmp.Or(cmp.Compare(GradeRank(b.Grade), GradeRank(a.Grade)), cmp.Compare(a.Check, b.Check),
				cmp.Compare(a.Subject.Kind, b.Subject.Kind), cmp.Compare(a.Subject.ID, b.Subject.ID))
		})
	}
}
