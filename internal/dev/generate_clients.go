package dev

import (
	"container/heap"
	"fmt"
	"time"
)

// client is what one person's card says, by the last entry of each kind.
type client struct {
	id                        string
	birth                     int
	first, last, due          time.Time
	screened, history, agreed time.Time
	students                  bool
	diabetes, neuropathy      bool
	circulation, deformity    bool
	ulcer, anticoagulant      bool
	reacts                    map[string]bool
	own                       string // the tool that is theirs alone; "" for none
	order                     int
}

// clientQueue gives the client who is due first.
type clientQueue []*client

func (q clientQueue) Len() int { return len(q) }
func (q clientQueue) Less(i, j int) bool {
	if !q[i].due.Equal(q[j].due) {
		return q[i].due.Before(q[j].due)
	}
	return q[i].order < q[j].order
}
func (q clientQueue) Swap(i, j int) { q[i], q[j] = q[j], q[i] }
func (q *clientQueue) Push(x any)   { *q = append(*q, x.(*client)) }
func (q *clientQueue) Pop() any {
	old := *q
	c := old[len(old)-1]
	*q = old[:len(old)-1]
	return c
}

// clientFor takes whoever is due, else a new client; a student's must agree to one.
func (m *maker) clientFor(d time.Time, student bool) *client {
	if len(m.due) > 0 && !m.due[0].due.After(d) && (!student || m.due[0].students) {
		return heap.Pop(&m.due).(*client)
	}
	return m.newClient(d.AddDate(0, 0, -1), student)
}

func (m *maker) newClient(intake time.Time, student bool) *client {
	c := &client{id: m.next("C", 4), birth: intake.Year() - m.between(38, 94), order: len(m.clients), reacts: map[string]bool{}}
	c.diabetes = m.chance(0.3)
	c.neuropathy = c.diabetes && m.chance(0.3)
	c.circulation = m.chance(0.12)
	c.deformity = m.chance(0.2)
	c.ulcer = c.neuropathy && m.chance(0.25)
	c.anticoagulant = m.chance(0.2)
	c.students = m.chance(0.7) || student
	for _, r := range []struct {
		to   string
		part float64
	}{{"latex", 0.03}, {"adhesive", 0.04}, {"acrylate", 0.01}, {"chlorhexidine", 0.01}, {"lanolin", 0.02}, {"fragrance", 0.04}} {
		if m.chance(r.part) {
			c.reacts[r.to] = true
		}
	}
	m.clients = append(m.clients, c)
	m.screen(c, intake)
	m.takeHistory(c, intake)
	m.agree(c, intake)
	return c
}

// refresh brings a client's card up to date while the last entry still holds.
func (m *maker) refresh(c *client, d time.Time) (assessed bool) {
	old := func(since time.Time, days int) bool { return d.Sub(since) > time.Duration(days)*24*time.Hour }
	if old(c.screened, 290) {
		m.screen(c, d)
	}
	if old(c.agreed, 290) {
		m.agree(c, d)
	}
	if old(c.history, []int{290, 290, 110, 25}[c.risk()]) {
		m.takeHistory(c, d)
		return true
	}
	return false
}

var questions = []string{"latex", "adhesive", "colophony", "chlorhexidine", "iodine", "local_anaesthetic", "lanolin", "nickel",
	"acrylate", "salicylate", "antibiotic", "fragrance", "nut_oil"}

func (m *maker) screen(c *client, d time.Time) {
	r := row{"id": m.next("AS", 5), "client": c.id, "asked_on": day(d), "asked_by": m.staff[0].id, "any_known": yesNo(len(c.reacts) > 0)}
	for _, q := range questions {
		r[q] = "no"
		if c.reacts[q] {
			r[q] = "yes"
			r["reaction"] = "itching and redness"
		}
	}
	if m.fault() {
		r["latex"] = "not-asked"
		delete(r, "chlorhexidine")
	}
	c.screened = d
	m.put("screens", r)
}

// risk is the foot risk of 0 to 3 from the IWGDF 2023 risk system: neuropathy or
// poor circulation 1, two of those and deformity 2, with an earlier ulcer 3.
func (c *client) risk() int {
	switch {
	case !c.neuropathy && !c.circulation:
		return 0
	case c.ulcer:
		return 3
	case c.neuropathy && c.circulation || c.deformity:
		return 2
	}
	return 1
}

func yesNo(b bool) string {
	if b {
		return "yes"
	}
	return "no"
}

func (m *maker) takeHistory(c *client, d time.Time) {
	next := []int{12, 12, 6, 3}[c.risk()]
	m.put("histories", row{"id": m.next("H", 5), "client": c.id, "taken_on": day(d), "diabetes": yesNo(c.diabetes), "poor_circulation": yesNo(c.circulation),
		"neuropathy": yesNo(c.neuropathy), "deformity": yesNo(c.deformity), "anticoagulant": yesNo(c.anticoagulant), "immune_suppressed": "no",
		"past_ulcer": yesNo(c.ulcer), "amputation": "no", "kidney_failure": "no", "known_infection": "no", "risk": fmt.Sprint(c.risk()),
		"next_review_on": day(d.AddDate(0, next, 0))})
	c.history = d
}

func (m *maker) agree(c *client, d time.Time) {
	m.put("consents", row{"id": m.next("CO", 5), "client": c.id, "given_on": day(d), "procedures": procedures, "given_by": "client",
		"students_ok": c.students, "expires_on": day(d.AddDate(1, 0, 0))})
	c.agreed = d
}

func (m *maker) writeClients() {
	for _, c := range m.clients {
		r := row{"id": c.id, "birth_year": c.birth}
		if !c.first.IsZero() { // else the first visit was cancelled
			r["first_visit_on"], r["last_visit_on"] = day(c.first), day(c.last)
		}
		m.put("clients", r)
	}
}
