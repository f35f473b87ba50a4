package practice

import (
	"reflect"
	"sync"

	"footing/internal/quantity"
	"footing/schemas"
)

// shape is what the generic passes need of one kind's struct: where its dates,
// its references and its row stand.
type shape struct {
	kind     *schemas.Kind
	slice    int // field of Records
	elem     reflect.Type
	row      field
	corrects field
	entered  field
	when     field   // an event; it holds nothing where no event dates the row
	closings []field // event dates other than the one that dates the row
	refers   []reference
}

type reference struct {
	*schemas.Field
	at field
}

// shapes lists every kind that is a slice of rows, in the order of Records.
var shapes = sync.OnceValue(func() []shape {
	var all []shape
	records := reflect.TypeFor[Records]()
	for i := range records.NumField() {
		f := records.Field(i)
		if f.Type.Kind() != reflect.Slice {
			continue
		}
		kind, ok := schemas.Lookup(f.Tag.Get("kind"))
		if !ok {
			continue
		}
		all = append(all, shapeOf(kind, i, f.Type.Elem()))
	}
	return all
})

func shapeOf(kind *schemas.Kind, slice int, t reflect.Type) shape {
	s := shape{kind: kind, slice: slice, elem: t}
	for _, f := range reflect.VisibleFields(t) {
		at := fieldAt(t, f.Index)
		if at.holds == aRow {
			s.row = at
			continue
		}
		name := f.Tag.Get("field")
		field, ok := kind.Field(name)
		if !ok {
			continue
		}
		if name == "entered_on" {
			s.entered = at
		}
		switch {
		case name == "corrects":
			s.corrects = at
		case name == kind.When && field.Date == schemas.Event:
			s.when = at
		case field.Date == schemas.Event:
			s.closings = append(s.closings, at)
		}
		if len(field.Refers) > 0 {
			s.refers = append(s.refers, reference{field, at})
		}
	}
	return s
}

// eachShape does something for every kind at once, and waits.
func eachShape(do func(i int, s *shape)) {
	all := shapes()
	var wait sync.WaitGroup
	for i := range all {
		wait.Go(func() { do(i, &all[i]) })
	}
	wait.Wait()
}

// settle leaves only what could be seen on the audit day: rows dated after it
// go, dates of events after it become blank, and a row that another one
// corrects gives way to it. A test that was not yet read has no result.
func (p *Practice) settle() {
	for i := range p.Tests {
		p.Tests[i].await(p.AsOf)
	}
	gone := make([]struct{ later, corrected map[string]int }, len(shapes()))
	eachShape(func(i int, s *shape) {
		gone[i].later, gone[i].corrected = s.settle(&p.Records, p.AsOf)
	})
	for _, g := range gone {
		for file, n := range g.later {
			p.Later[file] += n
		}
		for file, n := range g.corrected {
			p.Corrected[file] += n
		}
	}
}

// await takes from a test what was not yet known on a day: where each day written on which
// it was read or reported lies after it, a pass is pending, and its control is blank. A
// failure stands: a year typed wrongly must not hide one.
func (t *Test) await(asOf quantity.Day) {
	read := t.ReadAt.Day()
	known := read.Written() && read <= asOf || t.ReportedOn.Written() && t.ReportedOn <= asOf
	if !known && t.Result != "fail" && (read.Written() || t.ReportedOn.Written()) {
		t.Result, t.Control = "pending", ""
	}
}

// settle does so for the rows of one kind, and counts by file those that go.
func (s *shape) settle(r *Records, asOf quantity.Day) (later, corrected map[string]int) {
	later, corrected = map[string]int{}, map[string]int{}
	all, slice := s.rows(r), reflect.ValueOf(r).Elem().Field(s.slice)
	giveWay := s.corrected(all, asOf)
	kept := 0
	for i := range all.count {
		v := all.at(i)
		row := s.row.row(v)
		if s.when.day(v) > asOf {
			later[row.File()]++
			continue
		}
		if row.ID != "" && giveWay[row.ID] && s.corrects.text(v) != row.ID {
			corrected[row.File()]++
			continue
		}
		for _, c := range s.closings {
			if c.day(v) > asOf {
				c.clear(v)
			}
		}
		if kept != i {
			slice.Index(kept).Set(slice.Index(i))
		}
		kept++
	}
	slice.SetLen(kept)
	return later, corrected
}

// corrected holds the ids that rows seen on the audit day correct. A row typed again
// under its own id corrects the other rows of that id, not itself. Rows that correct
// each other in a ring correct nothing: which is the later cannot be told.
func (s *shape) corrected(all rows, asOf quantity.Day) map[string]bool {
	var ids map[string]bool
	var by map[string]string // a row's id, and the id that it corrects
	each := func(see func(own, id string)) {
		for i := range all.count {
			v := all.at(i)
			if id := s.corrects.text(v); id != "" && s.when.day(v) <= asOf {
				see(s.row.row(v).ID, id)
			}
		}
	}
	each(func(own, id string) {
		if by == nil {
			ids, by = map[string]bool{}, map[string]string{}
		}
		by[own] = id
	})
	each(func(own, id string) {
		next := id
		for n := 0; next != "" && next != own && n < len(by); n++ {
			next = by[next]
		}
		if own == "" || next != own || id == own {
			ids[id] = true
		}
	})
	return ids
}
