package checks

import (
	"slices"

	"footing/internal/audit"
	"footing/internal/practice"
)

// instrumentsUse is a visit in which an instrument was used, and where that is
// written.
type instrumentsUse struct {
	visit *practice.Visit
	at    audit.Evidence
}

// instrumentsUses finds, for each instrument of these kinds that is one row, the
// visits that took place and name it, or a pack that holds it, by time.
func instrumentsUses(p *practice.Practice, kinds []string) map[string][]instrumentsUse {
	uses, sought := map[string][]instrumentsUse{}, map[string]bool{}
	for i := range p.Instruments {
		if slices.Contains(kinds, p.Instruments[i].Type) {
			sought[practice.Key(&p.Instruments[i].Row)] = true
		}
	}
	if len(sought) == 0 {
		return nil
	}
	add := func(id string, u instrumentsUse) {
		if !sought[id] {
			return
		}
		if _, state := p.Instrument(id); state == practice.One {
			uses[id] = append(uses[id], u)
		}
	}
	for _, v := range p.VisitsByTime() {
		if !v.Done() {
			continue
		}
		for _, id := range v.Instruments.Items {
			add(id, instrumentsUse{v, audit.At(&v.Row, "instruments")})
		}
		for _, pack := range v.Packs.Items {
			if k, state := p.Pack(pack); state == practice.One {
				for _, id := range k.Instruments.Items {
					add(id, instrumentsUse{v, audit.At(&v.Row, "packs", "a pack that holds it")})
				}
			}
		}
	}
	return uses
}
