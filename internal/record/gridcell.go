package record

import (
	"strconv"
	"strings"
	"time"

	"footing/internal/workbook"
	"footing/schemas"
)

// gridColumn is what a column of a table is for.
type gridColumn struct {
	at    int // in the sheet
	field *schemas.Field
	part  part

	from1904 bool // the sheet's count of days
}

// oddity is a cell that is not what its column is for.
type oddity struct {
	row    uint32 // of the grid's rows
	column uint16
	what   strange
	text   string // as the cell shows it; "" where the table's text has it
}

type strange uint8

const (
	failedFormula strange = iota + 1
	becameDate
	bareSerial
	earlyDay
)

// oddKey is a column and what is odd in it.
type oddKey struct {
	column uint16
	what   strange
}

// lost is true where the cell's value counts as not written.
func (w strange) lost() bool { return w == failedFormula || w == earlyDay }

// says is what is told of a cell that is lost, and what to do about it.
func (w strange) says() (cause, words, todo string) {
	if w == earlyDay {
		return "early-day", "is what the spreadsheet makes of a small number in a cell for dates: of 2026, a day in 1905", "look at the original, and type the whole date"
	}
	return "formula-error", "is what the spreadsheet shows where a formula fails, and no value", "mend the formula in the cell, or type the value as the paper has it"
}

// firstDay is earlier than anything that a practice keeps a date of; what spreadsheets
// make of a year, or of a day of the month, in a cell for dates is earlier still.
const firstDay = "1930"

// appendCell adds a cell to the text of a table, in the way that its column's field is
// written in a file of text, and says what is odd about it.
func (c *gridColumn) appendCell(b []byte, cell *workbook.Cell) ([]byte, strange) {
	form := schemas.Form("")
	if c.field != nil {
		form = c.field.Form
	}
	dated := form == schemas.Day || form == schemas.Moment
	text, what := cell.Text, strange(0)
	switch cell.Kind {
	case workbook.Fault:
		return b, failedFormula
	case workbook.Number:
		switch {
		case dated && c.part != clockPart:
			if day, ok := serial(text, form == schemas.Moment && c.part == whole, c.from1904); ok {
				text, what = day, bareSerial
			}
		case cell.Unit != "" && withUnit(form, cell.Unit):
			text += " " + cell.Unit
		}
	case workbook.Day, workbook.Moment:
		switch {
		case form != "" && !dated:
			what = becameDate
		case dated && c.part != clockPart && text < firstDay:
			return b, earlyDay
		case dated && c.part == whole: // many programs put 00:00 to a bare day
			text = strings.TrimSuffix(text, " 00:00")
		}
	case workbook.Elapsed:
		if form == schemas.Moment {
			text = clockOf(text)
		}
	}
	return appendQuoted(b, text), what
}

// withUnit is true where the unit that a number is shown with belongs to the value.
func withUnit(form schemas.Form, unit string) bool {
	if _, ok := dimensions[form]; ok {
		return true
	}
	switch form {
	case schemas.Text, schemas.Value, schemas.List:
		return true
	case schemas.Number, schemas.CountOrList:
		return unit == "%"
	}
	return false
}

// appendQuoted adds a text, in quotation marks where the scanner needs them.
func appendQuoted(b []byte, text string) []byte {
	if !strings.ContainsAny(text, "\t\r\n\"") {
		return append(b, text...)
	}
	if len(text) > longestCell { // longer than any value; only its line ends would mislead
		text = strings.NewReplacer("\n", " ", "\r", " ").Replace(text)
	}
	b = append(b, '"')
	b = append(b, strings.ReplaceAll(text, `"`, `""`)...)
	return append(b, '"')
}

// Days of a spreadsheet's own count, from 30 Dec 1899, that a bare number is taken for.
const (
	firstSerial = 32874 // 1 Jan 1990
	lastSerial  = 73415 // 31 Dec 2100
)

// shift1904 is how many days the count from 1904 is behind the other.
const shift1904 = 1462

