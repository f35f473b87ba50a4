package workbook

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/xuri/excelize/v2"
)

// listsSheet holds the choices of all drop-downs: within a formula they would be cut at
// 255 characters.
const listsSheet = "_lists"

// lists are the choices that were put down so far.
type lists struct {
	at      map[string]string // choices, joined → their range
	columns [][]string
}

// add gives the range of some choices.
func (l *lists) add(choices []string) string {
	key := strings.Join(choices, "\x00")
	if at, ok := l.at[key]; ok {
		return at
	}
	letters := Letters(len(l.columns))
	at := fmt.Sprintf("%s!$%s$1:$%s$%d", listsSheet, letters, letters, len(choices))
	l.at[key] = at
	l.columns = append(l.columns, choices)
	return at
}

// writeLists writes the sheet of choices, which no one sees.
func (b *builder) writeLists() error {
	if len(b.lists.columns) == 0 {
		return nil
	}
	if _, err := b.file.NewSheet(listsSheet); err != nil {
		return err
	}
	for i, choices := range b.lists.columns {
		for j, c := range choices {
			if err := b.file.SetCellStr(listsSheet, Name(i, j+1), marked(c)); err != nil {
				return err
			}
		}
	}
	return b.file.SetSheetVisible(listsSheet, false, true)
}

// How much of a prompt is shown (Excel's limits).
const (
	promptTitle = 32
	promptText  = 255
)

// validate gives a column its note when a cell is entered, and its drop-down.
func (b *builder) validate(t *Table, i int) error {
	c := t.Columns[i]
	v := excelize.NewDataValidation(true)
	v.Sqref = fmt.Sprintf("%s:%s", Name(i, t.top()+1), Name(i, mostRows))
	v.ShowErrorMessage = false
	if c.Note != "" {
		v.SetInput(cut(c.Heading, promptTitle), cut(c.Note, promptText))
	}
	switch from := b.source(c.From); {
	case from != "":
		v.SetSqrefDropList(from)
	case len(c.Choices) > 0:
		v.SetSqrefDropList(b.lists.add(c.Choices))
		if !c.Open {
			v.SetError(excelize.DataValidationErrorStyleWarning, "Not on the list",
				"This is none of the words on the list. It may still be what you mean: keep it if you are sure.")
		}
	case c.Note == "":
		return nil
	}
	return b.file.AddDataValidation(t.Name, v)
}

// source is the formula that lists what is typed in a column of another table, "" where
// there is no such column. It ends with what is typed, not with the sheet, so that the
// list has no thousand blanks at its end.
func (b *builder) source(from *Source) string {
	if from == nil {
		return ""
	}
	for i := range b.tables {
		t := &b.tables[i]
		if t.Name != from.Table {
			continue
		}
		at := slices.IndexFunc(t.Columns, func(c Column) bool { return c.Heading == from.Heading })
		if at < 0 {
			return ""
		}
		sheet := forFormula.Replace(quoted(t.Name))
		letters := Letters(at)
		first := t.top() + 1
		last := min(mostRows, first+max(t.count(), listed)-1)
		return fmt.Sprintf("OFFSET(%s!$%s$%d,0,0,MAX(1,COUNTA(%s!$%s$%d:$%s$%d)),1)", sheet, letters, first, sheet, letters, first, letters, last)
	}
	return ""
}

// listed is how many rows of another table a drop-down looks through at least.
const listed = 2000

// quoted is a sheet's name as formulas have it.
func quoted(sheet string) string { return "'" + strings.ReplaceAll(sheet, "'", "''") + "'" }

// forFormula escapes what the library puts into XML as it is.
var forFormula = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;")

// cut keeps the first n characters.
func cut(s string, n int) string {
	if utf8.RuneCountInString(s) <= n {
		return s
	}
	return string([]rune(s)[:n-1]) + "…"
}
