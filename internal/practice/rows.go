package practice

import (
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
	for i := range shapes() {
		s := &shapes()[i]
		all, ids := s.rows(&p.Records), p.Intake.IDs(s.kind.Name)
		for i := range all.count {
			v := all.at(i)
			j := Judged{Row: s.row.row(v), EnteredOn: s.entered.day(v)}
			j.Shared = ids.AnyShared() && j.Row.ID != "" && ids.State(j.Row.ID) == record.IDShared
			if s.when.holds != nothing {
				j.When, j.On = s.kind.When, s.when.day(v)
			}
			for _, ref := range s.refers {
				j.Named += len(ref.at.ids(v))
			}
			if !yield(j) {
				return
			}
		}
	}
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