// serial reads a bare number as a day, and with clock its time of day.
func serial(text string, clock, from1904 bool) (string, bool) {
	n, err := strconv.ParseFloat(text, 64)
	if from1904 {
		n += shift1904
	}
	if err != nil || n < firstSerial || n >= lastSerial+1 {
		return "", false
	}
	days := int(n)
	t := time.Date(1899, 12, 30+days, 0, 0, 0, 0, time.UTC).Add((time.Duration((n-float64(days))*86400) * time.Second).Round(time.Minute))
	if clock && n != float64(days) {
		return t.Format("2006-01-02 15:04"), true
	}
	return t.Format("2006-01-02"), true
}

// clockOf turns a length of time into a time of day: "14 h 5 min" is 14:05. A column of
// the clock may be formatted so.
func clockOf(span string) string {
	words := strings.Fields(span)
	var h, m, s int
	for i := 0; i+1 < len(words); i += 2 {
		n, err := strconv.Atoi(words[i])
		if err != nil {
			return span
		}
		switch words[i+1] {
		case "h":
			h = n
		case "min":
			m = n
		case "s":
			s = n
		default:
			return span
		}
	}
	if h > 23 || m > 59 || s > 59 {
		return span
	}
	t := time.Date(2000, 1, 1, h, m, s, 0, time.UTC)
	if s != 0 {
		return t.Format("15:04:05")
	}
	return t.Format("15:04")
}

// oddities tells of the cells of a row that are not what their columns are for. n is the
// row's index in the grid.
func (s *sheet) oddities(n int) {
	odd := s.src.grid.odd
	for ; s.odd < len(odd) && odd[s.odd].row <= uint32(n); s.odd++ {
		o := &odd[s.odd]
		l := s.cells[o.column]
		if o.row != uint32(n) || l.col == nil {
			s.filled = s.filled || o.row == uint32(n)
			continue
		}
		s.filled = true
		if o.what.lost() {
			s.wrong = append(s.wrong, rowFault{fault: s.oddFault(l, o), lane: l, col: l.col})
			continue
		}
		if s.wrongIn(l) { // it is told already, and better with what was behind it
			s.became(l, o)
			continue
		}
		s.wrong = append(s.wrong, rowFault{fault: s.oddFault(l, o), lane: l, col: l.col, note: true})
	}
}

// wrongIn is true if a value of the lane was found wrong in the row at hand.
func (s *sheet) wrongIn(l *lane) bool {
	for _, w := range s.wrong {
		if w.lane == l && !w.note {
			return true
		}
	}
	return false
}

// became says of a date that its column cannot take how it may have come about.
func (s *sheet) became(l *lane, o *oddity) {
	for i := range s.wrong {
		if w := &s.wrong[i]; w.lane == l && !w.note && o.what == becameDate {
			w.fault = s.oddFault(l, &oddity{column: o.column, what: becameDate, text: w.fault.found})
		}
	}
}

// oddFault makes one fault for each column and thing that is odd in it, so that many are
// told together.
func (s *sheet) oddFault(l *lane, o *oddity) *fault {
	key := oddKey{o.column, o.what}
	if f := s.oddly[key]; f != nil {
		return f
	}
	var f *fault
	switch o.what {
	case failedFormula, earlyDay:
		cause, words, todo := o.what.says()
		f = l.fault(cause, o.text, words).do(todo)
	case becameDate:
		f = l.fault("became-date", o.text, "is a date of the spreadsheet, and not "+formWord(l.col.field)+"; spreadsheets turn an entry such as 3-4 into a date").
			do("look at the original; where something else was typed, format the cell as text and type it again")
	case bareSerial:
		f = l.fault("serial", o.text, "is a plain number where a date is expected, and is read as the date that the spreadsheet counts by it").do("format the column as dates, and look whether they are right")
	}
	if s.oddly == nil {
		s.oddly = map[oddKey]*fault{}
	}
	s.oddly[key] = f
	return f
}

func formWord(f *schemas.Field) string {
	if f.Choices != nil {
		return "one of the choices"
	}
	if words, ok := formWords[f.Form]; ok {
		return words
	}
	return "something else"
}

// readable is true if the lane can take the text as a value.
func (l *lane) readable(text string) bool {
	f, blank := l.convert(newHeld(l.col.holds), isText, text)
	return !blank && (f == nil || f.kept)
}
