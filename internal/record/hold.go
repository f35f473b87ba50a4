package record

import (
	"fmt"
	"reflect"
	"unsafe"

	"footing/internal/quantity"
	"footing/schemas"
)

// holder is the Go type that a struct holds a value in.
type holder uint8

const (
	holdsText holder = iota
	holdsDay
	holdsMoment
	holdsYesNo
	holdsNumber
	holdsQuantity
	holdsList // from here on a value may have many parts
	holdsCount
	holdsObject
	holdsObjects
)

var holderTypes = [...]reflect.Type{
	holdsText:     reflect.TypeFor[string](),
	holdsDay:      reflect.TypeFor[quantity.Day](),
	holdsMoment:   reflect.TypeFor[quantity.Moment](),
	holdsYesNo:    reflect.TypeFor[quantity.YesNo](),
	holdsNumber:   reflect.TypeFor[quantity.Number](),
	holdsList:     reflect.TypeFor[quantity.List](),
	holdsQuantity: reflect.TypeFor[quantity.Quantity](),
	holdsCount:    reflect.TypeFor[quantity.CountOrList](),
}

// holders says how each form of value is held; a form that is not here, and is no
// quantity, is held as text.
var holders = map[schemas.Form]holder{
	"day": holdsDay, "moment": holdsMoment, "yes-no": holdsYesNo, "number": holdsNumber,
	"list": holdsList, "count-or-list": holdsCount, "object": holdsObject, "objects": holdsObjects,
}

var dimensions = map[schemas.Form]quantity.Dimension{
	"temperature": quantity.Temperature, "difference": quantity.Difference, "pressure": quantity.Pressure,
	"pressure-rate": quantity.PressureRate, "span": quantity.Span, "length": quantity.Length, "percent": quantity.Percent,
}

// hold settles how the column fills a field of type t.
func (c *column) hold(t reflect.Type) error {
	h, ok := holders[c.field.Form]
	if _, quantity := dimensions[c.field.Form]; quantity {
		h, ok = holdsQuantity, true
	}
	if !ok {
		h = holdsText
	}
	c.holds = h
	switch h {
	case holdsObject, holdsObjects:
		c.elem = t
		if h == holdsObjects {
			if t.Kind() != reflect.Slice {
				return fmt.Errorf("a list of objects needs a slice, not %s", t)
			}
			c.elem = t.Elem()
		}
		found, err := structFields(c.elem, 0, false)
		if err != nil {
			return err
		}
		c.inner, err = newColumns(c.field.Name, c.field.Fields, found)
		return err
	}
	if want := holderTypes[h]; t != want {
		return fmt.Errorf("the form %s is held as %s, not %s", c.field.Form, want, t)
	}
	return nil
}

// copyHeld copies one value of a column from src to dst.
func copyHeld(h holder, dst, src unsafe.Pointer) {
	switch h {
	case holdsText:
		*(*string)(dst) = *(*string)(src)
	case holdsDay:
		*(*quantity.Day)(dst) = *(*quantity.Day)(src)
	case holdsMoment:
		*(*quantity.Moment)(dst) = *(*quantity.Moment)(src)
	case holdsYesNo:
		*(*quantity.YesNo)(dst) = *(*quantity.YesNo)(src)
	case holdsNumber:
		*(*quantity.Number)(dst) = *(*quantity.Number)(src)
	case holdsList:
		*(*quantity.List)(dst) = *(*quantity.List)(src)
	case holdsQuantity:
		*(*quantity.Quantity)(dst) = *(*quantity.Quantity)(src)
	case holdsCount:
		*(*quantity.CountOrList)(dst) = *(*quantity.CountOrList)(src)
	}
}

// newHeld makes room for one value of a column.
func newHeld(h holder) unsafe.Pointer {
	return reflect.New(holderTypes[h]).UnsafePointer()
}
