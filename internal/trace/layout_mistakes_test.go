package trace

import (
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v5"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"go.yaml.in/yaml/v4"
	"pgregory.net/rapid"
)

func TestEachMistakeIsTold(t *testing.T) {
	const names = "write one of: date, date_order, decimal, delimiter, files, note, phase, pressure, skip, sterilizer, temperature, time"
	for _, c := range []struct {
		text, sentence, todo string
		line                 int
	}{
		{"- files: a\n  tempreature: T1\n", `entry 1, line 2: "tempreature" is no name that can stand here`, names, 2},
		{"\n- skip: 3\n", `entry 1, line 2: it does not say for which files it is`, `write files with a name or a pattern, such as files: "S1-*.csv", or sterilizer with its id`, 2},
		{"- files: [a]\n", `entry 1, line 1: files cannot be a list of 1`,
			`write which files: a name, or a pattern in which * stands for any letters and ? for one; such as "S1-*.csv"`, 1},
		{"- files: \"\"\n", `entry 1, line 1: files cannot be ""`, "", 1},
		{"- files: " + strings.Repeat("é", 201), `entry 1, line 1: files cannot be "` + strings.Repeat("é", 60) + `…"`, "", 1},
		{"- files: \"[a\"\n", `entry 1, line 1: the pattern in files has a bracket that does not end`, `leave brackets out, or close them`, 1},
		{"- skip: 1\n  files: 2026\\*.csv\n", `entry 1, line 2: the pattern in files has a backslash`, `write / between a folder and a file`, 2},
		{"- sterilizer: {a: b}\n", `entry 1, line 1: sterilizer cannot be a set of names and values`, `write whose files, as in sterilizers; such as "S1"`, 1},
		{"- files: a\n  time: [1]\n", `entry 1, line 2: time cannot be a list of 1`,
			`write the column with the time: the time of day, or day and time, or the time since the start; such as "Zeit"`, 2},
		{"- files: a\n  time:\n    column: t\n    unit: sec\n", `entry 1, line 4: time unit cannot be "sec"`, `write what bare numbers in the column count, from the start on: s, min or h; such as "s"`, 4},
		{"- files: a\n  time: {unit: s}\n", `entry 1, line 2: time does not say which column`, `write a column: its heading as written in the file, or its number, counted from 1; such as "T1"`, 2},
		{"- files: a\n  time: {column: }\n", `entry 1, line 2: time does not say which column`, "", 2},
		{"- files: a\n  date: 0\n", `entry 1, line 2: date cannot be "0"`, `write the column with the day, where the time stands in another one; such as "Datum"`, 2},
		{"- files: a\n  date: {column: 1, unit: d}\n", `entry 1, line 2: "unit" is no name that can stand here`, `write one of: column`, 2},
		{"- files: a\n  temperature: []\n", `entry 1, line 2: temperature cannot be an empty list`, `write a list of one to 16 columns with temperatures of the chamber or the load`, 2},
		{"- files: a\n  temperature: [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17]\n", `entry 1, line 2: temperature cannot be a list of 17`, "", 2},
		{"- files: a\n  temperature:\n    - T1\n    - {column: T2, unit: Celsius}\n", `entry 1, line 4: temperature 2 unit cannot be "Celsius"`,
			`write the unit of the readings: °C, °F or K; such as "°C"`, 4},
		{"- files: a\n  temperature: [T1, ]\n  pressure: {column: P, from: gage}\n", `entry 1, line 3: pressure from cannot be "gage"`,
			`write what the readings count from: gauge (nought at the open door) or absolute (nought in a perfect vacuum); such as "absolute"`, 3},
		{"- files: a\n  temperature: [T1, ~]\n", `entry 1, line 2: temperature 2 cannot be empty`, `write a column with a temperature; such as "T1"`, 2},
		{"- files: a\n  pressure: {column: P, unit: psig}\n", `entry 1, line 2: pressure unit cannot be "psig"`,
			`write the unit of the readings: kPa, MPa, hPa, Pa, mbar, bar, psi or atm; gauge or absolute goes into from; such as "kPa"`, 2},
		{"- files: a\n  pressure: true\n", `entry 1, line 2: pressure cannot be "true"`, `write the column with the pressure of the chamber`, 2},
		{"- files: a\n  phase: 1001\n", `entry 1, line 2: phase cannot be "1001"`, `write the column with the name of the phase; such as "Phase"`, 2},
		{"- files: a\n  skip: -1\n", `entry 1, line 2: skip cannot be "-1"`, `write how many lines stand before the line with the headings; such as 12`, 2},
		{"- files: a\n  skip: 1001\n", `entry 1, line 2: skip cannot be "1001"`, "", 2},
		{"- files: a\n  skip: \"3\"\n", `entry 1, line 2: skip cannot be "3"`, "", 2},
		{"- files: a\n  skip: 1e2\n", `entry 1, line 2: skip cannot be "1e2"`, "", 2},
		{"- files: a\n  delimiter: ;\n", `entry 1, line 2: delimiter cannot be ";"`, `write what stands between the columns: comma, semicolon, tab or bar; such as "semicolon"`, 2},
		{"- files: a\n  decimal: .\n", `entry 1, line 2: decimal cannot be "."`, `write what stands before the decimals: point or comma; such as "comma"`, 2},
		{"- files: a\n  date_order: ymd\n", `entry 1, line 2: date_order cannot be "ymd"`,
			`write how dates in figures are written: dmy (31/03/2026), mdy (03/31/2026) or iso (2026-03-31); such as "dmy"`, 2},
		{"- files: a\n  note: [b]\n", `entry 1, line 2: note cannot be a list of 1`, "", 2},
		{"- files: a\n  time: T 1\n  pressure: t-1\n", `entry 1, line 3: the column "t-1" is named for two things`, `name each column once; a column with day and clock is time alone`, 3},
		{"- files: a\n  time: 1\n  temperature: [2, {column: 1}]\n", `entry 1, line 3: the column "1" is named for two things`, "", 3},
		{"- files: a\n  files: b\n", `entry 1, line 2: "files" is written twice, so that it is not clear which is meant`, `keep one of the two`, 2},
		{"- files: a\n- S1-*.csv\n", `entry 2, line 2: it is no set of names and values`, `write each value as name: value`, 2},
		{"- [files, a]\n", `entry 1, line 1: it is no set of names and values`, "", 1},
		{"- &a {files: x}\n", `entry 1, line 1: it uses an anchor or alias (& or *)`, `write the values out; put quotation marks around words that begin with & or *`, 1},
		{"- files: x\n  time: &t 1\n  date: *t\n", `entry 1, line 2: it uses an anchor or alias (& or *)`, "", 2},
		{"- files: x\n  <<: {skip: 1}\n", `entry 1, line 2: "<<" is no name that can stand here`, "", 2},
		{"- ? [a]\n  : b\n", `entry 1, line 1: a name in it is no plain word`, `write each value as name: value`, 1},
		{"files: a\n", `line 1 begins no list, so that nothing is used`, `begin each entry with a hyphen`, 1},
		{"- files: a\n---\n- files: b\n", `line 2 begins a second list, so that nothing is used`, `keep one list, without lines of three hyphens`, 2},
		{"- files: a\n  time: b: c\n", `line 2 cannot be read, so that nothing is used`, layoutBroken, 2},
		{"- files: *.csv\n", `line 1 cannot be read, so that nothing is used`, layoutBroken, 1},
		{"- files: a\n- {files: b\n- {files: c}\n", `line 2 cannot be read, so that nothing is used`, layoutBroken, 2},
		{"- files: \xff\n", `it holds characters that cannot be read, so that nothing is used`, `save it as plain text, in UTF-8`, 0},
		{"-" + strings.Repeat(" [", 25), `values are nested more than 20 deep, so that nothing is used`, `write plain values and lists`, 0},
		{strings.Repeat("- {files: a}\n", layoutEntries+1), `there are more than 1,000 entries, so that nothing is used`,
			`write one entry for all files of a logger, with a pattern such as S1-*.csv`, 0},
		{strings.Repeat("#", layoutMost+1), `the text is longer than 1 MiB, and is not read`, `keep nothing but the layouts in it`, 0},
	} {
		name := c.text[:min(len(c.text), 80)]
		l, problems := ParseLayouts([]byte(c.text))
		if !assert.NotEmpty(t, problems, name) {
			continue
		}
		p := problems[0]
		assert.Equal(t, c.sentence, p.Sentence, name)
		assert.Equal(t, c.line, p.Line, name)
		if assert.NotEmpty(t, p.Todo, name); c.todo != "" {
			assert.Equal(t, c.todo, p.Todo, name)
		}
		assert.Equal(t, "layout", p.Cause)
		assert.Equal(t, 1, p.Count)
		if c.line > 0 && strings.HasPrefix(c.sentence, "entry 1") {
			assert.Zero(t, l.Entries, name)
			assert.NotZero(t, l.LeftOut, name)
		}
	}
}

