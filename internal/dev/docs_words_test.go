package dev

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"footing/checks"
	glossary "footing/internal/words"
	"footing/schemas"
)

// Each word is typed where it says, and rests on sources that we list.
func TestWordsNameRealFieldsAndSources(t *testing.T) {
	criteria, err := checks.Criteria()
	require.NoError(t, err)
	for _, e := range glossary.All() {
		for _, at := range e.Where {
			kind, field, ok := strings.Cut(at, ".")
			require.True(t, ok, "%s: %s is no KIND.FIELD", e.Word, at)
			k, ok := schemas.Lookup(kind)
			if !assert.True(t, ok, "%s: there is no kind %s", e.Word, kind) {
				continue
			}
			_, ok = k.Field(field)
			assert.True(t, ok, "%s: %s has no field %s", e.Word, kind, field)
		}
		for _, id := range e.Sources {
			s, ok := criteria.Source(id)
			assert.True(t, ok, "%s: there is no source %s", e.Word, id)
			assert.Equal(t, "published", s.Kind, "%s: common practice is no source", e.Word)
		}
	}
}

// plainChoices are choices, one by one read by a person, that anyone who does nails
// knows, or that the field's own description explains.
var plainChoices = strings.Fields(`
	dmy mdy own contracted contractor single-use-only monday tuesday wednesday thursday friday saturday sunday
	adhesive colophony chlorhexidine iodine local_anaesthetic lanolin nickel acrylate salicylate antibiotic fragrance nut_oil
	practitioner assistant student 5.5 6 6.5 7 7.5 8 8.5 9 yes no unsure immune declined in-progress unknown not-asked not-done not-run none other
	first-aid infection-control hazardous-products education active suspended conditions
	nail-trim rotary-sanding padding foot-bath injection assessment
	hand-hygiene gown mask eye-protection hair-cover shoe-cover gloves leave-room competent repeat
	protective-gear failed-sterilization storage transport rotary-tool-dust surface-cleaning linen chemicals equipment-upkeep waste-and-sharps outbreak
	consent students records-and-privacy clinic home-office care-home school 0 1 2 3 low moderate high client
	done cancelled booked scalpel-blade hand-rub antiseptic sterile-pack
	ulcer infection hot-swollen-foot tissue-death broken-skin fragile-skin reaction cut bleed person
	daily-check washing-drying footwear nail-cutting warning-signs whom-to-call home-file poor-circulation immediate working-day routine
	rasp file scissors scalpel-handle razor probe stainless-steel surgical-stainless-steel carbon-steel aluminium plastic abrasive client-owned
	intact-skin sterile-tissue manual washer steam rotary-unit eyewash pass fail foil intact wet torn sterilizer date initials contents
	alcohol repair relocation filter out-of-use back-in-use skin surface instrument dressing between-clients end-of-day weekly spill foot-basin sharps clinical`)

// A choice is explained, or someone has looked at it and found it plain.
func TestChoicesAreExplainedOrPlain(t *testing.T) {
	plain, seen := map[string]bool{}, map[string]bool{}
	for _, c := range plainChoices {
		assert.False(t, plain[c], "%s stands twice", c)
		plain[c] = true
	}
	var look func(fields []*schemas.Field)
	look = func(fields []*schemas.Field) {
		for _, f := range fields {
			for _, c := range f.Choices {
				_, kind := schemas.Lookup(c)
				if e, _ := glossary.Find(c); e == nil && !kind {
					seen[c] = true
					assert.True(t, plain[c], "%s of %s.%s needs a word that explains it, or a look whether it is plain", c, f.Kind, f.Name)
				}
			}
			look(f.Fields)
		}
	}
	for _, name := range schemas.Kinds() {
		k, _ := schemas.Lookup(name)
		look(k.Fields)
	}
	for c := range plain {
		assert.True(t, seen[c], "%s is no choice any more, or is explained", c)
	}
}

// What stands beside values and findings: units, grades, outcomes, states.
func TestWordsOfTheReportAreExplained(t *testing.T) {
	for _, w := range strings.Fields("kPa bar mbar psi gauge absolute critical major minor observation nonconformity must should F0 FH A0") {
		e, _ := glossary.Find(w)
		assert.NotNil(t, e, w)
	}
	for _, w := range []string{"not assessed", "set aside", "accepted", "later", "corrected", "rule set", "coverage", "look-back", "wide", "narrow"} {
		e, _ := glossary.Find(w)
		assert.NotNil(t, e, w)
	}
}
