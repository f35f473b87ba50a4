package practice

import (
	"reflect"

	"footing/internal/quantity"
	"footing/internal/record"
)

// Judged is what the rows of every kind have in common.
type Judged struct {
	Row       *record.Row
	When      string       // the field that dates the row, where that is the day of an event; else ""
	On        quantity.Day // that day; 0 where not written
	EnteredOn quantity.Day
	Named     int // references written in it
}

// EachRow yields every row that is judged, in the order of kinds and rows; the
// single documents are not among them.
func (p *Practice) EachRow(yield func(Judged) bool) {
	records := reflect.ValueOf(&p.Records).Elem()
	for _, s := range shapes() {
		entered, _ := records.Type().Field(s.slice).Type.Elem().FieldByName("EnteredOn")
		event := false
		if f, ok := s.kind.Field(s.kind.When); ok {
			event = f.Date == "event"
		}
		rows := records.Field(s.slice)
		for i := range rows.Len() {
			v := rows.Index(i)
			j := Judged{Row: v.FieldByIndex(s.row).Addr().Interface().(*record.Row)}
			if event {
				j.When, j.On = s.kind.When, dayOf(v.FieldByIndex(s.when))
			}
			j.EnteredOn = dayOf(v.FieldByIndex(entered.Index))
			for _, ref := range s.refers {
				for range named(v.FieldByIndex(ref.at)) {
					j.Named++
				}
			}
			if !yield(j) {
				return
			}
		}
	}
}
