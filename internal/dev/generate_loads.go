package dev

import (
	"fmt"
	"time"
)

// pack is one closed set on the shelf.
type pack struct {
	id, load string
	set      int
	made     time.Time
}

func (p pack) row() row {
	return row{"id": p.id, "load": p.load, "set": "nail", "instruments": instruments(p.set), "packaging": "pouch", "use_by": day(p.made.AddDate(0, 6, 0)),
		"stored_at": clinic, "label": []string{"sterilizer", "load", "date", "initials", "contents", "use-by"}}
}

const firstLoad = 8*60 + 10 // minutes after midnight

// sterilize runs the day's tests and loads; false if nothing waited for one.
func (m *maker) sterilize(d time.Time) bool {
	if len(m.soiled) == 0 || m.breaks.idle(d) {
		return false
	}
	for i := range m.sterilizer {
		s := &m.sterilizer[i]
		s.free = at(d, firstLoad)
		m.dayTests(d, s)
	}
	var loads []string
	for n := 0; len(m.soiled) > 0 && n < loadsPerDay; n++ {
		for i := range m.sterilizer {
			if take := min(packsPerLoad, len(m.soiled)); take > 0 {
				loads = append(loads, m.load(d, &m.sterilizer[i], m.soiled[:take], n == 0)...)
				m.soiled = m.soiled[take:]
			}
		}
	}
	m.cleaning["loads"] = loads
	m.put("cleanings", m.cleaning)
	m.cleaning = nil
	return true
}

// dayTests: air removal each day before the first load, a leak test a week.
func (m *maker) dayTests(d time.Time, s *machine) {
	who := m.reprocessor().id
	if d.Weekday() == time.Monday || d.Sub(s.leaked) >= 5*24*time.Hour {
		s.leaked = d
		s.counter++
		m.put("tests", row{"id": m.next("T", 5), "kind": "leak", "run_at": moment(at(d, 6*60+50)), "equipment": s.id, "counter": s.counter,
			"leak_rate": fmt.Sprintf("0.%d mbar/min", m.between(2, 7)), "person": who, "result": "pass"})
	}
	s.counter++
	m.put("tests", row{"id": m.next("T", 5), "kind": "air-removal", "run_at": moment(at(d, 7*60+25)), "equipment": s.id, "program": s.program,
		"counter": s.counter, "person": who, "result": "pass"})
}

// load writes one load, and before it a stopped one now and then; it gives their ids.
func (m *maker) load(d time.Time, s *machine, sets []int, firstToday bool) (ids []string) {
	who := m.reprocessor().id
	start := s.free.Add(time.Duration(m.between(0, 4)) * time.Minute)
	if m.chance(0.004) {
		s.counter++
		ids = append(ids, m.next("L", 5))
		m.put("loads", row{"id": ids[0], "started": moment(start), "sterilizer": s.id, "counter": s.counter, "program": s.program,
			"ended": moment(at(start, 16)), "wrapped": true, "outside_indicator": "none", "printout": true, "loaded_by": who, "released_by": who,
			"released_at": moment(at(start, 20)), "decision": "rejected", "fault": "stopped by the sterilizer, door seal; seal wiped, run again"})
		start = at(start, 30)
	}
	s.counter++
	id := m.next("L", 5)
	number := m.counts["L"]
	c := newCycle(m.plan.Seed, number, start, s.id, s.counter)
	ended := start.Add(c.length() + time.Minute).Truncate(time.Minute)
	exposure := c.exposure()
	misread := m.fault()
	if misread {
		exposure -= 2
	}
	r := row{"id": id, "started": moment(start), "sterilizer": s.id, "counter": s.counter, "program": s.program, "ended": moment(ended),
		"temperature": fmt.Sprintf("%.1f °C", c.lowest()), "pressure": fmt.Sprintf("%.0f kPa absolute", saturation(c.lowest())),
		"exposure": fmt.Sprintf("%.1f min", exposure), "drying": fmt.Sprintf("%d min", c.dried/60), "wrapped": true, "hinges_open": true, "packs_dry": true,
		"packs_made": len(sets), "outside_indicator": "pass", "inside_indicator": "pass", "printout": true, "loaded_by": who, "released_by": who,
		"released_at": moment(at(ended, 8)), "decision": "released"}
	if m.plan.Traces {
		m.trace(c, number, r, misread)
	}
	m.put("loads", r)
	for _, set := range sets {
		m.shelf = append(m.shelf, pack{m.next("K", 6), id, set, ended})
		m.use(clinic, "pouch", "", 1)
		m.use(clinic, "indicator", "", 1)
	}
	if firstToday && (d.Weekday() == time.Monday || d.Sub(s.spored) >= 5*24*time.Hour) {
		s.spored = d
		m.sporeTest(s, id, start, ended)
	}
	s.free = at(ended, 20)
	return append(ids, id)
}

// sporeTest goes through the day's first load, is read the next day beside a control.
func (m *maker) sporeTest(s *machine, load string, start, ended time.Time) {
	lot, expires := m.lot(clinic, "spore-test", "")
	m.use(clinic, "spore-test", "", 2)
	in := at(ended, 15)
	r := row{"id": m.next("T", 5), "kind": "spore", "run_at": moment(start), "equipment": s.id, "load": load, "program": s.program, "counter": s.counter,
		"incubated_at": moment(in), "read_after": "24 h", "lot": lot, "lot_expires_on": day(expires), "control_lot": lot, "person": m.reprocessor().id, "result": "pending"}
	if read := at(in, 24*60+m.between(5, 50)); read.Before(m.last.AddDate(0, 0, 1)) {
		r["read_at"], r["control"], r["result"] = moment(read), "growth", "pass"
	}
	m.put("tests", r)
}

// clean holds the evening's cleaning until the loads that take it have ids.
func (m *maker) clean(evening time.Time) {
	if len(m.soiled) == 0 {
		return
	}
	m.cleaning = row{"started": moment(evening), "ended": moment(at(evening, 25)), "method": "ultrasonic", "product": m.products["instrument cleaner"],
		"temperature": fmt.Sprintf("%d °C", m.between(35, 42)), "person": m.reprocessor().id, "inspected": true}
}
