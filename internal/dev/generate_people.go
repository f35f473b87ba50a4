package dev

import (
	"fmt"
	"math"
	"time"
)

// worker is someone who works here, with the days of it.
type worker struct {
	id, role, glove string
	from, until     time.Time
	mobile          bool
	coat            string
}

const (
	clinic = "clinic"
	bag    = "mobile-bag"
)

// procedures are those that every registration here names.
var procedures = []string{"nail-trim", "nail-debridement", "callus-reduction", "corn-reduction", "rotary-sanding", "padding", "assessment"}

// far is a last day of work that has not come.
var far = time.Date(9999, 1, 1, 0, 0, 0, 0, time.UTC)

func (m *maker) people() {
	sizes := []string{"M", "S", "L", "XL", "XS"}
	treating := max(2, int(math.Ceil(m.plan.VisitsPerDay/6)))
	for i := range treating {
		m.staff = append(m.staff, worker{id: m.next("P", 2), role: "practitioner", glove: sizes[i%5], coat: sizes[i%3],
			from: m.first.AddDate(-3, 0, -i), until: far, mobile: i == 1})
	}
	m.staff = append(m.staff, worker{id: m.next("P", 2), role: "reprocessing", glove: "L", coat: "L", from: m.first.AddDate(-2, 0, 0), until: far})
	for from := m.first; !from.After(m.last); from = from.AddDate(1, 0, 0) {
		m.cohorts = append(m.cohorts, worker{id: m.next("P", 2), role: "student", glove: "M", coat: "M", from: from, until: from.AddDate(1, 0, -1)})
	}
	for _, w := range append(append([]worker{}, m.staff...), m.cohorts...) {
		r := row{"id": w.id, "role": w.role, "started_on": day(w.from), "sites": w.sites(), "glove_size": w.glove, "gown_size": w.coat,
			"latex_sensitive": "no", "hepatitis_b": "immune", "hepatitis_b_on": day(w.from.AddDate(0, -2, 0))}
		if !w.until.After(m.last) {
			r["ended_on"] = day(w.until)
		}
		if w.role == "student" {
			r["supervisor"] = m.staff[0].id
		}
		m.put("people", r)
		m.credentials(w)
		m.watched(w)
	}
}

func (w worker) sites() []string {
	if w.mobile {
		return []string{clinic, bag}
	}
	return []string{clinic}
}

// credentials writes each certificate with its renewals, each from the day after
// the one before, until one reaches two months past the records.
func (m *maker) credentials(w worker) {
	kinds := []string{"first-aid", "infection-control", "respirator-fit"}
	switch w.role {
	case "practitioner":
		kinds = append([]string{"registration", "liability-cover", "hazardous-products", "reprocessing"}, kinds...)
	case "student":
		kinds = append([]string{"registration", "liability-cover"}, kinds...)
	case "reprocessing":
		kinds = append([]string{"reprocessing", "hazardous-products"}, kinds...)
	}
	end := m.last.AddDate(0, 2, 0)
	if w.until.Before(end) {
		end = w.until
	}
	for i, kind := range kinds {
		from := m.first.AddDate(0, 0, -60-23*i)
		if w.role == "student" {
			from = w.from.AddDate(0, 0, -2-i)
		}
		for from.Before(end) {
			until := from.AddDate(1, 0, -1)
			r := row{"id": m.next("CR", 4), "person": w.id, "kind": kind, "valid_from": day(from), "valid_until": day(until),
				"number": fmt.Sprintf("%s-%d", w.id, from.Year()), "status": "active"}
			switch kind {
			case "registration":
				r["class"], r["procedures"] = w.role, procedures
			case "liability-cover":
				r["procedures"], r["sites"], r["equipment"] = "all", "all", "all"
			case "infection-control":
				r["hours"] = 6
			}
			m.put("credentials", r)
			from = until.AddDate(0, 0, 1)
		}
	}
}

// watched writes the skills that were watched each year.
func (m *maker) watched(w worker) {
	for from := w.from; !from.After(m.last) && !from.After(w.until); from = from.AddDate(1, 0, 0) {
		on := from.AddDate(0, 0, 9)
		if on.Before(m.first) || on.After(m.last) {
			continue
		}
		observer := m.staff[0].id
		if w.id == observer {
			observer = m.staff[1].id
		}
		for _, s := range []struct {
			skill string
			steps []string
		}{
			{"donning", []string{"hand-hygiene", "gown", "respirator", "eye-protection", "gloves"}},
			{"doffing", []string{"gloves", "eye-protection", "gown", "leave-room", "respirator", "hand-hygiene"}},
			{"hand-hygiene", nil},
			{"reprocessing", nil},
		} {
			r := row{"id": m.next("OB", 4), "person": w.id, "skill": s.skill, "observed_on": day(on), "observer": observer, "outcome": "competent"}
			if s.steps != nil {
				r["steps"] = s.steps
			}
			m.put("observations", r)
		}
	}
}
