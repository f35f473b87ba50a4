package record

import (
	"reflect"
	"unsafe"

	"github.com/go-json-experiment/json/jsontext"
)

// toObjects takes a group of names with values, or a list of such groups. Within a
// group the rules of rows hold: a bad value is dropped, and only where it is required
// does the group go with it.
func (l *lane) toObjects(dst unsafe.Pointer, sh shape, text string) *fault {
	c := l.col
	if sh == isText && len(text) > 1 && (text[0] == '[' || text[0] == '{') && jsontext.Value(text).IsValid() {
		sh = isArray
		if text[0] == '{' {
			sh = isObject
		}
	}
	if w := (walker{s: text}); sh == isArray || sh == isObject {
		if w.skip(0); w.deep {
			return l.fault("too-deep", text, "is nested more than 200 deep").do("write plain values and lists")
		}
	}
	into := reflect.NewAt(c.elem, dst).Elem()
	switch {
	case c.holds == holdsObject && sh == isObject:
		l.group(into, text, nil)
		return nil
	case c.holds == holdsObject || sh != isArray && sh != isObject:
		return l.refused(plainValue(sh, text), text)
	case sh == isObject:
		text = "[" + text + "]"
	}
	list := reflect.MakeSlice(reflect.SliceOf(c.elem), 0, 4)
	index := 0
	eachItem(text, func(sh shape, item string) {
		path := []step{{index: index}}
		index++
		one := reflect.New(c.elem).Elem()
		switch {
		case sh != isObject:
			f := l.fault("no-names", item, "is not a set of names and values").do("write each item as names with values")
			l.deeper(f, nil, path)
		case l.group(one, item, path):
			list = reflect.Append(list, one)
		}
	})
	reflect.NewAt(list.Type(), dst).Elem().Set(list)
	return nil
}

// group fills a struct from one JSON object; false if a required value is not there.
func (l *lane) group(into reflect.Value, text string, path []step) bool {
	have, told := uint64(0), uint64(0)
	base := into.Addr().UnsafePointer()
	eachMember(text, func(name string, sh shape, value string) {
		f, ok := l.col.field.Match(name)
		if !ok {
			l.sheet.unknownInner(l.col.field.Name + "." + name)
			return
		}
		var c *column
		for _, in := range l.col.inner {
			if in.field == f {
				c = in
			}
		}
		here := append(path[:len(path):len(path)], step{name: name})
		if (have|told)&c.bit != 0 {
			l.deeper(l.fault("repeated-heading", name, "is written twice; the first is the one read").do("keep one of the two"), c, here)
			return
		}
		inner := &lane{written: name, col: c, sheet: l.sheet}
		fault, blank := inner.set(unsafe.Add(base, c.offset), sh, value)
		switch {
		case fault != nil:
			told |= c.bit
			if fault.kept {
				have |= c.bit
			}
			l.deeper(fault, c, here)
		case !blank:
			have |= c.bit
		}
	})
	whole := true
	for _, c := range l.col.inner {
		if c.field.Required && have&c.bit == 0 {
			whole = false
			if told&c.bit == 0 {
				l.deeper(newFault("blank", `it needs "`+c.field.Name+`", which is not written`).do("write it"), c, path)
			}
		}
	}
	return whole
}

// deeper tells of a fault within the value of the lane's field.
func (l *lane) deeper(f *fault, inner *column, path []step) {
	w := rowFault{fault: f, lane: l, col: l.col, path: path, note: f.cause == "repeated-heading"}
	if inner != nil {
		w.inner = []*column{inner}
	}
	l.sheet.wrong = append(l.sheet.wrong, w)
}

// unknownInner lists a name within a group that is none of the field's.
func (s *sheet) unknownInner(name string) {
	for _, known := range s.strange {
		if known == name {
			return
		}
	}
	if len(s.strange) < mostStrange {
		s.strange = append(s.strange, name)
	}
}

// most unknown names within groups that are listed.
const mostStrange = 100
