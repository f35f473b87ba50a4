package record

import (
	"fmt"
	"maps"
	"reflect"
	"slices"
)

// rowTag stands for the Row among the fields of a struct.
const rowTag = "\x00row"

type structField struct {
	offset uintptr
	typ    reflect.Type
	shared bool // it comes from an embedded struct
}

// structFields lists the tagged fields of a struct and of those embedded in it.
func structFields(t reflect.Type, base uintptr, shared bool) (map[string]structField, error) {
	if t.Kind() != reflect.Struct {
		return nil, fmt.Errorf("%s is not a struct", t)
	}
	found := map[string]structField{}
	add := func(name string, f structField) error {
		if _, twice := found[name]; twice {
			return fmt.Errorf("%s: two fields are tagged %q", t, name)
		}
		found[name] = f
		return nil
	}
	for i := range t.NumField() {
		f := t.Field(i)
		tag, tagged := f.Tag.Lookup("field")
		var err error
		switch {
		case f.Type == reflect.TypeFor[Row]():
			err = add(rowTag, structField{base + f.Offset, f.Type, true})
			if err == nil {
				err = add("id", structField{base + f.Offset + f.Type.Field(0).Offset, f.Type.Field(0).Type, true})
			}
		case tagged:
			err = add(tag, structField{base + f.Offset, f.Type, shared})
		case f.Anonymous:
			var inner map[string]structField
			if inner, err = structFields(f.Type, base+f.Offset, true); err == nil {
				for _, name := range slices.Sorted(maps.Keys(inner)) {
					if err = add(name, inner[name]); err != nil {
						break
					}
				}
			}
		}
		if err != nil {
			return nil, err
		}
	}
	return found, nil
}
