package workbook

import "io"

// Table is one sheet to write.
type Table struct {
	Name    string   // of the sheet
	Title   string   // above the table, "" for none
	About   []string // lines below the title
	Columns []Column
	Rows    [][]Cell // each cell goes to its Column by its Kind and Text; Unit and Formula are not used
	Room    int      // empty rows after Rows that are formatted for typing, with their drop-downs
	Fixed   int      // columns on the left that stay in sight, and are printed on every page
}

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

// Write writes a workbook. The same tables give the same bytes.
func Write(w io.Writer, tables []Table) error { return nil }
