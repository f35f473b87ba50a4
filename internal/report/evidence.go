package report

import (
	"slices"
	"strconv"
	"strings"

	"footing/internal/result"
)

// mostRows is how many places a report prints for one finding; audit.json holds all.
const mostRows = 20

// exhibited is one table: what a fence says in lines and the page in cells.
type exhibited struct {
	Caption string
	Columns []string
	Rows    [][]string
	Rest    string // a last line under the table
	bare    bool   // cells explain themselves without their headings
	marked  bool   // the field in what is written there is marked
}

// lines writes the table as readable text, a numbered line a row.
func (x *exhibited) lines() []string {
	var out []string
	for i, row := range x.Rows {
		var cells []string
		for j, c := range row {
			if c == "" {
				continue
			}
			if j > 0 && !x.bare {
				c = strings.ToLower(x.Columns[j]) + ": " + c
			}
			cells = append(cells, c)
		}
		out = append(out, strconv.Itoa(i+1)+". "+strings.Join(cells, " · "))
	}
	if x.Rest != "" {
		out = append(out, "… "+x.Rest)
	}
	return out
}

// tidy makes every cell one plain line and drops columns that hold nothing.
func (x *exhibited) tidy() *exhibited {
	keep := make([]bool, len(x.Columns))
	for i, row := range x.Rows {
		cells := make([]string, len(x.Columns))
		for j := range cells {
			if j < len(row) {
				cells[j] = plain(row[j])
			}
			keep[j] = keep[j] || cells[j] != ""
		}
		x.Rows[i] = cells
	}
	only := func(cells []string) []string {
		var out []string
		for j, c := range cells {
			if keep[j] {
				out = append(out, c)
			}
		}
		return out
	}
	for i := range x.Rows {
		x.Rows[i] = only(x.Rows[i])
	}
	for j := range x.Columns {
		x.Columns[j] = plain(x.Columns[j])
	}
	x.Columns = only(x.Columns)
	return x
}

// writtenThere heads what stands in a place, as the field and its value.
const writtenThere = "Written there"

// evidence shows the first places of a finding and counts the rest.
func evidence(f *result.Finding, number int) *exhibited {
	x := &exhibited{
		Caption: "Where finding " + strconv.Itoa(number) + " is written",
		Columns: []string{"Where", "Record", writtenThere, "Note"},
		bare:    true,
		marked:  true,
	}
	for i, e := range f.Evidence {
		if i == mostRows {
			x.Rest = "and " + strconv.Itoa(len(f.Evidence)-mostRows) + " more; every one is in audit.json"
			break
		}
		x.Rows = append(x.Rows, []string{where(e), record(e), saying(e), e.Note})
	}
	if len(x.Rows) == 0 {
		x.Rest = "no single row: the finding rests on the records taken together"
	}
	return x.tidy()
}

// kindTraces is the kind of a place in a data-logger file.
const kindTraces = "traces"

// where a person looks: file, row or cell, column, and the exact character.
func where(e result.Evidence) string {
	if e.Kind == kindTraces { // its lines are all that can be looked up in it
		if e.Line > 0 {
			return e.File + " line " + strconv.Itoa(e.Line)
		}
		return e.File
	}
	var b strings.Builder
	b.WriteString(e.File)
	if e.Sheet != "" {
		b.WriteString(", sheet " + e.Sheet)
	}
	if e.Cell != "" {
		b.WriteString(", cell " + e.Cell)
	} else if e.Row > 0 {
		b.WriteString(", row " + strconv.Itoa(e.Row))
	}
	switch {
	case e.Heading != "":
		b.WriteString(", column “" + e.Heading + "”")
	case e.Field != "":
		b.WriteString(", " + e.Field)
	}
	if e.Line > 0 {
		b.WriteString(" (line " + strconv.Itoa(e.Line))
		if e.Column > 0 {
			b.WriteString(", character " + strconv.Itoa(e.Column))
		}
		b.WriteString(")")
	}
	return b.String()
}

func record(e result.Evidence) string {
	if e.ID == "" || e.Kind == kindTraces || strings.HasPrefix(e.ID, e.File+" ") {
		return "" // what has no id of its own is known by its place, which stands beside it
	}
	return strings.TrimSpace(singular(e.Kind) + " " + ident(e.Kind, e.ID))
}

func saying(e result.Evidence) string {
	value := written(e)
	switch {
	case e.Field == "":
		return value
	case value == "":
		return e.Field + ": nothing written"
	}
	return e.Field + ": " + value
}

// numbers shows what a check worked out.
func numbers(figures []result.Figure) *exhibited {
	x := &exhibited{Caption: "Numbers", Columns: []string{"Number", "Value", "Range"}}
	for _, f := range figures {
		between := ""
		switch {
		case f.Low != nil && f.High != nil:
			between = number(*f.Low) + " to " + number(*f.High)
		case f.Low != nil:
			between = "at least " + number(*f.Low)
		case f.High != nil:
			between = "at most " + number(*f.High)
		}
		if between != "" {
			between = strings.TrimSpace(between + " " + f.Unit)
		}
		x.Rows = append(x.Rows, []string{f.Name, strings.TrimSpace(number(f.Value) + " " + f.Unit), between})
	}
	return x.tidy()
}

// number writes at most three decimals, and no exponent below a million million.
func number(v float64) string {
	if v > -1e12 && v < 1e12 {
		s := strconv.FormatFloat(v, 'f', 3, 64)
		s = strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
		if s == "-0" {
			return "0"
		}
		return strings.Replace(s, "-", "−", 1)
	}
	return strconv.FormatFloat(v, 'g', 6, 64)
}

// mostLines is how many rows of an exhibit a report prints.
const mostLines = 100

// shown is the table of an exhibit.
func shown(e *result.Exhibit) *exhibited {
	x := &exhibited{Columns: slices.Clone(e.Columns)}
	x.Rows = slices.Clone(e.Rows[:min(len(e.Rows), mostLines)])
	if more := len(e.Rows) - mostLines; more > 0 {
		x.Rest = "and " + strconv.Itoa(more) + " more; every one is in audit.json"
	}
	return x.tidy()
}
