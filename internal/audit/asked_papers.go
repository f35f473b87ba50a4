package audit

import (
	"fmt"
	"slices"
	"strings"

	"footing/internal/practice"
	"footing/internal/quantity"
	"footing/internal/result"
)

// certificates are what hangs on the wall: registration and liability cover.
func (a *asking) certificates() result.AskedFor {
	out := a.held("registration", "liability-cover")
	out.Topic, out.Question = "Certificates on the wall", "Show me the registration and the liability cover of everyone who treats."
	out.Look = "look on the wall, in the folder of certificates and in the insurer's e-mails"
	for i := range a.p.People {
		v := &a.p.People[i]
		treats := v.Role == "practitioner" || v.Role == "student"
		none := !slices.ContainsFunc(a.p.CredentialsOf(v.ID), func(c *practice.Credential) bool { return wall(c) })
		if treats && none && v.Works(a.p.AsOf) && v.ID != "" {
			out.Lacks = append(out.Lacks, "registration and cover of "+shownID("people", v.ID))
			out.Of++
		}
	}
	if out.State == result.AskedFound {
		out.State = standing(out.Found, out.Of)
	}
	return out
}

func wall(c *practice.Credential) bool {
	return c.Type == "registration" || c.Type == "liability-cover"
}

// training is what shows that people were taught what they do.
func (a *asking) training() result.AskedFor {
	out := a.held("first-aid", "infection-control", "reprocessing", "hazardous-products", "respirator-fit", "education", "other")
	out.Topic, out.Question = "Training", "Who was taught to reprocess instruments, and when? And infection control, first aid?"
	out.Look = "look in the folder of certificates, and in the e-mails of the course"
	if n := len(a.p.Observations); n > 0 {
		out.What += fmt.Sprintf("; %s of people at work typed", Plural(n, "observation", "observations"))
		out.Evidence = append(out.Evidence, firstAndLast(n, func(i int) Evidence { return At(&a.p.Observations[i].Row, "observed_on") })...)
		if out.Of == 0 {
			out.State = result.AskedPart
		}
	}
	return out
}

// held counts the certificates of some kinds: of each person and kind the one in force,
// else the last one.
func (a *asking) held(kinds ...string) (out result.AskedFor) {
	out.Things = "certificates"
	var all []*practice.Credential
	for _, c := range currentCertificates(a.p) {
		if !slices.Contains(kinds, c.Type) {
			continue
		}
		all = append(all, c)
		out.Of++
		if state := certificateState(c, a.p.AsOf); state == inForce {
			out.Found++
		} else {
			out.Lacks = append(out.Lacks, a.paper(c, state))
		}
	}
	out.State = standing(out.Found, out.Of)
	if out.State == result.AskedUntyped && out.Of > 0 {
		out.State = result.AskedPart // they are typed, and have ended
	}
	out.What = fmt.Sprintf("%s typed, %d in force", Plural(out.Of, "certificate", "certificates"), out.Found)
	if out.Of == 0 {
		out.What = "no certificate is typed"
	}
	out.Evidence = firstAndLast(len(all), func(i int) Evidence { return At(&all[i].Row, "valid_until") })
	out.KeptAt = keptAt(a.p, "credentials", entriesOf(all, func(c *practice.Credential) *practice.Entry { return &c.Entry }))
	return out
}

func (a *asking) paper(c *practice.Credential, state string) string {
	what := strings.ReplaceAll(c.Type, "-", " ")
	if c.Person != "" {
		what += " of " + shownID("people", c.Person)
	}
	switch {
	case state == hasEnded:
		return what + ", ended " + c.ValidUntil.Words()
	case state == beginsLater:
		return what + ", begins " + c.ValidFrom.Words()
	}
	return what + ", " + state
}

