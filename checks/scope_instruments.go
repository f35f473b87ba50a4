package checks

import (
	"slices"
	"strings"

	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/quantity"
)

var _ = define(audit.Check{
	ID:    "scope/instruments",
	Title: "No instrument that needs a grant was used without one",
	Why: "In most places a scalpel lies outside foot care unless a registration or a letter of the regulator says otherwise. So it counts as outside scope until a grant is written with its source: " +
		"a rule in rules.yaml, or a procedure with that instrument in the list of the registration in force. A scalpel that is kept and never used is only told.",
	Grades:  []audit.Grade{audit.Critical, audit.Observation},
	Subject: "people",
	Thing:   "visit or kept instrument",
	Things:  "visits and kept instruments",
	Helps:   []string{"visits.instruments", "visits.single_use", "instruments", "rules.scope", "credentials.procedures"},
	Uses:    []string{"scope.needs-grant"},
	Fix: []string{
		"Look at the registration, the regulator's scope of practice and any letter first: if they permit it, write the grant into rules.yaml (scope: permits, to, source, from), and audit again.",
		"If nothing permits it, put the instrument away today, out of the treatment room and the bag, and refer clients who need it.",
		"Where a blade cut a client or a worker: first aid, and a medical assessment within hours; write the incident down.",
		"Talk to an adviser or your insurer before anything is sent; then ask the regulator. The regulator decides what follows.",
		"Keep the visit notes as they are.",
	},
	Verify: "each visit with the instrument lies within a grant whose source is written",
	Run: func(x *audit.Examination) {
		list, _ := x.Criterion("scope.needs-grant", nil)
		r := scopeInstruments{Examination: x, list: list, register: peopleNewRegister(x.P, "registration"), used: map[string]bool{}, told: map[audit.Subject]bool{}}
		for _, v := range x.P.VisitsByTime() {
			if !v.Done() {
				x.Pass()
				continue
			}
			r.visit(v)
		}
		r.kept()
		if x.P.Count("visits") == 0 {
			x.Unclear(audit.Whole, "no visits are typed, so use was not judged", audit.Field{Kind: "visits"})
		}
	},
})

type scopeInstruments struct {
	*audit.Examination
	list     audit.Criterion
	register *peopleRegister
	used     map[string]bool // kinds of instrument that some visit used
	told     map[audit.Subject]bool
}

// visit judges what one visit names of the instruments that need a grant.
func (r *scopeInstruments) visit(v *practice.Visit) {
	s := scopeProceduresWho(v)
	names, evidence, unknown := r.named(v)
	switch {
	case len(names) > 0:
		r.judge(v, s, names, evidence)
	case unknown:
		r.Unclear(s, "an instrument named leads to no single row of instruments", audit.Field{Kind: "instruments"})
	case !v.Instruments.Written:
		r.Unclear(s, "which instruments were used is not written", audit.Field{Kind: "visits", Name: "instruments"})
	default:
		r.Met(s)
	}
}

// named lists what a visit names that needs a grant: instruments by their kind (or
// the kind itself, written in place of an id), single-use items, and procedures that are done with one. unknown reports an id
// that leads to no instrument.
func (r *scopeInstruments) named(v *practice.Visit) (names []string, evidence []audit.Evidence, unknown bool) {
	add := func(name string, e ...audit.Evidence) {
		if !slices.Contains(names, name) {
			names = append(names, name)
		}
		r.used[name] = true
		evidence = append(evidence, e...)
	}
	for _, id := range v.Instruments.Items {
		n, state := r.P.Instrument(id)
		_, word := scopePermit(":" + id)
		switch {
		case state == practice.Absent && (r.list.Has(word) || word == scopeFamily(word) && r.needs(word)):
			add(word, audit.At(&v.Row, "instruments"))
		case state != practice.One:
			unknown = true
		case r.list.Has(n.Type):
			add(n.Type, audit.At(&v.Row, "instruments"), audit.At(&n.Row, "kind"))
		}
	}
	for _, item := range v.SingleUse.Items {
		if r.list.Has(item) {
			add(item, audit.At(&v.Row, "single_use"))
		}
	}
	for _, procedure := range v.Procedures.Items {
		if r.needs(procedure) {
			add(procedure, audit.At(&v.Row, "procedures"))
		}
	}
	return names, evidence, unknown
}

// needs reports whether a procedure is named after an instrument that needs a grant.
func (r *scopeInstruments) needs(procedure string) bool {
	return slices.ContainsFunc(r.list.Items(), func(kind string) bool { return scopeFamily(kind) == scopeFamily(procedure) })
}

// grant is what permits a kind of instrument to a person on a day: a scope rule
// for it, for its fellows (handle and blade) or its procedure; or the list of a
// registration in force that names the procedure.
func (r *scopeInstruments) grant(person *practice.Person, id string, day quantity.Day, name string) (a scopeAnswer) {
	held := r.register.on(id, day).held
	family := scopeFamily(name)
	a = scopeGrant(r.P, person, id, held, day, func(_, permitted string) bool { return scopeFamily(permitted) == family })
	for _, c := range held {
		a.open = a.open || c.Procedures.All
		for _, procedure := range c.Procedures.Items {
			if scopeFamily(procedure) == family {
				a.yes, a.sourced = true, true
			}
		}
	}
	return a
}

