package practice

import "footing/internal/record"

// State is how an id is known: to one row, to several, only to a row that was set aside, or not at all.
type State uint8

const (
	Absent   State = iota // no row has this id
	One                   // exactly one accepted row
	Shared                // several rows have it
	SetAside              // only a row that was set aside, or lies after the audit day, has it
)

// index finds rows by id.
type index struct {
	counts map[string]int

	people      map[string]*Person
	sites       map[string]*Site
	clients     map[string]*Client
	visits      map[string]*Visit
	instruments map[string]*Instrument
	sterilizers map[string]*Sterilizer
	equipment   map[string]*Equipment
	programs    map[string]*Program
	loads       map[string]*Load
	packs       map[string]*Pack
	products    map[string]*Product

	called map[string]map[string]bool // by kind, the names that rows of it are called by besides their ids
}

// byID finds the rows of a kind whose ids no other row has.
func byID[T any](in *record.Intake, kind string, rows []T, row func(*T) *record.Row) map[string]*T {
	m, ids := make(map[string]*T, len(rows)), in.IDs(kind)
	for i := range rows {
		if key := Key(row(&rows[i])); !ids.AnyShared() || ids.State(key) != record.IDShared {
			m[key] = &rows[i]
		}
	}
	return m
}

func (x *index) build(r *Records, in *record.Intake) {
	x.people = byID(in, "people", r.People, func(v *Person) *record.Row { return &v.Row })
	x.sites = byID(in, "sites", r.Sites, func(v *Site) *record.Row { return &v.Row })
	x.clients = byID(in, "clients", r.Clients, func(v *Client) *record.Row { return &v.Row })
	x.visits = byID(in, "visits", r.Visits, func(v *Visit) *record.Row { return &v.Row })
	x.instruments = byID(in, "instruments", r.Instruments, func(v *Instrument) *record.Row { return &v.Row })
	x.sterilizers = byID(in, "sterilizers", r.Sterilizers, func(v *Sterilizer) *record.Row { return &v.Row })
	x.equipment = byID(in, "equipment", r.Equipment, func(v *Equipment) *record.Row { return &v.Row })
	x.programs = byID(in, "programs", r.Programs, func(v *Program) *record.Row { return &v.Row })
	x.loads = byID(in, "loads", r.Loads, func(v *Load) *record.Row { return &v.Row })
	x.packs = byID(in, "packs", r.Packs, func(v *Pack) *record.Row { return &v.Row })
	x.products = byID(in, "products", r.Products, func(v *Product) *record.Row { return &v.Row })
}

// callings notes the names of the kinds that people name by name: a log says which
// program ran as the sterilizer's display has it.
func (x *index) callings(r *Records) {
	x.called = map[string]map[string]bool{"programs": {}, "products": {}}
	for i := range r.Programs {
		x.called["programs"][r.Programs[i].Name] = true
	}
	for i := range r.Products {
		x.called["products"][r.Products[i].Name] = true
	}
}

func (p *Practice) countRows(kind string, n int) {
	if p.counts == nil {
		p.counts = map[string]int{}
	}
	p.counts[kind] = n
}

// find looks one id up; the row is nil unless the state is One.
func find[T any](p *Practice, kind string, m map[string]*T, id string) (*T, State) {
	if v, here := m[id]; here {
		return v, One
	}
	switch p.Intake.StateOf(kind, id) {
	case record.IDShared:
		return nil, Shared
	case record.IDSetAside, record.IDOne: // a row of it was accepted, and is not judged
		return nil, SetAside
	}
	return nil, Absent
}

// Person finds a person by id.
func (p *Practice) Person(id string) (*Person, State) { return find(p, "people", p.people, id) }

// Site finds a site by id.
func (p *Practice) Site(id string) (*Site, State) { return find(p, "sites", p.sites, id) }

// Client finds a client by pseudonym.
func (p *Practice) Client(id string) (*Client, State) { return find(p, "clients", p.clients, id) }

// Visit finds a visit by id.
func (p *Practice) Visit(id string) (*Visit, State) { return find(p, "visits", p.visits, id) }

// Instrument finds an instrument by id.
func (p *Practice) Instrument(id string) (*Instrument, State) {
	return find(p, "instruments", p.instruments, id)
}

// Sterilizer finds a sterilizer by id.
func (p *Practice) Sterilizer(id string) (*Sterilizer, State) {
	return find(p, "sterilizers", p.sterilizers, id)
}

// Program finds a program by id.
func (p *Practice) Program(id string) (*Program, State) { return find(p, "programs", p.programs, id) }

// Load finds a load by id.
func (p *Practice) Load(id string) (*Load, State) { return find(p, "loads", p.loads, id) }

// Pack finds a pack by id.
func (p *Practice) Pack(id string) (*Pack, State) { return find(p, "packs", p.packs, id) }

// Product finds a product by id.
func (p *Practice) Product(id string) (*Product, State) { return find(p, "products", p.products, id) }