// Several mistakes of one entry are all told, and of very many the first twenty.
func TestManyMistakes(t *testing.T) {
	_, problems := ParseLayouts([]byte("- skip: x\n  dcimal: y\n  pressure: {unit: z}\n"))
	var lines []int
	for _, p := range problems {
		lines = append(lines, p.Line)
	}
	assert.Equal(t, []int{1, 2, 3, 3, 1}, lines)
	for n, want := range map[int]int{19: 19, 20: 20, 21: 21, 999: 21} {
		l, problems := ParseLayouts([]byte(strings.Repeat("- {files: a, skip: x}\n", n) + "- {files: b}\n"))
		assert.Len(t, problems, want, "%d", n)
		assert.Equal(t, 1, l.Entries)
		assert.Equal(t, n, l.LeftOut)
		count := 0
		for _, p := range problems {
			count += p.Count
		}
		assert.Equal(t, n, count)
		if n > 20 {
			assert.Equal(t, fmt.Sprintf("%d more mistakes follow, from line 21 on", n-20), problems[20].Sentence)
		}
	}
}

// Whatever stands in an entry, mistakes are told if and only if its schema refuses it,
// but for the three things that a schema cannot say.
func TestMistakesAreThoseOfTheSchema(t *testing.T) {
	words := rapid.SampledFrom([]any{nil, "", "a", "S1-*.csv", 0, 1, -3, 1001, true, "kPa", "°C", "gauge", "comma", "tab", "dmy", "x: y", 1.5,
		[]any{}, []any{"T1", 2}, []any{map[string]any{"column": 3, "unit": "K"}}, map[string]any{"column": "P", "unit": "bar", "from": "gauge"},
		map[string]any{"column": "t", "unit": "s"}, map[string]any{"column": 0}, map[string]any{}, map[string]any{"unit": "K"}, []any{nil}, []any{[]any{1}}})
	good := map[string]any{"files": "S1-*", "sterilizer": 3, "time": map[string]any{"column": "t", "unit": "s"}, "date": "d", "temperature": []any{"T1", 2},
		"pressure": map[string]any{"column": "P", "unit": "bar", "from": "gauge"}, "phase": 9, "skip": 0, "delimiter": "bar", "decimal": "comma", "date_order": "iso", "note": "n"}
	names := slices.Sorted(maps.Keys(good))
	met := map[bool]int{}
	rapid.Check(t, func(t *rapid.T) {
		entry := map[string]any{}
		for _, name := range rapid.SliceOfDistinct(rapid.SampledFrom(names), rapid.ID).Draw(t, "names") {
			entry[name] = good[name]
		}
		for range rapid.IntRange(0, 2).Draw(t, "odd ones") {
			entry[rapid.SampledFrom(append(names, "other")).Draw(t, "name")] = words.Draw(t, "value")
		}
		text, err := json.Marshal([]any{entry})
		require.NoError(t, err)
		var doc yaml.Node
		require.NoError(t, yaml.Load(text, &doc))
		valid := layoutSchema().Validate(plainOf(doc.Content[0].Content[0])) == nil
		l, problems := ParseLayouts(text)
		met[valid]++
		if valid && len(problems) > 0 {
			for _, p := range problems {
				require.Contains(t, p.Sentence, "is named for two things", "%s", text)
			}
			return
		}
		require.Equal(t, valid, len(problems) == 0, "%s: %+v", text, problems)
		require.Equal(t, valid, l.Entries == 1, "%s", text)
	})
	assert.Greater(t, min(met[true], met[false]), 10, "both were met")
}

