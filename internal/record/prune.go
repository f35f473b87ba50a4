package record

import (
	"bytes"
	"strings"

	"github.com/go-json-experiment/json/jsontext"
)

// prune copies a schema without what bears on no verdict: descriptions, examples and
// keywords of our own. They are most of its bytes, and compiling takes time for each.
func prune(raw []byte) ([]byte, error) {
	d := jsontext.NewDecoder(bytes.NewBuffer(raw))
	var out bytes.Buffer
	e := jsontext.NewEncoder(&out)
	if err := pruneSchema(d, e); err != nil {
		return nil, err
	}
	return out.Bytes(), nil
}

// pruneSchema copies one schema, or a list of schemas, or the value of a keyword that
// is no schema, which has none of the names that are left out.
func pruneSchema(d *jsontext.Decoder, e *jsontext.Encoder) error {
	return pruneObject(d, e, func(name string) (skip, names bool) {
		skip = name == "description" || name == "title" || name == "examples" || strings.HasPrefix(name, "x-")
		return skip, name == "properties" || name == "$defs"
	})
}

// pruneObject copies a value; rule says of each member of an object whether to leave it
// out, and whether it holds schemas by names of their own.
func pruneObject(d *jsontext.Decoder, e *jsontext.Encoder, rule func(string) (skip, names bool)) error {
	switch d.PeekKind() {
	case '{', '[':
	default:
		v, err := d.ReadValue()
		if err != nil {
			return err
		}
		return e.WriteValue(v)
	}
	open, err := d.ReadToken()
	if err != nil {
		return err
	}
	object := open.Kind() == '{'
	if err := e.WriteToken(open); err != nil {
		return err
	}
	for k := d.PeekKind(); k != '}' && k != ']'; k = d.PeekKind() {
		next := pruneSchema
		if object {
			t, err := d.ReadToken()
			if err != nil {
				return err
			}
			name := t.String()
			skip, names := rule(name)
			if skip {
				if err := d.SkipValue(); err != nil {
					return err
				}
				continue
			}
			if err := e.WriteToken(jsontext.String(name)); err != nil {
				return err
			}
			if names {
				next = pruneNames
			}
		}
		if err := next(d, e); err != nil {
			return err
		}
	}
	end, err := d.ReadToken()
	if err != nil {
		return err
	}
	return e.WriteToken(end)
}

// pruneNames copies schemas by names: a field may well be named "title".
func pruneNames(d *jsontext.Decoder, e *jsontext.Encoder) error {
	return pruneObject(d, e, func(string) (skip, names bool) { return false, false })
}
