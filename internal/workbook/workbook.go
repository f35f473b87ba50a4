// Package workbook reads and writes spreadsheet workbooks (Office Open XML, ECMA-376:
// *.xlsx). Reading streams: a sheet of any length takes the memory of its longest row.
// A cell is given by its value, never by its look: a date by its day, a yes/no by yes or no.
package workbook

import "strconv"

// Kind is what a cell holds.
type Kind uint8

// The kinds of cells.
const (
	Text    Kind = iota
	Number       // Text is the shortest decimal of at most 15 digits: "134.3"
	Day          // a date without a clock: "2026-03-31"
	Moment       // a date with a clock: "2026-03-31 14:05", with ":30" where seconds are not nought
	Clock        // a time of day: "14:05", "14:05:30"
	Elapsed      // a length of time, shown as one ([h]:mm, mm:ss): "3 min 30 s"
	YesNo        // "yes" or "no"
	Fault        // a formula that failed: "#N/A"
)

// Cell is a cell that holds something.
type Cell struct {
	Column  int // from 0
	Kind    Kind
	Text    string // the value, in the way records are written; see Kind
	Unit    string // that its number format shows after the number: "°C"; "%" for a percentage, whose Text is in hundredths: "75"
	Formula bool   // Text is what the formula came to when the workbook was last saved
}

// Row is a row of a sheet that holds something.
type Row struct {
	Number int // as the spreadsheet counts, from 1
	Hidden bool
	Cells  []Cell // by column; those that hold nothing are left out
}

// Range is a block of cells, both ends in it.
type Range struct {
	FirstRow, LastRow       int // from 1
	FirstColumn, LastColumn int // from 0
}

// Refusal says why a workbook, or a sheet of it, is not read.
type Refusal struct {
	Cause string // a short name: "bomb", "protected", "damaged" …
	Says  string // follows "it": "is protected with a password"
	Todo  string
}

// Error gives both in words for a person.
func (r *Refusal) Error() string { return r.Says + "; " + r.Todo }

// Name is what the spreadsheet calls a cell: column 5 (from 0), row 17 (from 1) is "F17".
func Name(column, row int) string {
	return Letters(column) + strconv.Itoa(row)
}

// Letters is what the spreadsheet calls a column: 0 is "A", 27 is "AB".
func Letters(column int) string {
	var b []byte
	for n := column + 1; n > 0; n = (n - 1) / 26 {
		b = append([]byte{byte('A' + (n-1)%26)}, b...)
	}
	return string(b)
}
