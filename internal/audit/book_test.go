package audit

import (
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"footing/internal/practice"
	"footing/internal/quantity"
)

const sourcesOfTest = "- {id: book, title: A book, kind: published}\n- {id: habit, title: Common practice, kind: common practice}\n"

const criteriaOfTest = `
- id: t.hold
  as: table
  stricter: higher
  text: the shortest hold
  values:
    - {set: cdc-2008, when: {air: gravity, wrapped: "yes"}, table: [{at: 132 °C, value: 15 min}, {at: 121 °C, value: 30 min}], source: book, section: "1", level: must, known: read}
    - {set: common-practice, when: {air: gravity}, table: [{at: 134 °C, value: 15 min}], source: habit, level: must, known: memory}
- id: t.age
  as: span
  stricter: lower
  text: the greatest age
  values:
    - {set: foot-care, value: 12 months, source: habit, level: should, known: memory}
    - {set: uk-practice, value: 24 months, source: book, level: should, known: read}
- id: t.words
  as: list
  stricter: superset
  text: what must be asked
  values:
    - {set: foot-care, value: [latex, adhesive], source: habit, level: must, known: memory}
- id: t.limit
  as: number
  stricter: lower
  text: the greatest number
  values:
    - {set: cdc-2008, value: 3, source: book, level: must, known: read}
`

func shippedOfTest(t *testing.T) *Criteria {
	t.Helper()
	c, err := ParseCriteria(fstest.MapFS{"sources.yaml": {Data: []byte(sourcesOfTest)}, "a.yaml": {Data: []byte(criteriaOfTest)}})
	require.NoError(t, err)
	return c
}

func celsius(v float64) quantity.Quantity {
	return quantity.Quantity{Value: v, Half: 0.5, Unit: quantity.Celsius}
}

func TestTableIsLookedUpNeverInterpolated(t *testing.T) {
	book := shippedOfTest(t).Choose(&practice.Practice{})
	all, chosen := book.holding("t.hold", When{"air": "gravity", "wrapped": "yes"})
	require.Len(t, all, 2)
	assert.False(t, chosen)
	for _, c := range []struct {
		at   float64
		want float64
		ok   bool
	}{{120.9, 0, false}, {121, 30, true}, {126, 30, true}, {131.9, 30, true}, {132, 15, true}, {140, 15, true}} {
		_, v, ok := all[0].At(celsius(c.at))
		assert.Equal(t, c.ok, ok, "%v °C", c.at)
		if ok {
			assert.Equal(t, c.want, v.In(quantity.Minute), "%v °C", c.at)
		}
	}
}

func TestWhichCriterionHolds(t *testing.T) {
	shipped := shippedOfTest(t)
	names := func(p *practice.Practice, id string, when When) (sets []string, chosen bool) {
		all, chosen := shipped.Choose(p).holding(id, when)
		for _, c := range all {
			sets = append(sets, c.Set)
		}
		return sets, chosen
	}
	wrapped := When{"air": "gravity", "wrapped": "yes"}
	chose := func(set string) *practice.Practice {
		p := &practice.Practice{}
		p.Profile.RuleSet = set
		return p
	}
	sets, chosen := names(&practice.Practice{}, "t.hold", wrapped)
	assert.Equal(t, []string{"cdc-2008", "common-practice"}, sets)
	assert.False(t, chosen)

	sets, _ = names(&practice.Practice{}, "t.hold", When{"air": "gravity", "wrapped": "no"})
	assert.Equal(t, []string{"common-practice"}, sets, "a set with more circumstances than the case does not hold")

	sets, _ = names(&practice.Practice{}, "t.age", nil)
	assert.Equal(t, []string{"uk-practice"}, sets, "the foot-care list holds only where the others are silent")

	sets, chosen = names(chose("racgp-2023"), "t.age", nil)
	assert.Equal(t, []string{FootCare}, sets, "where the chosen set is silent, the foot-care list holds")
	assert.True(t, chosen)

	sets, chosen = names(chose("racgp-2023"), "t.hold", wrapped)
	assert.Equal(t, []string{"cdc-2008", "common-practice"}, sets, "where both are silent, nobody chose")
	assert.False(t, chosen)

	sets, chosen = names(chose("common-practice"), "t.hold", wrapped)
	assert.Equal(t, []string{"common-practice"}, sets)
	assert.True(t, chosen)

	own := &practice.Practice{}
	own.Rules.Criteria = []practice.RuleChoice{{Criterion: "t.hold", When: "air=gravity", Value: "121 °C = 20 min", Source: "letter"}}
	sets, chosen = names(own, "t.hold", wrapped)
	assert.Equal(t, []string{Yours}, sets)
	assert.True(t, chosen)
}

