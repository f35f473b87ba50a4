package result

import (
	"fmt"
	"io"
	"reflect"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"
)

// Write writes r as audit.json: indented, names in the order of the structs,
// keys of grades and contacts sorted, lists that hold nothing as [] and never
// null, and < > & as themselves. The same result gives the same bytes. Bytes
// that are not UTF-8 become the replacement character. A figure that is no
// finite number is an error.
func Write(w io.Writer, r *Result) error { return write(w, r, "result") }

// WriteAnswer writes a as lookback.json, in the manner of Write
// (schemas/lookback.json).
func WriteAnswer(w io.Writer, a *Answer) error { return write(w, a, "look-back") }

// WriteDraw writes d as draw.json, in the manner of Write (schemas/draw.json).
func WriteDraw(w io.Writer, d *Draw) error { return write(w, d, "draw") }

func write[T Result | Answer | Draw](w io.Writer, document *T, name string) error {
	out, err := json.Marshal(document,
		json.Deterministic(true),
		json.FormatNilSliceAsNull(false),
		json.FormatNilMapAsNull(false),
		jsontext.AllowInvalidUTF8(true),
		jsontext.EscapeForHTML(false),
		jsontext.WithIndent("  "),
	)
	if err != nil {
		return fmt.Errorf("the %s cannot be written as JSON: %w", name, err)
	}
	_, err = w.Write(append(out, '\n'))
	return err
}

// fill turns absent lists and maps of a decoded result into empty ones, so that
// a result reads the same before it was written and after.
func fill(v reflect.Value) {
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			fill(v.Elem())
		}
	case reflect.Struct:
		for i := range v.NumField() {
			fill(v.Field(i))
		}
	case reflect.Map:
		if v.IsNil() {
			v.Set(reflect.MakeMap(v.Type()))
		}
	case reflect.Slice:
		if v.IsNil() {
			v.Set(reflect.MakeSlice(v.Type(), 0, 0))
		}
		for i := range v.Len() {
			fill(v.Index(i))
		}
	}
}
