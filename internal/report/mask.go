package report

import (
	"slices"
	"strings"
	"unicode"

	"footing/internal/result"
)

const (
	namePrivate  = "(a name, kept out of this report)"
	valuePrivate = "(kept out of this report; see the row)"
)

// ident returns the id of a record of that kind for print: what looks like a
// person's name is masked, since ids are meant to be pseudonyms. Kinds that name
// things keep theirs: a site may well be called Main Clinic.
func ident(kind, id string) string {
	if !namesThings(kind) && looksLikeName(id) {
		return namePrivate
	}
	return id
}

// written returns the value of a piece of evidence for print.
func written(e result.Evidence) string {
	switch {
	case e.Private && e.Value != "":
		return valuePrivate
	case namesPerson(e.Field) && looksLikeName(e.Value):
		return namePrivate
	}
	return e.Value
}

func namesThings(kind string) bool {
	switch strings.TrimSuffix(kind, "s") {
	case "site", "sterilizer", "equipment", "program", "product", "stock", "policie", "policy", "instrument", "practice", "rule", "trace":
		return true
	}
	return false
}

func namesPerson(field string) bool {
	switch field {
	case "client", "person", "supervisor", "observer", "owner", "exposed":
		return true
	}
	return strings.HasSuffix(field, "_by")
}

// looksLikeName says whether s reads like "Ada Vale", "VALE, Ada" or "Ada van
// Dyk": two to five words of letters alone, at least two of them longer than one
// letter and with a capital; or like an e-mail address. One word else, or anything
// with a digit, is a pseudonym.
func looksLikeName(s string) bool {
	if user, host, ok := strings.Cut(plain(s), "@"); ok && user != "" && strings.Contains(host, ".") && !strings.ContainsAny(user+host, " @") {
		return true
	}
	words := strings.FieldsFunc(plain(s), func(r rune) bool { return r == ' ' || r == ',' })
	if len(words) < 2 || len(words) > 5 {
		return false
	}
	capitals := 0
	for _, w := range words {
		if strings.IndexFunc(w, notInName) >= 0 {
			return false
		}
		runes := []rune(strings.TrimRight(w, "."))
		switch {
		case slices.Contains([]string{"de", "la", "le", "van", "von", "der", "den", "bin", "al", "da", "dos", "del"}, w):
		case len(runes) == 0 || !unicode.IsUpper(runes[0]):
			return false
		case len(runes) > 1:
			capitals++
		}
	}
	return capitals >= 2
}

func notInName(r rune) bool {
	return !unicode.IsLetter(r) && !unicode.IsMark(r) && r != '-' && r != '\'' && r != '’' && r != '.'
}
