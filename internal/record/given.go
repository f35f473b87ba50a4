package record

import (
	"path"
	"slices"
	"strings"
	"unicode"

	"footing/schemas"
)

// give finds what the name of a table says of a choice that every row needs and for which
// there is no column: each row of a sheet "spore tests" is a test of spores.
func (s *sheet) give() {
	for _, c := range s.plan.cols {
		if !c.field.Required || c.field.Choices == nil || c.holds != holdsText || s.byColumn[c.index] != nil {
			continue
		}
		for _, name := range s.src.called() {
			if choice := saidBy(name, s.plan.kind, c.field); choice != "" {
				s.given = append(s.given, typed{lane: &lane{written: c.field.Name, sheet: s, col: c}, name: name, text: choice})
				break
			}
		}
	}
}

// denies is true for a value under no known heading that is another choice than the one
// taken from the name: a row of "leak tests" that says "spore" may be no leak test.
func (s *sheet) denies(text string) bool {
	return len(text) <= longestChoice && slices.ContainsFunc(s.given, func(t typed) bool {
		choice, ok := t.lane.choice(text)
		return ok && choice != t.text
	})
}

// called are the names of a table: the title above it, then its sheet, its file and the
// folder of that.
func (s *source) called() (names []string) {
	if s.grid != nil {
		return append(s.grid.titles, s.grid.sheet, bareName(s.grid.file))
	}
	for at := s.name; at != "." && at != "/"; at = path.Dir(at) {
		names = append(names, bareName(path.Base(at)))
	}
	return names
}

func bareName(file string) string { return strings.TrimSuffix(file, path.Ext(file)) }

// tellGiven says what was taken from a name.
func (s *sheet) tellGiven() {
	for _, t := range s.given {
		field := t.lane.col.field.Name
		todo := "if there are others among the rows, add a column " + field
		at := s.src.at(0, 0, 0, "")
		s.told = append(s.told, Problem{File: s.src.name, Kind: s.plan.kind.Name, Field: field, Cause: "from-name", Effect: Noted, Todo: todo, Places: []Place{at}, Values: []string{""},
			Sentence: s.src.name + ": " + field + `: taken from the name "` + shorten(t.name) + `" as "` + t.text + `" for every row that names no other; ` + todo})
	}
}

// mostNameWords is more than a name has that says no more than a kind.
const mostNameWords = 8

// saidBy gives the one choice of a field that a name says before the name of the kind,
// with a month or a year about it or "log" after it; "" if it says none: "service log"
// may hold every kind of upkeep.
func saidBy(name string, kind *schemas.Kind, f *schemas.Field) (choice string) {
	words := strings.FieldsFunc(name, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) && r != '-' })
	if kind.Single || len(words) > mostNameWords {
		return ""
	}
	l := &lane{col: &column{field: f}}
	for from := range words {
		for to := len(words); to > from; to-- {
			if !datesOnly(words[:from]) || !datesOnly(words[to:]) {
				continue
			}
			inner := words[from:to]
			if slices.Contains(logWords, strings.ToLower(inner[len(inner)-1])) {
				inner = inner[:len(inner)-1]
			}
			last := len(inner) - 1
			if last < 1 || !slices.Contains([]string{kind.Name, strings.TrimSuffix(kind.Name, "s")}, schemas.Fold(inner[last])) {
				continue
			}
			said, known := l.choice(strings.Join(inner[:last], " "))
			switch {
			case !known || said == "other": // a month may still stand before it
			case choice != "" && choice != said:
				return ""
			default:
				choice = said
			}
		}
	}
	return choice
}

var logWords = []string{"log", "logs", "record", "records", "register", "results", "list", "sheet", "book"}

func datesOnly(words []string) bool { return len(words) == 0 || monthWords(strings.Join(words, " ")) }
