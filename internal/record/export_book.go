package record

import (
	"regexp"
	"strings"

	"footing/internal/quantity"
	"footing/internal/workbook"
)

// A sheet of a workbook gets no more rows: more are not read in one file.
const bookMostRows = 1_000_000

// bookSheet makes the table of a kind.
type bookSheet struct {
	table workbook.Table
	at    map[string]int
}

var cellKinds = map[holder]workbook.Kind{holdsDay: workbook.Day, holdsMoment: workbook.Moment, holdsYesNo: workbook.YesNo, holdsNumber: workbook.Number}

func newBookSheet(name string, cs *columns) *bookSheet {
	s := &bookSheet{table: workbook.Table{Name: name}, at: map[string]int{}}
	for i, o := range cs.list {
		c := workbook.Column{Heading: o.name}
		if o.col != nil && !o.clock {
			c.Kind = cellKinds[o.col.holds]
			c.Required = o.col.field.Required
		}
		s.table.Columns = append(s.table.Columns, c)
		s.at[o.name] = i
	}
	return s
}

func (s *bookSheet) row(row outRow) {
	cells := make([]workbook.Cell, 0, len(row.members))
	for _, m := range row.members {
		cells = append(cells, bookCell(s.at[m.name], m))
	}
	s.table.Rows = append(s.table.Rows, cells)
}

var (
	bookDay    = regexp.MustCompile(`^[0-9]{4}-[0-9]{2}-[0-9]{2}$`)
	bookMoment = regexp.MustCompile(`^[0-9]{4}-[0-9]{2}-[0-9]{2} [0-9]{2}:[0-9]{2}(:[0-9]{2})?$`)
)

// firstBookDay is the first that all spreadsheet programs count alike.
const firstBookDay = "1900-03-01"

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
