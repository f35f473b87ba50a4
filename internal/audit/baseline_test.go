package audit

import (
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"footing/internal/practice"
	"footing/internal/result"
)

const baselineOfTest = `
- id: b.hold
  as: table
  stricter: higher
  text: the shortest hold
  values:
    - {set: uk-practice, table: [{at: 121 °C, value: 15 min}], source: book, level: must, known: read}
    - {set: cdc-2008, when: {air: gravity, wrapped: "yes"}, table: [{at: 121 °C, value: 30 min}, {at: 132 °C, value: 15 min}], source: book, level: must, known: read}
    - {set: cdc-2008, when: {air: gravity}, table: [{at: 121 °C, value: 20 min}], source: book, level: must, known: read}
    - {set: cdc-2008, when: {air: dynamic}, table: [{at: 132 °C, value: 4 min}], source: book, level: must, known: read}
- id: b.age
  as: span
  stricter: lower
  text: the greatest age
  values:
    - {set: uk-practice, value: 24 months, source: book, level: should, known: read}
    - {set: foot-care, value: 12 months, source: habit, level: should, known: memory}
- id: b.kept
  as: limit
  stricter: lower
  text: how long it is kept
  values:
    - {set: cdc-2008, value: while intact, source: book, level: must, known: read}
- id: b.near
  as: length
  stricter: lower
  text: the greatest distance
  values:
    - {set: cdc-2008, value: 3 m, source: book, level: must, known: read}
- id: b.words
  as: list
  stricter: superset
  text: what must be asked
  values:
    - {set: foot-care, value: [latex, local_anaesthetic, mask/respirator], source: habit, level: must, known: memory}
- id: b.count
  as: number
  stricter: lower
  text: the greatest number
  values:
    - {set: cdc-2008, value: 3, source: book, level: must, known: read}
`

func chosenOfTest(t *testing.T, choices ...practice.RuleChoice) *Book {
	t.Helper()
	c, err := ParseCriteria(fstest.MapFS{"sources.yaml": {Data: []byte(sourcesOfTest)}, "a.yaml": {Data: []byte(baselineOfTest)}})
	require.NoError(t, err)
	p := &practice.Practice{}
	for i := range choices {
		choices[i].Source = "letter"
	}
	p.Rules.Criteria = choices
	return c.Choose(p)
}

// "Ours" is the program's value and "theirs" the practice's, as schemas/result.json says.
func TestARuleShowsWhatIsShippedAndWhatWasChosen(t *testing.T) {
	k := chosenOfTest(t, practice.RuleChoice{Criterion: "b.age", Value: "6 months"})
	assert.Equal(t, []result.Rule{{Criterion: "b.age", Ours: "12 months", Theirs: "6 months", Source: "letter"}}, k.Changes)
}

// A rule that covers several shipped cases is looser where it asks less of any of
// them, and is held against the baseline set, then the foot-care list, before others.
func TestLooserThanTheBaseline(t *testing.T) {
	for _, c := range []struct {
		name, criterion, when, value string
		looser                       bool
		ours                         string
	}{
		{"for every case, below one of the baseline's", "b.hold", "", "121 °C = 20 min; 132 °C = 15 min", true,
			"30 min at 121 °C, 15 min at 132 °C (air=gravity, wrapped=yes); 20 min at 121 °C (air=gravity); 4 min at 132 °C (air=dynamic)"},
		{"for every case, as strict as all", "b.hold", "", "132 °C = 30 min", false,
			"30 min at 121 °C, 15 min at 132 °C (air=gravity, wrapped=yes); 20 min at 121 °C (air=gravity); 4 min at 132 °C (air=dynamic)"},
		{"accepting a temperature that one of the baseline's does not", "b.hold", "air=dynamic", "121 °C = 30 min; 132 °C = 4 min", true, "4 min at 132 °C"},
		{"for half a case", "b.hold", "air=gravity", "121 °C = 20 min", true,
			"20 min at 121 °C (air=gravity); 30 min at 121 °C, 15 min at 132 °C (air=gravity, wrapped=yes)"},
		{"the closest case alone counts", "b.hold", "air=gravity, wrapped=yes", "121 °C = 30 min; 132 °C = 15 min", false, "30 min at 121 °C, 15 min at 132 °C"},
		{"below it between its rows", "b.hold", "air=gravity, wrapped=yes", "121 °C = 30 min; 126 °C = 10 min; 132 °C = 15 min", true, "30 min at 121 °C, 15 min at 132 °C"},
		{"longer than the foot-care list's, where the baseline is silent", "b.age", "", "18 months", true, "12 months"},
		{"a greater distance", "b.near", "", "4 m", true, "3 m"},
		{"a smaller distance", "b.near", "", "2 m", false, "3 m"},
		{"a shorter limit", "b.kept", "", "Same day", false, "while intact"},
		{"the same limit in other letters", "b.kept", "", "While Intact", false, "while intact"},
		{"the same words in other letters", "b.words", "", "Latex; local anaesthetic; Mask/Respirator", false, "latex, local_anaesthetic, mask/respirator"},
	} {
		k := chosenOfTest(t, practice.RuleChoice{Criterion: c.criterion, When: c.when, Value: c.value})
		require.Len(t, k.Changes, 1, c.name)
		assert.Equal(t, c.looser, k.Changes[0].Looser, c.name)
		assert.Equal(t, c.ours, k.Changes[0].Ours, c.name)
		looser := 0
		for _, m := range k.Mistakes {
			require.True(t, m.Looser, "%s: %s", c.name, m.Found)
			looser++
		}
		assert.Equal(t, map[bool]int{true: 1, false: 0}[c.looser], looser, c.name)
	}
}

