package schemas_test

import (
	"bufio"
	"os"
	"slices"
	"strings"
	"testing"

	"footing/schemas"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

type listed struct {
	name, is string
	required bool
	choices  []string
}

// The schemas have every kind and field of the table typed by hand, in its order,
// and no other; required fields and choices are as it says.
func TestKindsAndFieldsAreThoseListed(t *testing.T) {
	table, order := readTable(t)
	require.Equal(t, order, schemas.Kinds())
	rows := schemas.Kinds()[2:]
	for _, name := range order {
		k, ok := schemas.Lookup(name)
		require.True(t, ok, name)
		assert.Equal(t, name, k.Name)
		single := name == "practice" || name == "rules"
		assert.Equal(t, single, k.Single, name)
		want := table[name]
		if !single {
			want = append([]listed{{name: "id"}}, want...)
		}
		want = append(want, listed{name: "entered_on"}, listed{name: "kept_at"})
		if !single {
			want = append(want, listed{name: "corrects"})
		}
		want = append(want, listed{name: "note"})
		var got []listed
		for _, f := range k.Fields {
			got = append(got, shown(f, ""))
			for _, in := range f.Fields {
				got = append(got, shown(in, f.Name+"."))
			}
		}
		for i := range want {
			if slices.Equal(want[i].choices, []string{"KINDS"}) {
				want[i].choices = rows
			}
		}
		assert.Equal(t, want, got, name)
		var required []string
		for _, f := range k.Fields {
			if f.Required {
				required = append(required, f.Name)
			}
		}
		assert.Equal(t, required, k.Required, name)
	}
}

// shown tells a field of a schema in the table's terms.
func shown(f *schemas.Field, prefix string) listed {
	l := listed{name: prefix + f.Name, required: f.Required, choices: slices.Clone(f.Choices)}
	if f.Open != "" {
		l.choices = append(l.choices, f.Open+"…")
	}
	switch f.Form {
	case schemas.YesNo:
		l.is = "yes/no"
	case schemas.List:
		l.is = "list"
		if f.All {
			l.is = "list|all"
		}
	case schemas.Objects, schemas.Object, schemas.CountOrList:
		l.is = string(f.Form)
	}
	return l
}

func readTable(t *testing.T) (table map[string][]listed, order []string) {
	t.Helper()
	f, err := os.Open("testdata/kinds.txt")
	require.NoError(t, err)
	defer f.Close()
	table = map[string][]listed{}
	kind, lines := "", bufio.NewScanner(f)
	for lines.Scan() {
		line := strings.TrimSpace(lines.Text())
		switch {
		case strings.HasPrefix(line, "#"):
		case line == "":
			kind = ""
		case kind == "":
			kind = line
			order = append(order, kind)
		default:
			left, right, _ := strings.Cut(line, " = ")
			words := strings.Fields(left)
			l := listed{name: strings.TrimSuffix(words[0], "*"), required: strings.HasSuffix(words[0], "*")}
			if len(words) > 1 {
				l.is = words[1]
			}
			if right != "" {
				l.choices = strings.Split(right, " | ")
			}
			table[kind] = append(table[kind], l)
		}
	}
	require.NoError(t, lines.Err())
	return table, order
}

// Common practice, no source: how paper logs head their columns and mark results.
func TestTradeWords(t *testing.T) {
	headings := map[string]string{
		"loads|Cycle No": "counter", "loads|cycle #": "counter", "loads|Hold Time": "exposure", "loads|TEMP": "temperature",
		"loads|Date of cycle": "started", "loads|load_no": "counter", "loads|exposure": "exposure", "loads|Released?": "decision", "loads|Packs dry?": "packs_dry", "loads|Date:": "started",
		"credentials|Expiry Date": "valid_until", "people|Position": "role", "stock|date counted": "on",
		"practice|College": "regulator", "clients|Chart No": "id", "sterilizers|serial no": "id",
	}
	for at, want := range headings {
		kind, heading, _ := strings.Cut(at, "|")
		k, ok := schemas.Match(kind)
		require.True(t, ok, kind)
		f, ok := k.Match(heading)
		require.True(t, ok, at)
		assert.Equal(t, want, f.Name, at)
	}
	sheets := map[string]string{"Autoclave Log": "loads", "Log": "loads", "allergies": "screens", "ALLERGY-SCREENS": "screens",
		"Maintenance log": "upkeep", "Spore Tests": "tests", "Staff": "people", "loads": "loads"}
	for sheet, want := range sheets {
		k, ok := schemas.Match(sheet)
		require.True(t, ok, sheet)
		assert.Equal(t, want, k.Name, sheet)
	}
	words := []struct{ field, word, want string }{
		{"tests.result", "No growth", "pass"}, {"tests.result", "negative", "pass"}, {"tests.result", "Positive", "fail"},
		{"tests.result", "growth", "fail"}, {"tests.control", "Positive", "growth"}, {"tests.control", "negative", "no-growth"},
		{"tests.control", "passed", "growth"}, {"tests.kind", "Bowie-Dick", "air-removal"}, {"loads.inside_indicator", "✓", "pass"},
		{"loads.inside_indicator", "not fitted", "none"}, {"loads.decision", "OK", "released"}, {"loads.decision", "aborted", "rejected"},
		{"screens.latex", "not asked", "not-asked"}, {"screens.latex", "?", "unsure"}, {"people.glove_size", "Small", "S"},
		{"people.glove_size", "7,5", "7.5"}, {"visits.procedures", "Nail Trim", "nail-trim"},
		{"visits.procedures", "Other: heel cream", "other:heel cream"}, {"sterilizers.class", "class b", "B"},
	}
	for _, w := range words {
		kind, field, _ := strings.Cut(w.field, ".")
		k, _ := schemas.Lookup(kind)
		f, ok := k.Field(field)
		require.True(t, ok, w.field)
		got, ok := f.Choice(w.word)
		assert.True(t, ok && got == w.want, "%s: %q gives %q", w.field, w.word, got)
	}
	// "No" under an indicator may mean failed or not used, "yes" passed or used: neither is
	// guessed. "n/a" answers nothing.
	for _, w := range []struct{ field, word string }{{"inside_indicator", "no"}, {"inside_indicator", "yes"}, {"outside_indicator", "y"}, {"inside_indicator", "n/a"}, {"inside_indicator", "✗"}, {"decision", "no"}, {"decision", "other: x"}} {
		k, _ := schemas.Lookup("loads")
		f, _ := k.Field(w.field)
		_, ok := f.Choice(w.word)
		assert.False(t, ok, w)
	}
	_, ok := schemas.Match("nothing of the kind")
	assert.False(t, ok)
	_, ok = schemas.Lookup("Loads")
	assert.False(t, ok, "Lookup is exact")
}

func TestFold(t *testing.T) {
	for in, want := range map[string]string{"Cycle No": "cycleno", "use-by": "useby", "USE_BY": "useby", "": "",
		"loads": "loads", " Übung\u00a0‑ 1": "übung1", "\ufeffdate": "date", "cycle #": "cycle#", "7.5": "7.5"} {
		assert.Equal(t, want, schemas.Fold(in), in)
	}
}

func TestObjectsHaveFields(t *testing.T) {
	k, _ := schemas.Lookup("practice")
	f, ok := k.Field("coverage")
	require.True(t, ok)
	share, ok := f.Field("share")
	require.True(t, ok)
	assert.Equal(t, "/properties/coverage/items/properties/share", share.Pointer)
	same, ok := f.Match("How Much")
	assert.True(t, ok && same == share)
	units, _ := k.Field("units")
	temperature, ok := units.Field("temperature")
	require.True(t, ok)
	assert.Equal(t, "/properties/units/properties/temperature", temperature.Pointer)
}

func TestKindsIsTheCallersToChange(t *testing.T) {
	schemas.Kinds()[0] = "changed"
	assert.Equal(t, "practice", schemas.Kinds()[0])
}
