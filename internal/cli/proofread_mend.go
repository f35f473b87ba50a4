package cli

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strings"

	"footing/internal/record"
	"footing/internal/result"
	"footing/schemas"
)

const (
	notShownName  = "(reads like a name, not shown)"
	notShownValue = "what is typed there cannot be read as it must be"
)

// mostPlaces is how many places of one problem are named.
const mostPlaces = 8

// gravest lists the problems: what was refused whole first, then by how many places.
func gravest(in *record.Intake) (list []*record.Problem) {
	for i := range in.Problems {
		list = append(list, &in.Problems[i])
	}
	refused := func(q *record.Problem) int {
		if q.Effect == record.FileRefused {
			return 0
		}
		return 1
	}
	slices.SortStableFunc(list, func(a, b *record.Problem) int {
		return cmp.Or(cmp.Compare(refused(a), refused(b)), cmp.Compare(len(b.Places), len(a.Places)))
	})
	return list
}

// partsOf parts what is lost in the practice file from what is in all others.
func partsOf(in *record.Intake) (own, rest []*record.Problem) {
	for _, q := range gravest(in) {
		switch {
		case q.Effect == record.Noted:
		case q.Kind == "practice":
			own = append(own, q)
		default:
			rest = append(rest, q)
		}
	}
	return own, rest
}

// ofEffect keeps the problems of an effect from one to another.
func ofEffect(list []*record.Problem, from, to record.Effect) (kept []*record.Problem) {
	for _, q := range list {
		if q.Effect >= from && q.Effect <= to {
			kept = append(kept, q)
		}
	}
	return kept
}

// veiled is the sentence of a problem without what is typed where that is about a
// person, or reads like a person's name.
func veiled(q *record.Problem) string {
	where, said, cut := cutPlace(q.Sentence)
	if !cut {
		return q.Sentence
	}
	field, known := fieldOf(q.Kind, q.Field)
	if known && field.Private {
		parts := []string{notShownValue}
		if q.Effect == record.Noted {
			parts[0] = "there is something to look at in what is typed there"
		}
		if todo := cmp.Or(q.Todo, q.Allowed); todo != "" {
			parts = append(parts, todo)
		}
		if at := strings.LastIndex(said, "; until then"); at >= 0 {
			parts = append(parts, said[at+2:])
		}
		return where + strings.Join(parts, "; ")
	}
	return where + unnamed(q, field, said)
}

// cutPlace parts a sentence into where it is about, with the colon, and what it says.
func cutPlace(sentence string) (where, said string, ok bool) {
	quoted := false
	for i, r := range sentence {
		switch {
		case r == '"':
			quoted = !quoted
		case !quoted && strings.HasPrefix(sentence[i:], ": ") && !strings.HasSuffix(sentence[:i], "(the first"):
			return sentence[:i+2], sentence[i+2:], true
		}
	}
	return "", "", false
}

var inQuotes = regexp.MustCompile(`"[^"]*"`)

// unnamed takes out of what is said the values that read like a person's name, but for
// the ids of kinds that name things.
func unnamed(q *record.Problem, field *schemas.Field, said string) string {
	of := q.Kind
	if field != nil && len(field.Refers) > 0 {
		of = field.Refers[0]
	}
	ids := q.Field == "id" || field != nil && len(field.Refers) > 0
	choice := field != nil && (field.Form == schemas.Choice || field.Item == schemas.Choice)
	return inQuotes.ReplaceAllStringFunc(said, func(text string) string {
		for _, value := range strings.Split(strings.Trim(text, `"`), ", ") {
			value = plain(value)
			if ids && result.ReadsLikeName(of, value) || !ids && !choice && result.LikeName(value) {
				return notShownName
			}
		}
		return text
	})
}

// fieldOf finds the field that a problem names: "share" within "coverage" is "coverage.share".
func fieldOf(kind, name string) (*schemas.Field, bool) {
	k, ok := schemas.Lookup(kind)
	if !ok {
		return nil, false
	}
	outer, inner, nested := strings.Cut(name, ".")
	f, ok := k.Field(outer)
	if !ok || !nested {
		return f, ok
	}
	for _, in := range f.Fields {
		if in.Name == inner {
			return in, true
		}
	}
	return f, true
}

// places names the first places of a problem that has several: rows, or cells of a
// workbook.
func places(q *record.Problem, whole bool) string {
	var names []string
	for _, at := range q.Places {
		name := ""
		switch {
		case at.Cell != "":
			name = at.Cell
		case at.Row > 0:
			name = fmt.Sprint(at.Row)
		}
		if name != "" && (len(names) == 0 || names[len(names)-1] != name) {
			names = append(names, name)
		}
	}
	if len(names) < 2 {
		return ""
	}
	word, more := "Rows ", ""
	if q.Places[0].Cell != "" {
		word = "Cells "
	}
	if !whole && len(names) > mostPlaces {
		names, more = names[:mostPlaces], " and "+thousands(len(names)-mostPlaces)+" more"
	}
	return word + strings.Join(names, ", ") + more + "."
}
