package record

import (
	"encoding/json"
	"fmt"
	"strconv"
	"strings"
	"unicode"

	"footing/schemas"
)

// fault is what is wrong with one value or row.
type fault struct {
	cause   string // a short name; faults with the same one and the same allowed text are told together
	found   string // the value as written, shortened
	says    string // follows the value: "has no unit"
	allowed string
	todo    string
	kept    bool // the value was filled all the same; the fault is of what stands beside it
	// What becomes of it meanwhile, where it is kept: "read as gloves". Blank for a day, which
	// is read without the clock after it.
	meanwhile string
	material  string // that the value says too, of a thing that is kept
	group     *group // in which it was last told
}

func newFault(cause, says string) *fault { return &fault{cause: cause, says: says} }

// fault makes a fault of a value of the lane.
func (l *lane) fault(cause, found, says string) *fault {
	return &fault{cause: cause, found: shorten(found), says: says}
}

func (f *fault) allow(words string) *fault { f.allowed = words; return f }
func (f *fault) do(words string) *fault    { f.todo = words; return f }

// refused makes a fault of a value that the schema does not accept. v is what was
// judged, text what was written.
func (l *lane) refused(v any, text string) *fault {
	b, f := l.col.judge.why(v), l.col.field
	if f.Choices != nil && (b.keyword == "enum" || b.keyword == "type" || b.keyword == "const" || b.keyword == "pattern") {
		return l.noChoice(text)
	}
	limit := fmt.Sprint(b.limit)
	switch b.keyword {
	case "maxLength":
		return l.fault("too-long", text, "is longer than "+limit+" characters").allow("at most " + limit + " characters").do("shorten it, or keep the rest elsewhere and say where under kept_at")
	case "minLength", "minItems":
		return l.fault("too-short", text, "is shorter than "+limit).allow("at least " + limit)
	case "minimum":
		return l.fault("too-small", text, "is less than "+limit).allow(limit + " or more").do("look at the original and write the number meant")
	case "exclusiveMinimum":
		return l.fault("too-small", text, "is not more than "+limit).allow("more than " + limit).do("look at the original and write the number meant")
	case "maximum", "exclusiveMaximum":
		return l.fault("too-large", text, "is more than "+limit).allow("at most " + limit).do("look at the original and write the number meant")
	case "maxItems":
		return l.fault("too-many", text, "has more than "+limit+" items").allow("at most " + limit + " items")
	case "uniqueItems":
		return l.fault("twice", text, "names something twice").do("name each once")
	case "type":
		_, number := numberText(text)
		if b.limit == "integer" && (number || f.Form == schemas.Number) {
			f := l.fault("whole-number", text, "is not a whole number").allow("a whole number").do("write the number alone, in the form " + l.example())
			if number {
				f.do("write it without decimals")
			}
			return f
		}
	}
	form := f.Form
	if form == schemas.List && b.at != "" {
		form = f.Item
	}
	words, ok := formWords[form]
	if !ok {
		words = "written as this field is"
	}
	fault := l.fault("form", text, "is not "+words).allow(words)
	if e := l.example(); e != "" {
		fault.do("look at what the paper says, and write it in the form " + e)
	}
	return fault
}

// formWords say what each form of value is.
var formWords = map[schemas.Form]string{
	schemas.Text: "plain words", schemas.ID: "a short name or a number", schemas.Ref: "the id of another row",
	schemas.Day: "a date", schemas.Moment: "a date, with or without the time", schemas.YesNo: "yes or no",
	schemas.Number: "a number", schemas.List: "a list", schemas.CountOrList: "a number, or a list of ids",
	schemas.Object: "a group of names with values", schemas.Objects: "a list of groups of names with values",
	schemas.Temperature: "a temperature", schemas.Difference: "a difference of temperature", schemas.Pressure: "a pressure",
	schemas.PressureRate: "a change of pressure in a time", schemas.Span: "a length of time", schemas.Length: "a length",
	schemas.Percent: "a share in %", schemas.Value: "words, a number, yes or no, or a list of these",
	schemas.Conditions: "words, or names with words",
}