// Every part of the schema describes itself in one or two plain sentences, and its examples meet it.
func TestLayoutSchemaSpeaks(t *testing.T) {
	root := layoutSchema()
	seen := map[string]bool{}
	var walk func(s *jsonschema.Schema, place string)
	walk = func(s *jsonschema.Schema, place string) {
		if s == nil || seen[s.Location] || strings.HasPrefix(s.Location, "urn:footing:common") {
			return
		}
		seen[s.Location] = true
		for name, p := range s.Properties {
			if strings.Contains(p.Location, "/anyOf/0/") || strings.Contains(s.Location, "entry/anyOf/") {
				continue // only names what must be there
			}
			of := p
			for of.Description == "" && of.Ref != nil {
				of = of.Ref
			}
			assert.True(t, len(of.Description) > 15 && len(of.Description) < 260 && strings.HasSuffix(of.Description, "."), "%s.%s: %q", place, name, of.Description)
			assert.NotEmpty(t, of.Examples, "%s.%s", place, name)
			for _, e := range of.Examples {
				assert.NoError(t, p.Validate(e), "%s.%s: %v", place, name, e)
			}
			assert.Contains(t, wanted(p), "write ", name)
			walk(p, place+"."+name)
		}
		walk(s.Ref, place)
		walk(s.Items2020, place+" item")
		for _, one := range s.AnyOf {
			walk(one, place)
		}
	}
	walk(root, "entry")
	require.Len(t, root.Properties, 12)
	for _, e := range root.Examples {
		assert.NoError(t, root.Validate(e))
	}
	require.Len(t, root.Examples[len(root.Examples)-1], 12, "the last example shows every name")
}

