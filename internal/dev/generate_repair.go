package dev

import "time"

const repeats = 3 // spore tests after a repair

// repairDay is the Friday of the one repair, two thirds through the records; never,
// where they are short.
func repairDay(first, last time.Time) time.Time {
	d := first.Add(last.Sub(first) * 2 / 3).Truncate(24 * time.Hour)
	if d.Sub(first) < 30*24*time.Hour {
		return time.Time{}
	}
	for d.Weekday() != time.Friday {
		d = d.AddDate(0, 0, -1)
	}
	return d
}

// repair writes the repair of the first sterilizer on a Friday evening, and the spore
// tests of Saturday, read on Sunday: before the next load.
func (m *maker) repair(d time.Time) {
	s := &m.sterilizer[0]
	m.put("upkeep", row{"id": m.next("U", 4), "equipment": s.id, "task": "repair", "done_on": day(d), "done_by": "bench engineer", "result": "pass"})
	m.repeatTests(s, at(d.AddDate(0, 0, 1), 9*60))
}

// repeatTests writes spore tests in empty cycles, one after the other.
func (m *maker) repeatTests(s *machine, start time.Time) {
	lot, expires := m.lot(clinic, "spore-test", "")
	m.use(clinic, "spore-test", "", 1+repeats)
	for range repeats {
		s.counter++
		in := at(start, 70)
		m.put("tests", row{"id": m.next("T", 5), "kind": "spore", "run_at": moment(start), "equipment": s.id, "program": s.program, "counter": s.counter,
			"incubated_at": moment(in), "read_after": "24 h", "lot": lot, "lot_expires_on": day(expires), "control_lot": lot, "person": m.reprocessor().id,
			"read_at": moment(at(in, 24*60+10)), "control": "growth", "result": "pass"})
		start = at(start, 75)
	}
}
