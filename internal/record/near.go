package record

import (
	"strings"
	"unicode"

	"footing/schemas"
)

// nearHeadings notes, for each heading that is not known, the field that it may have
// meant: one that no other heading of the file already has.
func nearHeadings(kind *schemas.Kind, headings []Heading) {
	taken := map[string]bool{}
	for _, h := range headings {
		taken[h.Field] = true
	}
	names, fields := namesOf(kind)
	looked := 0
	for i := range headings {
		if h := &headings[i]; h.Field == "" && looked < mostStrange {
			looked++
			if near := nearField(kind, names, fields, h.Written); near != "" && !taken[near] {
				h.Near = near
			}
		}
	}
}

// A heading can be as long as a page: of its words the first are looked at, in runs as long
// as any field's name.
const (
	nearWords  = 40
	longestRun = 8
)

// nearField is the field whose name or other word is nearest to a heading: a letter
// or two off, or the longest run of the heading's words that is one.
func nearField(kind *schemas.Kind, names []string, fields map[string]string, heading string) string {
	bare, _, _ := strings.Cut(heading, "[")
	bare, _, _ = strings.Cut(bare, "(")
	if name := nearest(names, bare); name != "" {
		return fields[name]
	}
	words := strings.FieldsFunc(bare, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
	words = words[:min(len(words), nearWords)]
	for n := min(len(words), longestRun); n > 0; n-- {
		for at := 0; at+n <= len(words); at++ {
			run := strings.Join(words[at:at+n], " ")
			if f, ok := kind.Match(run); ok && len(run) > 2 {
				return f.Name
			}
		}
	}
	return ""
}

// namesOf gives the names and other words of all fields, and the field of each.
func namesOf(kind *schemas.Kind) (names []string, fields map[string]string) {
	fields = map[string]string{}
	for _, f := range kind.Fields {
		for _, name := range append([]string{f.Name}, f.Synonyms...) {
			fields[name] = f.Name
			names = append(names, name)
		}
	}
	return names, fields
}
