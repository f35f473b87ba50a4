package workbook

import (
	"strings"
	"unicode/utf8"

	"github.com/xuri/excelize/v2"
)

// Sizes, in points where nothing else is said.
const (
	noteSize      = 8
	noteLine      = 9.5 // of a line of notes
	headingLine   = 15
	roomHeight    = 24 // of an empty row: room for handwriting
	titleHigh     = 24
	aboutLine     = 14
	noteScale     = 1.35 // characters of a note to one of the column's width
	headingScale  = 0.9
	wordsWidth    = 92 // of a sheet without columns, in characters
	leastWidth    = 7
	widestHeading = 14
)

// Needed begins the note of a column without which a row is set aside.
const Needed = "NEEDED. "

// note is the whole note of a column.
func (c *Column) note() string {
	if c.Required {
		return strings.TrimSpace(Needed + c.Note)
	}
	return c.Note
}

// width is how wide a column is, in characters.
func (c *Column) width() float64 {
	if c.Width > 0 {
		return c.Width
	}
	longest := 0
	for word := range strings.FieldsSeq(c.Heading) {
		longest = max(longest, utf8.RuneCountInString(word))
	}
	n := max(longest, min(utf8.RuneCountInString(c.Heading), widestHeading))
	return float64(max(leastWidth, n)) + 2
}

// columns sets how wide the columns are, and how what is typed below the last row shows.
func (b *builder) columns(t *Table, sw *excelize.StreamWriter) error {
	if len(t.Columns) == 0 {
		return sw.SetColWidth(1, 1, wordsWidth)
	}
	for i := range t.Columns {
		c := &t.Columns[i]
		style, err := b.style(lookOf(c.Kind), true)
		if err != nil {
			return err
		}
		if err := sw.SetColWidth(i+1, i+1, c.width()); err != nil {
			return err
		}
		if err := sw.SetColStyle(i+1, i+1, style); err != nil {
			return err
		}
		if err := b.validate(t, i); err != nil {
			return err
		}
		if err := b.hours(t, i); err != nil {
			return err
		}
	}
	return nil
}

// hours shows the clock of a moment where one was typed.
func (b *builder) hours(t *Table, i int) error {
	if t.Columns[i].Kind != Moment {
		return nil
	}
	first := Name(i, t.top()+1)
	return b.file.SetConditionalFormat(t.Name, first+":"+Name(i, mostRows), []excelize.ConditionalFormatOptions{
		{Type: "formula", Criteria: "IF(ISNUMBER(" + first + ")," + first + ">INT(" + first + "),FALSE)", Format: &b.hour}})
}

// hourStyle makes the style of hours. The library numbers its format 165, whatever other
// format has that number; so the second format of the file must be the same one.
func (b *builder) hourStyle() (err error) {
	for _, l := range []look{lookDay, lookMoment} {
		if _, err := b.style(l, false); err != nil {
			return err
		}
	}
	shown := formats[lookMoment]
	b.hour, err = b.file.NewConditionalStyle(&excelize.Style{CustomNumFmt: &shown})
	return err
}

// above writes title, lines, notes and headings.
func (b *builder) above(t *Table, sw *excelize.StreamWriter) error {
	row := 0
	line := func(text string, l look, height float64) error {
		row++
		style, err := b.style(l, false)
		if err != nil {
			return err
		}
		return sw.SetRow(Name(t.wordsAt(), row), []any{excelize.Cell{StyleID: style, Value: b.noted(marked(text))}}, excelize.RowOpts{Height: height})
	}
	if t.Title != "" {
		if err := line(t.Title, lookTitle, titleHigh); err != nil {
			return err
		}
	}
	about, high := lookAbout, func(string) float64 { return aboutLine }
	if len(t.Columns) == 0 {
		about, high = lookWords, func(s string) float64 { return headingLine*float64(linesOf(s, wordsWidth*1.2)) + 5 }
	}
	for _, text := range t.About {
		if err := line(text, about, high(text)); err != nil {
			return err
		}
	}
	if t.noted() {
		row++
		if err := b.band(t, sw, row, t.bandHigh(noteLine, noteScale, (*Column).note), func(c *Column) (string, look) { return c.note(), lookNote }); err != nil {
			return err
		}
	}
	if len(t.Columns) == 0 {
		return nil
	}
	return b.band(t, sw, row+1, t.bandHigh(headingLine, headingScale, func(c *Column) string { return c.Heading }), func(c *Column) (string, look) {
		if c.Required {
			return c.Heading, lookRequired
		}
		return c.Heading, lookHeading
	})
}

// wordsAt is the column of title and lines. Where a table takes several pages across, they
// would be cut off on each in the columns that are printed again.
func (t *Table) wordsAt() int {
	if len(t.Columns) == 0 || t.Fixed >= len(t.Columns) {
		return 0
	}
	if pages, _ := t.spread(); pages > 1 {
		return t.Fixed
	}
	return 0
}

// headHigh is how high all above the data is, in points.
func (t *Table) headHigh() float64 {
	high := float64(len(t.About))*aboutLine + t.bandHigh(headingLine, headingScale, func(c *Column) string { return c.Heading })
	if t.Title != "" {
		high += titleHigh
	}
	if t.noted() {
		high += t.bandHigh(noteLine, noteScale, (*Column).note)
	}
	return high
}

// bandHigh is how high a row of wrapped texts is, one above each column.
func (t *Table) bandHigh(line, scale float64, text func(*Column) string) float64 {
	most := 1
	for i := range t.Columns {
		c := &t.Columns[i]
		most = max(most, linesOf(text(c), c.width()*scale))
	}
	return min(line*float64(most)+4, excelize.MaxRowHeight)
}

// band writes a row of texts, one above each column.
func (b *builder) band(t *Table, sw *excelize.StreamWriter, row int, high float64, text func(*Column) (string, look)) error {
	cells := make([]any, len(t.Columns))
	for i := range t.Columns {
		s, l := text(&t.Columns[i])
		style, err := b.style(l, false)
		if err != nil {
			return err
		}
		cells[i] = excelize.Cell{StyleID: style, Value: b.noted(marked(s))}
	}
	return sw.SetRow(Name(0, row), cells, excelize.RowOpts{Height: high})
}

// linesOf is how many lines a text takes in a width, in characters.
func linesOf(text string, width float64) int {
	n, used := 1, 0.0
	for word := range strings.FieldsSeq(text) {
		w := float64(utf8.RuneCountInString(word))
		if used > 0 && used+1+w > width {
			n, used = n+1, 0
		}
		if used > 0 {
			used++
		}
		for used += w; used > width && w > width; used -= width {
			n++
		}
	}
	return n
}
