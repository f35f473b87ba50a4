package words

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestEntriesAreWhole(t *testing.T) {
	require.GreaterOrEqual(t, len(All()), 60)
	for _, e := range All() {
		for _, s := range e.See {
			seen, _ := Find(s)
			if assert.NotNil(t, seen, "%s sends to %s", e.Word, s) {
				assert.Equal(t, s, seen.Word, "%s sends to another spelling", e.Word)
				assert.NotEqual(t, e, seen, "%s sends to itself", e.Word)
			}
		}
		for _, r := range e.Running {
			found, _ := Find(r)
			assert.Same(t, e, found, "%s is looked for in text as %s, which leads elsewhere", e.Word, r)
		}
		assert.NotContains(t, e.Meaning, "\n")
		assert.True(t, strings.HasSuffix(e.Meaning, "."), e.Word)
		assert.False(t, strings.HasSuffix(e.Short, "."), "%s: the short one is a clause", e.Word)
		assert.LessOrEqual(t, len(e.Short), 100, e.Word)
		assert.LessOrEqual(t, len(e.Meaning), 450, e.Word)
	}
}

// Nobody has to look up a word to understand how another is explained; and what is
// claimed nowhere is not claimed here.
func TestEntriesArePlain(t *testing.T) {
	for _, e := range All() {
		for _, of := range []string{e.Meaning, e.Short} {
			for _, w := range []string{"json", "regex", "null", "encoding", "hash", "string", "boolean", "parse", "schema"} {
				assert.NotContains(t, strings.Fields(strings.ToLower(of)), w, e.Word)
			}
			for _, w := range []string{"is sterile", "are sterile", "sterile ", "safe ", "compliant", "guarantee", "will pass"} {
				assert.NotContains(t, strings.ToLower(of), w, e.Word)
			}
		}
	}
}

func TestFind(t *testing.T) {
	for asked, want := range map[string]string{
		"exposure": "exposure", "Exposure": "exposure", "hold time": "exposure", "HOLD-TIME": "exposure", "hold_times": "exposure",
		"N": "class", "b": "class", "air_removal": "air removal", "air removal tests": "air-removal test", "leak-tests": "leak test",
		"criteria": "criterion", "batches": "load", "nonconformities": "nonconformity", "BI": "spore test", "biological indicators": "spore test",
		"prevac": "dynamic", "pre vacuum": "dynamic", "psi": "kPa", "outside_indicator": "chemical indicator", "f0": "lethality",
		"pouches": "pack", "near-misses": "near miss", "all": "coverage", "glove sizes": "glove size", "donning": "donning",
		"PCD": "process challenge device", "IFU": "maker's instructions", "wet packs": "drying", "hollow loads": "hollow", "deionised water": "distilled water", "audits": "audit",
	} {
		e, near := Find(asked)
		if assert.NotNil(t, e, asked) {
			assert.Equal(t, want, e.Word, asked)
			assert.Empty(t, near)
		}
	}
}

func TestNear(t *testing.T) {
	for asked, want := range map[string]string{"exposur": "exposure", "gravty": "gravity", "dinamic": "dynamic", "spre test": "spore test", "incubaton": "incubation", "indicater": "indicator", "leakage": "leak", "vaccum": "vacuum", "class 5 indicater": "class 5 indicator"} {
		e, near := Find(asked)
		assert.Nil(t, e, asked)
		assert.Contains(t, near, want, asked)
		assert.LessOrEqual(t, len(near), 5)
	}
	for _, asked := range []string{"", "xylophone quartet", "zz"} {
		e, near := Find(asked)
		assert.Nil(t, e, asked)
		assert.Empty(t, near, asked)
	}
}

func TestDistance(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{{"", "", 0}, {"a", "", 1}, {"", "ab", 2}, {"kitten", "sitting", 3}, {"hold", "hold", 0}, {"flaw", "lawn", 2}} {
		assert.Equal(t, c.want, distance(c.a, c.b), c)
		assert.Equal(t, c.want, distance(c.b, c.a), c)
	}
}

func TestSlipsInEntriesAreErrors(t *testing.T) {
	for data, says := range map[string]string{
		"- {word: a, short: b}":                     "meaning",
		"- {word: a, meaning: b}":                   "short",
		"- {meaning: a, short: b}":                  "word",
		"- {word: a, meaning: b, short: c, odd: d}": "odd",
		"- {word: a, meaning: b, short: c}\n- {word: d, also: [A], meaning: b, short: c}": "stands with",
	} {
		_, err := parse([]byte(data))
		assert.ErrorContains(t, err, says, data)
	}
}

// However a word or a spelling of it is cased, spaced or counted, it is found.
func TestFindIsForgiving(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		e := rapid.SampledFrom(All()).Draw(t, "entry")
		name := rapid.SampledFrom(append([]string{e.Word}, e.Also...)).Draw(t, "name")
		var b strings.Builder
		for _, r := range name {
			switch rapid.IntRange(0, 3).Draw(t, "change") {
			case 0:
				b.WriteString(strings.ToUpper(string(r)))
			case 1:
				b.WriteString(string(r) + rapid.SampledFrom([]string{" ", "-", "_"}).Draw(t, "gap"))
			default:
				b.WriteRune(r)
			}
		}
		found, _ := Find(b.String())
		require.Same(t, e, found, b.String())
	})
}

func FuzzFind(f *testing.F) {
	f.Add("hold time")
	f.Add("\xff\x00")
	f.Fuzz(func(t *testing.T, word string) {
		e, near := Find(word)
		assert.True(t, e == nil || len(near) == 0)
		assert.LessOrEqual(t, len(near), most)
	})
}