// What a person types is taken for the word that the records use.
func TestWordsOfARuleAreSpelledAsInTheRecords(t *testing.T) {
	k := chosenOfTest(t, practice.RuleChoice{Criterion: "b.words", Value: "Latex; Local anaesthetic; Nut oil; scalpel blade; something Else"})
	all, chosen := k.holding("b.words", nil)
	require.True(t, chosen)
	assert.Equal(t, []string{"latex", "local_anaesthetic", "nut_oil", "scalpel-blade", "something else"}, all[0].Items())
}

// Names of criteria and circumstances are known in any letters.
func TestNamesOfRulesInAnyLetters(t *testing.T) {
	k := chosenOfTest(t, practice.RuleChoice{Criterion: "B.Hold ", When: "Air=GRAVITY; wrapped = Yes", Value: "121 °C = 40 min"})
	require.Empty(t, k.Mistakes)
	require.Len(t, k.Changes, 1)
	assert.Equal(t, "b.hold", k.Changes[0].Criterion)
	assert.Equal(t, "air=gravity, wrapped=yes", k.Changes[0].When)
	all, chosen := k.holding("b.hold", When{"air": "gravity", "wrapped": "yes"})
	require.True(t, chosen)
	assert.Equal(t, "40 min at 121 °C", all[0].Value())
}

func TestARuleWrittenTwiceIsAMistake(t *testing.T) {
	k := chosenOfTest(t, practice.RuleChoice{Criterion: "b.hold", When: "air=gravity, wrapped=yes", Value: "121 °C = 40 min"},
		practice.RuleChoice{Criterion: "b.hold", When: "wrapped=yes,air=gravity", Value: "121 °C = 50 min"},
		practice.RuleChoice{Criterion: "b.hold", When: "air=gravity", Value: "121 °C = 35 min"})
	require.Len(t, k.Changes, 2)
	require.Len(t, k.Mistakes, 1)
	assert.Contains(t, k.Mistakes[0].Found, "twice")
	assert.NotEmpty(t, k.Mistakes[0].Todo)
	all, _ := k.holding("b.hold", When{"air": "gravity", "wrapped": "yes"})
	assert.Equal(t, "40 min at 121 °C", all[0].Value(), "the first is followed")
}

func TestANumberIsReadWholeOrNotAtAll(t *testing.T) {
	for text, want := range map[string]float64{"2": 2, " 2.5 ": 2.5, "2,5": 2.5} {
		k := chosenOfTest(t, practice.RuleChoice{Criterion: "b.count", Value: text})
		require.Empty(t, k.Mistakes, text)
		all, _ := k.holding("b.count", nil)
		assert.Equal(t, want, all[0].Number(), text)
	}
	for _, text := range []string{"2 weeks", "3a", "NaN", "Inf", "1,000,000", "", "-1"} {
		k := chosenOfTest(t, practice.RuleChoice{Criterion: "b.count", Value: text})
		assert.Len(t, k.Mistakes, 1, text)
		assert.Empty(t, k.Changes, text)
	}
}

// A value of words stays whole; one of a number and a unit is taken apart.
func TestShownValues(t *testing.T) {
	for _, c := range []struct{ criterion, value, amount, unit string }{
		{"b.kept", "no limit", "no limit", ""}, {"b.kept", "same day", "same day", ""}, {"b.kept", "7 d", "7", "d"},
		{"b.age", "6 months", "6", "months"}, {"b.near", "2 m", "2", "m"},
	} {
		all, _ := chosenOfTest(t, practice.RuleChoice{Criterion: c.criterion, Value: c.value}).holding(c.criterion, nil)
		got := shown(all[0])
		assert.Equal(t, []string{c.amount, c.unit}, []string{got.Value, got.Unit}, c.value)
	}
}
