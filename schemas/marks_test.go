package schemas_test

import (
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"footing/schemas"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestEveryDateIsMarked(t *testing.T) {
	eachField(t, func(t *testing.T, path string, f *schemas.Field) {
		dated := f.Form == schemas.Day || f.Form == schemas.Moment
		assert.Equal(t, dated, f.Date != "", path)
		assert.Contains(t, []schemas.DateMark{"", schemas.Event, schemas.Deadline}, f.Date, path)
	})
	for _, name := range schemas.Kinds() {
		k, _ := schemas.Lookup(name)
		if k.When == "" {
			continue
		}
		f, ok := k.Field(k.When)
		require.True(t, ok, "%s: %s", name, k.When)
		assert.NotEmpty(t, f.Date, "%s: %s dates nothing", name, k.When)
	}
}

// Dates that may honestly lie ahead of an audit; every other date is of a thing that
// happened.
func TestDeadlines(t *testing.T) {
	want := strings.Fields(`practice.renewal_on practice.inspection_on practice.coverage.from practice.coverage.until
		rules.scope.from rules.scope.until rules.accepted.until
		credentials.valid_from credentials.valid_until policies.effective_on policies.review_on
		histories.next_review_on consents.expires_on packs.use_by tests.lot_expires_on baths.discard_on
		upkeep.next_due_on stock.expires_on products.discard_on products.expires_on
		incidents.follow_up_on complaints.reply_by actions.due_on`)
	var got []string
	eachField(t, func(_ *testing.T, path string, f *schemas.Field) {
		if f.Date == schemas.Deadline {
			got = append(got, path)
		}
	})
	assert.ElementsMatch(t, want, got)
}

func TestReferencesNameKinds(t *testing.T) {
	eachField(t, func(t *testing.T, path string, f *schemas.Field) {
		refers := f.Form == schemas.Ref || f.Item == schemas.Ref || f.Form == schemas.CountOrList
		assert.Equal(t, refers, len(f.Refers) > 0, path)
		for _, k := range f.Refers {
			assert.Contains(t, schemas.Kinds(), k, path)
		}
		if f.Name == "corrects" {
			assert.Equal(t, []string{f.Kind}, f.Refers, path)
		}
	})
}

// Every person-valued field is a people id, every product a products id, every
// equipment id is looked for in sterilizers, then equipment; done_by alone is free.
func TestReferencesByName(t *testing.T) {
	want := map[string]string{
		"person": "people", "supervisor": "people", "observer": "people", "asked_by": "people", "signed_by": "people",
		"loaded_by": "people", "released_by": "people", "verified_by": "people", "by": "people",
		"product": "products", "products": "products", "equipment": "sterilizers equipment", "sterilizer": "sterilizers",
		"client": "clients", "site": "sites", "sites": "sites", "to_site": "sites", "from_site": "sites", "stored_at": "sites",
		"visit": "visits", "load": "loads", "loads": "loads", "packs": "packs", "instruments": "instruments",
		"program": "programs", "bath": "baths",
		"packs_out": "packs", "packs_back": "packs", "packs_spoiled": "packs", "done_by": "", "given_by": "",
	}
	seen := map[string]bool{}
	eachField(t, func(t *testing.T, path string, f *schemas.Field) {
		if kinds, ok := want[f.Name]; ok {
			assert.Equal(t, kinds, strings.Join(f.Refers, " "), path)
			seen[f.Name] = true
		} else if f.Form == schemas.Ref && path != "instruments.owner" && path != "actions.owner" {
			assert.Equal(t, "corrects", f.Name, path)
		}
	})
	assert.Len(t, seen, len(want))
}

// Health, and free words about a client, are private; the ids of clients are pseudonyms.
func TestPrivateFields(t *testing.T) {
	about := strings.Fields("people credentials clients histories screens consents visits referrals incidents complaints")
	public := strings.Fields(`histories.next_review_on screens.asked_on screens.asked_by histories.taken_on screens.client histories.client`)
	eachField(t, func(t *testing.T, path string, f *schemas.Field) {
		switch {
		case slices.Contains(public, path) || f.Name == "id" || f.Name == "corrects" || f.Name == "kept_at" || f.Name == "entered_on":
			assert.False(t, f.Private, path)
		case f.Kind == "histories" || f.Kind == "screens":
			assert.True(t, f.Private, path)
		case f.Name == "note" && slices.Contains(about, f.Kind):
			assert.True(t, f.Private, path)
		}
	})
	for _, path := range strings.Fields(`clients.birth_year people.latex_sensitive people.hepatitis_b people.hepatitis_b_on
		visits.found visits.bleeding referrals.reason incidents.body_part incidents.action complaints.subject consents.given_by`) {
		kind, field, _ := strings.Cut(path, ".")
		k, _ := schemas.Lookup(kind)
		f, ok := k.Field(field)
		require.True(t, ok, path)
		assert.True(t, f.Private, path)
	}
}

// A heading or sheet name that could mean two things would be read by chance.
func TestSynonymsAreUnique(t *testing.T) {
	sheets := map[string]string{}
	for _, name := range schemas.Kinds() {
		k, _ := schemas.Lookup(name)
		for _, s := range append([]string{name}, k.Synonyms...) {
			assert.Empty(t, sheets[schemas.Fold(s)], "%s: the sheet name %q", name, s)
			sheets[schemas.Fold(s)] = name
		}
		assert.NotEmpty(t, k.Synonyms, name)
		unique(t, name, k.Fields)
	}
}

func unique(t *testing.T, at string, fields []*schemas.Field) {
	t.Helper()
	headings := map[string]string{}
	for _, f := range fields {
		for _, s := range append([]string{f.Name}, f.Synonyms...) {
			assert.Empty(t, headings[schemas.Fold(s)], "%s.%s: the heading %q", at, f.Name, s)
			headings[schemas.Fold(s)] = f.Name
			assert.Equal(t, strings.TrimSpace(s), s)
		}
		words := map[string]string{}
		for _, c := range f.Choices {
			words[schemas.Fold(c)] = c
		}
		for word, c := range f.ChoiceSynonyms {
			assert.Contains(t, f.Choices, c, "%s.%s: %q", at, f.Name, word)
			assert.Empty(t, words[schemas.Fold(word)], "%s.%s: the word %q", at, f.Name, word)
			words[schemas.Fold(word)] = c
			got, ok := f.Choice(strings.ToUpper(word))
			assert.True(t, ok && got == c, "%s.%s: %q gives %q", at, f.Name, word, got)
		}
		unique(t, at+"."+f.Name, f.Fields)
	}
}

// A description is read by a practitioner on a help page: one or two sentences.
func TestDescriptionsArePlain(t *testing.T) {
	check := func(path, s string) {
		n := utf8.RuneCountInString(s)
		assert.True(t, n >= 8 && n <= 260, "%s: %d characters", path, n)
		assert.True(t, strings.HasSuffix(s, "."), path)
		for _, word := range []string{"boolean", "string", "array", "null", "sterile outcome", "compliant", "guarantee"} {
			assert.NotContains(t, strings.ToLower(s), word, path)
		}
	}
	eachField(t, func(_ *testing.T, path string, f *schemas.Field) { check(path, f.Description) })
	for _, name := range schemas.Kinds() {
		k, _ := schemas.Lookup(name)
		check(name, k.Description)
		assert.NotEmpty(t, k.Title, name)
	}
}
