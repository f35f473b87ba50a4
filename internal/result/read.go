package result

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"reflect"
	"strings"
	"sync"

	"footing/schemas"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"
	"github.com/santhosh-tekuri/jsonschema/v5"
)

// Read reads an audit.json that Write wrote and checks it against
// schemas/result.json. Lists are never nil in what it returns. Its errors say
// what the file is instead (empty, no JSON, another kind of file, another
// version) or which value stands where it cannot: line, character and path.
func Read(r io.Reader) (*Result, error) {
	data, err := io.ReadAll(r)
	if err != nil {
		return nil, fmt.Errorf("the file could not be read to its end: %w", err)
	}
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	if len(bytes.TrimSpace(data)) == 0 {
		return nil, errors.New("the file is empty: an audit.json is what the audit command writes beside its report")
	}
	var whole any
	if err := json.Unmarshal(data, &whole); err != nil {
		return nil, syntaxProblem(data, err)
	}
	if err := checkFormat(whole); err != nil {
		return nil, err
	}
	schema, err := compiled()
	if err != nil {
		return nil, err
	}
	if err := schema.Validate(whole); err != nil {
		return nil, shapeProblem(data, err)
	}
	out := new(Result)
	if err := json.Unmarshal(data, out); err != nil {
		return nil, syntaxProblem(data, err)
	}
	fill(reflect.ValueOf(out).Elem())
	return out, nil
}

var compiled = sync.OnceValues(func() (*jsonschema.Schema, error) {
	raw, ok := schemas.Resource("result")
	if !ok {
		return nil, errors.New("the program lacks its own description of audit.json (schemas/result.json)")
	}
	c := jsonschema.NewCompiler()
	c.Draft = jsonschema.Draft2020
	if err := c.AddResource("urn:footing:result", bytes.NewReader(raw)); err != nil {
		return nil, fmt.Errorf("schemas/result.json: %w", err)
	}
	return c.Compile("urn:footing:result")
})

// checkFormat tells an audit.json of this version from all other JSON.
func checkFormat(whole any) error {
	object, ok := whole.(map[string]any)
	if !ok {
		return errors.New("this is not an audit.json: it holds a list or a single value, where an audit.json has named parts")
	}
	format, ok := object["format"].(string)
	if !ok || !strings.HasPrefix(format, "footing audit ") {
		return fmt.Errorf("this is not an audit.json: its part “format” should say %q", Format)
	}
	if format != Format {
		tool, _ := object["tool"].(string)
		return fmt.Errorf("this audit.json has another version: it says %q, and this program reads %q; run the audit again with this program, or use the one that wrote it (%s)",
			format, Format, orUnnamed(tool))
	}
	return nil
}

func orUnnamed(tool string) string {
	if tool == "" {
		return "it is not named"
	}
	return tool
}

// syntaxProblem says where the text stops being JSON.
func syntaxProblem(data []byte, err error) error {
	var syntax *jsontext.SyntacticError
	if errors.As(err, &syntax) {
		line, char := lineAndCharacter(data, int(syntax.ByteOffset))
		if errors.Is(err, jsontext.ErrDuplicateName) {
			return fmt.Errorf("this audit.json has the same name twice in one part: line %d, character %d (%s)", line, char, words(string(syntax.JSONPointer)))
		}
		return fmt.Errorf("this is not an audit.json, or it was cut short: line %d, character %d is not JSON; run the audit again to have it written anew", line, char)
	}
	var semantic *json.SemanticError
	if errors.As(err, &semantic) {
		line, char := lineAndCharacter(data, int(semantic.ByteOffset))
		return fmt.Errorf("this audit.json holds a value that cannot stand there: line %d, character %d (%s)", line, char, words(string(semantic.JSONPointer)))
	}
	return fmt.Errorf("this is not an audit.json: %w", err)
}
