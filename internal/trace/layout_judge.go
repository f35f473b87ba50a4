package trace

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"

	"github.com/santhosh-tekuri/jsonschema/v5"
	"go.yaml.in/yaml/v4"

	"footing/schemas"
)

// layoutSchema is that of one entry, compiled when it is first asked for.
var layoutSchema = sync.OnceValue(func() *jsonschema.Schema {
	c := jsonschema.NewCompiler()
	c.Draft = jsonschema.Draft2020
	c.AssertFormat, c.ExtractAnnotations = true, true
	c.LoadURL = func(url string) (io.ReadCloser, error) {
		return nil, fmt.Errorf("schema %s: not one of ours", url)
	}
	for _, name := range []string{"common", "trace-layout"} {
		raw, _ := schemas.Resource(name)
		if err := c.AddResource("urn:footing:"+name, bytes.NewReader(raw)); err != nil {
			panic("trace: " + err.Error()) // embedded, and tested
		}
	}
	return c.MustCompile("urn:footing:trace-layout#/$defs/entry")
})

// layoutFaults gathers what is wrong with the entries, each a sentence.
type layoutFaults struct {
	number int // of the entry
	before int // how many were found in the entries before it
	found  []Problem
}

const mostFaults = 20

// entry reads an entry, if it has no mistake.
func (f *layoutFaults) entry(n *yaml.Node) (layout, bool) {
	if f.judge(n); len(f.found) > f.before {
		return layout{}, false
	}
	e := entryOf(n)
	e.number = f.number
	f.check(&e, n)
	return e, len(f.found) == f.before
}

func (f *layoutFaults) add(line int, what, todo string) {
	f.found = append(f.found, *layoutProblem(line, fmt.Sprintf("entry %d, line %d: %s", f.number, line, what), todo))
}

// problems are the first ones found, and a word on the others.
func (f *layoutFaults) problems() []Problem {
	if len(f.found) <= mostFaults {
		return f.found
	}
	more := f.found[mostFaults]
	more.Count = len(f.found) - mostFaults
	more.Sentence = fmt.Sprintf("%d more mistakes follow, from line %d on", more.Count, more.Line)
	more.Todo = "correct the first ones, and read again"
	return append(f.found[:mostFaults:mostFaults], more)
}

// judge finds what an entry may not have.
func (f *layoutFaults) judge(n *yaml.Node) {
	switch {
	case f.refuse(n):
	case n.Kind != yaml.MappingNode:
		f.add(n.Line, "it is no set of names and values", "write each value as name: value")
	default:
		f.look(layoutSchema(), n, nil)
	}
}

// refuse finds what can be written in YAML, and is not read here.
func (f *layoutFaults) refuse(n *yaml.Node) bool {
	if n.Kind == yaml.AliasNode || n.Anchor != "" {
		f.add(n.Line, "it uses an anchor or alias (& or *)", "write the values out; put quotation marks around words that begin with & or *")
		return true
	}
	names := map[string]bool{}
	for i, c := range n.Content {
		if n.Kind == yaml.MappingNode && i%2 == 0 {
			switch {
			case c.Kind != yaml.ScalarNode:
				f.add(c.Line, "a name in it is no plain word", "write each value as name: value")
				return true
			case names[c.Value]:
				f.add(c.Line, quoted(c)+" is written twice, so that it is not clear which is meant", "keep one of the two")
				return true
			}
			names[c.Value] = true
		}
		if f.refuse(c) {
			return true
		}
	}
	return false
}

// look finds the places where a value does not meet its schema, and says of each, in
// the words of the schema, what belongs there. The way is of the names that lead to it.
func (f *layoutFaults) look(s *jsonschema.Schema, n *yaml.Node, way []string) {
	if s.Validate(plainOf(n)) == nil {
		return
	}
	before := len(f.found)
	switch form := formFor(s, n); {
	case form == nil:
	case n.Kind == yaml.MappingNode:
		for i := 0; i+1 < len(n.Content); i += 2 {
			name, value := n.Content[i], n.Content[i+1]
			if of := form.Properties[name.Value]; of == nil {
				f.add(name.Line, quoted(name)+" is no name that can stand here", "write one of: "+strings.Join(slices.Sorted(maps.Keys(form.Properties)), ", "))
			} else if !isBlank(value) {
				f.look(of, value, append(way, name.Value))
			}
		}
		f.missing(form, n, way)
	case n.Kind == yaml.SequenceNode:
		for i, c := range n.Content {
			f.look(form.Items2020, c, append(way, fmt.Sprint(i+1)))
		}
		s = form
	}
	if len(f.found) == before {
		f.add(n.Line, strings.Join(way, " ")+" cannot be "+quoted(n), wanted(s))
	}
}

// missing tells of names without which an entry, or a column in it, is nothing.
func (f *layoutFaults) missing(s *jsonschema.Schema, n *yaml.Node, way []string) {
	has := plainOf(n).(map[string]any)
	for _, name := range s.Required {
		if has[name] == nil {
			f.add(n.Line, strings.Join(way, " ")+" does not say which "+name, wanted(s.Properties[name]))
		}
	}
	if len(way) == 0 && has["files"] == nil && has["sterilizer"] == nil {
		f.add(n.Line, "it does not say for which files it is", `write files with a name or a pattern, such as files: "S1-*.csv", or sterilizer with its id`)
	}
}

// formFor is the schema, of those that a value may meet, for one written like n; nil for none.
func formFor(s *jsonschema.Schema, n *yaml.Node) *jsonschema.Schema {
	if len(s.Types) > 0 {
		fits := n.Kind == yaml.MappingNode && s.Properties != nil || n.Kind == yaml.SequenceNode && s.Items2020 != nil
		if fits {
			return s
		}
		return nil
	}
	if s.Ref != nil {
		return formFor(s.Ref, n)
	}
	for _, one := range s.AnyOf {
		if form := formFor(one, n); form != nil {
			return form
		}
	}
	return nil
}

// wanted says what belongs in a place: the first sentence that describes it.
func wanted(s *jsonschema.Schema) string {
	for s.Description == "" && s.Ref != nil {
		s = s.Ref
	}
	first, _, _ := strings.Cut(s.Description, ". ")
	c, size := utf8.DecodeRuneInString(first)
	todo := "write " + string(unicode.ToLower(c)) + strings.TrimSuffix(first[size:], ".")
	if len(s.Examples) > 0 {
		if e, err := json.Marshal(s.Examples[0]); err == nil && e[0] != '[' && e[0] != '{' {
			todo += "; such as " + string(e)
		}
	}
	return todo
}

// quoted is a value as a person wrote it, cut where it is long.
func quoted(n *yaml.Node) string {
	switch {
	case n.Kind == yaml.MappingNode:
		return "a set of names and values"
	case n.Kind == yaml.SequenceNode && len(n.Content) == 0:
		return "an empty list"
	case n.Kind == yaml.SequenceNode:
		return fmt.Sprintf("a list of %d", len(n.Content))
	case isBlank(n):
		return "empty"
	}
	const most = 60
	words := []rune(n.Value)
	if len(words) > most {
		words = append(words[:most], '…')
	}
	return fmt.Sprintf("%q", string(words))
}
