package cli

import (
	"strings"

	"footing/internal/record"
)

// headingIn is what a person calls a field of a kind: the heading that a file has for it,
// or any file of that kind where none is named; else the one of a new workbook.
func headingIn(in *record.Intake, kind, file, field string) string {
	for i := range in.Files {
		f := &in.Files[i]
		if f.Kind != kind || file != "" && f.Name != file {
			continue
		}
		for _, h := range f.Headings {
			if bare, _, _ := strings.Cut(h.Written, "["); h.Field == field && strings.TrimSpace(bare) != "" {
				return plain(strings.TrimSpace(bare))
			}
		}
	}
	if f, ok := fieldOf(kind, field); ok && f.Name == field {
		return headingWord(f)
	}
	return field
}

// meant is the heading of a field as a new workbook has it, with what it holds.
func meant(kind, field string) string {
	f, ok := fieldOf(kind, field)
	if !ok {
		return "“" + field + "”"
	}
	about, _, _ := strings.Cut(f.Description, ". ")
	return "“" + headingWord(f) + "” (" + lowerFirst(strings.TrimSuffix(about, ".")) + ")"
}

// lowerFirst begins a sentence small, so that it can stand within another.
func lowerFirst(s string) string {
	if s == "" {
		return s
	}
	return strings.ToLower(s[:1]) + s[1:]
}
