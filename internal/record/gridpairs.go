package record

import (
	"strings"

	"footing/internal/workbook"
	"footing/schemas"
)

// inPairs begins a table of two columns, name and value, where the first rows of a single
// document are written so rather than under headings.
func (l *layout) inPairs() bool {
	across, down := 0, map[int]int{}
	for i := range l.queue {
		across = max(across, len(knownNames(&l.queue[i], l.own.kind)))
		for _, c := range l.queue[i].cells {
			if pairField(l.own.kind, c.Text) != nil {
				down[c.Column]++
				break
			}
		}
	}
	name, most := 0, 0
	for column, n := range down {
		if n > most || n == most && column < name {
			name, most = column, n
		}
	}
	if most == 0 || across > most {
		return false
	}
	value := map[int]int{}
	for i := range l.queue {
		for _, c := range l.queue[i].cells {
			if c.Column > name {
				value[c.Column]++
				break
			}
		}
	}
	at := name + 1
	for column, n := range value {
		if n > value[at] || n == value[at] && column < at {
			at = column
		}
	}
	t := &gridTable{file: l.file, tab: l.tab.name, plan: l.own, pairs: true, firstColumn: name, lastColumn: at, columns: []gridColumn{{at: name}, {at: at, from1904: l.tab.from1904}}}
	l.tables, l.open, l.main = append(l.tables, t), []*gridTable{t}, -1
	return true
}

// knownNames are the fields that a row has headings of.
func knownNames(line *gridLine, kind *schemas.Kind) map[string]bool {
	names := map[string]bool{}
	for _, c := range line.cells {
		if f := fieldOf(kind, trim(c.Text)); f != nil {
			names[f.Name] = true
		}
	}
	return names
}

// pairField is the field that a name in the first of two columns means: "units.temperature".
func pairField(kind *schemas.Kind, name string) *schemas.Field {
	head, deep, nested := strings.Cut(trim(name), ".")
	f := fieldOf(kind, trim(head))
	for nested && f != nil {
		head, deep, nested = strings.Cut(deep, ".")
		if digits(head) {
			continue
		}
		f, _ = f.Match(head)
	}
	return f
}

// takePair takes in one row of name and value. What stands above the first name that is
// known is a title.
func (l *layout) takePair(t *gridTable, line *gridLine) error {
	name := ""
	for _, c := range line.cells {
		if c.Column == t.columns[0].at {
			name = trim(c.Text)
		}
	}
	f := pairField(l.own.kind, name)
	if len(t.rows) == 0 && f == nil {
		l.notes.above(line)
		return nil
	}
	if name == "" { // words beside a value, or a value that goes on in the next row
		for _, c := range line.cells {
			if c.Column == t.columns[1].at {
				l.notes.add(noteNameless, line.number, c.Column, trim(c.Text))
			}
		}
		l.strays(line)
		return nil
	}
	t.first = max(t.first, 1)
	t.columns[1].field = f
	was := len(t.text)
	t.add(line)
	l.strays(line)
	return l.budget(len(t.text) - was)
}

// failedPairs tells of the values of a document in two columns that are lost.
func (t *gridTable) failedPairs(name string) (list []Problem) {
	for _, o := range t.odd {
		if o.what.lost() && o.column == 1 {
			row := int(t.rows[o.row].number)
			cell := workbook.Name(t.columns[1].at, row)
			cause, words, todo := o.what.says()
			list = append(list, Problem{File: name, Kind: t.plan.kind.Name, Cause: cause, Effect: Dropped, Found: o.text, Todo: todo, Values: []string{o.text},
				Places:   []Place{{File: t.file, Sheet: t.tab, Row: row, Cell: cell}},
				Sentence: name + ", cell " + cell + `: "` + o.text + `" ` + words + "; " + todo + "; until then it counts as not written"})
		}
	}
	return list
}
