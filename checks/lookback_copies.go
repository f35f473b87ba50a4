package checks

import (
	"fmt"
	"slices"

	"footing/internal/audit"
	"footing/internal/practice"
)

// copies marks the rows that concern the visits and were typed after the complaint
// was received.
func (r *lookbackRun) copies(c *practice.Complaint, visits []*practice.Visit) {
	typed := lookbackEntries(r.P)
	late := map[*practice.Entry]bool{}
	for i, v := range visits {
		for _, e := range r.concerning(v, typed) {
			if e.EnteredOn <= c.ReceivedOn {
				continue
			}
			late[e] = true
			note := "typed on " + e.EnteredOn.Words() + ", after the complaint was received: a later copy"
			r.a.Chains[i].Copies = append(r.a.Chains[i].Copies, r.Locate(audit.At(&e.Row, "entered_on", note)))
		}
	}
	if n := len(late); n > 0 {
		r.says("%s after the complaint was received; the paper is the record.", audit.Plural(n, "row about these visits, marked as a later copy, was typed", "rows about these visits, marked as later copies, were typed"))
	}
}

// concerning are the rows about a visit: its own, those that its chain rests on, and
// the client's answers, consents, incidents and referrals.
func (r *lookbackRun) concerning(v *practice.Visit, typed map[any]*practice.Entry) (list []*practice.Entry) {
	add := func(e *practice.Entry) {
		if e != nil && !slices.Contains(list, e) {
			list = append(list, e)
		}
	}
	add(&v.Entry)
	for _, link := range r.behind[v] {
		for _, s := range link.Seen {
			if s.Row != nil {
				add(typed[s.Row])
			}
		}
	}
	for _, s := range r.P.ScreensOf(v.Client) {
		add(&s.Entry)
	}
	for i := range r.P.Histories {
		if h := &r.P.Histories[i]; h.Client == v.Client {
			add(&h.Entry)
		}
	}
	for i := range r.P.Consents {
		if c := &r.P.Consents[i]; c.Client == v.Client {
			add(&c.Entry)
		}
	}
	key := practice.Key(&v.Row)
	for i := range r.P.Incidents {
		if n := &r.P.Incidents[i]; n.Visit == key {
			add(&n.Entry)
		}
	}
	for i := range r.P.Referrals {
		if f := &r.P.Referrals[i]; f.Visit == key {
			add(&f.Entry)
		}
	}
	return list
}

// lookbackEntries finds what every row has by the row, for the kinds that chains rest on.
func lookbackEntries(p *practice.Practice) map[any]*practice.Entry {
	all := map[any]*practice.Entry{}
	lookbackIndex(all, p.Visits, func(v *practice.Visit) *practice.Entry { return &v.Entry })
	lookbackIndex(all, p.Packs, func(k *practice.Pack) *practice.Entry { return &k.Entry })
	lookbackIndex(all, p.Loads, func(l *practice.Load) *practice.Entry { return &l.Entry })
	lookbackIndex(all, p.Tests, func(t *practice.Test) *practice.Entry { return &t.Entry })
	lookbackIndex(all, p.Upkeep, func(u *practice.Upkeep) *practice.Entry { return &u.Entry })
	lookbackIndex(all, p.People, func(h *practice.Person) *practice.Entry { return &h.Entry })
	lookbackIndex(all, p.Credentials, func(c *practice.Credential) *practice.Entry { return &c.Entry })
	lookbackIndex(all, p.Observations, func(o *practice.Observation) *practice.Entry { return &o.Entry })
	lookbackIndex(all, p.Histories, func(h *practice.History) *practice.Entry { return &h.Entry })
	lookbackIndex(all, p.Screens, func(s *practice.Screen) *practice.Entry { return &s.Entry })
	lookbackIndex(all, p.Consents, func(c *practice.Consent) *practice.Entry { return &c.Entry })
	lookbackIndex(all, p.Incidents, func(n *practice.Incident) *practice.Entry { return &n.Entry })
	lookbackIndex(all, p.Referrals, func(f *practice.Referral) *practice.Entry { return &f.Entry })
	lookbackIndex(all, p.Instruments, func(i *practice.Instrument) *practice.Entry { return &i.Entry })
	lookbackIndex(all, p.Sterilizers, func(s *practice.Sterilizer) *practice.Entry { return &s.Entry })
	return all
}

func lookbackIndex[T any](all map[any]*practice.Entry, rows []T, entry func(*T) *practice.Entry) {
	for i := range rows {
		e := entry(&rows[i])
		all[&e.Row] = e
	}
}

// others counts, beside the clients of some visits, those who had packs of the same
// loads, the same packs, or visits that name the same instruments.
func (r *lookbackRun) others(visits []*practice.Visit) {
	own, packs, loads, instruments := map[string]bool{}, map[string]bool{}, map[string]bool{}, map[string]bool{}
	for _, v := range visits {
		own[v.Client] = true
		for _, id := range v.Packs.Items {
			packs[id] = true
			if k, state := r.P.Pack(id); state == practice.One && k.Load != "" {
				loads[k.Load] = true
			}
		}
		for _, id := range v.Loads.Items {
			loads[id] = true
		}
		for _, id := range v.Instruments.Items {
			instruments[id] = true
		}
	}
	all := map[string]bool{}
	out := lookbackNew(&r.a.Others)
	for _, share := range []struct {
		of   string
		with func(*practice.Visit) bool
	}{
		{"had packs of the same loads", func(v *practice.Visit) bool { return r.ofLoads(v, loads) }},
		{"had a visit that names the same pack", func(v *practice.Visit) bool { return lookbackAny(v.Packs.Items, packs) }},
		{"had a visit that names the same instrument", func(v *practice.Visit) bool { return lookbackAny(v.Instruments.Items, instruments) }},
	} {
		with := map[string]bool{}
		for _, v := range r.P.VisitsByTime() {
			if v.Done() && v.Client != "" && !own[v.Client] && share.with(v) {
				with[v.Client], all[v.Client] = true, true
			}
		}
		if n := len(with); n > 0 {
			out.Shares = append(out.Shares, fmt.Sprintf("%s %s", audit.Plural(n, "other client", "other clients"), share.of))
		}
	}
	out.Clients = len(all)
}

// ofLoads reports whether a visit names one of some loads, or a pack of one.
func (r *lookbackRun) ofLoads(v *practice.Visit, loads map[string]bool) bool {
	return lookbackAny(v.Loads.Items, loads) || slices.ContainsFunc(v.Packs.Items, func(id string) bool {
		k, state := r.P.Pack(id)
		return state == practice.One && loads[k.Load]
	})
}

func lookbackAny(ids []string, of map[string]bool) bool {
	return slices.ContainsFunc(ids, func(id string) bool { return of[id] })
}

// lookbackNew makes what a pointer leads to.
func lookbackNew[T any](at **T) *T {
	*at = new(T)
	return *at
}
