package record

import (
	"strconv"
	"strings"
	"unicode/utf16"
	"unicode/utf8"
)

// The deepest nesting that a row may have.
const deepest = 200

// walker goes through JSON that is known to be well formed.
type walker struct {
	s    string
	i    int
	deep bool // something is nested deeper than allowed
	torn bool // an escape stands for half a character
	from int  // of the value read last, without quotation marks
	to   int
}

func (w *walker) space() {
	for w.i < len(w.s) && (w.s[w.i] == ' ' || w.s[w.i] == '\n' || w.s[w.i] == '\t' || w.s[w.i] == '\r') {
		w.i++
	}
}

// more is true if another member or item follows; it steps over what lies before it.
func (w *walker) more() bool {
	w.space()
	if w.i >= len(w.s) || w.s[w.i] != ',' && w.s[w.i] != '[' && w.s[w.i] != '{' {
		return false
	}
	w.i++
	w.space()
	return w.i < len(w.s) && w.s[w.i] != ']' && w.s[w.i] != '}'
}

// name reads the name of a member and the colon after it.
func (w *walker) name() string {
	_, name := w.value()
	w.space()
	w.i++
	w.space()
	return name
}

// value reads the value at hand. The text of a string is without its escapes, that of
// an array or object is its JSON.
func (w *walker) value() (sh shape, text string) {
	s, i := w.s, w.i
	switch s[i] {
	case '"':
		w.from = i + 1
		plain := true
		for i++; s[i] != '"'; i++ {
			if s[i] == '\\' {
				plain = false
				i++
			}
		}
		w.to, w.i = i, i+1
		if text = s[w.from:i]; !plain {
			var whole bool
			if text, whole = unescape(text); !whole {
				w.torn = true
			}
		}
		return isText, text
	case '{', '[':
		sh = isObject
		if s[i] == '[' {
			sh = isArray
		}
		w.from = i
		w.i = w.skip(i)
		w.to = w.i
		return sh, s[w.from:w.to]
	case 't', 'f':
		sh = isBool
	case 'n':
		sh = isNull
	default:
		sh = isNumber
	}
	w.from = i
	for i < len(s) && s[i] > ' ' && s[i] != ',' && s[i] != ']' && s[i] != '}' {
		i++
	}
	w.i, w.to = i, i
	return sh, s[w.from:i]
}

// skip finds the end of the array or object that begins at i.
func (w *walker) skip(i int) int {
	depth := 0
	for ; i < len(w.s); i++ {
		switch w.s[i] {
		case '"':
			for i++; w.s[i] != '"'; i++ {
				if w.s[i] == '\\' {
					i++
				}
			}
		case '{', '[':
			if depth++; depth >= deepest {
				w.deep = true
			}
		case '}', ']':
			if depth--; depth == 0 {
				return i + 1
			}
		}
	}
	return i
}

// unescape gives the text of a JSON string; whole is false if half a character stood in it.
func unescape(s string) (text string, whole bool) {
	b := make([]byte, 0, len(s))
	whole = true
	for i := 0; i < len(s); i++ {
		if s[i] != '\\' {
			b = append(b, s[i])
			continue
		}
		i++
		switch s[i] {
		case 'b':
			b = append(b, '\b')
		case 'f':
			b = append(b, '\f')
		case 'n':
			b = append(b, '\n')
		case 'r':
			b = append(b, '\r')
		case 't':
			b = append(b, '\t')
		case 'u':
			r := hex4(s[i+1:])
			i += 4
			if utf16.IsSurrogate(r) {
				low := utf8.RuneError
				if strings.HasPrefix(s[i+1:], `\u`) {
					low = utf16.DecodeRune(r, hex4(s[i+3:]))
				}
				if low == utf8.RuneError {
					whole = false
				} else {
					i += 6
				}
				r = low
			}
			b = utf8.AppendRune(b, r)
		default:
			b = append(b, s[i])
		}
	}
	return string(b), whole
}

func hex4(s string) rune {
	n, err := strconv.ParseUint(s[:min(4, len(s))], 16, 32)
	if err != nil {
		return utf8.RuneError
	}
	return rune(n)
}

// eachItem goes through the items of a JSON array.
func eachItem(array string, do func(sh shape, text string)) {
	for w := (walker{s: array}); w.more(); {
		do(w.value())
	}
}

// eachMember goes through the members of a JSON object.
func eachMember(object string, do func(name string, sh shape, text string)) {
	for w := (walker{s: object}); w.more(); {
		name := w.name()
		sh, text := w.value()
		do(name, sh, text)
	}
}
