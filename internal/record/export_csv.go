package record

import "strings"

// csvMark tells a spreadsheet program that the text is UTF-8.
const csvMark = "\ufeff"

// csvEncoder writes rows as CSV in the way of RFC 4180, but with plain line feeds.
type csvEncoder struct{ cs *columns }

func (e *csvEncoder) begin(w *outFile) error {
	heads := make([]string, len(e.cs.list))
	for i, o := range e.cs.list {
		heads[i] = csvCell(o.name)
	}
	return w.text(csvMark + csvHead(e.cs, strings.Join(heads, ",")+"\n"))
}

// csvHead puts before the headings which delimiter the file has, where a heading holds
// so many others that it could be mistaken.
func csvHead(cs *columns, line string) string {
	for _, o := range cs.list {
		if o.col == nil && strings.ContainsAny(o.name, ";\t|") {
			return "sep=,\n" + line
		}
	}
	return line
}

func (e *csvEncoder) row(w *outFile, _ bool, row outRow) error {
	at := make(map[string]string, len(row.members))
	for _, m := range row.members {
		at[m.name] = m.value.cellText(m.col)
	}
	var b strings.Builder
	for i, o := range e.cs.list {
		if i > 0 {
			b.WriteByte(',')
		}
		b.WriteString(csvCell(at[o.name]))
	}
	b.WriteByte('\n')
	return w.text(b.String())
}

func (e *csvEncoder) end(*outFile, bool) error { return nil }

// csvCell puts a text into quotation marks where it needs them.
func csvCell(s string) string {
	if !strings.ContainsAny(s, ",;\t|\"\r\n") {
		return s
	}
	return `"` + strings.ReplaceAll(s, `"`, `""`) + `"`
}