// so many choices are told again where one of them was found that may have been meant.
const fewChoices = 10

// noChoice says which choices there are, and which may have been meant.
func (l *lane) noChoice(text string) *fault {
	names := l.col.field.Choices
	f := l.fault("choice", text, "is not one of the choices").allow(orList(names))
	if open := l.col.field.Open; open != "" {
		f.allow(f.allowed + `, or "` + open + `" with words of your own`)
	}
	f.do("write " + f.allowed)
	switch near := nearest(names, text); {
	case near != "" && len(names) > fewChoices:
		f.do(`did you mean "` + near + `"?`)
	case near != "":
		f.do("write " + f.allowed + ` (did you mean "` + near + `"?)`)
	}
	return f
}

// orList joins names as in "a, b or c".
func orList(names []string) string {
	if len(names) < 2 {
		return strings.Join(names, "")
	}
	return strings.Join(names[:len(names)-1], ", ") + " or " + names[len(names)-1]
}

// example is a value of the field as one would write it in a cell, in quotation marks.
func (l *lane) example() string {
	for _, e := range l.col.field.Examples {
		switch e := e.(type) {
		case string:
			return strconv.Quote(e)
		case bool:
			return map[bool]string{true: "yes", false: "no"}[e]
		case float64:
			return strconv.FormatFloat(e, 'f', -1, 64)
		case []any:
			var words []string
			for _, x := range e {
				if s, ok := x.(string); ok {
					words = append(words, s)
				}
			}
			if len(words) == len(e) {
				return strconv.Quote(strings.Join(words, "; "))
			}
		}
		if l.sheet != nil && l.sheet.src != nil && l.sheet.src.format == formatYAML {
			return l.col.field.Name + ": " + inFlow(l.col.field, e)
		}
		if b, err := json.Marshal(e); err == nil {
			return string(b)
		}
	}
	return ""
}

// inFlow writes a group of names with values, or a list of such, as a YAML file has it on
// one line: {temperature: °C, pressure: psi gauge}.
func inFlow(f *schemas.Field, v any) string {
	var parts []string
	switch v := v.(type) {
	case []any:
		for _, x := range v {
			parts = append(parts, inFlow(f, x))
		}
		return "[" + strings.Join(parts, ", ") + "]"
	case map[string]any:
		for _, in := range f.Fields {
			if x, ok := v[in.Name]; ok {
				parts = append(parts, in.Name+": "+inFlow(in, x))
			}
		}
		return "{" + strings.Join(parts, ", ") + "}"
	case string:
		if strings.ContainsAny(v, ",:[]{}#\"'") {
			return strconv.Quote(v)
		}
	}
	return fmt.Sprint(v)
}

const longestShown = 60

// shorten brings a value to at most 60 characters, with control characters escaped.
func shorten(s string) string {
	var b strings.Builder
	n := 0
	for _, r := range s {
		if n++; n > longestShown {
			b.WriteString("…")
			break
		}
		if unicode.IsPrint(r) || r == '\u00a0' || r == '\u202f' {
			b.WriteRune(r)
		} else {
			q := strconv.QuoteRune(r)
			b.WriteString(q[1 : len(q)-1])
		}
	}
	return b.String()
}

// slug makes a short name of words: "has no unit" becomes "no-unit".
func slug(words string) string {
	for _, verb := range []string{"has ", "is ", "does "} {
		words = strings.TrimPrefix(words, verb)
	}
	return strings.Map(func(r rune) rune {
		switch {
		case r == ' ':
			return '-'
		case r >= 'a' && r <= 'z' || r >= '0' && r <= '9' || r == '-':
			return r
		}
		return -1
	}, strings.ToLower(words))
}
