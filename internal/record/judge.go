package record

import (
	"encoding/json"
	"errors"
	"slices"
	"strconv"
	"strings"

	"github.com/santhosh-tekuri/jsonschema/v5"
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
