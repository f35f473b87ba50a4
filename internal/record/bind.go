package record

import (
	"fmt"
	"maps"
	"reflect"
	"slices"
	"sync"

	"footing/internal/quantity"
	"footing/schemas"
)

// plan is how the rows of one kind fill one struct type.
type plan struct {
	kind *schemas.Kind
	slot int // of the target's field
	elem reflect.Type
	row  uintptr // offset of the Row
	cols []*column
	need uint64 // the bits of the required columns
	id   *column

	once   sync.Once
	failed error
}

// column is how the values of one field fill one field of a struct.
type column struct {
	field  *schemas.Field
	index  int
	bit    uint64
	offset uintptr
	holds  holder
	inner  []*column    // of an object or a list of objects
	elem   reflect.Type // of an object
	judge  *judge       // nil until the kind's schema is compiled
	dim    quantity.Dimension
	means  func(l *lane, text string) *fault // nil if the schema says all
}

// Check says whether target, a pointer to a struct as Fill takes it, agrees with the
// schemas: every tagged field must be one of the schema and of the type that its form
// asks for, and every field of the schema must be there. What an embedded struct has
// for all kinds may be absent from one.
func Check(target any) error {
	_, _, err := bind(target)
	return err
}

// bind reads the struct once and gives a plan for each kind that it names.
func bind(target any) (reflect.Value, map[string]*plan, error) {
	v := reflect.ValueOf(target)
	if v.Kind() != reflect.Pointer || v.IsNil() || v.Elem().Kind() != reflect.Struct {
		return v, nil, fmt.Errorf("records: the target is %T, not a pointer to a struct", target)
	}
	v = v.Elem()
	plans := map[string]*plan{}
	for i := range v.NumField() {
		f := v.Type().Field(i)
		name, ok := f.Tag.Lookup("kind")
		if !ok {
			continue
		}
		kind, ok := schemas.Lookup(name)
		if !ok {
			return v, nil, fmt.Errorf("%s.%s: there is no record kind %q", v.Type(), f.Name, name)
		}
		elem := f.Type
		if !kind.Single {
			if elem.Kind() != reflect.Slice {
				return v, nil, fmt.Errorf("%s.%s: %s come in many rows and need a slice", v.Type(), f.Name, name)
			}
			elem = elem.Elem()
		}
		p, err := newPlan(kind, elem)
		if err != nil {
			return v, nil, err
		}
		p.slot = i
		plans[name] = p
	}
	return v, plans, nil
}

func newPlan(kind *schemas.Kind, elem reflect.Type) (*plan, error) {
	if len(kind.Fields) > 64 {
		return nil, fmt.Errorf("%s: %d fields are more than the 64 that a row can hold", kind.Name, len(kind.Fields))
	}
	found, err := structFields(elem, 0, false)
	if err != nil {
		return nil, err
	}
	row, ok := found[rowTag]
	if !ok {
		return nil, fmt.Errorf("%s: %s does not embed record.Row", kind.Name, elem)
	}
	p := &plan{kind: kind, elem: elem, row: row.offset}
	delete(found, rowTag)
	p.cols, err = newColumns(kind.Name, kind.Fields, found)
	if err != nil {
		return nil, err
	}
	for _, c := range p.cols {
		if c.field.Required {
			p.need |= c.bit
		}
		if c.field.Name == "id" {
			p.id = c
		}
	}
	return p, nil
}

// newColumns pairs the fields of a schema with those of a struct.
func newColumns(where string, fields []*schemas.Field, found map[string]structField) ([]*column, error) {
	var cols []*column
	for i, f := range fields {
		at, ok := found[f.Name]
		if !ok {
			return nil, fmt.Errorf("%s: the struct has no field for %q", where, f.Name)
		}
		delete(found, f.Name)
		c := &column{field: f, index: i, bit: 1 << i, offset: at.offset}
		c.dim, c.means = dimensions[f.Form], meanings[f.Kind+"#"+f.Pointer]
		if err := c.hold(at.typ); err != nil {
			return nil, fmt.Errorf("%s.%s: %w", where, f.Name, err)
		}
		cols = append(cols, c)
	}
	for _, name := range slices.Sorted(maps.Keys(found)) {
		if !found[name].shared {
			return nil, fmt.Errorf("%s: the schema has no field %q", where, name)
		}
	}
	return cols, nil
}
