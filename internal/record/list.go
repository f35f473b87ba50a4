package record

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"footing/internal/quantity"
	"footing/schemas"
)

// toList takes a list of JSON or YAML, or the items of one cell.
func (l *lane) toList(dst *quantity.List, sh shape, text string) *fault {
	var items []string
	switch sh {
	case isText, isNumber:
		if l.unsaid(text) {
			if _, known := l.choice(text); !known {
				return nil
			}
		}
		if all, done := l.wholeList(text, dst); done {
			return all
		}
		if !nothing(text) || !l.noneIsNothing() {
			if f := l.runOf(text); f != nil {
				return f
			}
			if items = l.split(text); len(items) == 0 {
				return l.fault("no-item", text, "holds no item").do(`write "none" if there is none, or leave it blank`)
			}
		}
	case isArray:
		whole := true
		eachItem(text, func(sh shape, item string) {
			switch sh {
			case isText, isNumber:
				items = l.with(items, item)
			case isNull:
			default:
				whole = false
			}
		})
		if !whole {
			return l.fault("list", text, "holds more than plain words").do("write a list of words, such as " + l.example())
		}
	default:
		return l.refused(plainValue(sh, text), text)
	}
	if sh == isArray && len(items) == 1 {
		if _, known := l.choice(items[0]); !known && l.unsaid(items[0]) {
			return nil
		}
		if all, done := l.wholeList(items[0], dst); done {
			return all
		}
		if nothing(items[0]) && l.noneIsNothing() {
			items = nil
		}
	}
	if !l.col.judge.words(items) {
		return l.refusedList(items, text)
	}
	*dst = quantity.List{Items: items, Written: true}
	return nil
}

// wholeList takes "all" where the field allows it; done is false for any other text.
func (l *lane) wholeList(text string, dst *quantity.List) (f *fault, done bool) {
	if !l.col.field.All || schemas.Fold(text) != "all" {
		return nil, false
	}
	if !l.col.judge.word("all") {
		return l.refused("all", text), true
	}
	*dst = quantity.List{Written: true, All: true}
	return nil, true
}

// nothing is true for the words by which a list is said to hold nothing.
func nothing(text string) bool {
	switch schemas.Fold(text) {
	case "none", "nil", "nothing", "nonefound", "nilfound", "nothingfound", "noneseen", "nilseen", "nad":
		return true
	}
	return false
}

var runs = regexp.MustCompile(`^[^ ;|,]*\d(?: +(?:to|until|-|–|—)|–|—) *[^ ;|,]*\d$`)

// runOf is the fault of "K-1 to K-9" among ids: which lie between is not the program's to say.
func (l *lane) runOf(text string) *fault {
	if l.col.field.Choices != nil || l.col.field.Item == schemas.Text || len(text) > longestChoice {
		return nil
	}
	if commaFigures.MatchString(text) {
		return l.fault("one-or-several", text, "could be one number or several").do(`write each id with ";" between`)
	}
	if !strings.ContainsAny(text, " –—") || !runs.MatchString(text) {
		return nil
	}
	return l.fault("run", text, "gives the first and the last only").do(`write each of them, with ";" between`)
}

var (
	commaFigures = regexp.MustCompile(`^\d+(?:,\d+)+$`)
	fromTo       = regexp.MustCompile(`^(\d+)-(\d+)$`)
	noSingleID   = regexp.MustCompile(`[?~<>=≈±()]|^\d+-?[A-Za-z]{2,}$|^[A-Za-z][^/]*/[A-Za-z]`)
)

// oneID is true for a text that can be counted as one thing: an id with a figure in it, and
// neither several ids, nor a span from one to another, nor a number with a doubt beside it.
func oneID(s string) bool {
	if p := fromTo.FindStringSubmatch(s); p != nil {
		first, _ := strconv.Atoi(p[1])
		last, _ := strconv.Atoi(p[2])
		return first >= last
	}
	return idLike(s) && !noSingleID.MatchString(s)
}

// noneIsNothing is true unless "none" is itself one of the choices.
func (l *lane) noneIsNothing() bool {
	return !slices.Contains(l.col.field.Choices, "none")
}

// split takes the items of one cell apart at semicolons, bars and ends of lines, and
// at what else can only part them.
func (l *lane) split(text string) []string {
	items := make([]string, 0, 1+strings.Count(text, ";")+strings.Count(text, "|"))
	for text != "" {
		item := text
		if i := strings.IndexAny(text, ";|\n\r\v\u2028"); i >= 0 {
			_, n := utf8.DecodeRuneInString(text[i:])
			item, text = text[:i], text[i+n:]
		} else {
			text = ""
		}
		items = l.with(items, item)
	}
	return items
}

// with adds an item, or what it parts into.
func (l *lane) with(items []string, item string) []string {
	if item = trim(item); item == "" {
		return items
	}
	if parts := l.parted(item); parts != nil {
		return append(items, parts...)
	}
	return append(items, l.chosen(item))
}

// refusedList names the first item that the schema does not accept.
func (l *lane) refusedList(items []string, text string) *fault {
	for _, item := range items {
		if !l.col.judge.words([]string{item}) {
			f := l.refused(anyList([]string{item}), item)
			if l.col.field.Choices != nil && strings.ContainsAny(item, ",/+") {
				f.do(`separate the items with ";": ` + strings.Join(strings.FieldsFunc(item, func(r rune) bool { return strings.ContainsRune(",/+", r) }), ";"))
			}
			return f
		}
	}
	return l.refused(anyList(items), text)
}
