package record

import (
	"regexp"
	"strings"
	"unicode"

	"footing/schemas"
)

// parted takes one item apart at commas, "and", "&" and "+", where it cannot be one item:
// each part is one of the choices; or of ids and sets each part has the form of one:
// "K-1, K-2 & K-3", "nail x 6, corn x 2". It gives nil for an item that stays whole. A
// stroke parts nothing: it may be "or", or stand within a number.
func (l *lane) parted(item string) []string {
	if len(item) > longestParted || !strings.ContainsAny(item, ",+&") && !strings.Contains(item, " and ") {
		return nil
	}
	if _, whole := l.choice(item); whole {
		return nil
	}
	form, marks := idLike, asBlanks
	switch f := l.col.field; {
	case f.Choices != nil:
		form, marks = func(s string) bool { _, ok := l.choice(s); return ok }, asMarks
	case f.Item == schemas.Text && f.Name != "sets" || l.col.holds == holdsText:
		return nil
	case f.Item == schemas.Text:
		form = timesForm
	}
	if marks == asBlanks && !strings.Contains(item, " ") {
		form, marks = lettered, asCommas
	}
	var parts []string
	for part := range strings.SplitSeq(marks.Replace(item), ";") {
		if part = trim(part); !form(part) {
			return nil
		}
		parts = append(parts, l.chosen(part))
	}
	if len(parts) < 2 {
		return nil
	}
	return parts
}

const longestParted = 2000

var (
	asMarks  = strings.NewReplacer(", and ", ";", " and ", ";", ",", ";", "+", ";", "&", ";")
	asCommas = strings.NewReplacer(",", ";")
	asBlanks = strings.NewReplacer(", and ", ";", " and ", ";", ", ", ";", " & ", ";", " + ", ";")
)

// idLike is true for letters, figures and marks without a blank or comma, a figure among
// them: no name of a person or thing is so parted from its own second half.
func idLike(s string) bool {
	return strings.ContainsAny(s, "0123456789") && !strings.ContainsAny(s, " \t,;&+")
}

// lettered is idLike for ids with a letter and with no blank beside the comma: "398,399"
// could be one number.
func lettered(s string) bool {
	return idLike(s) && strings.ContainsFunc(s, unicode.IsLetter)
}

var timesCount = regexp.MustCompile(`^[^,&+]*[^,&+\d ](?: +x| *[×*]) *\d{1,4}$`)

// timesForm is true for a set and how many: "nail x 6".
func timesForm(s string) bool { return timesCount.MatchString(s) }
