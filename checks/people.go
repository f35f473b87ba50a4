package checks

import (
	"fmt"
	"slices"

	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/quantity"
)

// peopleState is how a person's certificates of one kind stand on one day.
type peopleState uint8

const (
	peopleNone      peopleState = iota // no certificate of the kind is typed
	peopleBefore                       // before the first typed one
	peopleHeld                         // at least one is in force
	peopleAfter                        // after the last day of the last typed one
	peopleGap                          // between two typed ones
	peopleLong                         // between two, and a whole certificate would fit in between
	peopleSuspended                    // written as suspended from a day on
	peopleUndated                      // written as suspended, but not from when
	peopleCrooked                      // none holds, and one of them ends before it begins
	peopleUnread                       // none holds, and some row of credentials could not be read
	peopleStray                        // none holds, and one that covers the day names nobody in people
	peopleOpen                         // none surely holds, and one has no last day and may not have been followed
)

// peopleWhy says why a state leaves a visit unassessed.
func peopleWhy(s peopleState, what string) string {
	switch s {
	case peopleNone:
		return "no " + what + " of the person is typed, so not judged"
	case peopleBefore:
		return "the visit lies before the first " + what + " typed, so not judged"
	case peopleLong:
		return "no " + what + " is typed for the day, but between the two that are a whole one would fit, which may only not be typed"
	case peopleUndated:
		return "the " + what + " is written as suspended, but not from which day"
	case peopleCrooked:
		return "a " + what + " ends before it begins, as written, so its days cannot be told"
	case peopleStray:
		return "a " + what + " that covers the day names a person who is not in people: a slip in the id, or someone else's"
	case peopleOpen:
		return "a " + what + " has no last day, and whether a later one took its place cannot be told, since a class is written on only one of them"
	}
	return "a row of credentials could not be read, and may be the " + what + " of that day"
}

// peopleMissing is what would tell, where a state leaves a visit unassessed.
func peopleMissing(s peopleState) audit.Field {
	switch s {
	case peopleUndated:
		return audit.Field{Kind: "credentials", Name: "status"}
	case peopleCrooked:
		return audit.Field{Kind: "credentials", Name: "valid_until"}
	case peopleStray:
		return audit.Field{Kind: "credentials", Name: "person"}
	case peopleOpen:
		return audit.Field{Kind: "credentials", Name: "class"}
	}
	return audit.Field{Kind: "credentials"}
}

// peopleStanding is a state with the certificates that make it.
type peopleStanding struct {
	state      peopleState
	held       []*practice.Credential // in force that day
	prev, next *practice.Credential   // the ones around a gap; prev is the suspended one too
	until      quantity.Day           // the last day of prev
}

// peopleRegister holds the certificates of one kind, by person.
type peopleRegister struct {
	p     *practice.Practice
	kind  string
	of    map[string][]*practice.Credential
	stray []*practice.Credential // that name nobody in people
}

func peopleNewRegister(p *practice.Practice, kind string) *peopleRegister {
	r := &peopleRegister{p: p, kind: kind, of: map[string][]*practice.Credential{}}
	for i := range p.Credentials {
		c := &p.Credentials[i]
		if _, state := p.Person(c.Person); c.Type == kind && state == practice.Absent && p.Typed("people") {
			r.stray = append(r.stray, c)
		}
	}
	return r
}

// astray reports whether a certificate that names nobody in people covers a day.
func (r *peopleRegister) astray(day quantity.Day) bool {
	return slices.ContainsFunc(r.stray, func(c *practice.Credential) bool {
		return c.Status != "suspended" && c.ValidFrom <= day && (!c.ValidUntil.Written() || day <= c.ValidUntil)
	})
}

// certificates are a person's, by their first day.
func (r *peopleRegister) certificates(person string) []*practice.Credential {
	all, seen := r.of[person]
	if !seen {
		for _, c := range r.p.CredentialsOf(person) {
			if c.Type == r.kind {
				all = append(all, c)
			}
		}
		r.of[person] = all
	}
	return all
}

