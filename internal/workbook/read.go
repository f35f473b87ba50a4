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
	Unstored      int     // formulas that hold no result, as of when the workbook was last saved; known after Rows
}

// Open looks at the bytes of a workbook: whether it can be unpacked in bounded time and
// memory, which sheets it has, how they are formatted. The error is a *Refusal.
func Open(data []byte) (*Book, error) {
	return nil, &Refusal{Cause: "unread", Says: "is not read", Todo: "save each sheet as csv"}
}

// Rows gives each row of the sheet that holds something, from the top. The row and its
// cells are used again for the next one. The error is a *Refusal, that of ctx, or what
// yield returned.
func (s *Sheet) Rows(ctx context.Context, yield func(*Row) error) error { return ctx.Err() }
