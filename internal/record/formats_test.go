package record

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"maps"
	"reflect"
	"slices"
	"strings"
	"testing"

	"go.yaml.in/yaml/v4"
	"pgregory.net/rapid"

	"footing/schemas"
)

// writeRows writes the same rows in one of the formats.
func writeRows(t *rapid.T, form format, rows []map[string]any) string {
	var b strings.Builder
	switch form {
	case formatJSON:
		text, err := json.MarshalIndent(rows, "", " ")
		if err != nil {
			t.Fatal(err)
		}
		return string(text)
	case formatLines:
		for _, row := range rows {
			text, _ := json.Marshal(row)
			b.Write(append(text, '\n'))
		}
	case formatYAML:
		text, err := yaml.Dump(rows)
		if err != nil {
			t.Fatal(err)
		}
		return string(text)
	case formatCSV:
		names := map[string]bool{}
		for _, row := range rows {
			for name := range row {
				names[name] = true
			}
		}
		order := slices.Sorted(maps.Keys(names))
		w := csv.NewWriter(&b)
		w.Comma = rapid.SampledFrom([]rune{',', ';', '\t', '|'}).Draw(t, "comma")
		w.Write(order)
		for _, row := range rows {
			var cells []string
			for _, name := range order {
				cells = append(cells, cell(row[name]))
			}
			w.Write(cells)
		}
		w.Flush()
	}
	return b.String()
}

// cell writes a value as a person types it into a cell.
func cell(v any) string {
	switch v := v.(type) {
	case nil:
		return ""
	case bool:
		return map[bool]string{true: "yes", false: "no"}[v]
	case []any:
		var items []string
		for _, item := range v {
			if _, nested := item.(map[string]any); nested {
				text, _ := json.Marshal(v)
				return string(text)
			}
			items = append(items, fmt.Sprint(item))
		}
		if len(items) == 0 {
			return "none"
		}
		return strings.Join(items, "; ")
	case map[string]any:
		text, _ := json.Marshal(v)
		return string(text)
	}
	return fmt.Sprint(v)
}

// Equal records give equal structs in every format, and nothing is said of them.
func TestFormatsAgree(t *testing.T) {
	names := slices.Sorted(maps.Keys(allPlans()))
	rapid.Check(t, func(t *rapid.T) {
		kind := rapid.SampledFrom(names).Draw(t, "kind")
		k, _ := schemas.Lookup(kind)
		var rows []map[string]any
		n := rapid.IntRange(1, 4).Draw(t, "rows")
		if k.Single {
			n = 1
		}
		for range n {
			row := goodObject(t, k.Fields)
			if len(row) == 0 {
				row["note"] = "something"
			}
			for name, v := range row { // an empty list of groups is nothing to write in a cell
				if list, ok := v.([]any); ok && len(list) == 0 {
					delete(row, name)
				}
				if m, ok := v.(map[string]any); ok && len(m) == 0 {
					delete(row, name)
				}
			}
			if len(row) == 0 {
				row["note"] = "something"
			}
			rows = append(rows, row)
		}
		var first []any
		for _, form := range []format{formatJSON, formatLines, formatYAML, formatCSV} {
			text := writeRows(t, form, rows)
			s, err := readText(kind, form, text)
			if err != nil {
				t.Fatalf("%v\n%s", err, text)
			}
			if len(s.told) > 0 || s.file.Accepted != n {
				t.Fatalf("accepted %d of %d\n%s\n%s", s.file.Accepted, n, sentencesOf(s), text)
			}
			var got []any
			for i := range s.file.Accepted {
				row := s.into.Index(i)
				at := row.FieldByName("Row").Addr().Interface().(*Row)
				if int(at.number) != i+1 {
					t.Fatalf("row %d says it is %d", i+1, at.number)
				}
				*at = Row{ID: at.ID}
				got = append(got, row.Interface())
			}
			if first == nil {
				first = got
			} else if !reflect.DeepEqual(first, got) {
				t.Fatalf("%+v\nis not\n%+v\n%s", got, first, text)
			}
		}
	})
}