// peopleEnd is the last day a certificate holds: the one written, else the day
// before the next of the same class begins, if that is no suspension; 0 for one
// that is open. guess says that a class stands on only one of the two.
func peopleEnd(all []*practice.Credential, c *practice.Credential) (end quantity.Day, guess bool) {
	if c.ValidUntil.Written() {
		return c.ValidUntil, false
	}
	for _, next := range all {
		if next.ValidFrom > c.ValidFrom && next.Status != "suspended" && (c.Class == "" || next.Class == "" || c.Class == next.Class) {
			return next.ValidFrom.AddDays(-1), c.Class != next.Class
		}
	}
	return 0, false
}

// on is how a person's certificates stand on a day. A certificate without a last
// day holds until the next begins. Only a gap between two typed ones, the time
// after the last, and a suspension that began inside another's time count
// against anyone; the rest cannot be told.
func (r *peopleRegister) on(person string, day quantity.Day) peopleStanding {
	all := r.certificates(person)
	var s peopleStanding
	var suspended *practice.Credential
	crooked, open := false, false
	for _, c := range all {
		end, guess := peopleEnd(all, c)
		open = open || guess && day > end && c.Status != "suspended"
		switch {
		case end.Written() && end < c.ValidFrom:
			crooked = true
		case c.Status == "suspended":
			if c.ValidFrom <= day && (!end.Written() || day <= end) {
				suspended = c
			}
		case c.ValidFrom > day:
			if s.next == nil {
				s.next = c
			}
		case !end.Written() || day <= end:
			s.held = append(s.held, c)
			if suspended != nil && c.ValidFrom > suspended.ValidFrom {
				suspended = nil
			}
		case s.prev == nil || end > s.until:
			s.prev, s.until = c, end
		}
	}
	switch {
	case suspended != nil:
		s.state, s.prev = peopleSuspension(s.held, suspended), suspended
	case len(s.held) > 0:
		s.state = peopleHeld
	case crooked:
		s.state = peopleCrooked
	case s.prev == nil && s.next != nil:
		s.state = peopleBefore
	case s.prev == nil:
		s.state = peopleNone
	case r.p.Unread("credentials"):
		s.state = peopleUnread
	case r.astray(day):
		s.state = peopleStray
	case open:
		s.state = peopleOpen
	case s.next == nil:
		s.state = peopleAfter
	case peopleFits(s) && !r.p.Whole("credentials", s.until.AddDays(1), s.next.ValidFrom.AddDays(-1)):
		s.state = peopleLong
	default:
		s.state = peopleGap
	}
	return s
}

// peopleSuspension tells a suspension that began inside the time of another row
// of the same class, and so has its day, from a row whose status alone was changed.
func peopleSuspension(held []*practice.Credential, suspended *practice.Credential) peopleState {
	for _, c := range held {
		if c.ValidFrom < suspended.ValidFrom && (c.Class == "" || suspended.Class == "" || c.Class == suspended.Class) {
			return peopleSuspended
		}
	}
	return peopleUndated
}

// peopleFits reports whether a certificate as long as one of its neighbours would fit into a gap.
func peopleFits(s peopleStanding) bool {
	gap := s.next.ValidFrom - s.until - 1
	term := s.until - s.prev.ValidFrom + 1
	if s.next.ValidUntil >= s.next.ValidFrom {
		term = min(term, s.next.ValidUntil-s.next.ValidFrom+1)
	}
	return gap >= term
}

// peopleView is whose certificates decide for one visit, and how they stand.
type peopleView struct {
	peopleStanding
	subject audit.Subject
	field   string           // of the visit, that names who it is
	why     string           // why nothing can be told; "" where something can
	missing audit.Field      // what would tell
	person  *practice.Person // who treated; nil where people is not typed
}

// peopleEachVisit judges, for each visit that took place, whether a certificate of
// the kind was in force; a lapse takes its grade and what is needed from the fault
// given, and held goes on where one was.
func peopleEachVisit(x *audit.Examination, kind, name string, lapse audit.Fault, held func(*practice.Visit, peopleView)) {
	r := peopleNewRegister(x.P, kind)
	for _, v := range x.P.VisitsByTime() {
		if !v.Done() {
			x.Pass()
			continue
		}
		w := r.visit(v)
		if w.why != "" {
			x.Unclear(w.subject, w.why, w.missing)
			continue
		}
		f, lapsed := w.fault(v, name)
		switch {
		case lapsed:
			f.Grade, f.Needed = lapse.Grade, lapse.Needed
			x.NotMet(w.subject, f)
		case w.state != peopleHeld:
			x.Unclear(w.subject, peopleWhy(w.state, name), peopleMissing(w.state))
		default:
			held(v, w)
		}
	}
}

