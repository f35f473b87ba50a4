package workbook

import (
	"bytes"
	"fmt"
	"io"
	"strings"

	"github.com/xuri/excelize/v2"
)

// builder is a workbook as it is put together.
type builder struct {
	file    *excelize.File
	tables  []Table
	lists   lists
	styles  map[styleKey]int
	hour    int  // conditional style of a moment with its clock
	escapes bool // marks were written, which become escapes
}

// made is what every workbook says of itself: nothing of the day or the machine.
var made = &excelize.DocProperties{Creator: "footing", LastModifiedBy: "footing", Created: "2026-01-01T00:00:00Z", Modified: "2026-01-01T00:00:00Z"}

func (b *builder) build() error {
	f := b.file
	if err := f.SetDocProps(made); err != nil {
		return err
	}
	if err := b.usualFont(); err != nil {
		return err
	}
	if err := b.hourStyle(); err != nil {
		return err
	}
	for i := range b.tables {
		name := b.tables[i].Name
		if i == 0 {
			if err := f.SetSheetName("Sheet1", name); err != nil {
				return err
			}
		} else if _, err := f.NewSheet(name); err != nil {
			return err
		}
	}
	for i := range b.tables {
		if err := b.sheet(&b.tables[i]); err != nil {
			return err
		}
	}
	return b.writeLists()
}

// usualFont sets the font that widths of columns are counted in. The library's own is
// missing on many machines, and what stands in for it is wider.
func (b *builder) usualFont() error {
	if err := b.file.SetDefaultFont(fontName); err != nil {
		return err
	}
	size := float64(fontSize)
	usual := b.file.Styles.Fonts.Font[0]
	usual.Sz.Val, usual.Scheme = &size, nil
	return nil
}

// sheet writes one table, row by row.
func (b *builder) sheet(t *Table) error {
	if err := b.page(t); err != nil {
		return err
	}
	sw, err := b.file.NewStreamWriter(t.Name)
	if err != nil {
		return err
	}
	if len(t.Columns) > 0 {
		if err := sw.SetPanes(t.panes()); err != nil {
			return err
		}
	}
	if err := b.columns(t, sw); err != nil {
		return err
	}
	if err := b.above(t, sw); err != nil {
		return err
	}
	if err := b.rows(t, sw); err != nil {
		return err
	}
	if err := b.room(t, sw); err != nil {
		return err
	}
	return sw.Flush()
}

// rows writes the rows of data.
func (b *builder) rows(t *Table, sw *excelize.StreamWriter) error {
	number, last := t.top(), t.top()+t.count()
	for row, err := range t.all {
		if number++; err == nil && number > last {
			err = fmt.Errorf("sheet %s: there are more rows than the %d that were announced", t.Name, t.count())
		}
		if err == nil {
			err = t.fitRow(number, row)
		}
		if err == nil {
			err = b.row(t, sw, number, row)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// row writes one row of cells.
func (b *builder) row(t *Table, sw *excelize.StreamWriter, number int, row []Cell) error {
	values := make([]any, len(t.Columns))
	for _, c := range row {
		if c.Text == "" {
			continue
		}
		v, l := c.value()
		style, err := b.style(l, false)
		if err != nil {
			return err
		}
		values[c.Column] = excelize.Cell{StyleID: style, Value: b.noted(v)}
	}
	return sw.SetRow(Name(0, number), values)
}

// noted remembers that a text has marks.
func (b *builder) noted(v any) any {
	if s, ok := v.(string); ok && strings.ContainsRune(s, markBegin) {
		b.escapes = true
	}
	return v
}

// room writes the empty rows, with lines to write between on paper.
func (b *builder) room(t *Table, sw *excelize.StreamWriter) error {
	rows := t.room()
	if rows == 0 || len(t.Columns) == 0 {
		return nil
	}
	empty := make([]any, len(t.Columns))
	for i, c := range t.Columns {
		style, err := b.style(lookOf(c.Kind), false)
		if err != nil {
			return err
		}
		empty[i] = excelize.Cell{StyleID: style}
	}
	for i := range rows {
		if err := sw.SetRow(Name(0, t.top()+t.count()+i+1), empty, excelize.RowOpts{Height: roomHeight}); err != nil {
			return err
		}
	}
	return nil
}

// save writes the whole, the same bytes for the same tables.
func (b *builder) save(w io.Writer) error {
	var out bytes.Buffer
	if _, err := b.file.WriteTo(&out); err != nil {
		return err
	}
	return stable(w, out.Bytes(), b.escapes)
}
