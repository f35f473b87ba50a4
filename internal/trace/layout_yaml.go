package trace

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"strconv"

	"go.yaml.in/yaml/v4"
)

const (
	layoutMost    = 1 << 20 // bytes
	layoutDeep    = 20      // levels
	layoutEntries = 1000    // as its schema has it
)

var errTooDeep = errors.New("nested too deep")

// shallow keeps the parser from deep nesting.
type shallow struct{ reached bool }

// CheckDepth is called for each level that the parser goes into.
func (s *shallow) CheckDepth(depth int, _ *yaml.DepthContext) error {
	if depth <= layoutDeep {
		return nil
	}
	s.reached = true
	return errTooDeep
}

// CheckAlias has nothing to do: no alias is ever followed.
func (s *shallow) CheckAlias(int, int) error { return nil }

// layoutList gives the entries of the text, or what is wrong with the whole.
func layoutList(text []byte) ([]*yaml.Node, *Problem) {
	if len(text) > layoutMost {
		return nil, layoutProblem(0, "the text is longer than 1 MiB, and is not read", "keep nothing but the layouts in it")
	}
	var limit shallow
	var doc, more yaml.Node
	docs, err := yaml.NewLoader(bytes.NewReader(text), yaml.WithPlugin(&limit))
	if err == nil {
		err = docs.Load(&doc)
	}
	if err == nil {
		if err = docs.Load(&more); err == nil && !(len(more.Content) == 1 && isBlank(more.Content[0])) {
			return nil, layoutProblem(more.Line, "line "+strconv.Itoa(more.Line)+" begins a second list, so that nothing is used", "keep one list, without lines of three hyphens")
		}
	}
	var wrong *yaml.LoadError
	switch {
	case limit.reached:
		return nil, layoutProblem(0, "values are nested more than "+strconv.Itoa(layoutDeep)+" deep, so that nothing is used", "write plain values and lists")
	case errors.As(err, &wrong) && wrong.Mark.Line > 0:
		line := wrong.Mark.Line
		if wrong.ContextMark.Line > 0 {
			line = wrong.ContextMark.Line // where what does not end began
		}
		return nil, layoutProblem(line, "line "+strconv.Itoa(line)+" cannot be read, so that nothing is used", layoutBroken)
	case err != nil && !errors.Is(err, io.EOF):
		return nil, layoutProblem(0, "it holds characters that cannot be read, so that nothing is used", "save it as plain text, in UTF-8")
	case doc.Kind != yaml.DocumentNode || len(doc.Content) != 1 || isBlank(doc.Content[0]):
		return nil, nil
	case doc.Content[0].Kind != yaml.SequenceNode:
		line := doc.Content[0].Line
		return nil, layoutProblem(line, "line "+strconv.Itoa(line)+" begins no list, so that nothing is used", "begin each entry with a hyphen")
	case len(doc.Content[0].Content) > layoutEntries:
		return nil, layoutProblem(0, "there are more than 1,000 entries, so that nothing is used", "write one entry for all files of a logger, with a pattern such as S1-*.csv")
	}
	return doc.Content[0].Content, nil
}

const layoutBroken = "look at the indentation, and whether a colon or a quotation mark is missing; put quotation marks around words that hold a colon or begin with *"

func layoutProblem(line int, sentence, todo string) *Problem {
	return &Problem{Cause: "layout", Line: line, Count: 1, Sentence: sentence, Todo: todo, Grave: true}
}

// isBlank is true for a value that is not written.
func isBlank(n *yaml.Node) bool {
	if n.Kind != yaml.ScalarNode || n.Anchor != "" || n.Style != 0 {
		return false
	}
	switch n.Value {
	case "", "~", "null", "Null", "NULL":
		return true
	}
	return false
}

// plainOf gives a node as JSON would: words, whole numbers, lists, names with values.
// What is not written is left out.
func plainOf(n *yaml.Node) any {
	switch n.Kind {
	case yaml.MappingNode:
		m := map[string]any{}
		for i := 0; i+1 < len(n.Content); i += 2 {
			if !isBlank(n.Content[i+1]) {
				m[n.Content[i].Value] = plainOf(n.Content[i+1])
			}
		}
		return m
	case yaml.SequenceNode:
		list := []any{}
		for _, c := range n.Content {
			list = append(list, plainOf(c))
		}
		return list
	}
	switch {
	case isBlank(n):
		return nil
	case n.Style != 0:
		return n.Value
	case n.Value == "true" || n.Value == "false":
		return n.Value == "true"
	case wholeNumber(n.Value):
		return json.Number(n.Value)
	}
	return n.Value
}

// wholeNumber is true for digits, with a minus perhaps, that begin with no idle nought.
func wholeNumber(s string) bool {
	v, err := strconv.Atoi(s)
	return err == nil && strconv.Itoa(v) == s
}
