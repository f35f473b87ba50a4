package workbook

import (
	"cmp"
	"context"
	"slices"
)

// rowReader reads the rows of one sheet.
type rowReader struct {
	sheet *Sheet
	x     *scanner
	row   Row
	// The texts of the row's cells lie in text one after the other until the row is
	// whole, and become one string then.
	text   []byte
	spans  [][2]int // of each cell in text; {-1, -1} if its Text stands already
	column int      // of the last cell, -1 before the first
	jumped bool     // cells are not in order
	value  cellReader
}

func (r *rowReader) all(ctx context.Context, yield func(*Row) error) error {
	for count := 0; ; {
		t, err := r.x.next()
		switch {
		case err != nil:
			return err
		case t == atEnd:
			return nil
		case t != opened || r.x.depth < 2:
		case r.x.depth == 2 && string(r.x.name) != "sheetData", r.x.depth > 2 && string(r.x.name) != "row":
			if err := r.x.skip(); err != nil {
				return err
			}
		case r.x.depth == 3:
			if count++; count%256 == 0 && ctx.Err() != nil {
				return ctx.Err()
			}
			if err := r.readRow(); err != nil {
				return err
			}
			if len(r.row.Cells) > 0 {
				if err := yield(&r.row); err != nil {
					return err
				}
			}
		}
	}
}

// readRow reads the row that opened.
func (r *rowReader) readRow() error {
	number := r.row.Number + 1
	if b := r.x.attr("r"); b != nil {
		n, ok := readCount(b)
		if !ok || n < 1 || n > rowLimit {
			return damaged("has a row with the number %q in its sheet %q", b, r.sheet.Name)
		}
		number = int(n)
	}
	switch {
	case number <= r.row.Number:
		return damaged("has row %d after row %d in its sheet %q", number, r.row.Number, r.sheet.Name)
	case number > rowLimit:
		return damaged("has more rows than a sheet can have in its sheet %q", r.sheet.Name)
	}
	r.row = Row{Number: number, Hidden: yes(r.x.attr("hidden")), Cells: r.row.Cells[:0]}
	r.text, r.spans, r.column, r.jumped = r.text[:0], r.spans[:0], -1, false
	for depth := r.x.depth; ; {
		t, err := r.x.next()
		switch {
		case err != nil:
			return err
		case t == closed && r.x.depth == depth:
			return r.finish()
		case t != opened:
		case string(r.x.name) == "c":
			err = r.readCell()
		default:
			err = r.x.skip()
		}
		if err != nil {
			return err
		}
	}
}

// readCell reads the cell that opened.
func (r *rowReader) readCell() error {
	column := r.column + 1
	if b := r.x.attr("r"); b != nil {
		c, row, ok := readName(b)
		if !ok || row != r.row.Number {
			return damaged("has a cell %q in row %d of its sheet %q", b, r.row.Number, r.sheet.Name)
		}
		column = c
	} else if column == columnLimit {
		return damaged("has more columns than a sheet can have in row %d of its sheet %q", r.row.Number, r.sheet.Name)
	}
	r.column = column
	cell := Cell{Column: column}
	start := len(r.text)
	filled, err := r.read(&cell)
	if err != nil || !filled {
		r.text = r.text[:start]
		return err
	}
	if n := len(r.row.Cells); n > 0 && column <= r.row.Cells[n-1].Column {
		r.jumped = true
		if n >= columnLimit {
			return r.twice(column)
		}
	}
	span := [2]int{start, len(r.text)}
	if cell.Text != "" {
		span = [2]int{-1, -1}
	}
	r.row.Cells, r.spans = append(r.row.Cells, cell), append(r.spans, span)
	return nil
}

// finish gives the cells their texts and their order.
func (r *rowReader) finish() error {
	all := string(r.text)
	for i, span := range r.spans {
		if span[0] >= 0 {
			r.row.Cells[i].Text = all[span[0]:span[1]]
		}
	}
	if !r.jumped {
		return nil
	}
	slices.SortStableFunc(r.row.Cells, func(a, b Cell) int { return cmp.Compare(a.Column, b.Column) })
	for i, c := range r.row.Cells[1:] {
		if c.Column == r.row.Cells[i].Column {
			return r.twice(c.Column)
		}
	}
	return nil
}

func (r *rowReader) twice(column int) error {
	return damaged("holds the cell %s twice in its sheet %q", Name(column, r.row.Number), r.sheet.Name)
}

// readCount reads a whole number that is not below nought.
func readCount(b []byte) (n uint64, ok bool) {
	for _, c := range b {
		if c < '0' || c > '9' || n > 1<<40 {
			return 0, false
		}
		n = n*10 + uint64(c-'0')
	}
	return n, len(b) > 0
}
