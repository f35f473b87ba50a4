package schemas_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"
	"sync"
	"testing"

	"footing/schemas"

	"github.com/santhosh-tekuri/jsonschema/v5"
	"github.com/stretchr/testify/require"
)

const urn = "urn:footing:"

// shared holds the whole set. Nothing is read from outside it.
var shared = sync.OnceValues(func() (*jsonschema.Compiler, error) {
	c := jsonschema.NewCompiler()
	c.AssertFormat = true // 2020-12 asserts no format unless asked
	c.LoadURL = func(url string) (io.ReadCloser, error) {
		return nil, errors.New("a schema asks for " + url + ", which is not among ours")
	}
	for _, name := range schemas.Resources() {
		raw, _ := schemas.Resource(name)
		if err := c.AddResource(urn+name, bytes.NewReader(raw)); err != nil {
			return nil, err
		}
	}
	return c, nil
})

// compile compiles a schema, or the part of it at a pointer such as "/$defs/day".
func compile(t *testing.T, name, pointer string) *jsonschema.Schema {
	t.Helper()
	c, err := shared()
	require.NoError(t, err)
	url := urn + name
	if pointer != "" {
		url += "#" + pointer
	}
	s, err := c.Compile(url)
	require.NoError(t, err, url)
	return s
}

// decode reads a schema file as plain JSON.
func decode(t *testing.T, name string) map[string]any {
	t.Helper()
	raw, ok := schemas.Resource(name)
	require.True(t, ok, name)
	d := json.NewDecoder(bytes.NewReader(raw))
	d.UseNumber()
	var doc map[string]any
	require.NoError(t, d.Decode(&doc), name)
	return doc
}

// eachSchema calls visit for every subschema of doc, with its place; examples,
// const and enum hold values, not schemas.
func eachSchema(at string, doc map[string]any, visit func(at string, s map[string]any)) {
	visit(at, doc)
	for _, group := range []string{"properties", "$defs"} {
		if m, ok := doc[group].(map[string]any); ok {
			for name, s := range m {
				eachSchema(at+"/"+group+"/"+name, s.(map[string]any), visit)
			}
		}
	}
	for _, one := range []string{"items", "additionalProperties"} {
		if s, ok := doc[one].(map[string]any); ok {
			eachSchema(at+"/"+one, s, visit)
		}
	}
	if list, ok := doc["anyOf"].([]any); ok {
		for i, s := range list {
			eachSchema(fmt.Sprintf("%s/anyOf/%d", at, i), s.(map[string]any), visit)
		}
	}
}

// eachField calls visit for every field of every kind, and of the objects in them.
func eachField(t *testing.T, visit func(t *testing.T, path string, f *schemas.Field)) {
	t.Helper()
	var walk func(path string, fields []*schemas.Field)
	walk = func(path string, fields []*schemas.Field) {
		for _, f := range fields {
			visit(t, path+f.Name, f)
			walk(path+f.Name+".", f.Fields)
		}
	}
	for _, name := range schemas.Kinds() {
		k, ok := schemas.Lookup(name)
		require.True(t, ok, name)
		walk(name+".", k.Fields)
	}
}

// leaves lists the places in the row of all faults that have no deeper cause.
func leaves(err *jsonschema.ValidationError) []string {
	if len(err.Causes) == 0 {
		return []string{err.InstanceLocation}
	}
	var all []string
	for _, c := range err.Causes {
		all = append(all, leaves(c)...)
	}
	return all
}

func known(list, name string) bool { return strings.Contains(" "+list+" ", " "+name+" ") }
