package record

import (
	"encoding/json"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"unsafe"

	"footing/internal/quantity"
)

// value is a value to write: words, a number or yes/no, or the JSON of a list or group.
type value struct {
	shape shape
	text  string
}

// jsonOf writes a string as JSON has it.
func jsonOf(s string) string {
	var b strings.Builder
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	_ = e.Encode(s) // a string always can
	return strings.TrimSuffix(b.String(), "\n")
}

// canonical is how a held value is written, in the form that its field has.
func (c *column) canonical(held unsafe.Pointer) value {
	switch c.holds {
	case holdsDay:
		return value{isText, (*quantity.Day)(held).String()}
	case holdsMoment:
		return value{isText, (*quantity.Moment)(held).String()}
	case holdsYesNo:
		return value{isBool, strconv.FormatBool(*(*quantity.YesNo)(held) == quantity.IsYes)}
	case holdsNumber:
		return numberValue(*(*quantity.Number)(held))
	case holdsQuantity:
		return value{isText, (*quantity.Quantity)(held).String()}
	case holdsList:
		return listValue(*(*quantity.List)(held))
	case holdsCount:
		if v := (*quantity.CountOrList)(held); !v.List.Written {
			return numberValue(v.Count)
		} else {
			return listValue(v.List)
		}
	}
	return value{isText, *(*string)(held)}
}

func numberValue(n quantity.Number) value {
	text := strconv.FormatFloat(n.Value, 'f', -1, 64)
	if !sensibleNumber(text) {
		text = strconv.FormatFloat(n.Value, 'e', -1, 64)
	}
	return value{isNumber, text}
}

func listValue(l quantity.List) value {
	if l.All {
		return value{isText, "all"}
	}
	items := make([]string, len(l.Items))
	for i, item := range l.Items {
		items[i] = jsonOf(item)
	}
	return value{isArray, "[" + strings.Join(items, ",") + "]"}
}

// newValue makes room for one value of the column.
func (c *column) newValue() unsafe.Pointer {
	switch c.holds {
	case holdsObject:
		return reflect.New(c.elem).UnsafePointer()
	case holdsObjects:
		return reflect.New(reflect.SliceOf(c.elem)).UnsafePointer()
	}
	return newHeld(c.holds)
}

// same reports whether two held values of the column are the same.
func (c *column) same(a, b unsafe.Pointer) bool {
	switch c.holds {
	case holdsText:
		return *(*string)(a) == *(*string)(b)
	case holdsDay:
		return *(*quantity.Day)(a) == *(*quantity.Day)(b)
	case holdsMoment:
		return *(*quantity.Moment)(a) == *(*quantity.Moment)(b)
	case holdsYesNo:
		return *(*quantity.YesNo)(a) == *(*quantity.YesNo)(b)
	case holdsNumber:
		return *(*quantity.Number)(a) == *(*quantity.Number)(b)
	case holdsQuantity:
		return *(*quantity.Quantity)(a) == *(*quantity.Quantity)(b)
	case holdsList:
		return sameList(*(*quantity.List)(a), *(*quantity.List)(b))
	case holdsCount:
		x, y := (*quantity.CountOrList)(a), (*quantity.CountOrList)(b)
		return x.Count == y.Count && sameList(x.List, y.List)
	}
	return c.sameObjects(a, b)
}

func sameList(a, b quantity.List) bool {
	return a.Written == b.Written && a.All == b.All && slices.Equal(a.Items, b.Items)
}

// sameObjects compares groups, and lists of groups, field by field.
func (c *column) sameObjects(a, b unsafe.Pointer) bool {
	if c.holds == holdsObject {
		return c.sameInner(a, b)
	}
	of := reflect.SliceOf(c.elem)
	x, y := reflect.NewAt(of, a).Elem(), reflect.NewAt(of, b).Elem()
	if x.Len() != y.Len() {
		return false
	}
	for i := range x.Len() {
		if !c.sameInner(x.Index(i).Addr().UnsafePointer(), y.Index(i).Addr().UnsafePointer()) {
			return false
		}
	}
	return true
}

func (c *column) sameInner(a, b unsafe.Pointer) bool {
	for _, in := range c.inner {
		if !in.same(unsafe.Add(a, in.offset), unsafe.Add(b, in.offset)) {
			return false
		}
	}
	return true
}

// cellText is a value as one cell of a table has it.
func (v value) cellText(c *column) string {
	switch {
	case v.shape == isBool && c != nil && c.holds == holdsYesNo:
		return map[string]string{"true": "yes", "false": "no"}[v.text]
	case v.shape == isArray && c != nil && (c.holds == holdsList || c.holds == holdsCount):
		if items, ok := plainItems(v.text); ok {
			return items
		}
	}
	return v.text
}

// plainItems joins the items of a JSON array of words and numbers as a cell has them;
// false if it holds anything else.
func plainItems(array string) (cell string, ok bool) {
	var items []string
	ok = true
	eachItem(array, func(sh shape, text string) {
		items, ok = append(items, text), ok && (sh == isText || sh == isNumber)
	})
	if len(items) == 0 {
		return "none", ok
	}
	return strings.Join(items, "; "), ok
}
