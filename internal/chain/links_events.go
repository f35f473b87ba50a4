package chain

import (
	"slices"
	"strings"

	"footing/internal/practice"
	"footing/internal/quantity"
)

// referable is what a visit notes that is also a reason of a referral.
var referable = []string{"ulcer", "infection", "hot-swollen-foot", "tissue-death"}

// happened is the incidents and referrals that belong to a visit.
func (f *Follower) happened(v *practice.Visit) Link {
	incident, referral := f.incident(v), f.referral(v)
	switch {
	case incident.State == LinkNone && referral.State == LinkNone:
		return Link{What: "the visit notes no bleeding, cut or reaction, and nothing to refer; no row names it"}
	case incident.State == LinkNone:
		return referral
	case referral.State == LinkNone:
		return incident
	}
	l := Link{State: LinkPart, What: incident.What + "; " + referral.What, Seen: slices.Concat(incident.Seen, referral.Seen), Sure: incident.Sure || referral.Sure}
	switch {
	case incident.State == referral.State, referral.State == LinkUnkept:
		l.State = incident.State
	case incident.State == LinkUnkept:
		l.State = referral.State
	}
	return l
}

// incident is what a visit notes that calls for an incident, and the incidents of it.
func (f *Follower) incident(v *practice.Visit) Link {
	key, day := practice.Key(&v.Row), v.Started.Day()
	l := Link{State: LinkFound}
	var said []string
	for _, n := range slices.Concat(f.incidents[key], f.incidents[ofDay(v.Client, day)]) {
		said = append(said, "incident ("+strings.ReplaceAll(n.Type, "-", " ")+") of "+n.OccurredOn.Words())
		l.Seen = append(l.Seen, Seen{Row: &n.Row})
	}
	if l.What = strings.Join(said, "; "); len(said) > 0 {
		return l
	}
	blood := v.Bleeding == "minor" || v.Bleeding == "major"
	switch {
	case !blood && !v.Noticed.Has("cut") && !v.Noticed.Has("reaction"):
		return Link{}
	case len(f.p.Incidents) == 0:
		return Link{State: LinkUnkept, What: "the visit notes a bleed, cut or reaction; no incident at all is typed, so it is not judged", Seen: []Seen{{Row: &v.Row}}}
	}
	return Link{State: LinkAbsent, What: "the visit notes a bleed, cut or reaction; no incident of it is typed", Seen: []Seen{{Row: &v.Row}}, Sure: f.p.Whole("incidents", day, f.p.AsOf)}
}

// referral is what a visit notes that calls for a referral, and the referrals of it. One
// of the client that names no visit may be of it, if it was sent on the day or, where
// something was noted, after it.
func (f *Follower) referral(v *practice.Visit) Link {
	day := v.Started.Day()
	var said []string
	l := Link{State: LinkFound}
	for _, r := range f.referrals[practice.Key(&v.Row)] {
		said = append(said, "referral sent "+r.SentOn.Words())
		l.Seen = append(l.Seen, Seen{Row: &r.Row, Field: "sent_on"})
	}
	if l.What = strings.Join(said, "; "); len(said) > 0 {
		return l
	}
	until, noted := day, slices.ContainsFunc(referable, v.Noticed.Has)
	if noted {
		until, l.What = f.p.AsOf, "the visit notes an ulcer, infection, hot swollen foot or dead tissue; "
		l.Seen = []Seen{{Row: &v.Row, Field: "found"}}
	}
	r := f.letter(v.Client, day, until)
	switch {
	case r != nil:
		l.State, l.Seen = LinkPart, append(l.Seen, Seen{Row: &r.Row, Field: "sent_on"})
		l.What += "a referral of the client sent " + r.SentOn.Words() + " names no visit"
	case !noted:
		return Link{}
	case len(f.p.Referrals) == 0:
		l.State, l.What = LinkUnkept, l.What+"no referral at all is typed, so it is not judged"
	default:
		l.State, l.What, l.Sure = LinkAbsent, l.What+"no referral of it is typed", f.p.Whole("referrals", day, f.p.AsOf)
	}
	return l
}

// letter is the first referral of a client from one day to another that names no visit;
// nil where none does.
func (f *Follower) letter(client string, from, until quantity.Day) (first *practice.Referral) {
	for i := range f.p.Referrals {
		r := &f.p.Referrals[i]
		if r.Visit == "" && client != "" && r.Client == client && r.SentOn >= from && r.SentOn <= until && (first == nil || r.SentOn < first.SentOn) {
			first = r
		}
	}
	return first
}
