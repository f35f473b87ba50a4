package checks

import (
	"fmt"

	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/quantity"
)

var _ = define(audit.Check{
	ID:    "people/due",
	Title: "What the people need that runs out before the renewal or inspection is told in time",
	Why: "A certificate that ends the week before a renewal or an inspection is known today and forgotten then. A later certificate that follows on without a break takes the place of the one that ends. " +
		"The lot of spore tests now in use is looked at too.",
	Grades:  []audit.Grade{audit.Observation},
	Subject: "people",
	Thing:   "last day",
	Things:  "last days",
	Needs:   []string{"credentials"},
	Helps:   []string{"practice.renewal_on", "practice.inspection_on", "people.ended_on", "credentials.valid_until"},
	Uses:    []string{"people.infection-control", "people.respirator-fit"},
	Fix: []string{
		"Book the course, the fit test or the renewal now; places fill up.",
		"When the new certificate arrives, add its row. Leave the old one as it is.",
	},
	Verify: "a newer certificate is typed that lasts beyond the renewal or inspection date",
	Run: func(x *audit.Examination) {
		peopleDueSelf(x)
		type key struct{ person, kind string }
		seen := map[key]bool{}
		for i := range x.P.Credentials {
			c := &x.P.Credentials[i]
			if k := (key{c.Person, c.Type}); c.Person != "" && !seen[k] {
				seen[k] = true
				peopleDueKind(x, c.Person, c.Type)
			}
		}
		peopleDueLot(x)
	},
})

// peopleDueSelf lists the renewal and the inspection themselves.
func peopleDueSelf(x *audit.Examination) {
	f := &x.P.Profile
	if f.RenewalOn >= x.P.AsOf {
		x.Due(audit.Due{Row: &f.Row, Field: "renewal_on", On: f.RenewalOn, What: "renewal of the registration"})
	}
	if f.InspectionOn >= x.P.AsOf {
		x.Due(audit.Due{Row: &f.Row, Field: "inspection_on", On: f.InspectionOn, What: "inspection"})
	}
}

// peopleDueKind follows a person's certificates of one kind, as long as each
// begins by the day after the one before ends, from the one in force on.
func peopleDueKind(x *audit.Examination, person, kind string) {
	s := audit.Subject{Kind: "people", ID: person}
	if p, state := x.P.Person(person); state == practice.One && !p.Works(x.P.AsOf) {
		x.Pass()
		return
	}
	var end quantity.Day
	var last *practice.Credential
	open := false
	for _, c := range x.P.CredentialsOf(person) {
		if c.Type != kind || c.Status == "suspended" || c.ValidFrom > max(x.P.AsOf, end.AddDays(1)) {
			continue
		}
		until := peopleLast(x, c)
		open = open || !until.Written()
		if until > end {
			end, last = until, c
		}
	}
	switch {
	case open && (kind == "education" || kind == "other"):
		x.Pass()
	case open:
		x.Unclear(s, "no last day is written on a certificate in force", audit.Field{Kind: "credentials", Name: "valid_until"})
	case last == nil:
		x.Pass()
	case end < x.P.AsOf: // told as a lapse elsewhere; here it is only listed
		x.Due(audit.Due{Row: &last.Row, Field: "valid_until", On: end, What: peopleKind(kind) + " of " + person})
		x.Pass()
	default:
		field, name := "valid_until", peopleKind(kind)
		if !last.ValidUntil.Written() {
			field, name = "valid_from", name+" (no last day written, so counted from its first)"
		}
		peopleDueDay(x, s, kind, name, audit.Due{Row: &last.Row, Field: field, On: end, What: peopleKind(kind) + " of " + person})
	}
}

// peopleDueDay holds one last day against the day looked forward to.
func peopleDueDay(x *audit.Examination, s audit.Subject, matter, what string, due audit.Due) {
	horizon, purpose := x.P.Horizon()
	switch {
	case !horizon.Written():
		x.Due(due)
		x.Unclear(s, "no renewal or inspection date ahead is written", audit.Field{Kind: "practice", Name: "renewal_on"})
	case due.On >= horizon:
		if due.On < x.P.Ahead() {
			x.Due(due)
		}
		x.Met(s)
	default:
		x.Due(due)
		x.NotMet(s, audit.Fault{Grade: audit.Observation, Matter: matter, Day: due.On,
			Found:    fmt.Sprintf("%s runs out on %s, %s before the %s", what, due.On.Words(), audit.Plural(int(horizon-due.On), "day", "days"), purpose),
			Needed:   "a renewal before then; if it is renewed already, add the row",
			Evidence: []audit.Evidence{audit.At(due.Row, due.Field)}})
	}
}

// peopleDueLot looks at the lot of the newest spore test that names one, unless
// stock has one that lasts longer.
func peopleDueLot(x *audit.Examination) {
	var newest *practice.Test
	for i := range x.P.Tests {
		t := &x.P.Tests[i]
		if t.Type == "spore" && t.LotExpiresOn.Written() && (newest == nil || t.RunAt.First() >= newest.RunAt.First()) {
			newest = t
		}
	}
	if newest == nil {
		return
	}
	due := audit.Due{Row: &newest.Row, Field: "lot_expires_on", On: newest.LotExpiresOn}
	for i := range x.P.Stock {
		if k := &x.P.Stock[i]; k.Item == "spore-test" && k.Quantity.Value > 0 && (k.Reason == "count" || k.Reason == "purchase") && k.ExpiresOn > due.On {
			due = audit.Due{Row: &k.Row, Field: "expires_on", On: k.ExpiresOn}
		}
	}
	if due.What = "the newest lot of spore tests typed"; due.On < x.P.AsOf {
		x.Pass()
		return
	}
	peopleDueDay(x, audit.Whole, "spore-test lot", due.What, due)
}
