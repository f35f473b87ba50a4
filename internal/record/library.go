package record

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"strings"
	"sync"

	"github.com/santhosh-tekuri/jsonschema/v5"

	"footing/schemas"
)

// library holds the schemas as compiled so far. The compiled schemas may be used by
// all goroutines at once; the compiler by one at a time.
var library struct {
	sync.Mutex
	compiler *jsonschema.Compiler
	lean     map[string][]byte // the schemas as compiled, by "urn:footing:KIND"
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
		l.lean, l.kinds = map[string][]byte{}, map[string]*jsonschema.Schema{}
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

// addSchema gives the compiler one schema.
func addSchema(name string) error {
	raw, ok := schemas.Resource(name)
	if !ok {
		return fmt.Errorf("there is no schema %q", name)
	}
	lean, err := prune(raw)
	if err != nil {
		return fmt.Errorf("schema %s: %w", name, err)
	}
	library.lean[urn+name] = lean
	return library.compiler.AddResource(urn+name, bytes.NewReader(lean))
}

// limits are the values of keywords that were asked for, by location: a column may hold
// very many wrong values.
var limits sync.Map

// limitAt gives the value of a keyword: "urn:footing:common#/$defs/text/maxLength".
func limitAt(location string) any {
	if v, met := limits.Load(location); met {
		return v
	}
	v := findLimit(location)
	limits.Store(location, v)
	return v
}

func findLimit(location string) any {
	base, pointer, _ := strings.Cut(location, "#")
	library.Lock()
	lean := library.lean[base]
	library.Unlock()
	dec := json.NewDecoder(bytes.NewReader(lean))
	dec.UseNumber()
	var at any
	if dec.Decode(&at) != nil {
		return nil
	}
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
