package record

import (
	"context"
	"encoding/json"
	"fmt"
	"maps"
	"reflect"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/santhosh-tekuri/jsonschema/v5"
	"pgregory.net/rapid"

	"footing/schemas"
)

var allPlans = sync.OnceValue(func() map[string]*plan {
	_, plans, err := bind(reflect.New(allKinds()).Interface())
	if err != nil {
		panic(err)
	}
	for _, p := range plans {
		if err := p.compile(); err != nil {
			panic(err)
		}
	}
	return plans
})

// readText reads a text as a file of a kind, as Fill does once it has the bytes.
func readText(kind string, form format, text string) (*sheet, error) {
	src := &source{name: "t", plan: allPlans()[kind], format: form, text: text}
	s := newSheet(context.Background(), src, settings{zone: time.UTC}, src.guessRows())
	err := s.read()
	if err == nil {
		s.close()
	}
	return s, err
}

// goodValue makes a value that the schema accepts as it is written.
func goodValue(t *rapid.T, f *schemas.Field, form schemas.Form) any {
	pick := func(list ...string) any { return rapid.SampledFrom(list).Draw(t, f.Name) }
	n := func(low, high int) int { return rapid.IntRange(low, high).Draw(t, f.Name) }
	day := func() string { return fmt.Sprintf("20%02d-%02d-%02d", n(0, 99), n(1, 12), n(1, 28)) }
	switch form {
	case schemas.ID, schemas.Ref:
		if n(0, 3) == 0 {
			return n(0, 9999)
		}
		return rapid.StringMatching(`[A-Za-zäöß°][A-Za-z0-9 #/-]{0,30}[A-Z0-9]`).Draw(t, f.Name)
	case schemas.Day:
		return day()
	case schemas.Moment:
		return day() + pick("", " 14:05", "T09:30", " 00:00:59", "T23:59:00Z", "T01:00:00+05:30").(string)
	case schemas.YesNo:
		return n(0, 1) == 1
	case schemas.Number:
		if v, ok := f.Examples[0].(float64); ok && v == float64(int(v)) {
			return int(v)
		}
		return f.Examples[0]
	case schemas.Choice:
		return pick(f.Choices...)
	case schemas.List:
		list := []any{}
		for range n(1, 4) {
			list = append(list, goodValue(t, f, f.Item))
		}
		return list
	case schemas.CountOrList:
		if n(0, 1) == 0 {
			return n(0, 50)
		}
		return []any{goodValue(t, f, schemas.Ref), goodValue(t, f, schemas.Ref)}
	case schemas.Object:
		return goodObject(t, f.Fields)
	case schemas.Objects:
		list := []any{}
		for range n(0, 3) {
			list = append(list, goodObject(t, f.Fields))
		}
		return list
	case schemas.Value:
		return []any{"7 d", n(0, 9), true, []any{"a", "b"}}[n(0, 3)]
	case schemas.Conditions:
		return []any{"wrapped", map[string]any{"method": "steam"}}[n(0, 1)]
	}
	if _, ok := dimensions[form]; ok {
		return fmt.Sprintf("%d %s", n(1, 300), strings.TrimSpace(map[schemas.Form]string{"temperature": "°C", "difference": "K", "pressure": "kPa absolute",
			"pressure-rate": "mbar/min", "span": "min", "length": "m", "percent": "%"}[form]))
	}
	for _, e := range f.Examples { // words, some with a pattern of their own
		if s, ok := e.(string); ok && n(0, 2) > 0 {
			return s
		}
	}
	if s, ok := f.Examples[0].(string); ok {
		return s
	}
	return "some words"
}

func goodObject(t *rapid.T, fields []*schemas.Field) map[string]any {
	row := map[string]any{}
	for _, f := range fields {
		if f.Required || rapid.Bool().Draw(t, "with "+f.Name) {
			row[f.Name] = goodValue(t, f, f.Form)
		}
	}
	return row
}

// badValue makes a value that no coercion can make fit the form.
func badValue(t *rapid.T, f *schemas.Field) any {
	long := strings.Repeat("ä", 4001)
	bad := map[schemas.Form][]any{
		schemas.Text: {long, map[string]any{"a": 1}, []any{"a"}, true}, schemas.ID: {long, map[string]any{}, true}, schemas.Ref: {strings.Repeat("x", 201), []any{1}, false},
		schemas.Day: {"2026-02-30", "soon", 20260331, true, "1850-01-01"}, schemas.Moment: {"2026-03-31 25:00", "noon", 5, []any{}, "2026-13-01"},
		schemas.YesNo: {"perhaps", 1, []any{}}, schemas.Number: {"many", -1, true, "-0.5"}, schemas.Choice: {"zz-no-such", []any{"a"}, map[string]any{}, "yes or no"},
		schemas.CountOrList: {-1, 1.5, map[string]any{}, true}, schemas.Object: {"words", 1, []any{}}, schemas.Objects: {"words", 1, true},
		schemas.List: {map[string]any{}, true, []any{map[string]any{"a": 1}}, []any{long}}, schemas.Value: {long, map[string]any{"a": 1}}, schemas.Conditions: {[]any{1}, long, true},
	}
	form := f.Form
	if form == schemas.List && f.Item == schemas.Choice && f.Open == "" {
		return rapid.SampledFrom([]any{[]any{"zz-no-such"}, []any{f.Choices[0], "zz-no-such"}, true}).Draw(t, "bad")
	}
	list, ok := bad[form]
	if !ok {
		list = []any{"warm", "12 parsecs", true, []any{}, "1,000 °C"}
	}
	return rapid.SampledFrom(list).Draw(t, "bad")
}

