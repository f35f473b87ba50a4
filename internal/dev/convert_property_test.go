package dev

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"footing/internal/practice"
	"footing/internal/record"
	"footing/schemas"
)

// held is every accepted row of a practice by kind, with all that its fields hold.
func held(t require.TestingT, dir string) (map[string][]string, *record.Intake) {
	var all practice.Records
	in, err := record.Fill(context.Background(), dir, &all, record.Options{})
	require.NoError(t, err)
	rows := map[string][]string{}
	v := reflect.ValueOf(all)
	for i := range v.NumField() {
		kind := v.Type().Field(i).Tag.Get("kind")
		f := v.Field(i)
		if f.Kind() != reflect.Slice {
			rows[kind] = []string{allFields(f)}
			continue
		}
		for j := range f.Len() {
			rows[kind] = append(rows[kind], allFields(f.Index(j)))
		}
		slices.Sort(rows[kind])
	}
	return rows, in
}

// allFields writes a struct's tagged fields, and the id of its row.
func allFields(v reflect.Value) string {
	var b strings.Builder
	for i := range v.NumField() {
		f, in := v.Type().Field(i), v.Field(i)
		switch {
		case f.Type == reflect.TypeFor[record.Row]():
			fmt.Fprintf(&b, "id=%q ", in.FieldByName("ID").String())
		case f.Anonymous:
			b.WriteString(allFields(in))
		case f.Tag.Get("field") != "":
			fmt.Fprintf(&b, "%s=%#v ", f.Name, in.Interface())
		}
	}
	return b.String()
}

// asLost is what reading did not keep, by kind, field, cause and effect.
func asLost(in *record.Intake) map[string]int {
	counts := map[string]int{}
	for _, f := range in.Files {
		counts[f.Kind+" rows"] += f.Rows
		counts[f.Kind+" set aside"] += f.SetAside
	}
	for _, p := range in.Problems {
		// By themselves, rows set aside need not have the names that others had, by which "blank" is told from "no-column".
		if p.Effect == record.Dropped || p.Effect == record.FileRefused {
			counts[fmt.Sprintf("%s %s %s %d", p.Kind, p.Field, p.Cause, p.Effect)] += len(p.Places)
		}
	}
	return counts
}

var nasty = []string{"", " ", "-", "none", "all", "yes", "no", "true", "null", "~", "007", "1e5", "1,500", "12.50", "=1+1", "+1", "@x", "'", "\"", "a\"b", "a;b", "a|b", "a, b", "a\nb", "a\r\nb", "\r", "a\tb", "\u0000", "a\u0001b",
	"2026-03-31", "31/03/2026", "2026-03-31 14:05", "2026-03-31T14:05:00+05:00", "2026-03-31 14:05:00", "2026-03-31 25:99", "14:05", "1899-12-31", "1900-02-28", "1901-01-01", "1929-12-31", "1930-01-01", "2199-12-31", "121 °C", "121.0 °C", "250 °F", "394.2 K", "1.05 bar gauge",
	"15 psi", "30 min", "2 h 30 min", "12 months", "75 %", "75%", "350 m", "3 K", "1.3 mbar/min", "<<", "&x", "*x", "!x", "# x", "x # y", "x: y", "- x", "{a}", "[a]", "[]", "{}", "%", "?", "\ufeff", "\u2028", "\u0085", "\u00a0x\u00a0", "😀", "_x0041_",
	"_x000D_", "0x1F", "1_000", ".5", "5.", "1E400", "NaN", "true ✓", "✓", "other:x", strings.Repeat("x", 5000), strings.Repeat("é\n", 9000), "\ufffd", "\uffff"}

// anyValue draws a value as JSON has it: one that the field takes, or one that it may not.
func anyValue(rt *rapid.T, f *schemas.Field) any {
	text := rapid.SampledFrom(nasty)
	item := rapid.OneOf(text, rapid.String())
	var good []any
	good = append(good, f.Examples...)
	for _, c := range f.Choices {
		good = append(good, c)
	}
	if len(good) > 0 && rapid.IntRange(0, 3).Draw(rt, "good") > 0 {
		return rapid.SampledFrom(good).Draw(rt, f.Name)
	}
	switch rapid.IntRange(0, 9).Draw(rt, "shape") {
	case 0:
		return rapid.SampledFrom([]any{0, 1, -3, 7.5, 12345678901234567.0, 1e21, 1e-7}).Draw(rt, "number")
	case 1:
		return rapid.Bool().Draw(rt, "bool")
	case 2, 3:
		return rapid.SliceOfN(item, 0, 3).Draw(rt, "list")
	case 4:
		return []any{rapid.SampledFrom([]any{1, true, nil, "x", []any{"y"}, map[string]any{"a": 1}}).Draw(rt, "item")}
	case 5:
		return map[string]any{item.Draw(rt, "name"): 1}
	}
	return item.Draw(rt, f.Name)
}

