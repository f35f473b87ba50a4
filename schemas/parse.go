package schemas

import (
	"encoding/json"
	"errors"
	"fmt"
	"strings"

	gojson "github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"
)

const commonRef = "urn:footing:common#/$defs/"

// node is what we read of a schema of one value.
type node struct {
	Ref         string            `json:"$ref"`
	Type        string            `json:"type"`
	Const       any               `json:"const"`
	Enum        []string          `json:"enum"`
	Pattern     string            `json:"pattern"`
	Items       *node             `json:"items"`
	AnyOf       []*node           `json:"anyOf"`
	Required    []string          `json:"required"`
	Properties  properties        `json:"properties"`
	Description string            `json:"description"`
	Examples    []any             `json:"examples"`
	Synonyms    []string          `json:"x-synonyms"`
	Date        DateMark          `json:"x-date"`
	Refers      []string          `json:"x-refers"`
	Private     bool              `json:"x-private"`
	All         bool              `json:"x-all"`
	Choices     map[string]string `json:"x-choices"`
}

type document struct {
	Title       string            `json:"title"`
	Description string            `json:"description"`
	Required    []string          `json:"required"`
	Properties  properties        `json:"properties"`
	Examples    []json.RawMessage `json:"examples"`
	Synonyms    []string          `json:"x-synonyms"`
	When        string            `json:"x-when"`
	Single      bool              `json:"x-single"`
}

type property struct {
	name string
	node *node
}

// properties keeps the order of the file, which a Go map would lose.
type properties []property

// UnmarshalJSONFrom reads an object, name by name.
func (p *properties) UnmarshalJSONFrom(d *jsontext.Decoder) error {
	if t, err := d.ReadToken(); err != nil {
		return err
	} else if t.Kind() != '{' {
		return errors.New("properties must be an object")
	}
	for d.PeekKind() != '}' {
		t, err := d.ReadToken()
		if err != nil {
			return err
		}
		one := property{name: t.String(), node: new(node)}
		if err := gojson.UnmarshalDecode(d, one.node); err != nil {
			return err
		}
		*p = append(*p, one)
	}
	_, err := d.ReadToken()
	return err
}

func parse(name string) (*Kind, error) {
	raw, err := files.ReadFile(name + ".json")
	if err != nil {
		return nil, err
	}
	var doc document
	if err := gojson.Unmarshal(raw, &doc); err != nil {
		return nil, err
	}
	k := &Kind{Name: name, Title: doc.Title, Description: doc.Description, Synonyms: doc.Synonyms,
		When: doc.When, Single: doc.Single, Required: doc.Required, Examples: doc.Examples}
	k.Fields, k.names, k.headings, err = fields(name, "/properties/", doc.Properties, doc.Required)
	return k, err
}

// fields makes the fields of one object, and finds them by name and by heading.
func fields(kind, at string, props properties, required []string) (list []*Field, names, headings map[string]*Field, err error) {
	list = make([]*Field, 0, len(props))
	names = make(map[string]*Field, len(props))
	headings = make(map[string]*Field, 6*len(props))
	for _, p := range props {
		f := &Field{Kind: kind, Name: p.name, Pointer: at + p.name, Description: p.node.Description,
			Synonyms: p.node.Synonyms, Date: p.node.Date, Refers: p.node.Refers, Private: p.node.Private,
			All: p.node.All, Examples: p.node.Examples, ChoiceSynonyms: p.node.Choices}
		if err := f.shape(p.node); err != nil {
			return nil, nil, nil, fmt.Errorf("%s: %w", p.name, err)
		}
		list = append(list, f)
		names[p.name] = f
		headings[Fold(p.name)] = f
		for _, s := range f.Synonyms {
			headings[Fold(s)] = f
		}
	}
	for _, r := range required {
		f, ok := names[r]
		if !ok {
			return nil, nil, nil, fmt.Errorf("required %q is no property", r)
		}
		f.Required = true
	}
	return list, names, headings, nil
}

// shape reads the form of f from its schema.
func (f *Field) shape(n *node) (err error) {
	list := n
	if f.All {
		if len(n.AnyOf) != 2 || n.AnyOf[0].Const != "all" {
			return errors.New(`x-all needs anyOf with "all" and a list`)
		}
		list = n.AnyOf[1]
	}
	switch {
	case list.Type == "array" && list.Items != nil && list.Items.Type == "object":
		f.Form = Objects
		f.Fields, f.names, f.headings, err = fields(f.Kind, f.Pointer+"/items/properties/", list.Items.Properties, list.Items.Required)
	case list.Type == "array" && list.Items != nil:
		f.Form = List
		f.Item, err = f.single(list.Items)
	case n.Type == "object":
		f.Form = Object
		f.Fields, f.names, f.headings, err = fields(f.Kind, f.Pointer+"/properties/", n.Properties, n.Required)
	default:
		f.Form, err = f.single(n)
	}
	return err
}

// single reads the form of one value, and its choices.
func (f *Field) single(n *node) (Form, error) {
	if name, ok := strings.CutPrefix(n.Ref, commonRef); ok {
		return Form(name), nil
	}
	if len(n.AnyOf) == 2 && n.AnyOf[0].Enum != nil {
		open, ok := strings.CutPrefix(n.AnyOf[1].Pattern, "^")
		before, _, found := strings.Cut(open, ":")
		if !ok || !found {
			return "", errors.New("an open choice needs a pattern with a prefix")
		}
		f.Open, n = before+":", n.AnyOf[0]
	}
	if n.Enum == nil {
		return "", errors.New("neither a form of common.json nor a choice")
	}
	f.Choices = n.Enum
	f.choices = make(map[string]string, len(n.Enum)+len(f.ChoiceSynonyms))
	for word, c := range f.ChoiceSynonyms {
		f.choices[Fold(word)] = c
	}
	for _, c := range n.Enum {
		f.choices[Fold(c)] = c
	}
	return Choice, nil
}
