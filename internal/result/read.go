package result

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"reflect"
	"strings"

	"footing/schemas"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"
	"github.com/santhosh-tekuri/jsonschema/v5"
)

// form is one of the documents that are read back.
type form struct {
	file, a, schema string // audit.json, an audit.json, result
	format, lead    string // what its format says, and how it begins in every version
	by, again       string // what wrote it, and how to have it written anew
}

var (
	auditForm    = form{"audit.json", "an audit.json", "result", Format, "footing audit ", "what the audit command writes beside its report", "run the audit again"}
	lookbackForm = form{"lookback.json", "a lookback.json", "lookback", LookbackFormat, "footing look-back ", "what the look-back command writes beside its page", "ask for the look-back again"}
	drawForm     = form{"draw.json", "a draw.json", "draw", DrawFormat, "footing draw ", "what the draw command writes beside its pages", "draw again"}
)

// Read reads an audit.json that Write wrote and checks it against
// schemas/result.json. Lists are never nil in what it returns. Its errors say
// what the file is instead (empty, no JSON, another kind of file, another
// version) or which value stands where it cannot: line, character and path.
func Read(r io.Reader) (*Result, error) { return read[Result](r, auditForm) }

// ReadAnswer reads a lookback.json that WriteAnswer wrote, in the manner of Read.
func ReadAnswer(r io.Reader) (*Answer, error) { return read[Answer](r, lookbackForm) }

// ReadDraw reads a draw.json that WriteDraw wrote, in the manner of Read.
func ReadDraw(r io.Reader) (*Draw, error) { return read[Draw](r, drawForm) }

func read[T Result | Answer | Draw](r io.Reader, f form) (*T, error) {
	data, err := io.ReadAll(r)
	if err != nil {
		return nil, fmt.Errorf("the file could not be read to its end: %w", err)
	}
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	if len(bytes.TrimSpace(data)) == 0 {
		return nil, fmt.Errorf("the file is empty: %s is %s", f.a, f.by)
	}
	var whole any
	if err := json.Unmarshal(data, &whole); err != nil {
		return nil, f.syntaxProblem(data, err)
	}
	if err := f.check(whole); err != nil {
		return nil, err
	}
	schema, err := f.compiled()
	if err != nil {
		return nil, err
	}
	if err := schema.Validate(whole); err != nil {
		return nil, f.shapeProblem(data, err)
	}
	out := new(T)
	if err := json.Unmarshal(data, out); err != nil {
		return nil, f.syntaxProblem(data, err)
	}
	fill(reflect.ValueOf(out).Elem())
	return out, nil
}

// compiled is the schema of a form, with that of results, to which the others refer.
func (f form) compiled() (*jsonschema.Schema, error) {
	c := jsonschema.NewCompiler()
	c.Draft = jsonschema.Draft2020
	for _, name := range []string{auditForm.schema, f.schema} {
		raw, ok := schemas.Resource(name)
		if !ok {
			return nil, fmt.Errorf("the program lacks its own description of %s (schemas/%s.json)", f.file, name)
		}
		if err := c.AddResource("urn:footing:"+name, bytes.NewReader(raw)); err != nil {
			return nil, fmt.Errorf("schemas/%s.json: %w", name, err)
		}
	}
	return c.Compile("urn:footing:" + f.schema)
}

// check tells a document of this form and version from all other JSON.
func (f form) check(whole any) error {
	object, ok := whole.(map[string]any)
	if !ok {
		return fmt.Errorf("this is not %s: it holds a list or a single value, where %s has named parts", f.a, f.a)
	}
	format, ok := object["format"].(string)
	if !ok || !strings.HasPrefix(format, f.lead) {
		return fmt.Errorf("this is not %s: its part “format” should say %q", f.a, f.format)
	}
	if format != f.format {
		tool, _ := object["tool"].(string)
		return fmt.Errorf("this %s has another version: it says %q, and this program reads %q; %s with this program, or use the one that wrote it (%s)",
			f.file, format, f.format, f.again, orUnnamed(tool))
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
func (f form) syntaxProblem(data []byte, err error) error {
	var syntax *jsontext.SyntacticError
	if errors.As(err, &syntax) {
		line, char := lineAndCharacter(data, int(syntax.ByteOffset))
		if errors.Is(err, jsontext.ErrDuplicateName) {
			return fmt.Errorf("this %s has the same name twice in one part: line %d, character %d (%s)", f.file, line, char, words(string(syntax.JSONPointer)))
		}
		return fmt.Errorf("this is not %s, or it was cut short: line %d, character %d is not JSON; %s to have it written anew", f.a, line, char, f.again)
	}
	var semantic *json.SemanticError
	if errors.As(err, &semantic) {
		line, char := lineAndCharacter(data, int(semantic.ByteOffset))
		return fmt.Errorf("this %s holds a value that cannot stand there: line %d, character %d (%s)", f.file, line, char, words(string(semantic.JSONPointer)))
	}
	return fmt.Errorf("this is not %s: %w", f.a, err)
}
