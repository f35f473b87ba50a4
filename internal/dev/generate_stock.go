package dev

import (
	"fmt"
	"time"
)

// binKey is what the ledger keeps one balance for, lots apart.
type binKey struct{ site, item, size string }

// lotLeft is what is left of one purchase.
type lotLeft struct {
	lot     string
	left    int
	expires time.Time
}

// bin is the true stock behind the ledger.
type bin struct {
	lots     []lotLeft
	box      int // pieces in one box
	least    int // buy below this
	material string
	keeps    bool // has a lot and an expiry date
}

func (m *maker) openStock() {
	add := func(site, item, size string, box, least int, keeps bool) {
		k := binKey{site, item, size}
		if m.bins[k] != nil {
			return
		}
		b := &bin{box: box, least: least, keeps: keeps}
		if item == "gloves" {
			b.material = "nitrile"
		}
		m.bins[k] = b
		m.binOrder = append(m.binOrder, k)
	}
	busy := int(m.plan.VisitsPerDay) + 1
	for _, w := range append(append([]worker{}, m.staff...), m.cohorts...) {
		for _, site := range w.sites() {
			add(site, "gloves", w.glove, 100, 12*busy, true)
			add(site, "gown", w.coat, 5, 2, false)
		}
	}
	for _, site := range []string{clinic, bag} {
		add(site, "respirator", "", 20, 4*busy, true)
		add(site, "mask", "", 50, 10, true)
		add(site, "eye-protection", "", 5, 2, false)
		add(site, "hair-cover", "", 100, 2*busy, false)
		add(site, "shoe-cover", "", 100, 4*busy, false)
		add(site, "sanding-cap", "", 100, 4*busy, false)
		add(site, "emery-board", "", 100, 4*busy, false)
		add(site, "hand-rub", "", 6, 2, true)
	}
	add(clinic, "pouch", "", 200, 10*busy, false)
	add(clinic, "indicator", "", 250, 10*busy, true)
	add(clinic, "spore-test", "", 50, 8*len(m.sterilizer), true)
	m.restock(m.first)
	for _, site := range []string{clinic, bag} {
		m.countPacks(m.first.AddDate(0, 0, -1), site, 0)
	}
}

func (m *maker) countPacks(d time.Time, site string, n int) {
	m.put("stock", row{"id": m.next("ST", 5), "item": "sterile-pack", "on": day(d), "reason": "count", "quantity": n, "each": 1, "site": site, "set": "nail"})
}

// restock buys what runs low and throws away what would run out of date.
func (m *maker) restock(d time.Time) {
	for _, k := range m.binOrder {
		b := m.bins[k]
		for i := range b.lots {
			if l := &b.lots[i]; l.left > 0 && !l.expires.IsZero() && l.expires.Before(d.AddDate(0, 3, 0)) {
				m.ledger(k, *l, d, "discard", l.left, 1)
				l.left = 0
			}
		}
		if b.left() >= b.least {
			continue
		}
		boxes := 1 + 2*b.least/b.box
		l := lotLeft{left: boxes * b.box}
		if b.keeps {
			l.lot, l.expires = m.next("LOT", 4), d.AddDate(2, 6, 0)
		}
		m.ledger(k, l, d, "purchase", boxes, b.box)
		if n := len(b.lots); !b.keeps && n > 0 {
			b.lots[n-1].left += l.left
			continue
		}
		b.lots = append(b.lots, l)
	}
}

func (b *bin) left() (n int) {
	for _, l := range b.lots {
		n += l.left
	}
	return n
}

// use takes pieces from the oldest lots.
func (m *maker) use(site, item, size string, n int) {
	b := m.bins[binKey{site, item, size}]
	for i := range b.lots {
		take := min(n, b.lots[i].left)
		b.lots[i].left -= take
		n -= take
	}
	if n > 0 {
		panic(fmt.Sprintf("the made practice ran out of %s %s at %s", item, size, site))
	}
}

// lot is the one in use.
func (m *maker) lot(site, item, size string) (string, time.Time) {
	for _, l := range m.bins[binKey{site, item, size}].lots {
		if l.left > 1 {
			return l.lot, l.expires
		}
	}
	return "", time.Time{}
}

// count writes what is on the shelf at the end of a day.
func (m *maker) count(d time.Time) {
	for _, k := range m.binOrder {
		b := m.bins[k]
		kept := b.lots[:0]
		for _, l := range b.lots {
			n := l.left
			if k.item == "gloves" && k.size == "S" && m.plan.slips() && sameDay(d, lastWorkday(m.last)) {
				n = 0
			}
			m.ledger(k, l, d, "count", n, 1)
			if l.left > 0 {
				kept = append(kept, l)
			}
		}
		b.lots = kept
	}
	m.countPacks(d, clinic, len(m.shelf))
	m.countPacks(d, bag, 0) // what the trips brought back stands on the shelf
}

func (m *maker) ledger(k binKey, l lotLeft, d time.Time, reason string, quantity, each int) {
	r := row{"id": m.next("ST", 5), "item": k.item, "on": day(d), "reason": reason, "quantity": quantity, "each": each, "site": k.site}
	if k.size != "" {
		r["size"] = k.size
	}
	if b := m.bins[k]; b.material != "" {
		r["material"] = b.material
	}
	if l.lot != "" {
		r["lot"], r["expires_on"] = l.lot, day(l.expires)
	}
	m.put("stock", r)
}
