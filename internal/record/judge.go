package record

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"sync"

	"github.com/santhosh-tekuri/jsonschema/v5"

	"footing/schemas"
)

// judge says whether a value is one that the compiled schema of its field accepts.
type judge struct {
	schema *jsonschema.Schema
	quick  *accept // nil if only the schema can tell
}

func newJudge(s *jsonschema.Schema) *judge { return &judge{schema: s, quick: newAccept(s)} }

// word judges a string.
func (j *judge) word(s string) bool {
	return j.quick != nil && j.quick.word(s) || j.schema.Validate(s) == nil
}

// words judges a list of strings.
func (j *judge) words(items []string) bool {
	if j.quick != nil && j.quick.words(items) {
		return true
	}
	return j.schema.Validate(anyList(items)) == nil
}

// number judges a number as JSON writes it.
func (j *judge) number(n string) bool {
	if j.quick != nil && len(n) <= 15 && digits(n) {
		if v, err := strconv.Atoi(n); err == nil && j.quick.count(float64(v)) {
			return true
		}
	}
	return j.schema.Validate(json.Number(n)) == nil
}

// value judges any value as JSON gives it, with numbers as json.Number.
func (j *judge) value(v any) bool { return j.schema.Validate(v) == nil }

func anyList(items []string) []any {
	list := make([]any, len(items))
	for i, s := range items {
		list[i] = s
	}
	return list
}

// broken is one keyword of a schema that a value does not meet.
type broken struct {
	keyword string // "maximum"
	limit   any    // the keyword's value in the schema
	at      string // pointer within the value
}

// why finds the keyword to speak of when a value is not accepted: the first by place
// in the value, then by keyword, whatever order the library reports them in.
func (j *judge) why(v any) broken {
	var wrong *jsonschema.ValidationError
	if !errors.As(j.schema.Validate(v), &wrong) {
		return broken{}
	}
	var leaves []broken
	var walk func(e *jsonschema.ValidationError)
	walk = func(e *jsonschema.ValidationError) {
		for _, c := range e.Causes {
			walk(c)
		}
		if len(e.Causes) == 0 {
			path, keyword := e.AbsoluteKeywordLocation, ""
			if i := strings.LastIndexByte(path, '/'); i >= 0 {
				keyword = path[i+1:]
			}
			leaves = append(leaves, broken{keyword, limitAt(path), e.InstanceLocation})
		}
	}
	walk(wrong)
	if len(leaves) == 0 {
		return broken{}
	}
	return slices.MinFunc(leaves, func(a, b broken) int {
		if c := strings.Compare(a.at, b.at); c != 0 {
			return c
		}
		return strings.Compare(a.keyword, b.keyword)
	})
}

// library holds the schemas as compiled so far. The compiled schemas may be used by
// all goroutines at once; the compiler by one at a time.
var library struct {
	sync.Mutex
	compiler *jsonschema.Compiler
	docs     map[string]any // parsed, by "urn:footing:KIND"
	kinds    map[string]*jsonschema.Schema
}

const urn = "urn:footing:"

// compiled gives the compiled schema of a kind, compiling it when it is first asked for.
func compiled(kind string) (*jsonschema.Schema, error) {
	l := &library
	l.Lock()
	defer l.Unlock()
	if l.compiler == nil {
		l.compiler = jsonschema.NewCompiler()
		l.compiler.Draft = jsonschema.Draft2020
		l.compiler.AssertFormat = true
		l.compiler.LoadURL = func(url string) (io.ReadCloser, error) {
			return nil, fmt.Errorf("schema %s: not one of ours", url)
		}
		l.docs, l.kinds = map[string]any{}, map[string]*jsonschema.Schema{}
		if err := addSchema("common"); err != nil {
			return nil, err
		}
	}
	if s := l.kinds[kind]; s != nil {
		return s, nil
	}
	if err := addSchema(kind); err != nil {
		return nil, err
	}
	s, err := l.compiler.Compile(urn + kind)
	if err != nil {
		return nil, err
	}
	l.kinds[kind] = s
	return s, nil
}

// addSchema gives the compiler one schema, without what bears on no verdict.
func addSchema(name string) error {
	raw, ok := schemas.Resource(name)
	if !ok {
		return fmt.Errorf("there is no schema %q", name)
	}
	dec := json.NewDecoder(bytes.NewReader(raw))
	dec.UseNumber()
	var doc any
	if err := dec.Decode(&doc); err != nil {
		return fmt.Errorf("schema %s: %w", name, err)
	}
	library.docs[urn+name] = doc
	return library.compiler.AddResource(urn+name, bytes.NewReader(raw))
}

// limitAt gives the value of a keyword: "urn:footing:common#/$defs/text/maxLength".
func limitAt(location string) any {
	base, pointer, _ := strings.Cut(location, "#")
	library.Lock()
	at := library.docs[base]
	library.Unlock()
	for _, step := range strings.Split(pointer, "/")[1:] {
		step = strings.NewReplacer("~1", "/", "~0", "~").Replace(step)
		switch v := at.(type) {
		case map[string]any:
			at = v[step]
		case []any:
			i := 0
			if _, err := fmt.Sscanf(step, "%d", &i); err != nil || i < 0 || i >= len(v) {
				return nil
			}
			at = v[i]
		default:
			return nil
		}
	}
	return at
}

// compile gives every column of the plan its judge, once.
func (p *plan) compile() error {
	p.once.Do(func() {
		root, err := compiled(p.kind.Name)
		if err != nil {
			p.failed = err
			return
		}
		p.failed = giveJudges(p.cols, root)
	})
	return p.failed
}

func giveJudges(cols []*column, s *jsonschema.Schema) error {
	for _, c := range cols {
		of := s.Properties[c.field.Name]
		if of == nil {
			return fmt.Errorf("%s: the schema has no property %q", s.Location, c.field.Name)
		}
		c.judge = newJudge(of)
		switch {
		case c.holds == holdsObjects && of.Items2020 != nil:
			of = of.Items2020
		case c.holds != holdsObject:
			continue
		}
		if err := giveJudges(c.inner, of); err != nil {
			return err
		}
	}
	return nil
}
