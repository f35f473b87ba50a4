package record

import (
	"slices"
	"strings"

	"footing/internal/quantity"
	"footing/schemas"
)

// toList takes a list of JSON or YAML, or the items of one cell.
func (l *lane) toList(dst *quantity.List, sh shape, text string) *fault {
	var items []string
	switch sh {
	case isText, isNumber:
		if all, done := l.wholeList(text, dst); done {
			return all
		}
		if schemas.Fold(text) != "none" || !l.noneIsNothing() {
			if items = l.split(text); len(items) == 0 {
				return l.fault("no-item", text, "holds no item").do(`write "none" if there is none, or leave it blank`)
			}
		}
	case isArray:
		whole := true
		eachItem(text, func(sh shape, item string) {
			switch sh {
			case isText, isNumber:
				if item = trim(item); item != "" {
					items = append(items, l.chosen(item))
				}
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
		if all, done := l.wholeList(items[0], dst); done {
			return all
		}
		if schemas.Fold(items[0]) == "none" && l.noneIsNothing() {
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

// noneIsNothing is true unless "none" is itself one of the choices.
func (l *lane) noneIsNothing() bool {
	return !slices.Contains(l.col.field.Choices, "none")
}

// split takes the items of one cell apart at semicolons and bars.
func (l *lane) split(text string) []string {
	items := make([]string, 0, 1+strings.Count(text, ";")+strings.Count(text, "|"))
	for text != "" {
		item := text
		if i := strings.IndexAny(text, ";|"); i >= 0 {
			item, text = text[:i], text[i+1:]
		} else {
			text = ""
		}
		if item = trim(item); item != "" {
			items = append(items, l.chosen(item))
		}
	}
	return items
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
