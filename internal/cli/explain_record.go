package cli

import (
	"fmt"
	"io"
	"slices"
	"strings"

	glossary "footing/internal/words"
	"footing/schemas"
)

// wordColumn is a field of a record kind, by where it stands: "loads.exposure",
// "practice.coverage.share".
type wordColumn struct {
	at    string
	field *schemas.Field
}

// columnsMeant are the columns that a word may mean: those of that name, else those with
// such a heading; and those that offer it as a choice, else those that read it as one.
func columnsMeant(asked string) (named, chosen []wordColumn) {
	if asked == "" {
		return nil, nil
	}
	var headed, read []wordColumn
	for _, c := range allColumns() {
		_, short, _ := strings.Cut(c.at, ".")
		switch fold := schemas.Fold(asked); {
		case fold == schemas.Fold(c.at), fold == schemas.Fold(short), fold == schemas.Fold(c.field.Name):
			named = append(named, c)
		case slices.ContainsFunc(c.field.Synonyms, func(s string) bool { return schemas.Fold(s) == fold }):
			headed = append(headed, c)
		default:
			choice, ok := c.field.Choice(asked)
			switch _, kind := schemas.Lookup(choice); {
			case !ok || kind || ownChoice(c.field, asked): // a kind is told as one
			case schemas.Fold(choice) == fold:
				chosen = append(chosen, c)
			default:
				read = append(read, c)
			}
		}
	}
	if len(named) == 0 {
		named = headed
	}
	if len(named)+len(chosen) == 0 {
		chosen = read
	}
	return named, chosen
}

// ownChoice reports whether a choice of a person's own was asked for ("other: …").
func ownChoice(f *schemas.Field, asked string) bool {
	return f.Open != "" && strings.HasPrefix(strings.ToLower(asked), f.Open)
}

// allColumns lists every field of every kind, and those of the entries in them.
func allColumns() (all []wordColumn) {
	var add func(at string, fields []*schemas.Field)
	add = func(at string, fields []*schemas.Field) {
		for _, f := range fields {
			all = append(all, wordColumn{at + "." + f.Name, f})
			add(at+"."+f.Name, f.Fields)
		}
	}
	for _, name := range schemas.Kinds() {
		k, _ := schemas.Lookup(name)
		add(name, k.Fields)
	}
	return all
}

// columnsOnce leaves out columns that were there already.
func columnsOnce(columns []wordColumn) (out []wordColumn) {
	for _, c := range columns {
		if !slices.ContainsFunc(out, func(o wordColumn) bool { return o.at == c.at }) {
			out = append(out, c)
		}
	}
	return out
}

func showRecordKind(w io.Writer, k *schemas.Kind) {
	if title := strings.ToLower(k.Title); title == k.Name {
		line(w, k.Name+", a kind of record")
	} else {
		line(w, k.Name+", a kind of record: "+title)
	}
	line(w, indented(k.Description, "  "))
	line(w, "")
	if len(k.Synonyms) > 0 {
		line(w, indented("Also read from sheets and files called: "+strings.Join(k.Synonyms, ", "), "  "))
	}
	var names, needed []string
	for _, f := range k.Fields {
		names = append(names, withHeading(f))
		if f.Required {
			needed = append(needed, f.Name)
		}
	}
	line(w, indented("Columns, in brackets the heading that footing new writes where it is another word: "+strings.Join(names, ", "), "  "))
	if len(needed) > 0 {
		line(w, indented("Each row needs: "+strings.Join(needed, ", "), "  "))
	}
	line(w, indented("footing explain "+k.Name+"."+k.Fields[min(1, len(k.Fields)-1)].Name+" says what a column is.", "  "))
}

// withHeading is the name of a field, with the heading that it has in a sheet of footing
// new where that is another word.
func withHeading(f *schemas.Field) string {
	heading := headingWord(f)
	if schemas.Fold(heading) == schemas.Fold(f.Name) {
		return f.Name
	}
	return f.Name + " (" + heading + ")"
}

// showWordColumns describes columns; those that say the same are told together.
func showWordColumns(w io.Writer, columns []wordColumn) {
	type told struct {
		at       []string
		field    *schemas.Field // of the first
		headings []string       // that all of them have
	}
	var list []told
	for _, c := range columns {
		if i := slices.IndexFunc(list, func(t told) bool { return sameColumn(t.field, c.field) }); i >= 0 {
			list[i].at = append(list[i].at, c.at)
			list[i].headings = slices.DeleteFunc(list[i].headings, func(s string) bool { return !slices.Contains(c.field.Synonyms, s) })
			continue
		}
		list = append(list, told{[]string{c.at}, c.field, slices.Clone(c.field.Synonyms)})
	}
	if len(list) == 0 {
		return
	}
	line(w, "")
	line(w, "Where it is typed")
	for _, t := range list[:min(len(list), mostUses)] {
		at := t.at
		if len(at) > mostUses {
			at = append(slices.Clone(at[:mostUses]), fmt.Sprintf("and %d more", len(t.at)-mostUses))
		}
		line(w, indented(strings.Join(at, ", "), "  "))
		line(w, indented(columnSays(t.field, t.headings, len(t.at) == 1), "    "))
	}
	if more := len(list) - mostUses; more > 0 {
		line(w, fmt.Sprintf("  and %d more columns", more))
	}
}

// sameColumn reports whether two columns hold the same thing, in two kinds or in one.
func sameColumn(a, b *schemas.Field) bool {
	return a.Name == b.Name && a.Description == b.Description && slices.Equal(a.Choices, b.Choices)
}

// columnSays is what a column holds, its choices, an example where it stands alone,
// and its other headings.
func columnSays(f *schemas.Field, headings []string, alone bool) string {
	says := strings.ReplaceAll(f.Description, "`", `"`)
	switch {
	case len(f.Choices) > 0 && len(f.Choices) <= 12:
		says += " Choices: " + strings.Join(f.Choices, ", ") + "."
	case len(f.Choices) > 0:
		says += fmt.Sprintf(" Choices: %s and %d more.", strings.Join(f.Choices[:12], ", "), len(f.Choices)-12)
	case alone && len(f.Examples) > 0:
		if example, ok := f.Examples[0].(string); ok && example != "" {
			says += " Such as: " + strings.TrimSuffix(example, ".") + "."
		}
	}
	if len(headings) > 0 {
		says += " Other headings: " + strings.Join(headings, ", ") + "."
	}
	return says
}

// nearWords are the words, kinds and columns nearest to one that is not known.
func nearWords(asked string) []string {
	_, list := glossary.Find(asked)
	fold := schemas.Fold(asked)
	for _, name := range schemas.Kinds() {
		if near(fold, schemas.Fold(name)) && !slices.Contains(list, name) {
			list = append(list, name)
		}
	}
	for _, c := range allColumns() {
		if near(fold, schemas.Fold(c.field.Name)) && !slices.Contains(list, c.field.Name) {
			list = append(list, c.field.Name)
		}
	}
	return list[:min(len(list), mostUses)]
}
