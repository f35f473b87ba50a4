package chain

import (
	"slices"

	"footing/internal/practice"
	"footing/internal/quantity"
)

// finish goes through the visits and names their clients.
func (r *reaching) finish() Reach {
	var vague map[string]bool
	if r.open {
		vague = r.vague()
	}
	for _, v := range r.p.VisitsByTime() {
		switch {
		case !v.Done():
		case r.named[v]:
			r.Visits = append(r.Visits, v)
		case r.open && !r.early(v) && r.could(v, vague):
			r.Possible = append(r.Possible, v)
		}
	}
	r.Clients = clients(r.Visits)
	r.MostClients = clients(r.Visits, r.Possible)
	return r.Reach
}

// early reports whether a visit surely came before anything that is not accounted for
// could have been used.
func (r *reaching) early(v *practice.Visit) bool {
	if day := v.Started.Day(); day != r.from {
		return day < r.from
	}
	return v.Started.Last()+r.terms.Clock.seconds() < r.second
}

// could reports whether a visit that names nothing of these may have had some of it.
func (r *reaching) could(v *practice.Visit, vague map[string]bool) bool {
	if len(v.Packs.Items) == 0 && len(v.Loads.Items) == 0 {
		none := v.PacksUsed.Written && v.PacksUsed.Value == 0
		return !none && (r.terms.Needs == nil || r.terms.Needs(v) != quantity.No)
	}
	return namesTooFew(v) || r.namesVague(v, vague)
}

// namesTooFew reports whether a visit counts more packs than it names, and no load.
func namesTooFew(v *practice.Visit) bool {
	return len(v.Loads.Items) == 0 && v.PacksUsed.Value > float64(len(v.Packs.Items))
}

// namesVague reports whether a visit names something whose origin cannot be told.
func (r *reaching) namesVague(v *practice.Visit, vague map[string]bool) bool {
	return slices.ContainsFunc(v.Packs.Items, func(id string) bool {
		_, state := r.p.Pack(id)
		return vague[id] || state == practice.Absent || state == practice.SetAside
	}) || slices.ContainsFunc(v.Loads.Items, func(id string) bool {
		return r.unknown(id) || len(v.Packs.Items) == 0 && r.partly[id]
	})
}

// unknown reports whether no row tells of a load.
func (r *reaching) unknown(load string) bool {
	_, state := r.p.Load(load)
	return load == "" || state == practice.Absent || state == practice.SetAside
}

// vague is the packs whose rows do not lead to a load, by what they are known by.
func (r *reaching) vague() map[string]bool {
	ids := map[string]bool{}
	for _, k := range r.lost() {
		ids[practice.Key(&k.Row)] = !r.told
	}
	return ids
}

// lost is the packs whose rows do not lead to a load.
func (r *reaching) lost() (packs []*practice.Pack) {
	for i := range r.p.Packs {
		if k := &r.p.Packs[i]; r.unknown(k.Load) {
			packs = append(packs, k)
		}
	}
	return packs
}

// clients is those of some visits, each once, sorted.
func clients(lists ...[]*practice.Visit) []string {
	var all []string
	for _, visits := range lists {
		for _, v := range visits {
			if v.Client != "" {
				all = append(all, v.Client)
			}
		}
	}
	slices.Sort(all)
	return slices.Compact(all)
}