// visit looks at whoever treated; at a student's own certificate, else the supervisor's.
func (r *peopleRegister) visit(v *practice.Visit) peopleView {
	w := peopleView{subject: audit.Whole, field: "person"}
	if v.Person == "" {
		w.why, w.missing = "who treated is not written", audit.Field{Kind: "visits", Name: "person"}
		return w
	}
	w.subject = audit.Subject{Kind: "people", ID: v.Person}
	person, known := peopleKnown(r.p, v.Person)
	if !known {
		w.why, w.missing = "the person named is not exactly one row of people", audit.Field{Kind: "people"}
		return w
	}
	w.person = person
	w.peopleStanding = r.on(v.Person, v.Started.Day())
	if person == nil || person.Role != "student" || w.state == peopleHeld || w.state == peopleSuspended {
		return w
	}
	supervisor := v.Supervisor
	if supervisor == "" {
		supervisor = person.Supervisor
	}
	if supervisor == "" {
		w.why, w.missing = "a student treated, and the supervisor is not written", audit.Field{Kind: "visits", Name: "supervisor"}
		return w
	}
	if _, known := peopleKnown(r.p, supervisor); !known {
		w.why, w.missing = "the supervisor named is not exactly one row of people", audit.Field{Kind: "people"}
		return w
	}
	w.field = "supervisor"
	w.peopleStanding = r.on(supervisor, v.Started.Day())
	return w
}

// peopleKnown finds a person. Where no people are typed at all the id alone will
// do, and the row is nil.
func peopleKnown(p *practice.Practice, id string) (*practice.Person, bool) {
	person, state := p.Person(id)
	return person, state == practice.One || state == practice.Absent && !p.Typed("people")
}

// fault is what a lapse looks like, for a visit on a day; false where the state
// is no lapse.
func (w peopleView) fault(v *practice.Visit, what string) (audit.Fault, bool) {
	if w.state == peopleHeld {
		return audit.Fault{}, false
	}
	day := v.Started.Day()
	f := audit.Fault{Day: day, Evidence: []audit.Evidence{audit.At(&v.Row, "started"), audit.At(&v.Row, w.field)}}
	of, a := "", "the "
	if w.field == "supervisor" {
		of, a = "of the supervisor's ", "the supervisor's "
		if v.Supervisor == "" {
			f.Evidence = append(f.Evidence, audit.At(&w.person.Row, "supervisor"))
		}
	}
	switch w.state {
	case peopleAfter:
		f.Matter, f.Weight = "lapsed", float64(day-w.until)
		f.Found = fmt.Sprintf("visit on %s, %s after %s, the last day written on %snewest %s typed", day.Words(), audit.Plural(int(day-w.until), "day", "days"), w.until.Words(), a, what)
		f.Evidence = append(f.Evidence, audit.At(&w.prev.Row, "valid_until"))
	case peopleGap:
		f.Matter, f.Weight = "gap", float64(day-w.until)
		f.Found = fmt.Sprintf("visit on %s, between two %scertificates of %s typed: one ended on %s, the next begins on %s", day.Words(), of, what, w.until.Words(), w.next.ValidFrom.Words())
		f.Evidence = append(f.Evidence, audit.At(&w.prev.Row, "valid_until"), audit.At(&w.next.Row, "valid_from"))
	case peopleSuspended:
		f.Matter, f.Weight = "suspended", float64(day-w.prev.ValidFrom+1)
		f.Found = fmt.Sprintf("visit on %s, with %s%s written as suspended from %s", day.Words(), a, what, w.prev.ValidFrom.Words())
		f.Evidence = append(f.Evidence, audit.At(&w.prev.Row, "status"), audit.At(&w.prev.Row, "valid_from"))
	default:
		return f, false
	}
	if w.field == "supervisor" {
		f.Matter += " supervisor"
	}
	return f, true
}
