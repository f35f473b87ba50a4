package dev

import (
	"container/heap"
	"time"
)

// slots are the starts of a day's visits, in minutes after midnight.
var slots = []int{9*60 + 30, 10*60 + 25, 11*60 + 20, 12*60 + 45, 13*60 + 40, 14*60 + 35, 15*60 + 30}

const studentSlot = 5 // on Wednesdays, with the first practitioner at hand

// booking is one slot of one person at one site.
type booking struct {
	who, supervisor worker
	site            string
	start           time.Time
}

// day goes through one working day: what is sterilized, who is seen, what is
// cleaned and counted.
func (m *maker) day(d time.Time) {
	if m.breaks != nil {
		m.breaks.begin(d)
	}
	m.openProducts(d)
	if m.cleaning == nil {
		m.clean(at(d, 6*60+5)) // only on the first day
	}
	made := m.sterilize(d)
	var done []pack
	if d.Sub(m.first) >= 3*24*time.Hour {
		m.owed += m.plan.VisitsPerDay
		booked := m.bookings(d, int(m.owed))
		m.owed -= float64(len(booked))
		m.restock(d)
		done = m.seeClients(d, booked)
	}
	for _, p := range done {
		m.soiled = append(m.soiled, p.set)
	}
	if made || len(done) > 0 {
		m.use(clinic, "gloves", m.reprocessor().glove, 2)
	}
	m.clean(at(d, 16*60+40))
	m.keepHouse(d)
	if sameDay(d, m.repairOn) {
		m.repair(d)
	}
	if monthEnds(d) || sameDay(lastWorkday(m.last), d) {
		m.count(d)
	}
}

// bookings fills slots across the practitioners, so that all work about the same.
func (m *maker) bookings(d time.Time, n int) (list []booking) {
	first := m.staff[0]
	if d.Weekday() == time.Wednesday && n > 0 {
		for _, s := range m.cohorts {
			if !d.Before(s.from) && !d.After(s.until) {
				list = append(list, booking{s, first, clinic, at(d, slots[studentSlot]+m.between(0, 5))})
			}
		}
	}
	taught := len(list) > 0
	for slot := range slots {
		for i, w := range m.staff {
			if len(list) >= n || w.role != "practitioner" || i == 0 && slot == studentSlot && taught {
				continue
			}
			site := clinic
			if w.mobile && (d.Weekday() == time.Tuesday || d.Weekday() == time.Thursday) {
				site = bag
			}
			list = append(list, booking{w, worker{}, site, at(d, slots[slot]+m.between(0, 5))})
		}
	}
	return list
}

// seeClients writes the visits and gives back the packs that they used.
func (m *maker) seeClients(d time.Time, booked []booking) (used []pack) {
	away := m.leave(d, booked)
	var spare []pack
	for _, b := range booked {
		c := m.clientFor(d, b.who.role == "student")
		if m.chance(0.01) {
			m.put("visits", row{"id": m.next("V", 6), "client": c.id, "started": moment(b.start), "person": b.who.id, "site": b.site, "status": "cancelled"})
			c.due = d.AddDate(0, 0, 7)
			heap.Push(&m.due, c)
			continue
		}
		var p pack
		if b.site == bag {
			p, away = away[0], away[1:]
		} else {
			p, m.shelf = m.shelf[0], m.shelf[1:]
		}
		m.visit(d, b, c, p)
		used = append(used, p)
		if c.first.IsZero() {
			c.first = d
		}
		c.last = d
		if !m.chance(0.02) { // else this was the last visit
			c.due = d.AddDate(0, 0, m.between(33, 54))
			heap.Push(&m.due, c)
		}
	}
	spare = append(spare, away...)
	m.comeBack(d, booked, spare)
	m.shelf = append(spare, m.shelf...)
	return used
}

func (m *maker) reprocessor() worker {
	for _, w := range m.staff {
		if w.role == "reprocessing" {
			return w
		}
	}
	return m.staff[0]
}

func sameDay(a, b time.Time) bool { return day(a) == day(b) }

func lastWorkday(d time.Time) time.Time {
	for d.Weekday() == time.Saturday || d.Weekday() == time.Sunday {
		d = d.AddDate(0, 0, -1)
	}
	return d
}

// monthEnds is true of the last working day of a month.
func monthEnds(d time.Time) bool {
	return sameDay(d, lastWorkday(time.Date(d.Year(), d.Month()+1, 0, 0, 0, 0, 0, time.UTC)))
}

// close writes what is known only at the end: the shelf, the clients' dates.
func (m *maker) close() {
	for _, p := range m.shelf {
		r := p.row()
		r["counted_on"] = day(m.last)
		m.put("packs", r)
	}
	if m.cleaning != nil {
		m.put("cleanings", m.cleaning)
	}
	m.writeClients()
	m.closeWaste()
}