// The verdict on each value by itself is that of jsonschema on the whole row: on
// random rows of every kind, with faults planted in some, the fields refused, and
// the required ones missing, are the same, and what is accepted the schema accepts.
func TestJudgingIsThatOfWholeRows(t *testing.T) {
	names := slices.Sorted(maps.Keys(allPlans()))
	rapid.Check(t, func(t *rapid.T) {
		kind := rapid.SampledFrom(names).Draw(t, "kind")
		k, _ := schemas.Lookup(kind)
		row := goodObject(t, k.Fields)
		if rapid.Bool().Draw(t, "unknown") {
			row["zz unknown"] = "x"
		}
		for range rapid.IntRange(0, 3).Draw(t, "faults") {
			f := rapid.SampledFrom(k.Fields).Draw(t, "field")
			if rapid.IntRange(0, 4).Draw(t, "missing") == 0 {
				delete(row, f.Name)
			} else {
				row[f.Name] = badValue(t, f)
			}
		}
		wrong, missing := wholeRow(t, kind, row)
		text, _ := json.Marshal([]any{row})
		s, err := readText(kind, formatJSON, string(text))
		if err != nil {
			t.Fatal(err)
		}
		ours, lacking := map[string]bool{}, map[string]bool{}
		aside := 0
		for _, p := range s.told {
			switch {
			case p.Effect == Noted:
				t.Errorf("noted: %s", p.Sentence)
			case p.Cause == "no-column" || p.Cause == "blank" && !strings.Contains(p.Field, "."):
				lacking[p.Field] = true
				aside = 1
			default:
				field, _, _ := strings.Cut(p.Field, ".")
				ours[field] = true
				if p.Effect == SetAside {
					aside = 1
				}
			}
		}
		if !maps.Equal(ours, wrong) || !maps.Equal(lacking, missing) {
			t.Fatalf("%s: %s\nthe schema refuses %v and misses %v, we refuse %v and miss %v\n%s", kind, text, wrong, missing, ours, lacking, sentencesOf(s))
		}
		if len(row) > 0 && (s.file.SetAside != aside || s.file.Accepted != 1-aside) {
			t.Fatalf("%s: %s: accepted %d, set aside %d, expected %d set aside", kind, text, s.file.Accepted, s.file.SetAside, aside)
		}
	})
}

func sentencesOf(s *sheet) string {
	var b strings.Builder
	for _, p := range s.told {
		b.WriteString(p.Sentence + "\n")
	}
	return b.String()
}

// wholeRow judges the row as the whole schema of the kind does: numbers stand as their
// digits where words, ids and choices are meant, as the records' rules have it.
func wholeRow(t *rapid.T, kind string, row map[string]any) (wrong, missing map[string]bool) {
	schema, err := compiled(kind)
	if err != nil {
		t.Fatal(err)
	}
	k, _ := schemas.Lookup(kind)
	coerced := map[string]any{}
	for name, v := range row {
		coerced[name] = v
		if n, ok := v.(int); ok {
			coerced[name] = json.Number(fmt.Sprint(n))
			if f, ok := k.Field(name); ok && f.Form == schemas.Text {
				coerced[name] = fmt.Sprint(n)
			}
		}
		if n, ok := v.(float64); ok {
			coerced[name] = json.Number(fmt.Sprint(n))
		}
	}
	text, _ := json.Marshal(coerced)
	dec := json.NewDecoder(strings.NewReader(string(text)))
	dec.UseNumber()
	var plain any
	if err := dec.Decode(&plain); err != nil {
		t.Fatal(err)
	}
	wrong, missing = map[string]bool{}, map[string]bool{}
	for _, r := range k.Required {
		if _, ok := row[r]; !ok {
			missing[r] = true
		}
	}
	err = schema.Validate(plain)
	if err == nil {
		if len(missing) > 0 {
			t.Fatalf("the schema does not miss %v", missing)
		}
		return wrong, missing
	}
	var walk func(e *jsonschema.ValidationError)
	walk = func(e *jsonschema.ValidationError) {
		for _, c := range e.Causes {
			walk(c)
		}
		if len(e.Causes) == 0 && e.InstanceLocation != "" {
			wrong[strings.Split(e.InstanceLocation, "/")[1]] = true
		}
	}
	walk(err.(*jsonschema.ValidationError))
	return wrong, missing
}