func TestYourRules(t *testing.T) {
	shipped := shippedOfTest(t)
	for _, c := range []struct {
		name                     string
		choice                   practice.RuleChoice
		changes, mistakes        int
		looser, noSource, broken bool
	}{
		{"stricter, with a source", practice.RuleChoice{Criterion: "t.limit", Value: "2", Source: "letter"}, 1, 0, false, false, false},
		{"the same", practice.RuleChoice{Criterion: "t.limit", Value: "3", Source: "letter"}, 1, 0, false, false, false},
		{"looser", practice.RuleChoice{Criterion: "t.limit", Value: "4", Source: "letter"}, 1, 1, true, false, false},
		{"without a source", practice.RuleChoice{Criterion: "t.limit", Value: "2"}, 1, 1, false, true, false},
		{"unknown", practice.RuleChoice{Criterion: "t.none", Value: "2", Source: "letter"}, 0, 1, false, false, true},
		{"no number", practice.RuleChoice{Criterion: "t.limit", Value: "few", Source: "letter"}, 0, 1, false, false, true},
		{"no such circumstance", practice.RuleChoice{Criterion: "t.hold", When: "air=static", Value: "121 °C = 30 min", Source: "letter"}, 0, 1, false, false, true},
		{"a shorter table", practice.RuleChoice{Criterion: "t.hold", When: "air=gravity, wrapped=yes", Value: "121 °C = 20 min", Source: "letter"}, 1, 1, true, false, false},
		{"a longer table", practice.RuleChoice{Criterion: "t.hold", When: "air=gravity, wrapped=yes", Value: "121 °C = 30 min; 132 °C = 15 min", Source: "letter"}, 1, 0, false, false, false},
		{"fewer words", practice.RuleChoice{Criterion: "t.words", Value: "latex", Source: "letter"}, 1, 1, true, false, false},
		{"more words", practice.RuleChoice{Criterion: "t.words", Value: "latex; adhesive; iodine", Source: "letter"}, 1, 0, false, false, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := &practice.Practice{}
			p.Rules.Criteria = []practice.RuleChoice{c.choice}
			book := shipped.Choose(p)
			assert.Len(t, book.Changes, c.changes)
			require.Len(t, book.Mistakes, c.mistakes)
			if c.mistakes > 0 {
				m := book.Mistakes[0]
				assert.Equal(t, c.looser, m.Looser)
				assert.Equal(t, c.noSource, m.NoSource)
				if c.broken {
					assert.NotEmpty(t, m.Todo)
				}
			}
		})
	}
}

func TestCriteriaFilesAreRefused(t *testing.T) {
	for name, text := range map[string]string{
		"no source":      `- {id: x, as: span, stricter: lower, text: t, values: [{set: cdc-2008, value: 7 d, source: none, level: must, known: read}]}`,
		"no such set":    `- {id: x, as: span, stricter: lower, text: t, values: [{set: mine, value: 7 d, source: book, level: must, known: read}]}`,
		"no unit":        `- {id: x, as: span, stricter: lower, text: t, values: [{set: cdc-2008, value: 7, source: book, level: must, known: read}]}`,
		"no level":       `- {id: x, as: span, stricter: lower, text: t, values: [{set: cdc-2008, value: 7 d, source: book, known: read}]}`,
		"unknown key":    `- {id: x, as: span, strikter: lower, text: t, values: []}`,
		"no value":       `- {id: x, as: span, stricter: lower, text: t, values: []}`,
		"twice":          "- &a {id: x, as: number, stricter: lower, text: t, values: [{set: cdc-2008, value: 1, source: book, level: must, known: read}]}\n- {id: x, as: number, stricter: lower, text: t, values: [{set: cdc-2008, value: 1, source: book, level: must, known: read}]}",
		"no such form":   `- {id: x, as: colour, stricter: lower, text: t, values: [{set: cdc-2008, value: 1, source: book, level: must, known: read}]}`,
		"an empty table": `- {id: x, as: table, stricter: higher, text: t, values: [{set: cdc-2008, table: [], source: book, level: must, known: read}]}`,
	} {
		_, err := ParseCriteria(fstest.MapFS{"sources.yaml": {Data: []byte(sourcesOfTest)}, "a.yaml": {Data: []byte(text)}})
		assert.ErrorContains(t, err, "a.yaml", name)
	}
}
