package record

import (
	"encoding/json"
	"regexp"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"footing/schemas"
)

// schemaPatterns lists every pattern in the schemas.
func schemaPatterns(t *testing.T) []string {
	var list []string
	var walk func(v any)
	walk = func(v any) {
		switch v := v.(type) {
		case map[string]any:
			if p, ok := v["pattern"].(string); ok {
				list = append(list, p)
			}
			for _, x := range v {
				walk(x)
			}
		case []any:
			for _, x := range v {
				walk(x)
			}
		}
	}
	for _, name := range schemas.Resources() {
		raw, _ := schemas.Resource(name)
		var doc any
		if err := json.Unmarshal(raw, &doc); err != nil {
			t.Fatal(err)
		}
		walk(doc)
	}
	if len(list) < 8 {
		t.Fatalf("only %d patterns found", len(list))
	}
	return list
}

// The matcher agrees with the regular expression of the standard library, on strings
// that match, on such with one character changed, and on others.
func TestMatcherIsTheExpression(t *testing.T) {
	patterns := append(schemaPatterns(t), `a|b`, `^(a*)*$`, `x$`, `^`, `(^a|b$)`, `[^a-c]+z`, `^é`, `\bword\b`, `(?i)abc`, `(?m)^a$`, ``)
	for _, p := range patterns {
		re := regexp.MustCompile(p)
		m := newMatcher(re)
		rapid.Check(t, func(t *rapid.T) {
			var s string
			if rapid.Bool().Draw(t, "made") && !strings.Contains(p, `\b`) && !strings.Contains(p, "(?m)") {
				s = rapid.StringMatching(p).Draw(t, "s")
			} else {
				s = rapid.StringOf(rapid.RuneFrom([]rune("0123456789-: TZabcxzé°C\n"))).Draw(t, "s")
			}
			if s != "" && rapid.Bool().Draw(t, "changed") {
				i := rapid.IntRange(0, len(s)-1).Draw(t, "at")
				s = s[:i] + string(rapid.RuneFrom([]rune("019-: Zé")).Draw(t, "by")) + s[i+1:]
			}
			if got, want := m.match(s), re.MatchString(s); got != want {
				t.Fatalf("%q on %q: %v, the expression says %v", p, s, got, want)
			}
		})
	}
}
