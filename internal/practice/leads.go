package practice

// packLead is what a pack leads to; found says that its id is its own, and that the
// rest is known.
type packLead struct {
	found bool
	load  *Load
	uses  []*Visit
}

// lead finds, once for all checks, what packs and the packs of visits lead to: each is
// asked for by many checks, and an id is dear to look up among tens of thousands.
func (p *Practice) lead() {
	for _, k := range p.packs {
		k.lead.found = true
		k.lead.load, _ = p.Load(k.Load)
	}
	for _, v := range p.visitsByTime {
		v.lead = make([]*Pack, len(v.Packs.Items))
		for i, id := range v.Packs.Items {
			if k, state := p.Pack(id); state == One {
				v.lead[i] = k
				k.lead.uses = append(k.lead.uses, v)
			}
		}
	}
}

// UsesOfPack is the visits that name a pack, as UsesOf, and how its id is known.
func (p *Practice) UsesOfPack(k *Pack) ([]*Visit, State) {
	if k.lead.found {
		return k.lead.uses, One
	}
	key := Key(&k.Row)
	_, state := p.Pack(key)
	return p.UsesOf(key), state
}

// LoadOfPack is the load that a pack names, as Load.
func (p *Practice) LoadOfPack(k *Pack) (*Load, State) {
	if k.lead.load != nil {
		return k.lead.load, One
	}
	return p.Load(k.Load)
}

// PackOf is the pack that a visit names in a place of its list, as Pack.
func (p *Practice) PackOf(v *Visit, place int) (*Pack, State) {
	if place < len(v.lead) && v.lead[place] != nil {
		return v.lead[place], One
	}
	return p.Pack(v.Packs.Items[place])
}
