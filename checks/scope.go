package checks

import (
	"slices"
	"strings"

	"footing/internal/practice"
	"footing/internal/quantity"
)

// scopeAnswer is what the grants of rules.scope say of one thing for one person
// on one day.
type scopeAnswer struct {
	yes     bool // a grant permits it
	sourced bool // and says where it is written
	open    bool // a grant may permit it, but for whom cannot be told
}

// scopePermit splits what a grant permits into its kind and its name, as names are
// spelt in the other records.
func scopePermit(permits string) (kind, name string) {
	kind, name, _ = strings.Cut(strings.ToLower(permits), ":")
	if strings.ContainsAny(name, " _") || strings.HasPrefix(name, "-") || strings.HasSuffix(name, "-") || strings.Contains(name, "--") {
		name = strings.Join(strings.FieldsFunc(name, func(r rune) bool { return r == ' ' || r == '_' || r == '-' }), "-")
	}
	return strings.TrimSpace(kind), name
}

// scopeFamily is the word that a scalpel, its blade and its procedure share.
func scopeFamily(name string) string {
	word, _, _ := strings.Cut(name, "-")
	return word
}

// scopeGrant asks the grants in force on a day whose permit fits.
func scopeGrant(p *practice.Practice, person *practice.Person, id string, held []*practice.Credential, day quantity.Day, fits func(kind, name string) bool) (a scopeAnswer) {
	for _, g := range p.Rules.Scope {
		if day < g.From || g.Until.Written() && day > g.Until || !fits(scopePermit(g.Permits)) {
			continue
		}
		switch scopeMeant(p, person, id, held, g.To) {
		case quantity.Yes:
			a.yes = true
			a.sourced = a.sourced || strings.TrimSpace(g.Source) != ""
		case quantity.Unsure:
			a.open = true
		}
	}
	return a
}

// scopeMeant reports whether a grant's words "to" mean this person: everyone
// where they are blank; else by id, role or class of registration.
func scopeMeant(p *practice.Practice, person *practice.Person, id string, held []*practice.Credential, to string) quantity.Tri {
	to = strings.TrimSpace(to)
	same := func(s string) bool { return strings.EqualFold(s, to) }
	if to == "" || same(id) || person != nil && same(person.Role) {
		return quantity.Yes
	}
	for _, c := range held {
		if same(c.Class) {
			return quantity.Yes
		}
	}
	if slices.ContainsFunc([]string{"practitioner", "assistant", "student", "reprocessing"}, same) {
		if person == nil {
			return quantity.Unsure
		}
		return quantity.No
	}
	_, state := p.Person(to)
	if state == practice.One || slices.ContainsFunc(p.Credentials, func(c practice.Credential) bool { return same(c.Class) }) {
		return quantity.No
	}
	return quantity.Unsure
}

// scopeSupervisor is who supervised a student's visit, or "".
func scopeSupervisor(v *practice.Visit, person *practice.Person) string {
	switch {
	case person == nil || person.Role != "student":
		return ""
	case v.Supervisor != "":
		return v.Supervisor
	}
	return person.Supervisor
}
