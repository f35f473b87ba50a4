package checks

import (
	"slices"
	"strings"

	"footing/internal/audit"
	"footing/internal/practice"
)

var _ = define(audit.Check{
	ID:    "scope/procedures",
	Title: "Each procedure lies in what the registration or a scope rule permits",
	Why: "A procedure outside the scope of a registration is treatment without one. Judged only where the registration in force that day has its list of procedures written, or a rule in rules.yaml speaks to it; " +
		"\"all\" permits everything. A student may do what the student's or the supervisor's registration permits. Looking at the feet (assessment) goes with every procedure.",
	Grades:  []audit.Grade{audit.Critical},
	Subject: "people",
	Thing:   "procedure of a visit",
	Things:  "procedures of visits",
	Needs:   []string{"visits"},
	Helps:   []string{"credentials.procedures", "rules.scope", "people", "visits.person", "visits.procedures"},
	Uses:    []string{"scope.implied"},
	Fix: []string{
		"Look at the certificate, the regulator's scope of practice and any letter first: if they permit the procedure, add it to the list, or write a rule into rules.yaml with its source.",
		"If nothing permits it, stop doing it today and refer clients who need it.",
		"Talk to an adviser or your insurer before anything is sent; then ask the regulator. The regulator decides what follows.",
		"Keep the visit notes as they are.",
		"From today on, type the whole list of procedures with each renewal.",
	},
	Verify: "each procedure of each visit stands in a registration in force or in a scope rule with a source",
	Run: func(x *audit.Examination) {
		r := peopleNewRegister(x.P, "registration")
		implied, _ := x.Criterion("scope.implied", nil)
		for _, v := range x.P.VisitsByTime() {
			switch {
			case !v.Done() || v.Procedures.Written && len(v.Procedures.Items) == 0:
				x.Pass()
			case len(v.Procedures.Items) == 0:
				x.Unclear(scopeProceduresWho(v), "what was done at the visit is not written", audit.Field{Kind: "visits", Name: "procedures"})
			default:
				scopeProceduresVisit(x, r, v, implied)
			}
		}
	},
})

// scopeProceduresWho is whoever treated, as a subject.
func scopeProceduresWho(v *practice.Visit) audit.Subject {
	if v.Person == "" {
		return audit.Whole
	}
	return audit.Subject{Kind: "people", ID: v.Person}
}

func scopeProceduresVisit(x *audit.Examination, r *peopleRegister, v *practice.Visit, implied audit.Criterion) {
	s, day := scopeProceduresWho(v), v.Started.Day()
	person, known := peopleKnown(x.P, v.Person)
	held := r.on(v.Person, day).held
	supervisor := scopeSupervisor(v, person)
	var above []*practice.Credential
	var senior *practice.Person
	if supervisor != "" {
		senior, _ = x.P.Person(supervisor)
		above = r.on(supervisor, day).held
	}
	for _, procedure := range v.Procedures.Items {
		ask := func(fits func(kind, name string) bool) (grant, over scopeAnswer) {
			grant = scopeGrant(x.P, person, v.Person, held, day, fits)
			if supervisor != "" {
				over = scopeGrant(x.P, senior, supervisor, above, day, fits)
			}
			return grant, over
		}
		_, spelt := scopePermit("procedure:" + procedure)
		grant, over := ask(func(kind, name string) bool { return kind == "procedure" && name == spelt })
		// Its instrument, or its first word alone, may have been meant for it.
		near, nearOver := ask(func(kind, name string) bool {
			return kind == "instrument" && scopeFamily(name) == scopeFamily(spelt) || kind == "procedure" && name == scopeFamily(spelt)
		})
		listed := func(c *practice.Credential) bool { return c.Procedures.Has(procedure) }
		loose := func(c *practice.Credential) bool {
			return slices.ContainsFunc(c.Procedures.Items, func(item string) bool { return strings.HasPrefix(item, "other:") })
		}
		unwritten := func(c *practice.Credential) bool { return len(c.Procedures.Items) == 0 }
		switch {
		case implied.Has(procedure):
			x.Pass()
		case v.Person == "":
			x.Unclear(s, "who treated is not written", audit.Field{Kind: "visits", Name: "person"})
		case !known:
			x.Unclear(s, "the person named is not exactly one row of people", audit.Field{Kind: "people"})
		case grant.yes || over.yes || slices.ContainsFunc(held, listed) || slices.ContainsFunc(above, listed):
			x.Met(s)
		case grant.open || over.open:
			x.Unclear(s, "a scope rule names the procedure, but for whom cannot be told", audit.Field{Kind: "rules", Name: "scope"})
		case near.yes || near.open || nearOver.yes || nearOver.open:
			x.Unclear(s, "a scope rule names the instrument of the procedure, or a word of it; whether it permits the procedure cannot be told", audit.Field{Kind: "rules", Name: "scope"})
		case strings.HasPrefix(procedure, "other:"):
			x.Unclear(s, "a procedure in your own words cannot be looked for in the list of a registration", audit.Field{Kind: "visits", Name: "procedures"})
		case x.P.Unread("rules") || x.P.Unread("credentials"):
			x.Unclear(s, "a value in rules or a row of credentials could not be read, and may permit the procedure", audit.Field{Kind: "rules", Name: "scope"})
		case person != nil && person.Role == "student" && supervisor == "":
			x.Unclear(s, "a student treated, and the supervisor is not written", audit.Field{Kind: "visits", Name: "supervisor"})
		case len(held) == 0, supervisor != "" && len(above) == 0:
			x.Unclear(s, "no registration in force that day is typed, so its list was not judged", audit.Field{Kind: "credentials"})
		case slices.ContainsFunc(held, unwritten) || slices.ContainsFunc(above, unwritten):
			x.Unclear(s, "the registration in force has no list of procedures written, and no scope rule speaks to it", audit.Field{Kind: "credentials", Name: "procedures"})
		case slices.ContainsFunc(held, loose) || slices.ContainsFunc(above, loose):
			x.Unclear(s, "the list of the registration has words of your own, which may mean the procedure", audit.Field{Kind: "credentials", Name: "procedures"})
		default:
			f := audit.Fault{Grade: audit.Critical, Matter: procedure, Day: day,
				Found:    procedure + " done, which neither the list of the registration in force nor a scope rule names",
				Needed:   "needed is a registration or a rule that permits it; if the certificate does, add it to its list",
				Evidence: []audit.Evidence{audit.At(&v.Row, "procedures"), audit.At(&v.Row, "person")}}
			for _, c := range slices.Concat(held, above) {
				f.Evidence = append(f.Evidence, audit.At(&c.Row, "procedures"))
			}
			x.NotMet(s, f)
		}
	}
}
