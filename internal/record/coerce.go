package record

import (
	"encoding/json"
	"math"
	"strconv"
	"strings"

	"footing/internal/quantity"
)

// toText takes words, ids and choices, and what rules hold as words.
func (l *lane) toText(dst *string, sh shape, text string) *fault {
	f := l.col.field
	switch {
	case sh == isText, sh == isNumber, sh == isBool && f.Choices != nil:
		if l.silent(text) {
			return nil
		}
		s := l.chosen(text)
		if !l.col.judge.word(s) {
			if f := l.col.field; f.Choices != nil && crossed(text) {
				return l.fault("cross", text, "could be a tick or a cross").do("write " + orList(f.Choices))
			}
			if c, of := l.made(text); c != "" {
				*dst = c
				f := l.fault("more-than-"+c+"-"+slug(of), text, "says more than which it is").do("write " + c + " alone, and " + of + " under material")
				f.kept, f.meanwhile, f.material = true, "read as "+c+", with "+of+" as material where that is blank", of
				return f
			}
			if c, _ := l.named(text); c != "" {
				return l.fault("beside-"+c, text, "says more than which it is").do("write " + c + " alone, and the other words in their own column or under note")
			}
			return l.refused(s, text)
		}
		if l.col.means != nil {
			if f := l.col.means(l, s); f != nil {
				return f
			}
		}
		*dst = s
		return nil
	case f.Form == "value", f.Form == "conditions":
		return l.toWords(dst, sh, text)
	}
	return l.refused(plainValue(sh, text), text)
}

// crossed is true for a cross, with which some tick a box and others strike it out.
func crossed(text string) bool {
	switch text {
	case "x", "X", "✗", "✘", "☒", "×", "❌":
		return true
	}
	return false
}

// toWords holds the yes/no, list or names with words of a rule as one text: "a; b" or "a=b; c=d".
func (l *lane) toWords(dst *string, sh shape, text string) *fault {
	v := plainValue(sh, text)
	if !l.col.judge.value(v) {
		return l.refused(v, text)
	}
	var parts []string
	switch sh {
	case isArray:
		eachItem(text, func(sh shape, item string) { parts = append(parts, item) })
	case isObject:
		eachMember(text, func(name string, sh shape, item string) { parts = append(parts, name+"="+item) })
	default:
		parts = []string{text}
	}
	*dst = strings.Join(parts, "; ")
	return nil
}

// toNumber takes a plain number, with a point or a decimal comma.
func (l *lane) toNumber(dst *quantity.Number, sh shape, text string) *fault {
	n := text
	if sh == isText {
		if l.unsaid(text) {
			return nil
		}
		var ok bool
		if n, ok = l.numberIn(text); !ok {
			return l.noNumber(text)
		}
	} else if sh != isNumber {
		return l.refused(plainValue(sh, text), text)
	}
	if !l.col.judge.number(n) {
		return l.refused(json.Number(n), text)
	}
	v, err := strconv.ParseFloat(n, 64)
	if err != nil || math.IsInf(v, 0) {
		return l.fault("number", text, "is beyond any number that a record can hold")
	}
	*dst = quantity.Number{Value: v, Written: true}
	return nil
}

// toCount takes a number of things, or the list of them.
func (l *lane) toCount(dst *quantity.CountOrList, sh shape, text string) *fault {
	n, number := text, sh == isNumber
	if sh == isText {
		if l.unsaid(text) {
			return nil
		}
		n, number = l.numberIn(text)
	}
	if number {
		if !l.col.judge.number(n) {
			return l.refused(json.Number(n), text)
		}
		v, err := strconv.ParseFloat(n, 64)
		if err != nil {
			return l.refused(text, text)
		}
		dst.Count = quantity.Number{Value: v, Written: true}
		return nil
	}
	if n, words, ok := strings.Cut(text, " "); ok && sh == isText && digits(n) && !strings.ContainsAny(words, ";|0123456789") {
		return l.fault("count", text, "is neither a number alone nor a list of ids").do("write the number alone: " + n)
	}
	var list quantity.List
	f := l.toList(&list, sh, text)
	if f == nil && sh == isText && len(list.Items) == 1 && !oneID(list.Items[0]) {
		return l.fault("one-or-several", text, "is neither a number alone nor a list of ids").do(`write the number alone, or each id with ";" between`)
	}
	if dst.List = list; f == nil {
		dst.Count = quantity.Number{Value: float64(len(dst.Items)), Written: true}
	}
	return f
}

// plainValue is a value as the schemas' library takes it.
func plainValue(sh shape, text string) any {
	switch sh {
	case isNumber:
		return json.Number(text)
	case isBool:
		return text == "true"
	case isNull:
		return nil
	case isArray:
		list := []any{}
		eachItem(text, func(sh shape, item string) { list = append(list, plainValue(sh, item)) })
		return list
	case isObject:
		object := map[string]any{}
		eachMember(text, func(name string, sh shape, item string) { object[name] = plainValue(sh, item) })
		return object
	}
	return text
}