func (r *scopeInstruments) judge(v *practice.Visit, s audit.Subject, names []string, evidence []audit.Evidence) {
	day := v.Started.Day()
	person, known := peopleKnown(r.P, v.Person)
	supervisor := scopeSupervisor(v, person)
	senior, _ := r.P.Person(supervisor)
	var without []string
	for _, name := range names {
		a := r.grant(person, v.Person, day, name)
		switch {
		case v.Person == "":
			r.Unclear(s, "an instrument that needs a grant was used, and who treated is not written", audit.Field{Kind: "visits", Name: "person"})
			return
		case !known:
			r.Unclear(s, "the person named is not exactly one row of people", audit.Field{Kind: "people"})
			return
		case a.sourced:
			continue
		case a.yes:
			r.unsourced(s)
			return
		case a.open:
			r.Unclear(s, "a grant may permit the instrument, but does not name it or does not say for whom", audit.Field{Kind: "rules", Name: "scope"})
			return
		case r.P.Unread("rules") || r.P.Unread("credentials"):
			r.Unclear(s, "a value in rules or a row of credentials could not be read, and may be the grant", audit.Field{Kind: "rules", Name: "scope"})
			return
		case r.silent(v.Person, day) && r.silent(supervisor, day):
			r.untyped(s, name, evidence)
			return
		case person != nil && person.Role == "student" && supervisor == "":
			r.Unclear(s, "a student treated, and the supervisor is not written", audit.Field{Kind: "visits", Name: "supervisor"})
			return
		case supervisor != "" && r.grant(senior, supervisor, day, name).sourced:
			r.Unclear(s, "a student used it under a supervisor who holds a grant; whether that reaches the student is not written", audit.Field{Kind: "rules", Name: "scope"})
			return
		}
		without = append(without, strings.ReplaceAll(name, "-", " "))
	}
	if len(without) == 0 {
		r.Met(s)
		return
	}
	rule := r.list
	r.NotMet(s, audit.Fault{Grade: audit.Critical, Matter: scopeFamily(names[0]), Day: day, Criterion: &rule,
		Found:    strings.Join(without, ", ") + " named in a visit, and no grant for it is written",
		Needed:   "needed is a grant with its source; if the registration or a letter permits it, write that into the scope of rules",
		Evidence: append(evidence, audit.At(&v.Row, "person"))})
}

// silent reports whether nothing is typed that could speak of a person's scope: no
// scope rule, and no registration of hers, which may be on paper alone.
func (r *scopeInstruments) silent(id string, day quantity.Day) bool {
	return len(r.P.Rules.Scope) == 0 && !r.P.Whole("credentials", day, day) && !slices.ContainsFunc(r.P.CredentialsOf(id), func(c *practice.Credential) bool { return c.Type == "registration" })
}

// untyped leaves a visit open where neither a registration nor a grant is typed, and
// tells of it once a person: what is merely not typed is no alarm.
func (r *scopeInstruments) untyped(s audit.Subject, name string, evidence []audit.Evidence) {
	r.Unclear(s, "an instrument that needs a grant was used, and neither a registration nor a scope rule is typed", audit.Field{Kind: "rules", Name: "scope"})
	if r.told[s] {
		return
	}
	r.told[s] = true
	rule := r.list
	r.Remark(s, audit.Fault{Matter: "scope not typed", Criterion: &rule, Found: strings.ReplaceAll(name, "-", " ") + " named in a visit; neither a registration nor a grant is typed",
		Needed: "needed is a registration, or a grant with its source, that permits it; if there is one, type it", Evidence: evidence,
		Steps: []string{"Look at the registration and the regulator's scope of practice: if they permit it, type the registration, and the grant with its source into rules.yaml.", "If they do not, or you are not sure, put the instrument away and ask the regulator in writing."}})
}

// unsourced leaves a visit open whose grant says not where it is written, and tells so once a person.
func (r *scopeInstruments) unsourced(s audit.Subject) {
	r.Unclear(s, "a grant for the instrument is written, but not its source", audit.Field{Kind: "rules", Name: "scope"})
	if r.told[s] {
		return
	}
	r.told[s] = true
	r.Remark(s, audit.Fault{Matter: "no source", Found: "a grant for an instrument that needs one is written without its source",
		Needed:   "the source is needed (document, section, year); until then the grant is not counted",
		Evidence: []audit.Evidence{audit.At(&r.P.Rules.Row, "scope")},
		Steps:    []string{"Write the source beside the grant in rules.yaml.", "Where there is none, ask the regulator in writing, and put the instrument away until the answer is there."}})
}

// kept tells of instruments that need a grant, stand in the practice and were never used.
func (r *scopeInstruments) kept() {
	say := func(kind string, e audit.Evidence) {
		granted := slices.ContainsFunc(r.P.Rules.Scope, func(g practice.ScopeGrant) bool {
			_, name := scopePermit(g.Permits)
			return scopeFamily(name) == scopeFamily(kind)
		})
		if r.used[kind] || granted {
			r.Pass()
			return
		}
		r.NotMet(audit.Whole, audit.Fault{Grade: audit.Observation, Matter: "kept " + kind,
			Found:    strings.ReplaceAll(kind, "-", " ") + " kept; no visit typed names it, and no grant for it is written",
			Needed:   "a grant before it is used, or a place outside the treatment room; if it is gone, write the day into retired_on",
			Evidence: []audit.Evidence{e}, Steps: []string{"Put it away from the treatment room and the bag, or discard it as sharps.", "Write the day into retired_on, or the discard into stock."}})
	}
	for i := range r.P.Instruments {
		if n := &r.P.Instruments[i]; r.list.Has(n.Type) && !n.RetiredOn.Written() {
			say(n.Type, audit.At(&n.Row, "kind"))
		}
	}
	for _, item := range r.list.Items() {
		var newest *practice.Stock
		for i := range r.P.Stock {
			if k := &r.P.Stock[i]; k.Item == item && k.Reason == "count" && (newest == nil || k.On >= newest.On) {
				newest = k
			}
		}
		if newest != nil && newest.Quantity.Value > 0 {
			say(item, audit.At(&newest.Row, "quantity"))
		}
	}
}
