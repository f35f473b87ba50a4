package report

import (
	"reflect"
	"slices"
	"strings"

	"footing/internal/result"
)

// veiled is a document whose sentences name no id that reads like a person's name; the
// document itself where it holds none. Fields that hold an id alone keep it, so that
// two clients stay two: what prints them masks them.
func veiled[T any](document *T) *T {
	ids := nameIDs(reflect.ValueOf(document).Elem())
	if len(ids) == 0 {
		return document
	}
	pairs := make([]string, 0, 2*len(ids))
	for _, id := range ids {
		pairs = append(pairs, id, namePrivate)
	}
	out := new(T)
	mapped(reflect.ValueOf(document).Elem(), reflect.ValueOf(out).Elem(), strings.NewReplacer(pairs...).Replace)
	return out
}

// idFields are the fields that hold an id alone, with its kind; "" for the kind that
// the struct names.
var idFields = map[string]string{"Visit": "visits", "Client": "clients", "Person": "people", "Pack": "packs", "Load": "loads", "ID": ""}

// nameIDs are the ids in a document that print as masked, the longest first, so that
// none is masked in part.
func nameIDs(document reflect.Value) (ids []string) {
	walk(document, func(s reflect.Value) {
		for name, kind := range idFields {
			f := s.FieldByName(name)
			if !f.IsValid() || f.Kind() != reflect.String {
				continue
			}
			if kind == "" {
				kind = s.FieldByName("Kind").String()
			}
			if id := f.String(); ident(kind, id) != id && !slices.Contains(ids, id) {
				ids = append(ids, id)
			}
		}
		if e, ok := s.Interface().(result.Evidence); ok && written(e) == namePrivate && !slices.Contains(ids, e.Value) {
			ids = append(ids, e.Value)
		}
	})
	slices.SortFunc(ids, func(a, b string) int { return len(b) - len(a) })
	return ids
}

// walk shows every struct of a document.
func walk(v reflect.Value, look func(reflect.Value)) {
	switch v.Kind() {
	case reflect.Struct:
		look(v)
		for i := range v.NumField() {
			walk(v.Field(i), look)
		}
	case reflect.Slice:
		for i := range v.Len() {
			walk(v.Index(i), look)
		}
	case reflect.Pointer:
		if !v.IsNil() {
			walk(v.Elem(), look)
		}
	}
}

// mapped copies a document with every text changed but those of idFields.
func mapped(from, to reflect.Value, change func(string) string) {
	switch from.Kind() {
	case reflect.String:
		to.SetString(change(from.String()))
	case reflect.Struct:
		for i := range from.NumField() {
			if _, id := idFields[from.Type().Field(i).Name]; id {
				to.Field(i).Set(from.Field(i))
				continue
			}
			mapped(from.Field(i), to.Field(i), change)
		}
	case reflect.Slice:
		if from.IsNil() {
			return
		}
		to.Set(reflect.MakeSlice(from.Type(), from.Len(), from.Len()))
		for i := range from.Len() {
			mapped(from.Index(i), to.Index(i), change)
		}
	case reflect.Pointer:
		if !from.IsNil() {
			to.Set(reflect.New(from.Type().Elem()))
			mapped(from.Elem(), to.Elem(), change)
		}
	default:
		to.Set(from)
	}
}
