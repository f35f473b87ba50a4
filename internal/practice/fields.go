package practice

import (
	"reflect"
	"unsafe"

	"footing/internal/quantity"
	"footing/internal/record"
)

// field is where a field stands in the struct of a kind, and what it holds. With it
// the generic passes go through thousands of rows without reflection.
type field struct {
	offset uintptr
	holds  holding
}

type holding uint8

const (
	nothing holding = iota
	aRow
	aText
	aDay
	aMoment
	aList
	aCount
)

var holdings = map[reflect.Type]holding{
	reflect.TypeFor[record.Row](): aRow, reflect.TypeFor[string](): aText, reflect.TypeFor[quantity.Day](): aDay, reflect.TypeFor[quantity.Moment](): aMoment,
	reflect.TypeFor[quantity.List](): aList, reflect.TypeFor[quantity.CountOrList](): aCount,
}

// fieldAt is the field of a struct at an index as reflect has it.
func fieldAt(t reflect.Type, index []int) field {
	f := field{}
	for _, i := range index {
		in := t.Field(i)
		f.offset, t = f.offset+in.Offset, in.Type
	}
	f.holds = holdings[t]
	return f
}

// fieldOf is the field of that name in a kind's struct; it holds nothing if there is none.
func fieldOf(t reflect.Type, name string) field {
	for _, f := range reflect.VisibleFields(t) {
		if f.Tag.Get("field") == name {
			return fieldAt(t, f.Index)
		}
	}
	return field{}
}

func (f field) in(row unsafe.Pointer) unsafe.Pointer { return unsafe.Add(row, f.offset) }

func (f field) row(row unsafe.Pointer) *record.Row { return (*record.Row)(f.in(row)) }

func (f field) text(row unsafe.Pointer) string { return *(*string)(f.in(row)) }

// moment is that of a field that holds one; nil for a day.
func (f field) moment(row unsafe.Pointer) *quantity.Moment {
	if f.holds != aMoment {
		return nil
	}
	return (*quantity.Moment)(f.in(row))
}

// day is the local day of a day or moment; 0 when it is not written.
func (f field) day(row unsafe.Pointer) quantity.Day {
	switch f.holds {
	case aDay:
		return *(*quantity.Day)(f.in(row))
	case aMoment:
		return f.moment(row).Day()
	}
	return 0
}

// clear makes a day or moment blank.
func (f field) clear(row unsafe.Pointer) {
	switch f.holds {
	case aDay:
		*(*quantity.Day)(f.in(row)) = 0
	case aMoment:
		*f.moment(row) = quantity.Moment{}
	}
}

// ids are those that a reference field names.
func (f field) ids(row unsafe.Pointer) []string {
	switch f.holds {
	case aText:
		if id := (*string)(f.in(row)); *id != "" {
			return unsafe.Slice(id, 1)
		}
	case aList:
		return (*quantity.List)(f.in(row)).Items
	case aCount:
		return (*quantity.CountOrList)(f.in(row)).Items
	}
	return nil
}

// rows are those of one kind, whatever it is.
type rows struct {
	first unsafe.Pointer
	size  uintptr
	count int
}

func (s *shape) rows(r *Records) rows {
	v := reflect.ValueOf(r).Elem().Field(s.slice)
	return rows{v.UnsafePointer(), s.elem.Size(), v.Len()}
}

func (r rows) at(i int) unsafe.Pointer { return unsafe.Add(r.first, uintptr(i)*r.size) }