func FuzzParseLayouts(f *testing.F) {
	for _, text := range []string{"- files: \"S1-*.csv\"\n  temperature: [T1, {column: 2, unit: °C}]\n  pressure: {column: P, unit: bar, from: gauge}\n  skip: 3\n",
		"- {sterilizer: 3, time: {column: 1, unit: s}, delimiter: tab, decimal: comma, date_order: mdy}", "- &a [*a]", "- ? a\n- b", "[[[[", "- !!int x", "- files: |\n   a\n   b\n", "---\n...\n---\n"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		l, problems := ParseLayouts([]byte(text))
		if l.Entries != len(l.list) || len(problems) > mostFaults+1 {
			t.Fatal(l.Entries, len(problems))
		}
		lines := 1 + strings.Count(text, "\n") + strings.Count(text, "\r") + strings.Count(text, "\u0085") + strings.Count(text, "\u2028") + strings.Count(text, "\u2029")
		for _, p := range problems {
			if p.Line < 0 || p.Line > lines+1 || p.Sentence == "" || p.Todo == "" || p.Count < 1 {
				t.Fatalf("%+v", p)
			}
		}
		for _, e := range l.list {
			for _, c := range e.columns {
				if c.role == Other || (c.index > 0) == (c.heading != "") {
					t.Fatalf("%+v", c)
				}
			}
			l.find("a/b.csv", "S1")
		}
	})
}

// Texts that are made to be slow or deep end soon, with a word.
func TestHostileLayouts(t *testing.T) {
	fill := func(s string) string { return strings.Repeat(s, layoutMost/len(s)) }
	laughs := "- &a [x, x, x, x, x, x, x, x, x]\n"
	for i := range 20 {
		laughs += fmt.Sprintf("- &%c [%s]\n", 'b'+i, strings.Repeat(fmt.Sprintf("*%c,", 'a'+i), 9))
	}
	for name, text := range map[string]string{
		"brackets": fill("["), "braces": fill("{a: "), "hyphens": fill("- "), "items": fill("-\n"), "entries": fill("- a\n"), "commas": "- [" + fill(",")[:layoutMost-4] + "]",
		"names": "- " + fill("? "), "quotes": fill("\"\\\""), "laughs": laughs, "colons": fill(": "), "bad entries": fill("- {files: x, skip: y}\n"),
		"a long name": "- {" + fill("a")[:layoutMost-10] + ": b}", "spaces": fill(" "), "many names": "- {" + fill("a, ")[:layoutMost-10] + "}",
	} {
		l, problems := ParseLayouts([]byte(text))
		assert.Zero(t, l.Entries, name)
		assert.LessOrEqual(t, len(problems), mostFaults+1, name)
		for _, p := range problems {
			assert.Less(t, len(p.Sentence), 400, name)
		}
	}
}
