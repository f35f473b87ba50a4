package practice

import (
	"reflect"
	"sync"

	"footing/internal/quantity"
	"footing/internal/record"
	"footing/schemas"
)

// shape is what the generic passes need of one kind's struct: where its dates,
// its references and its row stand.
type shape struct {
	kind     *schemas.Kind
	slice    int // field of Records
	row      []int
	corrects []int
	when     []int
	closings [][]int // event dates other than the one that dates the row
	refers   []reference
}

type reference struct {
	field *schemas.Field
	at    []int
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
	s := shape{kind: kind, slice: slice}
	for _, f := range reflect.VisibleFields(t) {
		if f.Type == reflect.TypeFor[record.Row]() {
			s.row = f.Index
			continue
		}
		name := f.Tag.Get("field")
		field, ok := kind.Field(name)
		if !ok {
			continue
		}
		switch {
		case name == "corrects":
			s.corrects = f.Index
		case name == kind.When && field.Date == schemas.Event:
			s.when = f.Index
		case field.Date == schemas.Event:
			s.closings = append(s.closings, f.Index)
		}
		if len(field.Refers) > 0 {
			s.refers = append(s.refers, reference{field, f.Index})
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
// corrects gives way to it.
func (p *Practice) settle() {
	records := reflect.ValueOf(&p.Records).Elem()
	gone := make([]struct{ later, corrected map[string]int }, len(shapes()))
	eachShape(func(i int, s *shape) {
		gone[i].later, gone[i].corrected = s.settle(records.Field(s.slice), p.AsOf)
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

// settle does so for the rows of one kind, and counts by file those that go.
func (s *shape) settle(rows reflect.Value, asOf quantity.Day) (later, corrected map[string]int) {
	later, corrected = map[string]int{}, map[string]int{}
	giveWay := s.corrected(rows, asOf)
	kept := 0
	for i := range rows.Len() {
		v := rows.Index(i)
		row := v.FieldByIndex(s.row).Addr().Interface().(*record.Row)
		if s.when != nil && dayOf(v.FieldByIndex(s.when)) > asOf {
			later[row.File()]++
			continue
		}
		if row.ID != "" && giveWay[row.ID] && v.FieldByIndex(s.corrects).String() != row.ID {
			corrected[row.File()]++
			continue
		}
		for _, c := range s.closings {
			if f := v.FieldByIndex(c); dayOf(f) > asOf {
				f.SetZero()
			}
		}
		if kept != i {
			rows.Index(kept).Set(v)
		}
		kept++
	}
	rows.SetLen(kept)
	return later, corrected
}

// corrected holds the ids that rows seen on the audit day correct. A row typed again
// under its own id corrects the other rows of that id, not itself. Rows that correct
// each other in a ring correct nothing: which is the later cannot be told.
func (s *shape) corrected(rows reflect.Value, asOf quantity.Day) map[string]bool {
	var ids map[string]bool
	var by map[string]string // a row's id, and the id that it corrects
	each := func(see func(own, id string)) {
		for i := range rows.Len() {
			v := rows.Index(i)
			id := v.FieldByIndex(s.corrects).String()
			if id != "" && (s.when == nil || dayOf(v.FieldByIndex(s.when)) <= asOf) {
				see(v.FieldByIndex(s.row).Addr().Interface().(*record.Row).ID, id)
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

// dayOf is the local day of a day or moment field; 0 when it is not written.
func dayOf(v reflect.Value) quantity.Day {
	switch d := v.Addr().Interface().(type) {
	case *quantity.Day:
		return *d
	case *quantity.Moment:
		return d.Day()
	}
	return 0
}
