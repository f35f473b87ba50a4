package record

import "strings"

// jsonEncoder writes a list of rows, one a line.
type jsonEncoder struct{}

func (jsonEncoder) begin(w *outFile) error { return w.text("[") }

func (jsonEncoder) row(w *outFile, first bool, row outRow) error {
	lead := ",\n  "
	if first {
		lead = "\n  "
	}
	return w.text(lead + rowJSON(row.members))
}

func (jsonEncoder) end(w *outFile, _ bool) error { return w.text("\n]\n") }

// linesEncoder writes JSON Lines.
type linesEncoder struct{}

func (linesEncoder) begin(*outFile) error { return nil }

func (linesEncoder) row(w *outFile, _ bool, row outRow) error {
	return w.text(rowJSON(row.members) + "\n")
}

func (linesEncoder) end(*outFile, bool) error { return nil }

// oneLine is a value as JSON in one line, however it was spaced.
func (v value) oneLine() string {
	var b strings.Builder
	v.flow(&b, jsonOf)
	return b.String()
}

// flow writes a value in brackets and commas, with strings as quote writes them: so does
// JSON, and YAML too.
func (v value) flow(b *strings.Builder, quote func(string) string) {
	n := 0
	item := func(name string, in value) {
		if n++; n > 1 {
			b.WriteString(", ")
		}
		b.WriteString(name)
		in.flow(b, quote)
	}
	switch v.shape {
	case isText:
		b.WriteString(quote(v.text))
	case isArray:
		b.WriteByte('[')
		eachItem(v.text, func(sh shape, text string) { item("", value{sh, text}) })
		b.WriteByte(']')
	case isObject:
		b.WriteByte('{')
		eachMember(v.text, func(name string, sh shape, text string) { item(quote(name)+": ", value{sh, text}) })
		b.WriteByte('}')
	default:
		b.WriteString(v.json())
	}
}
