package checks

import (
	"fmt"
	"slices"
	"strings"

	"footing/internal/audit"
	"footing/internal/practice"
)

var _ = define(audit.Check{
	ID:    "policies/current",
	Title: "Each topic that the rules require has a policy, in date, signed by everyone who works here",
	Why: "A policy says what is done when the person who usually knows is away. The newest version of each topic counts, as its day of effect has it. Where no day of review is written, the age counts. " +
		"A topic without a policy counts only where coverage says that all policies are typed; signatures only where some are written.",
	Grades:  []audit.Grade{audit.Minor},
	Subject: "policies",
	Thing:   "point of a required policy (in date, signed)",
	Things:  "points of required policies (in date, signed)",
	Needs:   []string{"practice"},
	Helps:   []string{"policies.review_on", "policies.effective_on", "policies.signed_by", "people"},
	Uses:    []string{"policies.topics", "policies.review"},
	Fix: []string{
		"Look for the newer version first: if it exists, add its row with its day of effect and of review.",
		"If it does not, read the policy against what is done today, change what differs, and date the new version with the day you finish it.",
		"Have everyone who works here read it, and write who signed.",
		"From today on, put the next review into the calendar when a policy is signed.",
	},
	Verify: "each required topic has a version whose review lies ahead, signed by everyone who works here now",
	Run: func(x *audit.Examination) {
		r := policiesCurrent{Examination: x}
		r.age, _ = x.Criterion("policies.review", nil)
		r.people, r.readable = policiesPeople(x.P)
		topics, _ := x.Criterion("policies.topics", audit.When{"reprocessing": policiesReprocessing(x.P)})
		var absent []string
		for _, topic := range topics.Items() {
			if r.topic(topic) {
				absent = append(absent, strings.ReplaceAll(topic, "-", " "))
			}
		}
		r.absent(absent, &topics)
	},
})

type policiesCurrent struct {
	*audit.Examination
	age      audit.Criterion
	people   []string // who works here now
	readable bool     // all of them have a row and an id of their own
}

// policiesReprocessing is who makes instruments ready for use: as the practice
// says, else the practice itself where it has a sterilizer.
func policiesReprocessing(p *practice.Practice) string {
	if p.Profile.Reprocessing == "" && p.Count("sterilizers") > 0 {
		return "own"
	}
	return p.Profile.Reprocessing
}

// policiesPeople are the ids of those who work here on the audit day; readable,
// whether each of them has an id of its own and no row was left unread.
func policiesPeople(p *practice.Practice) (ids []string, readable bool) {
	readable = !p.Unread("people")
	for i := range p.People {
		person := &p.People[i]
		_, state := p.Person(person.ID)
		switch {
		case !person.Works(p.AsOf):
		case person.ID == "" || state != practice.One:
			readable = false
		default:
			ids = append(ids, person.ID)
		}
	}
	return ids, readable
}

// topic judges the version of one topic that is in force. It reports whether
// there is none although all policies are here.
func (r *policiesCurrent) topic(topic string) (absent bool) {
	s := audit.Subject{Kind: "policies", ID: topic}
	name := strings.ReplaceAll(topic, "-", " ")
	newest := policiesNewest(r.P, topic)
	switch {
	case newest != nil:
		r.inDate(s, newest, name)
		r.signed(s, newest, name)
	case r.P.Whole("policies", r.P.AsOf, r.P.AsOf):
		return true
	default:
		r.Unclear(s, "no policy on the topic is typed, so not judged", audit.Field{Kind: "policies"})
	}
	return false
}

// absent tells of all the topics without a policy in one finding.
func (r *policiesCurrent) absent(names []string, required *audit.Criterion) {
	for range names {
		r.NotMet(audit.Whole, audit.Fault{Grade: audit.Minor, Matter: "absent", Criterion: required,
			Found:  "all policies are said to be typed, and none is on " + strings.Join(names, ", "),
			Needed: "each required topic needs a policy; if one covers it under another title, add a row for the topic"})
	}
}

// policiesNewest is the version in force: the latest in effect by the audit day;
// where none says from when, the one to be reviewed last.
func policiesNewest(p *practice.Practice, topic string) (newest *practice.Policy) {
	for i := range p.Policies {
		v := &p.Policies[i]
		if v.Topic != topic || v.EffectiveOn > p.AsOf {
			continue
		}
		if newest == nil || v.EffectiveOn > newest.EffectiveOn || v.EffectiveOn == newest.EffectiveOn && v.ReviewOn >= newest.ReviewOn {
			newest = v
		}
	}
	return newest
}

func (r *policiesCurrent) inDate(s audit.Subject, v *practice.Policy, name string) {
	asOf := r.P.AsOf
	f := audit.Fault{Grade: audit.Minor, Matter: "review", Needed: "it is reviewed in time; if a newer version exists, add its row"}
	due, field := v.ReviewOn, "review_on"
	if !due.Written() {
		due, field = v.EffectiveOn.Add(r.age.Quantity()), "effective_on"
	}
	if !due.Written() {
		r.Unclear(s, "neither the day of effect nor the day of review is written", audit.Field{Kind: "policies", Name: "review_on"})
		return
	}
	if horizon := r.P.Ahead(); !horizon.Written() || due < horizon {
		r.Due(audit.Due{Row: &v.Row, Field: field, On: due, What: "review of the policy on " + name})
	}
	if due >= asOf {
		r.Met(s)
		return
	}
	f.Day, f.Evidence = due, []audit.Evidence{audit.At(&v.Row, field)}
	if f.Found = fmt.Sprintf("the review of the policy on %s was due on %s, %s before the audit day", name, due.Words(), audit.Plural(int(asOf-due), "day", "days")); field == "effective_on" {
		f.Found = fmt.Sprintf("the policy on %s is in effect since %s, with no day of review written", name, v.EffectiveOn.Words())
		f.Needed, f.Criterion = "a review within "+r.age.Value()+"; if it was reviewed, write the day of the next review", &r.age
	}
	r.NotMet(s, f)
}

func (r *policiesCurrent) signed(s audit.Subject, v *practice.Policy, name string) {
	missing, lost := 0, false
	for _, id := range r.people {
		if !v.SignedBy.Has(id) {
			missing++
		}
	}
	for _, id := range v.SignedBy.Items {
		_, state := r.P.Person(id)
		lost = lost || state != practice.One
	}
	switch {
	case len(v.SignedBy.Items) == 0:
		r.Unclear(s, "who has signed the policy is not written", audit.Field{Kind: "policies", Name: "signed_by"})
	case len(r.people) == 0:
		r.Unclear(s, "no people are typed, so it cannot be told who should sign", audit.Field{Kind: "people"})
	case missing == 0:
		r.Met(s)
	case lost || !r.readable:
		r.Unclear(s, "a signature leads to no single row of people, or someone here has no id, so it cannot be told who has not signed", audit.Field{Kind: "people"})
	default:
		evidence := []audit.Evidence{audit.At(&v.Row, "signed_by")}
		for i := range r.P.People {
			if p := &r.P.People[i]; slices.Contains(r.people, p.ID) && !v.SignedBy.Has(p.ID) {
				evidence = append(evidence, audit.At(&p.Row, "id", "not among the signatures"))
			}
		}
		r.NotMet(s, audit.Fault{Grade: audit.Minor, Matter: "signatures", Evidence: evidence,
			Found:  fmt.Sprintf("the policy on %s is signed by %d of the %d people who work here", name, len(r.people)-missing, len(r.people)),
			Needed: "each of them signs it; if they signed a later copy, add that"})
	}
}
