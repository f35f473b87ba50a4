package practice

import (
	"slices"
	"strings"
	"unsafe"

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
	found := make([][][]Dangling, len(shapes()))
	var work []func()
	for i := range shapes() {
		s := &shapes()[i]
		found[i] = make([][]Dangling, len(s.refers))
		for k, ref := range s.refers {
			work = append(work, func() { found[i][k] = p.follow(s, ref) })
		}
	}
	together(work...)
	for i, s := range shapes() {
		p.countRows(s.kind.Name, s.rows(&p.Records).count)
		p.Dangling = append(p.Dangling, slices.Concat(found[i]...)...)
	}
}

// follow does so for one field of one kind.
func (p *Practice) follow(s *shape, ref reference) (found []Dangling) {
	to := p.known(ref.Refers)
	last := "" // neighbours often name the same
	all := s.rows(&p.Records)
	for i := range all.count {
		v := all.at(i)
		if list := ref.at.list(v); list != nil {
			list.Items = to.parted(list.Items)
		}
		for _, id := range ref.at.ids(v) {
			if id == last {
				continue
			}
			d := to.resolve(id)
			if d.State == One {
				last = id
			} else {
				d.Row, d.Field, d.ID, d.Kinds = s.row.row(v), ref.Name, id, ref.Refers
				found = append(found, d)
			}
		}
	}
	return found
}

// known is how rows of one kind are named.
type known struct {
	kind   string
	ids    *record.IDs
	called map[string]bool
}

type knowns []known

func (p *Practice) known(kinds []string) (list knowns) {
	for _, kind := range kinds {
		list = append(list, known{kind, p.Intake.IDs(kind), p.called[kind]})
	}
	return list
}

// resolve says how an id is known among the kinds it may name; the best state wins.
func (list knowns) resolve(id string) Dangling {
	d := Dangling{State: Absent}
	for i := range list {
		k := &list[i]
		if k.called[id] {
			return Dangling{State: One, Target: k.kind}
		}
		switch k.ids.State(id) {
		case record.IDOne:
			return Dangling{State: One, Target: k.kind}
		case record.IDShared:
			d = Dangling{State: Shared, Target: k.kind}
		case record.IDSetAside:
			if d.State == Absent {
				d = Dangling{State: SetAside, Target: k.kind}
			}
		}
	}
	return d
}

// parted takes items of a list apart that are no known id, where each part is one:
// "clinic, bag". The items themselves may be those of other rows too, and stay.
func (list knowns) parted(items []string) []string {
	var out []string
	for i, item := range items {
		parts := list.parts(item)
		switch {
		case parts != nil && out == nil:
			out = slices.Concat(items[:i], parts)
		case parts != nil:
			out = append(out, parts...)
		case out != nil:
			out = append(out, item)
		}
	}
	if out == nil {
		return items
	}
	return out
}

func (list knowns) parts(item string) []string {
	if !strings.ContainsAny(item, ",&") && !strings.Contains(item, " and ") || list.resolve(item).State != Absent {
		return nil
	}
	parts := strings.Split(joints.Replace(item), ";")
	for k := range parts {
		if parts[k] = strings.TrimSpace(parts[k]); list.resolve(parts[k]).State != One {
			return nil
		}
	}
	return parts
}

var joints = strings.NewReplacer(",", ";", "&", ";", " and ", ";")

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

// list is that of a field which holds one; else nil.
func (f field) list(row unsafe.Pointer) *quantity.List {
	switch f.holds {
	case aList:
		return (*quantity.List)(f.in(row))
	case aCount:
		return &(*quantity.CountOrList)(f.in(row)).List
	}
	return nil
}
