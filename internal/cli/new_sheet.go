package cli

import (
	"slices"
	"strings"

	"footing/internal/workbook"
	"footing/schemas"
)

// blankBook is a workbook to type into, without rows.
type blankBook struct {
	kinds []string
	units headingUnits
	every bool // every column, also those that only a few rows ever need
}

// How the line above every table begins that says what may stay empty; proofread knows
// it again by that.
const (
	needsNote = "A column marked NEEDED is needed in every row."
	needsNone = "Any cell may stay empty"
)

// tables are the sheets: how to begin, then one a kind.
func (b *blankBook) tables() []workbook.Table {
	tables := []workbook.Table{startSheet(b.kinds)}
	for _, name := range b.kinds {
		tables = append(tables, b.sheet(name))
	}
	return tables
}

// sheet is the sheet of a kind.
func (b *blankBook) sheet(name string) workbook.Table {
	k, _ := schemas.Lookup(name)
	t := workbook.Table{Name: name, Title: k.Title, About: []string{k.Description}, Room: workbook.FillPage, Fixed: 1}
	if len(k.Required) > 0 {
		t.About = append(t.About, needsNote+" Anything else may stay empty: empty means not written, never no.")
	} else {
		t.About = append(t.About, needsNone+": empty means not written, never no.")
	}
	var left []string
	for _, f := range b.order(k) {
		if f.Name == "entered_on" || f.Name == "corrects" {
			if !b.every {
				left = append(left, headingWord(f))
				continue
			}
		}
		t.Columns = append(t.Columns, b.fieldColumns(k, f)...)
	}
	if len(left) > 0 {
		t.About = append(t.About, "More columns, if you need them: write "+strings.Join(left, " or ")+" as a heading at the right end.")
	}
	if len(t.Columns) > 1 && t.Columns[1].Required && pointed(name) {
		t.Fixed = 2
	}
	return t
}

// order is the order of columns: the id first where other rows point to it, then what
// is needed, then the rest as the schema has it, and what is about the row itself last.
func (b *blankBook) order(k *schemas.Kind) []*schemas.Field {
	fields := slices.Clone(k.Fields)
	rank := func(f *schemas.Field) int {
		switch {
		case f.Form == schemas.ID && pointed(k.Name):
			return 0
		case f.Required:
			return 1
		case f.Form == schemas.ID:
			return 3
		case f.Name == "entered_on" || f.Name == "corrects" || f.Name == "kept_at" || f.Name == "note":
			return 4
		}
		return 2
	}
	slices.SortStableFunc(fields, func(x, y *schemas.Field) int { return rank(x) - rank(y) })
	return fields
}

// pointed reports whether rows of other kinds, or other columns, point to rows of a kind.
func pointed(kind string) bool {
	for _, name := range rowKinds() {
		k, _ := schemas.Lookup(name)
		for _, f := range k.Fields {
			if f.Name != "corrects" && slices.Contains(f.Refers, kind) {
				return true
			}
		}
	}
	return false
}

// fieldColumns are the columns of a field: the moment that dates a row has its day and
// its clock apart, as log books have them, and as they are quickest to type.
func (b *blankBook) fieldColumns(k *schemas.Kind, f *schemas.Field) []workbook.Column {
	if f.Form != schemas.Moment || f.Name != k.When {
		return []workbook.Column{b.column(k, f)}
	}
	day := workbook.Column{Heading: "date", Note: shortened(f.Description) + " The day here, the hour beside it.", Required: f.Required, Kind: workbook.Day, Width: widthDay}
	if g, ok := k.Match("date"); !ok || g != f {
		day.Heading = headingWord(f) + " date"
	}
	clock := workbook.Column{Heading: "time", Note: "The hour on the clock, such as 14:05.", Kind: workbook.Clock, Width: 9}
	if _, taken := k.Match("time"); taken {
		clock.Heading = headingWord(f) + " time"
	}
	return []workbook.Column{day, clock}
}

// column is the column of a field.
func (b *blankBook) column(k *schemas.Kind, f *schemas.Field) workbook.Column {
	unit := b.unit(f)
	c := workbook.Column{Heading: headingWord(f), Note: noteOf(f, unit), Required: f.Required, Kind: kindOf(f, unit), Width: widthOf(f), Choices: f.Choices, Open: f.Open != "" || f.Form == schemas.List}
	if unit != "" {
		c.Heading += " [" + unit + "]"
	}
	for word := range strings.FieldsSeq(c.Heading) {
		c.Width = max(c.Width, float64(len(word)+3)) // a word is not broken
	}
	if f.Form == schemas.YesNo {
		c.Choices, c.Open = []string{"yes", "no"}, true
	}
	for _, to := range f.Refers {
		if slices.Contains(b.kinds, to) && f.Name != "corrects" {
			other, _ := schemas.Lookup(to)
			c.From = &workbook.Source{Table: to, Heading: headingWord(idOf(other))}
			break
		}
	}
	return c
}

func idOf(k *schemas.Kind) *schemas.Field {
	f, _ := k.Field("id")
	return f
}

// unit is the unit that stands in a field's heading, "" where each cell has its own.
func (b *blankBook) unit(f *schemas.Field) string {
	switch f.Form {
	case schemas.Temperature, schemas.Difference:
		return b.units.temperature
	case schemas.Pressure:
		return b.units.pressure
	case schemas.Span:
		if u, ok := spanUnits[f.Kind+"."+f.Name]; ok {
			return u
		}
		return "min"
	case schemas.Percent:
		return "%"
	}
	return ""
}

// spanUnits are the units of times that are usually told otherwise than in minutes.
var spanUnits = map[string]string{"tests.read_after": "h", "baths.sterilize_for": "h"}

// kindOf is what the cells of a field hold.
func kindOf(f *schemas.Field, unit string) workbook.Kind {
	switch {
	case f.Form == schemas.Day:
		return workbook.Day
	case f.Form == schemas.Moment:
		return workbook.Moment
	case f.Form == schemas.YesNo:
		return workbook.YesNo
	case f.Form == schemas.Number, unit != "":
		return workbook.Number
	}
	return workbook.Text
}

const widthDay = 12

// widthOf is how wide the column of a field is, in characters.
func widthOf(f *schemas.Field) float64 {
	if w, ok := widths[f.Name]; ok {
		return w
	}
	switch f.Form {
	case schemas.Day:
		return widthDay
	case schemas.Moment:
		return 17
	case schemas.YesNo, schemas.Number:
		return 10
	case schemas.Choice:
		longest := 0
		for _, c := range f.Choices {
			longest = max(longest, len(c))
		}
		return float64(min(max(longest+4, 11), 18))
	case schemas.List, schemas.CountOrList:
		return 16
	case schemas.Text:
		return 14
	}
	return 12
}

// widths are those of columns that hold words at some length, by field.
var widths = map[string]float64{"note": 26, "instruments": 22, "procedures": 22, "sets": 22, "action": 34, "fault": 20, "title": 24, "reaction": 22, "subject": 24,
	"pressure": 18, "outside_indicator": 15, "inside_indicator": 15}
