package result

import (
	"bytes"
	"errors"
	"fmt"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/go-json-experiment/json/jsontext"
	"github.com/santhosh-tekuri/jsonschema/v5"
)

// shapeProblem turns a failed validation into one sentence about the value
// that lies deepest, since that is the one that a person can put right.
func (f form) shapeProblem(data []byte, err error) error {
	var failed *jsonschema.ValidationError
	if !errors.As(err, &failed) {
		return fmt.Errorf("this %s cannot be checked: %w", f.file, err)
	}
	worst := deepest(failed)
	where := words(worst.InstanceLocation)
	if line, char, ok := place(data, worst.InstanceLocation); ok {
		where = fmt.Sprintf("%s, line %d, character %d", where, line, char)
	}
	return fmt.Errorf("this %s was changed after it was written, or by another program: %s: %s; %s to have it written anew",
		f.file, where, strings.ReplaceAll(worst.Message, "'", `"`), f.again)
}

// deepest returns the cause whose place has the most steps; the first of equals.
func deepest(e *jsonschema.ValidationError) *jsonschema.ValidationError {
	best := e
	for _, c := range e.Causes {
		d := deepest(c)
		if len(best.Causes) > 0 || strings.Count(d.InstanceLocation, "/") > strings.Count(best.InstanceLocation, "/") {
			best = d
		}
	}
	return best
}

// words reads a JSON Pointer aloud: "/findings/3/grade" is "findings, number 4, grade".
func words(pointer string) string {
	if pointer == "" {
		return "the whole file"
	}
	var out []string
	for _, step := range strings.Split(strings.TrimPrefix(pointer, "/"), "/") {
		step = strings.NewReplacer("~1", "/", "~0", "~").Replace(step)
		if n, err := strconv.Atoi(step); err == nil {
			step = "number " + strconv.Itoa(n+1)
		}
		out = append(out, step)
	}
	return strings.Join(out, ", ")
}

// place finds the line and character of the value that pointer leads to.
func place(data []byte, pointer string) (line, char int, ok bool) {
	d := jsontext.NewDecoder(bytes.NewReader(data))
	for {
		kind := d.PeekKind()
		start := int(d.InputOffset())
		if kind == 0 {
			return 0, 0, false
		}
		if _, err := d.ReadToken(); err != nil {
			return 0, 0, false
		}
		// A name has its value's pointer too; the value comes last and is wanted.
		name := kind == '"' && isName(d)
		if string(d.StackPointer()) == pointer && !name && kind != '}' && kind != ']' {
			for start < len(data) && bytes.IndexByte([]byte(" \t\r\n:,"), data[start]) >= 0 {
				start++
			}
			line, char = lineAndCharacter(data, start)
			return line, char, true
		}
	}
}

// isName says whether the string just read is the name of a member.
func isName(d *jsontext.Decoder) bool {
	kind, length := d.StackIndex(d.StackDepth())
	return kind == '{' && length%2 == 1
}

// lineAndCharacter counts both from 1; characters, not bytes.
func lineAndCharacter(data []byte, offset int) (line, char int) {
	offset = min(max(offset, 0), len(data))
	before := data[:offset]
	line = bytes.Count(before, []byte("\n")) + 1
	before = before[bytes.LastIndexByte(before, '\n')+1:]
	return line, utf8.RuneCount(before) + 1
}