// policies are the written ones, by the topics that the rules name.
func (a *asking) policies() result.AskedFor {
	out := result.AskedFor{Topic: "Policies, by topic", Question: "Show me your written policies.", Things: "topics", Look: "look in the policy binder, and for a newer version of what is past its review"}
	reprocessing := a.p.Profile.Reprocessing
	if reprocessing == "" && a.p.Count("sterilizers") > 0 {
		reprocessing = "own"
	}
	of, ahead := a.policiesByTopic()
	var due, later []string
	all, _ := a.book.holding("policies.topics", When{"reprocessing": reprocessing})
	var topics []string
	if len(all) > 0 {
		topics = all[0].Items()
	}
	for _, topic := range topics {
		name := strings.ReplaceAll(topic, "-", " ")
		switch v := of[topic]; {
		case v == nil && ahead[topic] != nil:
			later = append(later, name+" ("+ahead[topic].EffectiveOn.Words()+")")
		case v == nil:
			out.Lacks = append(out.Lacks, name)
		case v.ReviewOn.Written() && v.ReviewOn < a.p.AsOf:
			due = append(due, name+" (review was due "+v.ReviewOn.Words()+")")
			out.Found++
		default:
			out.Found++
		}
	}
	out.Of = len(topics)
	out.State = standing(out.Found, out.Of)
	out.What = fmt.Sprintf("%s typed, on %d of the %s that the rules name", Plural(len(a.p.Policies), "policy", "policies"), out.Found, Plural(out.Of, "topic", "topics"))
	if len(a.p.Policies) == 0 {
		out.What = fmt.Sprintf("no policy is typed; the rules name %s", Plural(out.Of, "topic", "topics"))
	}
	if len(due) > 0 {
		out.What += "; past the review: " + words(due)
		if out.State == result.AskedFound {
			out.State = result.AskedPart
		}
	}
	if len(later) > 0 {
		out.What += "; begins later: " + words(later)
		out.State = result.AskedPart
	}
	rows := everyRow(a.p.Policies)
	out.Evidence = firstAndLast(len(rows), func(i int) Evidence { return At(&rows[i].Row, "topic") })
	out.KeptAt = keptAt(a.p, "policies", entriesOf(rows, func(v *practice.Policy) *practice.Entry { return &v.Entry }))
	return out
}

// policiesByTopic are, of each topic, the version in effect: the latest by the audit day,
// of two of one day the one to be reviewed last; and the first one that is ahead.
func (a *asking) policiesByTopic() (now, ahead map[string]*practice.Policy) {
	now, ahead = map[string]*practice.Policy{}, map[string]*practice.Policy{}
	for i := range a.p.Policies {
		v := &a.p.Policies[i]
		if v.EffectiveOn > a.p.AsOf {
			if old := ahead[v.Topic]; old == nil || v.EffectiveOn < old.EffectiveOn {
				ahead[v.Topic] = v
			}
			continue
		}
		old := now[v.Topic]
		if old == nil || v.EffectiveOn > old.EffectiveOn || v.EffectiveOn == old.EffectiveOn && v.ReviewOn >= old.ReviewOn {
			now[v.Topic] = v
		}
	}
	return now, ahead
}

// maintenance is the upkeep of the last twelve months, by sterilizer and other equipment.
func (a *asking) maintenance() result.AskedFor {
	out := result.AskedFor{Topic: "Maintenance", Question: "Show me the service reports of the sterilizer and of the other equipment.", Things: "machines",
		Look: "look for the technician's reports and the invoices"}
	from, until := a.year()
	rows := within(a.p.Upkeep, from, until, func(u *practice.Upkeep) quantity.Day { return u.DoneOn })
	done := map[string]bool{}
	for _, u := range rows {
		done[u.Equipment] = true
	}
	see := func(kind, key string, retired quantity.Day) {
		if retired.Written() && retired <= until {
			return
		}
		out.Of++
		if done[key] {
			out.Found++
		} else {
			out.Lacks = append(out.Lacks, kind+" "+shownID(kind, key))
		}
	}
	for i := range a.p.Sterilizers {
		see("sterilizer", practice.Key(&a.p.Sterilizers[i].Row), a.p.Sterilizers[i].RetiredOn)
	}
	for i := range a.p.Equipment {
		see("equipment", practice.Key(&a.p.Equipment[i].Row), a.p.Equipment[i].RetiredOn)
	}
	out.State = standing(out.Found, out.Of)
	if out.State == result.AskedUntyped && len(rows) > 0 {
		out.State = result.AskedPart
	}
	out.What = fmt.Sprintf("%s of the last twelve months typed, for %d of %s", Plural(len(rows), "row of upkeep", "rows of upkeep"), out.Found, Plural(out.Of, "machine", "machines"))
	out.Evidence = firstAndLast(len(rows), func(i int) Evidence { return At(&rows[i].Row, "done_on") })
	out.KeptAt = keptAt(a.p, "upkeep", entriesOf(rows, func(u *practice.Upkeep) *practice.Entry { return &u.Entry }))
	return out
}
