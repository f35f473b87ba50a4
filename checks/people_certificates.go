package checks

import (
	"fmt"
	"slices"
	"strings"

	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/quantity"
)

var _ = define(audit.Check{
	ID:    "people/certificates",
	Title: "First aid, infection control and respirator fit of everyone who works here are in date",
	Why: "These are the certificates that an inspector asks for first, and the ones that run out unnoticed. The newest row of each kind decides, even where no visit is typed. " +
		"Where no last day is written, infection control and respirator fit (the test that a respirator seals on the face) are counted from their first day.",
	Grades:  []audit.Grade{audit.Minor, audit.Observation},
	Subject: "people",
	Thing:   "certificate",
	Things:  "certificates",
	Needs:   []string{"people", "credentials"},
	Helps:   []string{"credentials.valid_until", "people.ended_on"},
	Uses:    []string{"people.certificates", "people.infection-control", "people.respirator-fit"},
	Fix: []string{
		"Look for the newer certificate first: if it was renewed, add its row.",
		"If it was not, book the course or the fit test; until a fit test is passed, wear no respirator where the seal matters.",
		"Where the person has left, write the last day of work into people.",
		"From today on, type each certificate with its last day when it arrives.",
	},
	Verify: "the newest certificate of each kind has a last day on or after the audit day",
	Run: func(x *audit.Examination) {
		kinds, _ := x.Criterion("people.certificates", nil)
		masked := peopleCertificatesMasked(x.P)
		for i := range x.P.People {
			person := &x.P.People[i]
			key := practice.Key(&person.Row)
			_, state := x.P.Person(key)
			for _, kind := range kinds.Items() {
				s := audit.Subject{Kind: "people", ID: key}
				newest, current := peopleCertificatesOf(x.P, key, kind)
				switch {
				case !person.Works(x.P.AsOf):
					x.Pass()
				case state == practice.Shared:
					x.Unclear(s, "several rows of people have one id, so it cannot be told whose certificates these are")
				case current:
					x.Met(s)
				case newest == nil && kind == "respirator-fit" && !masked[key]:
					x.Pass()
				case newest == nil:
					x.Unclear(s, "no certificate of the kind is typed for the person, so not judged", audit.Field{Kind: "credentials"})
				default:
					peopleCertificatesJudge(x, s, newest, kind)
				}
			}
		}
	},
})

// peopleCertificatesOf finds a person's newest certificate of a kind, and
// whether any is in date by the last day written on it.
func peopleCertificatesOf(p *practice.Practice, person, kind string) (newest *practice.Credential, current bool) {
	for _, c := range p.CredentialsOf(person) {
		if c.Type == kind && c.ValidFrom <= p.AsOf {
			newest = c
			current = current || c.ValidUntil >= p.AsOf
		}
	}
	return newest, current
}

// peopleCertificatesMasked are those whose visits name a respirator.
func peopleCertificatesMasked(p *practice.Practice) map[string]bool {
	masked := map[string]bool{}
	for i := range p.Visits {
		if v := &p.Visits[i]; v.Done() && slices.Contains(v.Gear.Items, "respirator") {
			masked[v.Person] = true
		}
	}
	return masked
}

// peopleCertificatesJudge judges a newest certificate that no last day keeps in date.
func peopleCertificatesJudge(x *audit.Examination, s audit.Subject, c *practice.Credential, kind string) {
	asOf := x.P.AsOf
	name := peopleKind(kind)
	f := audit.Fault{Grade: audit.Minor, Matter: kind, Day: c.ValidUntil, Evidence: []audit.Evidence{audit.At(&c.Row, "valid_until")}}
	id := "people." + kind
	switch {
	case x.P.Unread("credentials"):
		x.Unclear(s, "a row of credentials could not be read, and may be the newer certificate", audit.Field{Kind: "credentials"})
	case c.ValidUntil.Written() && c.ValidUntil < c.ValidFrom:
		x.Unclear(s, "the certificate ends before it begins, as written", audit.Field{Kind: "credentials", Name: "valid_until"})
	case c.ValidUntil.Written():
		f.Found = fmt.Sprintf("%s ran out on %s, %s before the audit day", name, c.ValidUntil.Words(), audit.Plural(int(asOf-c.ValidUntil), "day", "days"))
		f.Needed = "a certificate in date; if it was renewed, add its row"
		x.NotMet(s, f)
	case kind == "infection-control" || kind == "respirator-fit":
		f.Day = c.ValidFrom
		f.Evidence = []audit.Evidence{audit.At(&c.Row, "valid_from")}
		f.Found = fmt.Sprintf("%s dates from %s, with no last day and no renewal typed", name, c.ValidFrom.Words())
		r := x.Ask(id, nil, func(rule audit.Criterion) audit.Verdict {
			if asOf <= c.ValidFrom.Add(rule.Quantity()) {
				return audit.Meets
			}
			return audit.Fail
		})
		x.Settle(s, r, f, func(rule audit.Criterion) string {
			return "renewed within " + rule.Value()
		}, "", audit.Field{Kind: "credentials", Name: "valid_until"})
	default:
		x.Unclear(s, "no last day is written on the certificate", audit.Field{Kind: "credentials", Name: "valid_until"})
	}
}

// peopleKind is a kind of certificate in words.
func peopleKind(kind string) string { return strings.ReplaceAll(kind, "-", " ") }

// peopleLast is the last day of a certificate as written, or else by the rule
// that holds for its kind; 0 where neither says.
func peopleLast(x *audit.Examination, c *practice.Credential) quantity.Day {
	if c.ValidUntil.Written() || c.Type != "infection-control" && c.Type != "respirator-fit" {
		return c.ValidUntil
	}
	rule, ok := x.Criterion("people."+c.Type, nil)
	if !ok {
		return 0
	}
	return c.ValidFrom.Add(rule.Quantity())
}
