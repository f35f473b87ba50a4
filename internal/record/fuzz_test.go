package record

import (
	"encoding/json"
	"errors"
	"io"
	"reflect"
	"strings"
	"testing"
	"unicode/utf8"

	"go.yaml.in/yaml/v4"
)

// check reads a text and checks what holds of every reading: no panic, every row
// accepted or set aside, every problem in a place of the text.
func check(t *testing.T, form format, raw string) *sheet {
	text, _, _, err := decode([]byte(raw))
	if err != nil || !utf8.ValidString(text) {
		if err == nil {
			t.Fatalf("%q is no valid text", text)
		}
		return nil
	}
	s, err := readText("trips", form, text)
	if err != nil {
		var words *refusal
		if !errors.As(err, &words) {
			t.Fatalf("an error without words: %v", err)
		}
		return nil
	}
	if s.file.Rows != s.file.Accepted+s.file.SetAside || int(s.number) != s.file.Rows {
		t.Fatalf("%d rows are not %d accepted and %d set aside", s.file.Rows, s.file.Accepted, s.file.SetAside)
	}
	aside := 0
	lines := strings.Count(text, "\n") + 1
	for _, p := range s.told {
		if p.Sentence == "" || len(p.Places) == 0 || strings.ContainsAny(p.Sentence, "\n\x00") {
			t.Fatalf("a problem that says nothing: %+v", p)
		}
		if p.Effect != Noted && p.Effect != Dropped {
			aside++
		}
		for _, at := range p.Places {
			if at.Line < 1 || at.Line > lines || at.Column < 1 || at.EndColumn < at.Column || at.Row > s.file.Rows {
				t.Fatalf("no such place: %+v of %d lines in %s", at, lines, p.Sentence)
			}
		}
	}
	if s.file.SetAside > 0 && aside == 0 {
		t.Fatalf("%d rows are set aside without a word", s.file.SetAside)
	}
	for i := range s.file.Accepted {
		r := s.rowOf(i)
		if at := r.Place("on"); at.Line < 1 || at.Row != int(r.number) || r.Text("on") == "" {
			t.Fatalf("accepted row %d without its date: %+v", i, at)
		}
	}
	return s
}

func FuzzTable(f *testing.F) {
	for _, s := range []string{"on,person\n2026-01-01,P1\n", "on;packs_out\r\n2026-01-01;\"1\n2\"\n", "sep=;\non;x\n", "on date,on time\n2026-01-01,", "\xff\xfeo\x00n\x00", "on\r2026-01-01\r",
		"on,on,trip date\n2026-01-01,,soon\n", "on,packs_out [x],\n2026-01-01,6,y,z\n", "\xe4,on\n1,2\n"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) { check(t, formatCSV, text) })
}

func FuzzJSON(f *testing.F) {
	for _, s := range []string{`[{"on":"2026-01-01","packs_out":[1,"a"]}]`, `{"on":"2026-01-01"}`, `[{"on":"2026-01-01"},{"on":1]`, `[{"on":"\ud83d\ude00"},{"on":"\ud83d"},null,1,[],{}]`, `[{"on":"2026-01-01",},{"on":"2026-01-01"}]`, `[`, `[{}] x`} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		s := check(t, formatJSON, text)
		var rows []json.RawMessage
		if s == nil || !utf8.ValidString(text) || json.Unmarshal([]byte(strings.TrimPrefix(text, "\ufeff")), &rows) != nil || len(s.told) > 0 {
			return
		}
		filled := 0
		for _, row := range rows {
			var m map[string]any
			if json.Unmarshal(row, &m) == nil && hasContent(m) {
				filled++
			}
		}
		if filled != s.file.Rows {
			t.Fatalf("%d rows of %d", s.file.Rows, filled)
		}
	})
}

func hasContent(m map[string]any) bool {
	for _, v := range m {
		if text, ok := v.(string); v != nil && (!ok || !unwritten(strings.TrimSpace(text))) {
			return true
		}
	}
	return false
}

func FuzzLines(f *testing.F) {
	for _, s := range []string{"{\"on\":\"2026-01-01\"}\n\n{}\n[\n", "{\"on\":\"2026-01-01\"} {\"on\":\"2026-01-01\"}", "null\r\n1"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) { check(t, formatLines, text) })
}

// The walker takes apart what encoding/json decodes, and to the same values.
func FuzzWalker(f *testing.F) {
	for _, s := range []string{`{"a":[1,"x\n\u00e9",{"b":null}],"c":true}`, `{}`, `{"":{}, "x" : -1.5e3 }`, `{"\ud83d\ude00":"\/"}`} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		d := json.NewDecoder(strings.NewReader(text))
		d.UseNumber()
		var want map[string]any
		if !utf8.ValidString(text) || d.Decode(&want) != nil || want == nil {
			return
		}
		if _, err := d.Token(); err != io.EOF {
			return
		}
		if got := plainValue(isObject, strings.TrimSpace(text)); !reflect.DeepEqual(got, want) {
			t.Fatalf("%q: %#v, encoding/json has %#v", text, got, want)
		}
	})
}

// Items read one by one are those of the list read whole.
func FuzzYAML(f *testing.F) {
	for _, s := range []string{"- on: 2026-01-01\n  person: P1\n- on: soon\n", "# x\n---\n- {on: 2026-01-01}\n...\n---\non: 2026-01-02\n", "[{on: 2026-01-01}, {on: x}]", "- on: |\n    - a\n    - b\n- on: \"a\n  - b\"\n",
		"- &a on: 1\n- *a\n", "- on: 1\n  on: 2\n", "-\n  on: 2026-01-01\n-\n- - x\n", "%YAML 1.2\n---\n- on: x\n", "  - on: 2026-01-01\n  - on: 2026-01-01\n - x\n", "- <<: {on: 1}\n", "--- - on: x\n", "# x\n--- - {on: 2000-01-01}\n#\n--- 0"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		s := check(t, formatYAML, text)
		if s == nil || len(s.src.text) == 0 {
			return
		}
		root, err := parseYAML(s.src.text)
		if err != nil || root == nil || root.Kind != yaml.SequenceNode {
			return
		}
		filled := 0
		for _, item := range root.Content {
			budget := mostNodes
			switch {
			case refusedNode(item, 0, &budget) != nil:
				filled++
			case item.Kind == yaml.MappingNode:
				m, names := map[string]any{}, map[string]bool{}
				twice := false
				for i := 0; i < len(item.Content); i += 2 {
					twice = twice || names[item.Content[i].Value]
					names[item.Content[i].Value] = true
					if sh, v := nodeValue(item.Content[i+1]); sh != isNull {
						m[item.Content[i].Value] = v
					}
				}
				if hasContent(m) || twice {
					filled++
				}
			case item.Kind != yaml.ScalarNode || item.ShortTag() != "!!null":
				filled++
			}
		}
		for _, p := range s.told {
			if p.Cause == "broken" { // a value goes on at the margin, which YAML itself does not allow
				return
			}
		}
		if filled != s.file.Rows {
			t.Fatalf("%q: %d rows, the list read whole has %d\n%s", text, s.file.Rows, filled, sentencesOf(s))
		}
	})
}
