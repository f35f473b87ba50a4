package workbook

import "context"

// Book is a workbook that is read.
type Book struct {
	Sheets  []*Sheet // in the order of their tabs
	Remarks []string // of what it holds besides, and what becomes of it: "it holds macros, which are not run"
}

// Sheet is one sheet of cells.
type Sheet struct {
	Name          string
	Hidden        bool
	Merged        []Range // merged cells; only the first of each holds something
	HiddenColumns []Range // rows are 0
	Notes         bool    // notes (comments) are attached to cells; they are not read
	Unstored      int     // formulas that hold no result, as of when the workbook was last saved; known after Rows

	part string
	*common
}

// From1904 is true where days are counted from 1 January 1904, as some workbooks made on
// a Mac do: a plain number that stands for a day is one of that count.
func (s *Sheet) From1904() bool { return s.from1904 }

// Open looks at the bytes of a workbook: whether it can be unpacked in bounded time and
// memory, which sheets it has, how they are formatted. The error is a *Refusal.
//
// Every part that is read, of the sheets too, is unpacked once to see that it is whole
// and that all of them together stay below 512 MiB; pictures and the like are never
// unpacked. No link to other files is followed. A workbook that holds definitions of
// its own XML, two parts or two sheets of one name, or sheets in elements more than 64
// deep is refused. data must stay as it is while the book is in use.
func Open(data []byte) (*Book, error) {
	p, err := openPack(data)
	if err != nil {
		return nil, err
	}
	part, err := p.workbookPart()
	if err != nil {
		return nil, err
	}
	book, err := p.sheets(part)
	if err != nil {
		return nil, err
	}
	seen := map[string]bool{}
	for _, s := range book.Sheets {
		if seen[partName(s.part)] {
			return nil, damaged("shows its part %s as two sheets", s.part)
		}
		seen[partName(s.part)] = true
		if err := s.look(); err != nil {
			return nil, err
		}
	}
	return book, nil
}

// Rows gives each row of the sheet that holds something, from the top. The row and its
// cells are used again for the next one. The error is a *Refusal, that of ctx, or what
// yield returned. Different sheets may be read at the same time.
//
// Text keeps its blanks; line ends are "\n". A cell with an empty text, or a formula
// without a result, is left out; the latter is counted in Unstored.
//
// A number whose format shows a date or a clock is a time, by its value and not by its
// look. With a fraction it is a Moment, without one a Day; if the format shows the hour,
// a Moment at midnight. Below 1 it is a Clock. A format that counts on ([h]:mm), or has
// minutes and seconds without an hour (mm:ss), makes it Elapsed; so does a clock alone
// on a value of one day or more that would lie in 1900: 36 hours shown as 12:00. Whether
// h:mm:ss on a value below 1 is a time of day or a length of time cannot be told: it is
// a Clock, and who reads a record's length may take it for one. All are rounded to the
// second, but Elapsed to the decimals that the format shows. What is no day stays a
// Number: 60, which the 1900 system takes for 29 February 1900, and what lies below
// nought or after 9999.
//
// A row without a number follows the one before it, and a cell without a name the cell
// before it. Cells in another order are put into theirs. No cell is lost: rows that
// repeat or go back, a cell that holds something twice, a name of another row, and a
// text that the workbook does not hold are refused. Rows before the fault have been
// given by then.
func (s *Sheet) Rows(ctx context.Context, yield func(*Row) error) error {
	x, err := s.pack.scan(s.part)
	if err != nil {
		return err
	}
	s.Unstored = 0
	r := &rowReader{sheet: s, x: x}
	return r.all(ctx, yield)
}
