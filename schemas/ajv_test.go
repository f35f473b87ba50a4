package schemas_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"footing/schemas"

	"github.com/santhosh-tekuri/jsonschema/v5"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const outside = "../testdata/outside"

// vocabulary is every keyword of our own.
var vocabulary = []string{"x-synonyms", "x-when", "x-single", "x-date", "x-refers", "x-private", "x-choices", "x-all"}

// sample is a row that its schema must take, or one with a planted fault.
type sample struct {
	Form  string `json:"form"` // the form of value it tries
	Kind  string `json:"kind"`
	Valid bool   `json:"valid"`
	Fault string `json:"fault"` // JSON pointer of the fault in the row
	Row   any    `json:"row"`
}

func samples(t *testing.T) []sample {
	t.Helper()
	raw, err := os.ReadFile(filepath.Join(outside, "samples.json"))
	require.NoError(t, err)
	var file struct {
		Samples []sample `json:"samples"`
	}
	d := json.NewDecoder(bytes.NewReader(raw))
	d.UseNumber()
	require.NoError(t, d.Decode(&file))
	require.NotEmpty(t, file.Samples)
	return file.Samples
}

// judged fails t unless the places where a validator saw faults fit the sample.
func judged(t *testing.T, by string, s sample, places []string) {
	t.Helper()
	row, _ := json.Marshal(s.Row)
	if s.Valid {
		assert.Empty(t, places, "%s refuses a good row: %s %.200s", by, s.Kind, row)
		return
	}
	assert.NotEmpty(t, places, "%s misses the fault at %q: %s %.200s", by, s.Fault, s.Kind, row)
	for _, p := range places {
		fits := p == s.Fault || strings.HasPrefix(p, s.Fault+"/")
		assert.True(t, fits, "%s sees a fault at %q, planted at %q: %s %.200s", by, p, s.Fault, s.Kind, row)
	}
}

func TestSamples(t *testing.T) {
	faults, kinds := map[string]int{}, map[string]bool{}
	for _, s := range samples(t) {
		judged(t, "jsonschema", s, faultsIn(t, s))
		kinds[s.Kind] = true
		if !s.Valid {
			faults[s.Form]++
		}
	}
	assert.Greater(t, len(kinds), 25)
	forms := map[string]bool{"required": true}
	eachField(t, func(_ *testing.T, _ string, f *schemas.Field) { forms[string(f.Form)] = true })
	for form := range forms {
		assert.GreaterOrEqual(t, faults[form], 5, "too few planted faults of the form %s", form)
	}
}

func faultsIn(t *testing.T, s sample) []string {
	t.Helper()
	err := compile(t, s.Kind, "").Validate(s.Row)
	if err == nil {
		return nil
	}
	var invalid *jsonschema.ValidationError
	require.True(t, errors.As(err, &invalid), "%v", err)
	return leaves(invalid)
}

