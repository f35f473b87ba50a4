package record

import (
	"cmp"
	"reflect"
	"slices"
	"strings"
	"time"
)

// finish puts the rows of all files into the target and makes the intake.
func (r *reading) finish(into reflect.Value) *Intake {
	f := r.folder
	in := &Intake{NotRead: f.notRead, Problems: f.refused, Order: r.set.order, Zone: cmp.Or(r.set.zone, time.UTC), Units: r.set.units, ids: map[string]*IDs{}}
	for _, e := range f.traces {
		in.Traces = append(in.Traces, Trace{Name: e.name, Bytes: e.info.Size(), entry: e})
	}
	in.Layout, in.dir = r.traceLayout, f.root.Name()
	byKind := map[*plan][]*sheet{}
	for _, slot := range r.slots {
		for _, s := range slot.sheets {
			in.Files = append(in.Files, s.file)
			in.Problems = append(in.Problems, s.told...)
			byKind[s.plan] = append(byKind[s.plan], s)
		}
		r.sheets = append(r.sheets, slot.sheets...)
	}
	for _, p := range f.plans {
		fillTarget(into.Field(p.slot), byKind[p])
	}
	in.Problems = append(in.Problems, r.index(in, byKind)...)
	in.Problems = append(in.Problems, r.copies()...)
	if r.opt.Keep {
		in.kept = &kept{r.sheets, f.plans, into.Type()}
	}
	slices.SortStableFunc(in.NotRead, func(a, b NotRead) int { return strings.Compare(a.Name, b.Name) })
	slices.SortStableFunc(in.Problems, func(a, b Problem) int { return strings.Compare(a.File, b.File) })
	return in
}

// fillTarget gives one field of the target the accepted rows of its files.
func fillTarget(field reflect.Value, sheets []*sheet) {
	field.SetZero()
	total := 0
	for _, s := range sheets {
		total += s.file.Accepted
	}
	switch {
	case total == 0:
	case field.Kind() != reflect.Slice:
		field.Set(sheets[0].into.Index(0))
	case len(sheets) == 1:
		field.Set(sheets[0].into.Slice3(0, total, total).Convert(field.Type()))
	default:
		all := reflect.MakeSlice(field.Type(), 0, total)
		for _, s := range sheets {
			all = reflect.AppendSlice(all, s.into.Slice(0, s.file.Accepted).Convert(field.Type()))
		}
		field.Set(all)
	}
}