// drawFolder draws a folder with a file of one kind, as JSON or CSV.
func drawFolder(rt *rapid.T, dir string) {
	practices := []string{"name: A\nregulator: B\n", "name: A\nregulator: B\ndates: dmy\ntime_zone: Pacific/Auckland\nunits: {temperature: °C, pressure: kPa absolute}\n"}
	require.NoError(rt, os.WriteFile(filepath.Join(dir, "practice.yaml"), []byte(rapid.SampledFrom(practices).Draw(rt, "practice")), 0o644))
	var kinds []string
	for _, name := range schemas.Kinds() {
		if k, _ := schemas.Lookup(name); !k.Single {
			kinds = append(kinds, name)
		}
	}
	kind, _ := schemas.Lookup(rapid.SampledFrom(kinds).Draw(rt, "kind"))
	n := rapid.IntRange(1, 4).Draw(rt, "rows")
	if rapid.Bool().Draw(rt, "json") {
		var rows []map[string]any
		for range n {
			row := map[string]any{}
			for _, f := range kind.Fields {
				if f.Required || rapid.IntRange(0, 3).Draw(rt, "has") == 0 {
					row[heading(rt, f)] = anyValue(rt, f)
				}
			}
			if rapid.IntRange(0, 4).Draw(rt, "more") == 0 {
				row[rapid.OneOf(rapid.SampledFrom(nasty), rapid.String()).Draw(rt, "name")] = rapid.SampledFrom([]any{"x", 1, true, []any{1}, map[string]any{"b": nil}, "a\x00"}).Draw(rt, "strange")
			}
			rows = append(rows, row)
		}
		text, err := json.Marshal(rows)
		require.NoError(rt, err)
		require.NoError(rt, os.WriteFile(filepath.Join(dir, kind.Name+".json"), text, 0o644))
		return
	}
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	var heads []string
	var fields []*schemas.Field
	for _, f := range kind.Fields {
		if f.Required || rapid.IntRange(0, 3).Draw(rt, "has") == 0 {
			heads, fields = append(heads, heading(rt, f)), append(fields, f)
		}
	}
	for rapid.IntRange(0, 2).Draw(rt, "more") == 0 {
		f := rapid.SampledFrom(kind.Fields).Draw(rt, "twice")
		head := rapid.SampledFrom([]string{heading(rt, f), f.Name + " time", f.Name + " date", "time", "colour", "colour", "", "a;b;id;note", "Colour|note"}).Draw(rt, "heading")
		heads, fields = append(heads, head), append(fields, f)
	}
	require.NoError(rt, w.Write(heads))
	for range n {
		var cells []string
		for _, f := range fields {
			v := anyValue(rt, f)
			s, ok := v.(string)
			if list, many := v.([]string); many {
				s, ok = strings.Join(list, "; "), true
			}
			if !ok {
				s = fmt.Sprint(v)
			}
			cells = append(cells, strings.ReplaceAll(s, "\x00", "␀"))
		}
		if rapid.IntRange(0, 5).Draw(rt, "extra") == 0 {
			cells = append(cells, "beyond")
		}
		require.NoError(rt, w.Write(cells))
	}
	w.Flush()
	require.NoError(rt, os.WriteFile(filepath.Join(dir, kind.Name+".csv"), b.Bytes(), 0o644))
}

// heading is a heading by which a field is found, perhaps with a unit.
func heading(rt *rapid.T, f *schemas.Field) string {
	names := append([]string{f.Name, f.Name, f.Name}, f.Synonyms...)
	switch f.Form {
	case schemas.Moment:
		names = append(names, f.Name+" date", f.Name+" time")
	case schemas.Temperature:
		names = append(names, f.Name+" [°C]", f.Name+" (°F)")
	case schemas.Pressure:
		names = append(names, f.Name+" [bar]", f.Name+" [kPa absolute]")
	case schemas.Span:
		names = append(names, f.Name+" [min]")
	}
	return rapid.SampledFrom(names).Draw(rt, "heading")
}

// TestConvertAnyRows: whatever is typed, the same is held, set aside and dropped after it
// was written in any format, and in another after that.
func TestConvertAnyRows(t *testing.T) {
	top := t.TempDir()
	serial := 0
	rapid.Check(t, func(rt *rapid.T) {
		serial++
		dir := filepath.Join(top, fmt.Sprint(serial))
		from := filepath.Join(dir, "0")
		require.NoError(rt, os.MkdirAll(from, 0o755))
		drawFolder(rt, from)
		want, in := held(rt, from)
		gone := asLost(in)
		for i := range 3 {
			to := filepath.Join(dir, fmt.Sprint(i+1))
			format := rapid.SampledFrom(circle).Draw(rt, "format")
			convert(rt, from, to, format)
			got, again := held(rt, to)
			if diff := cmp.Diff(want, got); diff != "" {
				rt.Fatalf("after %s:\n%s", format, diff)
			}
			if diff := cmp.Diff(gone, asLost(again)); diff != "" {
				rt.Fatalf("after %s:\n%s", format, diff)
			}
			from = to
		}
		require.NoError(rt, os.RemoveAll(dir))
	})
}