// Outside source: ajv 8.20.0 with ajv-formats 3.0.1, in strict mode, which refuses
// misspelt keywords, unknown formats and keywords that do not fit the type. It judges
// every schema, sample and example, and must say of each what jsonschema says.
func TestAjvAgrees(t *testing.T) {
	node := ajvOrSkip(t)
	list := samples(t)
	type part struct {
		Schema string `json:"schema"`
		Value  any    `json:"value"`
	}
	type row struct {
		Schema string `json:"schema"`
		Row    any    `json:"row"`
	}
	var input struct {
		Vocabulary []string          `json:"vocabulary"`
		Schemas    []json.RawMessage `json:"schemas"`
		Rows       []row             `json:"rows"`
		Parts      []part            `json:"parts"`
	}
	input.Vocabulary = vocabulary
	for _, name := range schemas.Resources() {
		raw, _ := schemas.Resource(name)
		input.Schemas = append(input.Schemas, raw)
	}
	for _, s := range list {
		input.Rows = append(input.Rows, row{urn + s.Kind, s.Row})
	}
	for _, name := range schemas.Kinds() {
		k, _ := schemas.Lookup(name)
		for _, e := range k.Examples {
			input.Parts = append(input.Parts, part{urn + name, e})
		}
	}
	eachField(t, func(_ *testing.T, _ string, f *schemas.Field) {
		for _, e := range f.Examples {
			input.Parts = append(input.Parts, part{urn + f.Kind + "#" + f.Pointer, e})
		}
	})
	eachLayoutExample(t, func(place string, e any) { input.Parts = append(input.Parts, part{urn + place, e}) })
	text, err := json.Marshal(input)
	require.NoError(t, err)
	cmd := exec.Command(node, "validate.mjs")
	cmd.Dir = outside
	cmd.Stdin = bytes.NewReader(text)
	var said, complaint bytes.Buffer
	cmd.Stdout, cmd.Stderr = &said, &complaint
	require.NoError(t, cmd.Run(), complaint.String())
	var output struct {
		Schemas []*string  `json:"schemas"`
		Rows    [][]string `json:"rows"`
		Parts   [][]string `json:"parts"`
	}
	require.NoError(t, json.Unmarshal(said.Bytes(), &output))

	require.Len(t, output.Schemas, len(input.Schemas))
	for i, fault := range output.Schemas {
		if fault != nil {
			t.Errorf("ajv refuses the schema %s: %s", schemas.Resources()[i], *fault)
		}
	}
	require.Len(t, output.Rows, len(list))
	for i, s := range list {
		judged(t, "ajv", s, output.Rows[i])
		ours := faultsIn(t, s)
		assert.Equal(t, len(ours) > 0, len(output.Rows[i]) > 0, "the two disagree on sample %d", i+1)
		assert.Equal(t, fields(ours), fields(output.Rows[i]), "the two disagree where sample %d is wrong", i+1)
	}
	require.Len(t, output.Parts, len(input.Parts))
	for i, p := range input.Parts {
		assert.Empty(t, output.Parts[i], "ajv refuses an example of %s: %v", p.Schema, p.Value)
	}
}

// eachLayoutExample calls for each example of the schema of trace layouts with its place.
func eachLayoutExample(t *testing.T, call func(place string, example any)) {
	t.Helper()
	found := 0
	eachSchema("trace-layout#", decode(t, "trace-layout"), func(at string, s map[string]any) {
		list, _ := s["examples"].([]any)
		for _, e := range list {
			found++
			call(at, e)
		}
	})
	require.Greater(t, found, 25)
}

// Only keywords that every validator knows, and examples that meet what they illustrate.
func TestTraceLayout(t *testing.T) {
	eachSchema("trace-layout", decode(t, "trace-layout"), func(at string, s map[string]any) {
		for keyword := range s {
			assert.True(t, known("$schema $id $ref $defs title description type required properties additionalProperties items anyOf enum pattern "+
				"minimum maximum minLength maxLength minItems maxItems examples", keyword), "%s has the keyword %s", at, keyword)
		}
	})
	eachLayoutExample(t, func(place string, e any) {
		name, pointer, _ := strings.Cut(place, "#")
		assert.NoError(t, compile(t, name, pointer).Validate(e), place)
	})
}

// fields cuts places down to the field each is in, once each.
func fields(places []string) []string {
	var names []string
	for _, p := range places {
		name, _, _ := strings.Cut(strings.TrimPrefix(p, "/"), "/")
		names = append(names, name)
	}
	slices.Sort(names)
	return slices.Compact(names)
}

// ajvOrSkip returns the path of node. Where node or ajv is not installed the test is
// skipped, but not in the gate, where a skip would hide that nothing was judged.
func ajvOrSkip(t *testing.T) string {
	t.Helper()
	node, err := exec.LookPath("node")
	if err == nil {
		_, err = os.Stat(filepath.Join(outside, "node_modules", "ajv", "package.json"))
	}
	if err == nil {
		return node
	}
	const how = "ajv is not installed: run npm ci --ignore-scripts in testdata/outside"
	if os.Getenv("CI") == "true" {
		t.Fatal(how)
	}
	t.Skip(how)
	return ""
}

// The lock file names no registry, so that it installs from whichever is at hand.
func TestLockFileNamesNoRegistry(t *testing.T) {
	raw, err := os.ReadFile(filepath.Join(outside, "package-lock.json"))
	require.NoError(t, err)
	assert.NotContains(t, string(raw), `"resolved"`)
	assert.Contains(t, string(raw), `"integrity"`)
}
