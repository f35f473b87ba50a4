package workbook

import (
	"fmt"
	"io"
	"iter"
	"slices"
	"strings"
	"unicode/utf16"
	"unicode/utf8"

	"github.com/xuri/excelize/v2"
)

// Table is one sheet to write.
type Table struct {
	Name    string   // of the sheet
	Title   string   // above the table, "" for none
	About   []string // lines below the title
	Columns []Column // none for a sheet of words alone
	Rows    [][]Cell // each cell goes to its Column by its Kind and Text; Unit and Formula are not used
	More    *Stream  // rows after Rows, made as they are written; nil for none
	Room    int      // empty rows after these that are formatted for typing; or FillPage
	Fixed   int      // columns on the left that stay in sight, and are printed on every page
}

// Stream are rows of a table that need not be held together. Each may be kept by its
// receiver only until the next; an error ends the writing.
type Stream struct {
	Count int // of rows
	Rows  iter.Seq2[[]Cell, error]
}

// FillPage is the Room of as many rows as the first printed page has place for.
const FillPage = -1

// Column is one column of a table.
type Column struct {
	Heading  string
	Note     string // what to write there, in the trade's words; "" for none
	Required bool
	Kind     Kind     // of the cells to type: Text, Number, Day, Moment, Clock or YesNo
	Width    float64  // in characters; 0 lets the heading decide
	Choices  []string // of its drop-down
	Open     bool     // other words may be typed too
	From     *Source  // the drop-down lists what is typed there; nil for none
}

// Source is a column of another table, by the name of the sheet and its heading.
type Source struct{ Table, Heading string }

// Limits of the format (ECMA-376 sets none; these are the ones that Excel documents).
const (
	mostRows    = 1_048_576
	mostColumns = 16_384
	mostText    = 32_767 // UTF-16 units in a cell
)

// Write writes a workbook. The same tables give the same bytes. It writes nothing where
// a table cannot be held: its error then names the sheet, and the cell or the limit.
func Write(w io.Writer, tables []Table) error {
	if err := fit(tables); err != nil {
		return err
	}
	b := &builder{file: excelize.NewFile(), tables: tables, lists: lists{at: map[string]string{}}}
	defer b.file.Close()
	if err := b.build(); err != nil {
		return err
	}
	return b.save(w)
}

// fit refuses what a workbook cannot hold.
func fit(tables []Table) error {
	if len(tables) == 0 {
		return fmt.Errorf("a workbook needs at least one sheet")
	}
	seen := map[string]bool{}
	for i := range tables {
		t := &tables[i]
		name := strings.ToLower(t.Name)
		switch {
		case t.Name == "" || utf8.RuneCountInString(t.Name) > 31 || strings.ContainsAny(t.Name, `:\/?*[]`) || strings.HasPrefix(t.Name, "'") || strings.HasSuffix(t.Name, "'"):
			return fmt.Errorf("%q cannot name a sheet: 1 to 31 characters, none of : \\ / ? * [ ], no apostrophe at its ends", t.Name)
		case seen[name] || name == listsSheet:
			return fmt.Errorf("two sheets cannot both be named %q", t.Name)
		case len(t.Columns) > mostColumns:
			return fmt.Errorf("sheet %s: %d columns are more than the %d that a sheet holds", t.Name, len(t.Columns), mostColumns)
		case t.top()+t.count()+t.Room > mostRows:
			return fmt.Errorf("sheet %s: %d rows are more than the %d that a sheet holds", t.Name, t.top()+t.count()+t.Room, mostRows)
		}
		seen[name] = true
		if err := t.fit(); err != nil {
			return err
		}
	}
	return nil
}

// fit refuses texts that no cell can hold.
func (t *Table) fit() error {
	for i, line := range append([]string{t.Title}, t.About...) {
		if err := t.fitText(0, i+1, line); err != nil {
			return err
		}
	}
	for i, c := range t.Columns {
		for _, text := range append([]string{c.Heading, c.Note}, c.Choices...) {
			if err := t.fitText(i, t.heading(), text); err != nil {
				return err
			}
		}
	}
	return nil
}

// fitRow refuses a row that the sheet cannot hold.
func (t *Table) fitRow(number int, row []Cell) error {
	for _, c := range row {
		if c.Column < 0 || c.Column >= len(t.Columns) {
			return fmt.Errorf("sheet %s, row %d: a cell stands in column %d of %d", t.Name, number, c.Column+1, len(t.Columns))
		}
		if err := t.fitText(c.Column, number, c.Text); err != nil {
			return err
		}
	}
	return nil
}

func (t *Table) fitText(column, row int, text string) error {
	if n := units(marked(text)); n > mostText {
		return fmt.Errorf("sheet %s, cell %s: a text of %d characters is longer than the %d that a cell holds", t.Name, Name(column, row), n, mostText)
	}
	return nil
}

// count is how many rows of data the table has.
func (t *Table) count() int {
	if t.More != nil {
		return len(t.Rows) + t.More.Count
	}
	return len(t.Rows)
}

// all goes through the rows of data.
func (t *Table) all(yield func([]Cell, error) bool) {
	for _, row := range t.Rows {
		if !yield(row, nil) {
			return
		}
	}
	if t.More != nil {
		t.More.Rows(yield)
	}
}

// units counts a text as spreadsheets do.
func units(s string) int {
	if len(s) <= mostText {
		return len(s)
	}
	n := 0
	for _, r := range s {
		n += max(1, utf16.RuneLen(r))
	}
	return n
}

// noted reports whether the table has notes above its headings.
func (t *Table) noted() bool {
	return slices.ContainsFunc(t.Columns, func(c Column) bool { return c.Note != "" })
}

// heading is the row of the headings, from 1; 0 where there are no columns.
func (t *Table) heading() int {
	if len(t.Columns) == 0 {
		return 0
	}
	n := t.words() + 1
	if t.noted() {
		n++
	}
	return n
}

// words counts the rows of the title and the lines below it.
func (t *Table) words() int {
	n := len(t.About)
	if t.Title != "" {
		n++
	}
	return n
}

// top counts the rows above the first that holds data.
func (t *Table) top() int { return max(t.words(), t.heading()) }
