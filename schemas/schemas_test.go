package schemas_test

import (
	"bytes"
	"encoding/json"
	"regexp"
	"slices"
	"strings"
	"testing"

	"footing/schemas"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// others are schema files that describe no kind of record.
var others = []string{"common", "draw", "lookback", "result", "trace-layout"}

// Every file, whosever it is, compiles from our own set alone.
func TestEverySchemaCompiles(t *testing.T) {
	for _, name := range schemas.Resources() {
		compile(t, name, "")
		doc := decode(t, name)
		assert.Equal(t, "https://json-schema.org/draft/2020-12/schema", doc["$schema"], name)
		assert.Equal(t, urn+name, doc["$id"], name)
	}
}

func TestKindsAndFilesAgree(t *testing.T) {
	var files []string
	for _, name := range schemas.Resources() {
		if !slices.Contains(others, name) {
			files = append(files, name)
		}
	}
	assert.ElementsMatch(t, files, schemas.Kinds())
	_, ok := schemas.Resource("../go")
	assert.False(t, ok)
	_, ok = schemas.Resource("nothing")
	assert.False(t, ok)
}

// A misspelt keyword is ignored in silence by most validators.
func TestOnlyKnownKeywords(t *testing.T) {
	const (
		top   = "$schema $id title description type required properties examples x-synonyms x-when x-single"
		inner = "$ref type enum const anyOf items properties required pattern minimum maximum exclusiveMinimum minLength maxLength " +
			"format additionalProperties description examples x-synonyms x-date x-refers x-private x-choices x-all"
	)
	for _, name := range schemas.Kinds() {
		eachSchema(name, decode(t, name), func(at string, s map[string]any) {
			allowed := inner
			if at == name {
				allowed = top
			}
			for keyword := range s {
				assert.True(t, known(allowed, keyword), "%s has the keyword %s", at, keyword)
			}
		})
	}
	eachSchema("common", decode(t, "common"), func(at string, s map[string]any) {
		for keyword := range s {
			assert.True(t, known(inner+" $schema $id title $defs", keyword), "%s has the keyword %s", at, keyword)
		}
		if format, ok := s["format"]; ok { // an unknown format is ignored in silence, too
			assert.Equal(t, "date", format, at)
		}
	})
}

// Patterns must mean the same to Go and to other validators: no shorthand classes,
// whose reach differs, and nothing that only one of them knows.
func TestPatternsArePlain(t *testing.T) {
	odd := regexp.MustCompile(`\\[^.]|\(\?|[^\x00-\x7f°]`)
	for _, name := range append(schemas.Kinds(), "common") {
		eachSchema(name, decode(t, name), func(at string, s map[string]any) {
			if p, ok := s["pattern"].(string); ok {
				assert.Empty(t, odd.FindString(p), at)
				assert.True(t, strings.HasPrefix(p, "^") && strings.HasSuffix(p, "$"), at)
			}
		})
	}
}

func TestEveryFormIsDefined(t *testing.T) {
	defs := decode(t, "common")["$defs"].(map[string]any)
	structural := []schemas.Form{schemas.Choice, schemas.List, schemas.Objects, schemas.Object}
	used := map[string]bool{}
	eachField(t, func(t *testing.T, path string, f *schemas.Field) {
		form := f.Form
		if form == schemas.List {
			form = f.Item
		} else {
			assert.Empty(t, f.Item, path)
		}
		if !slices.Contains(structural, form) {
			assert.Contains(t, defs, string(form), path)
			used[string(form)] = true
		}
		assert.Equal(t, form == schemas.Choice, len(f.Choices) > 0, path)
	})
	for name := range defs {
		assert.True(t, used[name], "no field has the form %s", name)
	}
}

func TestEveryExampleValidates(t *testing.T) {
	for _, name := range schemas.Kinds() {
		k, _ := schemas.Lookup(name)
		assert.GreaterOrEqual(t, len(k.Examples), 2, name)
		fullest := map[string]bool{}
		for _, raw := range k.Examples {
			row := plain(t, raw).(map[string]any)
			assert.NoError(t, compile(t, name, "").Validate(row), "%s: %s", name, raw)
			for field := range row {
				_, ok := k.Field(field)
				assert.True(t, ok, "%s: the example has %s", name, field)
				fullest[field] = true
			}
		}
		assert.GreaterOrEqual(t, 10*len(fullest), 7*len(k.Fields), "%s: the examples show too few of its fields", name)
	}
	eachField(t, func(t *testing.T, path string, f *schemas.Field) {
		require.NotEmpty(t, f.Examples, path)
		s := compile(t, f.Kind, f.Pointer)
		for _, e := range f.Examples {
			assert.NoError(t, s.Validate(e), path)
		}
	})
	for name, def := range decode(t, "common")["$defs"].(map[string]any) {
		s := compile(t, "common", "/$defs/"+name)
		for _, e := range def.(map[string]any)["examples"].([]any) {
			assert.NoError(t, s.Validate(e), name)
		}
	}
}

func plain(t *testing.T, raw []byte) any {
	t.Helper()
	d := json.NewDecoder(bytes.NewReader(raw))
	d.UseNumber()
	var v any
	require.NoError(t, d.Decode(&v))
	return v
}
