package record

import (
	"fmt"
	"regexp"
	"strings"
	"unicode/utf8"

	"footing/internal/quantity"
	"footing/internal/workbook"
)

// A sheet of a workbook gets no more rows: more are not read in one file.
const bookMostRows = 1_000_000

// How wide columns are, in characters, whatever stands in them.
const (
	narrowColumn  = 7
	widestHeading = 24
	widestColumn  = 40
)

// bookSheet makes the table of a kind.
type bookSheet struct {
	table workbook.Table
	at    map[string]int
}

var cellKinds = map[holder]workbook.Kind{holdsDay: workbook.Day, holdsMoment: workbook.Moment, holdsYesNo: workbook.YesNo, holdsNumber: workbook.Number}

func newBookSheet(name string, cs *columns) *bookSheet {
	s := &bookSheet{table: workbook.Table{Name: name}, at: map[string]int{}}
	if len(cs.list) > 1 && cs.list[0].name == "id" {
		s.table.Fixed = 1
	}
	for i, o := range cs.list {
		c := workbook.Column{Heading: o.name, Width: float64(max(narrowColumn, min(widestHeading, utf8.RuneCountInString(o.name)), o.wide)) + 2}
		if o.col != nil && !o.clock {
			c.Kind = cellKinds[o.col.holds]
			c.Required = o.col.field.Required
		}
		s.table.Columns = append(s.table.Columns, c)
		s.at[o.name] = i
	}
	return s
}

// bookRows writes the rows of a kind into a sheet of the workbook. They are made when the
// workbook is, so that they need not be held together.
func (x *exporter) bookRows(k *ExportedKind, cs *columns, sheets []*sheet, apart map[rowRef]bool) error {
	s := newBookSheet(k.Kind, cs)
	count := 0
	for _, in := range sheets {
		for i := range in.file.Accepted {
			if ref := (rowRef{in, i}); !apart[ref] {
				x.wrote(k.Kind, bookFile, ref)
				count++
			}
		}
	}
	if count > bookMostRows {
		return fmt.Errorf("%s has more rows than a sheet of a workbook holds; write it as csv", k.Kind)
	}
	s.table.More = &workbook.Stream{Count: count, Rows: func(yield func([]workbook.Cell, error) bool) {
		cells, stopped := []workbook.Cell(nil), false
		err := eachRow(x, x.rowsOf(sheets), func(ref rowRef, row outRow) error {
			if apart[ref] {
				return nil
			}
			cells = cells[:0]
			for _, m := range row.members {
				cells = append(cells, bookCell(s.at[m.name], m))
			}
			if stopped = !yield(cells, nil); stopped {
				return errEnough
			}
			return nil
		})
		if err != nil && !stopped {
			yield(nil, err)
		}
	}}
	x.tables = append(x.tables, s.table)
	k.Files = append(k.Files, bookFile)
	return nil
}

var (
	bookDay    = regexp.MustCompile(`^[0-9]{4}-[0-9]{2}-[0-9]{2}$`)
	bookMoment = regexp.MustCompile(`^[0-9]{4}-[0-9]{2}-[0-9]{2} [0-9]{2}:[0-9]{2}(:[0-9]{2})?$`)
)

// firstBookDay is the first for which a cell for dates is believed when it is read again.
const firstBookDay = firstDay + "-01-01"

// bookCell is a real date, number or yes/no where the cell can hold it as it is, else words.
func bookCell(column int, m member) workbook.Cell {
	cell := workbook.Cell{Column: column, Text: m.value.cellText(m.col)}
	if m.col == nil || m.clock {
		return cell
	}
	text := cell.Text
	switch m.col.holds {
	case holdsYesNo:
		if m.value.shape == isBool {
			cell.Kind = workbook.YesNo
		}
	case holdsDay:
		if bookDay.MatchString(text) && text >= firstBookDay && isDay(text) {
			cell.Kind = workbook.Day
		}
	case holdsMoment:
		switch {
		case !isDay(text[:min(len(text), 10)]) || text < firstBookDay:
		case bookDay.MatchString(text):
			cell.Kind = workbook.Day
		case bookMoment.MatchString(text) && !(len(text) == 19 && strings.HasSuffix(text, ":00")): // a cell does not tell :00 from no seconds
			cell.Kind = workbook.Moment
		}
	case holdsNumber:
		if m.value.shape == isNumber && len(strings.TrimLeft(strings.NewReplacer(".", "", "-", "").Replace(text), "0")) <= 15 {
			cell.Kind = workbook.Number
		}
	}
	return cell
}

func isDay(text string) bool {
	d, err := quantity.ParseDay(text, quantity.ISO)
	return err == nil && d.String() == text
}
