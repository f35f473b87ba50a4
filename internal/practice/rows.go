package practice

import (
	"reflect"

	"footing/internal/quantity"
	"footing/internal/record"
	"footing/schemas"
)

// Judged is what the rows of every kind have in common.
type Judged struct {
	Row       *record.Row
	Shared    bool         // another row has its id
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
		entered := fieldIndex(records.Field(s.slice).Type().Elem(), "entered_on")
		event := false
		if f, ok := s.kind.Field(s.kind.When); ok {
			event = f.Date == "event"
		}
		rows, shared := records.Field(s.slice), p.Intake.AnyShared(s.kind.Name)
		for i := range rows.Len() {
			v := rows.Index(i)
			j := Judged{Row: v.FieldByIndex(s.row).Addr().Interface().(*record.Row), EnteredOn: dayOf(v.FieldByIndex(entered))}
			j.Shared = shared && j.Row.ID != "" && p.Intake.StateOf(s.kind.Name, j.Row.ID) == record.IDShared
			if event {
				j.When, j.On = s.kind.When, dayOf(v.FieldByIndex(s.when))
			}
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

// fieldIndex is where the field of that name stands in a kind's struct; nil if nowhere.
func fieldIndex(t reflect.Type, name string) []int {
	for _, f := range reflect.VisibleFields(t) {
		if f.Tag.Get("field") == name {
			return f.Index
		}
	}
	return nil
}

// Dated reports whether the rows of a kind are dated by an event, so that a row may
// lie before the records begin.
func Dated(kind string) bool {
	k, ok := schemas.Lookup(kind)
	if !ok {
		return false
	}
	f, ok := k.Field(k.When)
	return ok && f.Date == schemas.Event
}

// Trouble is a problem of reading by which something that was typed is lost.
type Trouble struct {
	*record.Problem
	Refused  bool // a file, or the rest of one, was not read
	SetAside bool // rows were set aside
	None     bool // and no row of its kind is left
	Private  bool // what was typed may tell of a person
}

// Troubles lists them by file, then by first place.
func (p *Practice) Troubles() (all []Trouble) {
	left := map[string]int{}
	for _, f := range p.Intake.Files {
		left[f.Kind] += f.Accepted
	}
	for i := range p.Intake.Problems {
		q := &p.Intake.Problems[i]
		if q.Effect == record.Noted {
			continue
		}
		t := Trouble{Problem: q, Refused: q.Effect == record.FileRefused, SetAside: q.Effect == record.SetAside}
		t.None = (t.Refused || t.SetAside) && q.Kind != "" && left[q.Kind] == 0
		if kind, ok := schemas.Lookup(q.Kind); ok {
			field, ok := kind.Field(q.Field)
			t.Private = ok && field.Private
		}
		all = append(all, t)
	}
	return all
}
