package dev

import (
	"encoding/json"
	"fmt"
	"time"

	"go.yaml.in/yaml/v4"
)

// container is a waste container in use.
type container struct {
	kind   string
	opened time.Time
	days   int // until it is closed
}

var productKinds = []struct {
	name, use string
	contains  []string
	contact   string
}{
	{"skin wipe, chlorhexidine", "skin", []string{"chlorhexidine", "isopropyl alcohol", "water"}, ""},
	{"skin wipe, alcohol", "skin", []string{"isopropyl alcohol", "water"}, ""},
	{"urea cream", "skin", []string{"urea", "glycerol", "water"}, ""},
	{"felt pad", "dressing", []string{"viscose felt", "acrylate adhesive"}, ""},
	{"surface cleaner", "surface", []string{"hydrogen peroxide", "water"}, "1 min"},
	{"instrument cleaner", "instrument", []string{"enzymes", "non-ionic surfactant", "water"}, ""},
}

const productLife = 120 // days that an opened container is used here

// openProducts opens a new container of each product before the old one's last day.
func (m *maker) openProducts(d time.Time) {
	if m.products == nil {
		m.products = map[string]string{}
		m.renewOn = d
	}
	if d.Before(m.renewOn) {
		return
	}
	m.renewOn = d.AddDate(0, 0, productLife-7)
	for _, p := range productKinds {
		id := m.next("PR", 4)
		m.products[p.name] = id
		r := row{"id": id, "name": p.name, "use": p.use, "contains": p.contains, "opened_on": day(d), "discard_on": day(d.AddDate(0, 0, productLife)),
			"expires_on": day(d.AddDate(1, 6, 0)), "sheet_on": day(d.AddDate(-1, 0, 0))}
		if p.contact != "" {
			r["contact_time"] = p.contact
		}
		m.put("products", r)
	}
}

// keepHouse writes the cleaning at the day's end, the waste, and what is looked at weekly.
func (m *maker) keepHouse(d time.Time) {
	who, with := m.reprocessor().id, m.products["surface cleaner"]
	m.put("housekeeping", row{"done_at": moment(at(d, 17*60+20)), "task": "end-of-day", "site": clinic, "product": with, "person": who})
	if d.Weekday() == time.Friday {
		m.put("housekeeping", row{"done_at": moment(at(d, 17*60+40)), "task": "weekly", "site": clinic, "product": with, "person": who})
		m.put("tests", row{"id": m.next("T", 5), "kind": "residue", "run_at": moment(at(d, 17*60+10)), "equipment": "ultrasonic-cleaner", "person": who, "result": "pass"})
	}
	if monthEnds(d) {
		m.put("tests", row{"id": m.next("T", 5), "kind": "ultrasonic", "run_at": moment(at(d, 16*60+30)), "equipment": "ultrasonic-cleaner", "person": who, "result": "pass"})
	}
	if m.waste == nil {
		m.waste = []container{{"sharps", d, 60}, {"clinical", d, 28}}
	}
	for i, c := range m.waste {
		if d.Sub(c.opened) < time.Duration(c.days)*24*time.Hour {
			continue
		}
		r := row{"id": m.next("W", 4), "kind": c.kind, "opened_on": day(c.opened), "closed_on": day(d), "fill": fmt.Sprintf("%d %%", m.between(40, 70)),
			"reference": fmt.Sprintf("N%05d", m.counts["W"]), "site": clinic}
		if fetched := d.AddDate(0, 0, 4); !fetched.After(m.last) {
			r["collected_on"] = day(fetched)
		}
		m.put("waste", r)
		m.waste[i].opened = d
	}
	if d.YearDay()%200 < 2 && d.Weekday() == time.Tuesday && m.last.Sub(d) > 90*24*time.Hour {
		m.complaint(d)
	}
}

func (m *maker) closeWaste() {
	for _, c := range m.waste {
		m.put("waste", row{"id": m.next("W", 4), "kind": c.kind, "opened_on": day(c.opened), "fill": "30 %", "site": clinic})
	}
}

func (m *maker) complaint(d time.Time) {
	id := m.next("CP", 3)
	who := m.staff[0].id
	r := row{"id": id, "received_on": day(d), "subject": "waited too long for an answer by telephone", "reply_by": day(d.AddDate(0, 0, 20)),
		"acknowledged_on": day(d.AddDate(0, 0, 1)), "answered_on": day(d.AddDate(0, 0, 9)), "closed_on": day(d.AddDate(0, 0, 16)), "hold": true}
	if len(m.clients) > 0 {
		r["client"] = m.clients[0].id
	}
	m.put("complaints", r)
	m.put("actions", row{"id": m.next("AC", 3), "action": "call back within a working day", "due_on": day(d.AddDate(0, 0, 30)), "finding": id,
		"owner": who, "done_on": day(d.AddDate(0, 0, 14)), "verified_on": day(d.AddDate(0, 0, 45)), "verified_by": m.staff[1].id})
}

// upkeep writes each service with the next one before it is due.
func (m *maker) upkeep() {
	keep := func(equipment, task string, months, before int) {
		done := m.first.AddDate(0, 0, -before)
		for !done.After(m.last) {
			due := done.AddDate(0, months, 0)
			m.put("upkeep", row{"id": m.next("U", 4), "equipment": equipment, "task": task, "done_on": day(done), "next_due_on": day(due),
				"done_by": "bench engineer", "result": "pass"})
			done = lastWorkday(due.AddDate(0, 0, -12))
		}
	}
	for _, s := range m.sterilizer {
		keep(s.id, "service", 12, 60)
		keep(s.id, "calibration", 12, 60)
		keep(s.id, "validation", 12, 60)
		keep(s.id, "gasket", 12, 60)
	}
	keep("ultrasonic-cleaner", "service", 12, 90)
	keep("incubator", "calibration", 12, 90)
	keep("extractor", "filter", 3, 20)
}

// asJSON turns the practice, written once as YAML, into JSON.
func asJSON(text string) string {
	var v any
	if err := yaml.Unmarshal([]byte(text), &v); err != nil {
		panic(err) // the text is a constant of this package but for its dates
	}
	b, err := json.MarshalIndent(v, "", "  ")
	if err != nil {
		panic(err)
	}
	return string(b) + "\n"
}
