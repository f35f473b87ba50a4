package practice

import (
	"reflect"
	"slices"
	"strings"

	"footing/internal/quantity"
	"footing/internal/record"
)

// Dangling is a reference that leads to no single accepted row.
type Dangling struct {
	Row    *record.Row
	Field  string
	ID     string
	Kinds  []string // the kinds it may name
	State  State    // Absent, Shared or SetAside
	Target string   // the kind in which a Shared or SetAside id is known
}

// refer follows every field that its schema marks as a reference and keeps those
// that lead nowhere, in the order of kinds, fields and rows.
func (p *Practice) refer() {
	records := reflect.ValueOf(&p.Records).Elem()
	found := make([][]Dangling, len(shapes()))
	eachShape(func(i int, s *shape) {
		rows := records.Field(s.slice)
		for _, ref := range s.refers {
			found[i] = append(found[i], p.follow(s, rows, ref)...)
		}
	})
	for i, s := range shapes() {
		p.countRows(s.kind.Name, records.Field(s.slice).Len())
		p.Dangling = append(p.Dangling, found[i]...)
	}
}

// follow does so for one field of one kind.
func (p *Practice) follow(s *shape, rows reflect.Value, ref reference) (found []Dangling) {
	last := "" // neighbours often name the same
	for i := range rows.Len() {
		v := rows.Index(i)
		for id := range named(v.FieldByIndex(ref.at)) {
			if id == last {
				continue
			}
			d := p.resolve(id, ref.field.Refers)
			if d.State == One {
				last = id
			} else {
				d.Row = v.FieldByIndex(s.row).Addr().Interface().(*record.Row)
				d.Field, d.ID, d.Kinds = ref.field.Name, id, ref.field.Refers
				found = append(found, d)
			}
		}
	}
	return found
}

// resolve says how an id is known among the kinds it may name; the best state wins.
func (p *Practice) resolve(id string, kinds []string) Dangling {
	d := Dangling{State: Absent}
	for _, kind := range kinds {
		if p.called[kind][id] {
			return Dangling{State: One, Target: kind}
		}
		switch p.Intake.StateOf(kind, id) {
		case record.IDOne:
			return Dangling{State: One, Target: kind}
		case record.IDShared:
			d = Dangling{State: Shared, Target: kind}
		case record.IDSetAside:
			if d.State == Absent {
				d = Dangling{State: SetAside, Target: kind}
			}
		}
	}
	return d
}

// named yields the ids that one reference field holds.
func named(v reflect.Value) func(func(string) bool) {
	return func(yield func(string) bool) {
		var items []string
		switch f := v.Addr().Interface().(type) {
		case *string:
			if *f != "" {
				yield(*f)
			}
			return
		case *quantity.List:
			items = f.Items
		case *quantity.CountOrList:
			items = f.Items
		}
		for _, id := range items {
			if !yield(id) {
				return
			}
		}
	}
}

// assume fills references that were left blank where the folder holds just one
// row they could mean, and counts them so that the report can say so.
func (p *Practice) assume() {
	fill := func(kind, field string, at *string, only string) {
		if *at == "" && only != "" {
			*at = only
			p.Assumed[Link{kind, field}]++
		}
	}
	sterilizer := only(p, "sterilizers", p.Sterilizers, func(s *Sterilizer) *record.Row { return &s.Row })
	site := only(p, "sites", p.Sites, func(s *Site) *record.Row { return &s.Row })
	for i := range p.Programs {
		fill("programs", "sterilizer", &p.Programs[i].Sterilizer, sterilizer)
	}
	for i := range p.Loads {
		fill("loads", "sterilizer", &p.Loads[i].Sterilizer, sterilizer)
	}
	for i := range p.Tests {
		if slices.Contains([]string{"spore", "air-removal", "leak"}, p.Tests[i].Type) {
			fill("tests", "equipment", &p.Tests[i].Equipment, sterilizer)
		}
	}
	for i := range p.Upkeep {
		if len(p.Equipment) == 0 {
			fill("upkeep", "equipment", &p.Upkeep[i].Equipment, sterilizer)
		}
	}
	for i := range p.Sterilizers {
		fill("sterilizers", "site", &p.Sterilizers[i].Site, site)
	}
	for i := range p.Visits {
		fill("visits", "site", &p.Visits[i].Site, site)
	}
	for i := range p.Stock {
		fill("stock", "site", &p.Stock[i].Site, site)
	}
	for i := range p.Packs {
		fill("packs", "stored_at", &p.Packs[i].StoredAt, site)
	}
}

// only is the key of the one row of a kind, or "" when there are none or several;
// a row that was set aside, or stands in a file not read, could be meant too.
func only[T any](p *Practice, kind string, rows []T, row func(*T) *record.Row) string {
	found := 0
	for _, f := range p.Intake.Files {
		if f.Kind == kind {
			found += f.Rows
		}
	}
	if len(rows) != 1 || found != 1 || p.Unread(kind) {
		return ""
	}
	return Key(row(&rows[0]))
}

// Key is what a row is known by among rows of its kind: its id, or its place.
func Key(r *record.Row) string {
	if id := strings.TrimSpace(r.ID); id != "" {
		return id
	}
	return r.Label()
}
