package practice

import "reflect"

// Filled counts the rows of a kind that are judged, and those of them in which a field
// is written. A blank reference that was read as the only row it could mean counts as
// written. A single document is one row. Of a kind or field that does not exist it gives
// 0 and 0.
func (p *Practice) Filled(kind, field string) (written, rows int) {
	records := reflect.ValueOf(&p.Records).Elem()
	for i := range records.NumField() {
		if records.Type().Field(i).Tag.Get("kind") != kind {
			continue
		}
		v := records.Field(i)
		if v.Kind() == reflect.Struct {
			at := tagged(v.Type(), field)
			if at == nil {
				return 0, 0
			}
			if !v.FieldByIndex(at).IsZero() {
				written = 1
			}
			return written, 1
		}
		at := tagged(v.Type().Elem(), field)
		if at == nil {
			return 0, 0
		}
		for k := range v.Len() {
			if !v.Index(k).FieldByIndex(at).IsZero() {
				written++
			}
		}
		return written, v.Len()
	}
	return 0, 0
}

// tagged is where the field of that name stands in a struct; nil if it has none.
func tagged(t reflect.Type, field string) []int {
	for _, f := range reflect.VisibleFields(t) {
		if name, ok := f.Tag.Lookup("field"); ok && name == field {
			return f.Index
		}
	}
	return nil
}
