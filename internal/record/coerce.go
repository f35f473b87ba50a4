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
		s := l.chosen(text)
		if !l.col.judge.word(s) {
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

// toYesNo takes yes and no in the words people use for them.
func (l *lane) toYesNo(dst *quantity.YesNo, sh shape, text string) *fault {
	if sh != isText && sh != isBool {
		return l.refused(plainValue(sh, text), text)
	}
	v, err := quantity.ParseYesNo(text)
	if err != nil {
		return l.unread(err, text)
	}
	if yes := v == quantity.IsYes; !l.col.judge.value(yes) {
		return l.refused(yes, text)
	}
	*dst = v
	return nil
}

// toNumber takes a plain number, with a point or a decimal comma.
func (l *lane) toNumber(dst *quantity.Number, sh shape, text string) *fault {
	n := text
	if sh == isText {
		var ok bool
		if n, ok = numberText(text); !ok {
			if thousands(text) {
				return l.fault("thousands", text, "could be read two ways").do("write it without a comma or point between the thousands")
			}
			return l.refused(text, text)
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
		n, number = numberText(text)
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
	f := l.toList(&dst.List, sh, text)
	if f == nil {
		dst.Count = quantity.Number{Value: float64(len(dst.Items)), Written: true}
	}
	return f
}

// numberText brings a number as people type it to the form that JSON has: no plus
// sign, no zeros in front, a point. It refuses what could mean thousands.
func numberText(s string) (string, bool) {
	sign := ""
	if s != "" && (s[0] == '-' || s[0] == '+') {
		if s[0] == '-' {
			sign = "-"
		}
		s = s[1:]
	}
	whole, decimals, cut := strings.Cut(s, ".")
	if !cut {
		whole, decimals, cut = strings.Cut(s, ",")
		if cut && thousands(s) {
			return "", false
		}
	}
	if whole == "" || len(s) > 40 || !digits(whole) || cut && (decimals == "" || !digits(decimals)) {
		return "", false
	}
	if whole = strings.TrimLeft(whole, "0"); whole == "" {
		whole = "0"
	}
	if cut {
		whole += "." + decimals
	}
	return sign + whole, true
}

// thousands is true for "1,500" and "12.500.000": commas, or several points, before groups of three digits.
func thousands(s string) bool {
	for _, mark := range []string{",", ".", " ", "\u00a0", "\u202f", "'"} {
		groups := strings.Split(s, mark)
		if len(groups) < 2 || mark == "." && len(groups) == 2 || len(groups[0]) > 3 || !digits(groups[0]) || groups[0][0] == '0' {
			continue
		}
		all := true
		for _, g := range groups[1:] {
			all = all && len(g) == 3 && digits(g)
		}
		if all {
			return true
		}
	}
	return false
}

func digits(s string) bool {
	for i := range len(s) {
		if s[i] < '0' || s[i] > '9' {
			return false
		}
	}
	return s != ""
}

// sensibleNumber keeps numbers that would take long to compare, such as 1e999999999, from the schemas.
func sensibleNumber(s string) bool {
	if len(s) > 40 {
		return false
	}
	i := strings.IndexAny(s, "eE")
	if i < 0 {
		return true
	}
	e, err := strconv.Atoi(strings.TrimPrefix(s[i+1:], "+"))
	return err == nil && -300 <= e && e <= 300
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
