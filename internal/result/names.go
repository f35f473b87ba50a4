package result

import (
	"slices"
	"strings"
	"unicode"
)

// ReadsLikeName reports whether the id of a record of that kind, as one line of text,
// reads like a person's name, so that no sentence or page prints it: ids are meant to
// be pseudonyms. Kinds that name things keep theirs: a site may well be called Main Clinic.
func ReadsLikeName(kind, id string) bool { return !namesThings(kind) && LikeName(id) }

func namesThings(kind string) bool {
	switch strings.TrimSuffix(kind, "s") {
	case "site", "sterilizer", "equipment", "program", "product", "stock", "policie", "policy", "instrument", "practice", "rule", "trace":
		return true
	}
	return false
}

// LikeName reports whether a text of one line reads like "Ada Vale", "VALE, Ada" or "Ada van
// Dyk": two to five words of letters alone, at least two of them longer than one
// letter and with a capital; or like an e-mail address. One word else, or anything
// with a digit, is a pseudonym.
func LikeName(s string) bool {
	if user, host, ok := strings.Cut(s, "@"); ok && user != "" && strings.Contains(host, ".") && !strings.ContainsAny(user+host, " @") {
		return true
	}
	words := strings.FieldsFunc(s, func(r rune) bool { return r == ' ' || r == ',' })
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
