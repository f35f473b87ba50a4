package dev

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strings"

	"footing/schemas"
)

// layoutSchema is what the page needs of schemas/trace-layout.json.
type layoutSchema struct {
	Defs struct {
		Entry struct {
			Properties json.RawMessage `json:"properties"`
		} `json:"entry"`
	} `json:"$defs"`
}

// layoutField is one name of an entry of traces/layout.yaml.
type layoutField struct {
	name        string
	Description string `json:"description"`
	Ref         string `json:"$ref"`
	Examples    []any  `json:"examples"`
}

// tracesPage tells how data-logger files are read.
func tracesPage() ([]byte, error) {
	raw, _ := schemas.Resource("trace-layout")
	var s layoutSchema
	if err := json.Unmarshal(raw, &s); err != nil {
		return nil, err
	}
	fields, err := layoutFields(raw, s.Defs.Entry.Properties)
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	b.WriteString(generated + tracesIntroduction)
	fmt.Fprintf(&b, "## An example file\n\n```\n%s```\n\n%s", exampleTrace, tracesPairing)
	fmt.Fprintf(&b, "## layout.yaml\n\n%s| name | what it is | such as |\n|---|---|---|\n", tracesLayout)
	for _, f := range fields {
		fmt.Fprintf(&b, "| `%s` | %s | %s |\n", f.name, cell(f.Description), cell(shownExample(f.Examples)))
	}
	b.WriteString(columnForms)
	fmt.Fprintf(&b, "### An example\n\nThe first entry has every name.\n\n```yaml\n%s```\n\nIt lets this file be read, whose headings say little:\n\n```\n%s```\n\n%s", exampleLayout, exampleMapped, tracesCaution)
	return b.Bytes(), nil
}

// layoutFields gives the properties in the order of the schema, each with the words of
// the definition that it points to where it has none of its own.
func layoutFields(schema []byte, properties json.RawMessage) (list []layoutField, err error) {
	var all struct {
		Defs map[string]json.RawMessage `json:"$defs"`
	}
	byName := map[string]layoutField{}
	if err := json.Unmarshal(schema, &all); err != nil {
		return nil, err
	}
	if err := json.Unmarshal(properties, &byName); err != nil {
		return nil, err
	}
	names, err := namesOf(properties)
	for _, name := range names {
		f := byName[name]
		if def, ok := strings.CutPrefix(f.Ref, "#/$defs/"); ok && f.Description == "" {
			if err := json.Unmarshal(all.Defs[def], &f); err != nil {
				return nil, err
			}
		}
		f.name = name
		list = append(list, f)
	}
	return list, err
}

// namesOf gives the names of a JSON object in the order in which they stand.
func namesOf(object json.RawMessage) (names []string, err error) {
	d := json.NewDecoder(bytes.NewReader(object))
	if _, err := d.Token(); err != nil {
		return nil, err
	}
	for d.More() {
		name, err := d.Token()
		if err != nil {
			return nil, err
		}
		names = append(names, fmt.Sprint(name))
		var value json.RawMessage
		if err := d.Decode(&value); err != nil {
			return nil, err
		}
	}
	return names, nil
}

// shownExample writes the first example as YAML has it in one line.
func shownExample(list []any) string {
	if len(list) == 0 {
		return ""
	}
	return "`" + inOneLine(list[0]) + "`"
}

func inOneLine(v any) string {
	switch v := v.(type) {
	case []any:
		var parts []string
		for _, x := range v {
			parts = append(parts, inOneLine(x))
		}
		return "[" + strings.Join(parts, ", ") + "]"
	case map[string]any:
		var parts []string
		for _, name := range []string{"column", "unit", "from"} {
			if v[name] != nil {
				parts = append(parts, name+": "+inOneLine(v[name]))
			}
		}
		return "{" + strings.Join(parts, ", ") + "}"
	case string:
		if strings.ContainsAny(v, "*?") {
			return `"` + v + `"`
		}
	}
	return fmt.Sprint(v)
}
