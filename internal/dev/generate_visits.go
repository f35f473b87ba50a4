package dev

import "time"

// visit writes one visit, its pack and what followed from it.
func (m *maker) visit(d time.Time, b booking, c *client, p pack) {
	id := m.next("V", 6)
	ended := at(b.start, m.between(32, 44))
	did := []string{"nail-trim"}
	for _, x := range []struct {
		procedure string
		part      float64
	}{{"nail-debridement", 0.6}, {"callus-reduction", 0.4}, {"corn-reduction", 0.1}, {"rotary-sanding", 0.35}, {"padding", 0.1}} {
		if m.chance(x.part) && (x.procedure != "padding" || !c.reacts["adhesive"] && !c.reacts["acrylate"]) {
			did = append(did, x.procedure)
		}
	}
	if m.refresh(c, d) {
		did = append(did, "assessment")
	}
	dust := has(did, "rotary-sanding")
	gear := []string{"gown", "respirator", "eye-protection"}
	single := []string{"emery-board"}
	m.use(b.site, "gloves", b.who.glove, 2)
	m.use(b.site, "respirator", "", 1)
	m.use(b.site, "emery-board", "", 1)
	if dust {
		gear = append(gear, "hair-cover", "shoe-cover")
		single = append(single, "sanding-cap")
		m.use(b.site, "hair-cover", "", 1)
		m.use(b.site, "shoe-cover", "", 2)
		m.use(b.site, "sanding-cap", "", 1)
	}
	r := row{"id": id, "client": c.id, "started": moment(b.start), "person": b.who.id, "ended": moment(ended), "site": b.site, "status": "done",
		"procedures": did, "gloves": "nitrile", "glove_size": b.who.glove, "gear": gear, "instruments": instruments(p.set), "packs": []string{p.id},
		"single_use": single, "products": m.applied(c, did), "bleeding": "none", "signed_on": day(d)}
	if dust {
		r["dust_extraction"] = true
	}
	if b.who.role == "student" {
		r["supervisor"], r["countersigned_on"] = b.supervisor.id, day(d)
	}
	if c.risk() > 0 || m.chance(0.2) {
		r["advice"] = []string{"daily-check", "footwear", "whom-to-call"}
	}
	if tool := m.ownTool(c, d); tool != "" && b.site == clinic {
		r["instruments"] = append(instruments(p.set), tool)
	}
	m.found(d, id, b, c, r)
	if m.fault() {
		r["instruments"] = append(instruments(p.set), outOfScope)
	}
	m.put("visits", r)

	k := p.row()
	k["opened_at"] = moment(at(b.start, 2))
	k["outside_indicator"], k["inside_indicator"], k["condition"] = "pass", "pass", "intact"
	if m.fault() {
		k["use_by"] = day(d.AddDate(0, 0, -1-m.faults.IntN(20)))
	}
	m.put("packs", k)
	m.put("housekeeping", row{"done_at": moment(at(ended, 4)), "task": "between-clients", "site": b.site, "product": m.products["surface cleaner"], "person": b.who.id})
}

const ownEvery = 40 // one client in so many has a tool that is kept here

// ownTool is the file that is kept for one client alone, from the first visit on.
func (m *maker) ownTool(c *client, d time.Time) string {
	if c.own == "" && c.order%ownEvery == 1 {
		c.own = "I-" + c.id
		m.put("instruments", row{"id": c.own, "kind": "file", "material": []string{"surgical-stainless-steel"}, "hinged": false, "hollow": false,
			"heat_safe": true, "reuse": "client-owned", "owner": c.id, "touches": "intact-skin", "acquired_on": day(d), "site": clinic})
	}
	return c.own
}

// found adds the few things that a visit finds, each with what must follow it.
func (m *maker) found(d time.Time, id string, b booking, c *client, r row) {
	switch x := m.rng.Float64(); {
	case x < 0.002:
		r["found"], r["bleeding"] = []string{"cut"}, "minor"
		m.put("incidents", row{"id": m.next("IN", 4), "kind": "cut", "occurred_on": day(d), "recorded_on": day(d), "client": c.id, "visit": id,
			"person": b.who.id, "body_part": "left foot, second toe", "action": "pressed, cleaned, dressed; client told", "closed_on": day(d)})
	case x < 0.004 && c.neuropathy:
		c.ulcer = true
		m.refer(d, id, c, "ulcer", "working-day")
		r["found"] = []string{"ulcer"}
		m.takeHistory(c, d)
	case x < 0.005:
		r["found"] = []string{"hot-swollen-foot"}
		m.refer(d, id, c, "hot-swollen-foot", "immediate")
	case x < 0.02:
		r["found"] = []string{"fragile-skin"}
	}
}

func (m *maker) refer(d time.Time, visit string, c *client, reason, urgency string) {
	r := row{"id": m.next("R", 4), "client": c.id, "sent_on": day(d), "visit": visit, "reason": reason, "urgency": urgency}
	if out := d.AddDate(0, 0, 12); !out.After(m.last) {
		r["outcome_on"] = day(out)
	}
	m.put("referrals", r)
}

// applied gives the containers in use that hold nothing the client reacts to.
func (m *maker) applied(c *client, did []string) []string {
	skin := "skin wipe, chlorhexidine"
	if c.reacts["chlorhexidine"] {
		skin = "skin wipe, alcohol"
	}
	list := []string{m.products[skin], m.products["urea cream"]}
	if has(did, "padding") {
		list = append(list, m.products["felt pad"])
	}
	return list
}

func has(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}

// leave writes the trip of a day with mobile visits: as many packs as visits and one more.
func (m *maker) leave(d time.Time, booked []booking) (away []pack) {
	n := 0
	for _, b := range booked {
		if b.site == bag {
			n++
		}
	}
	if n == 0 {
		return nil
	}
	n = min(n+1, len(m.shelf))
	away, m.shelf = append(away, m.shelf[:n]...), m.shelf[n:]
	m.out = ids(away)
	return away
}

func (m *maker) comeBack(d time.Time, booked []booking, spare []pack) {
	for _, b := range booked {
		if b.site == bag {
			m.put("trips", row{"on": day(d), "person": b.who.id, "from_site": clinic, "to_site": bag, "packs_out": m.out, "packs_back": ids(spare), "soiled_sealed": true})
			return
		}
	}
}

func ids(packs []pack) []string {
	list := []string{}
	for _, p := range packs {
		list = append(list, p.id)
	}
	return list
}
