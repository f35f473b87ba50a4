package chain

import (
	"slices"

	"footing/internal/practice"
	"footing/internal/quantity"
)

// ofClient is the part of a chain that stands on the client's card and the person's papers.
func (f *Follower) ofClient(v *practice.Visit) []Link {
	links := []Link{f.whoTreated(v), f.history(v), f.screen(v), f.consent(v), f.worn(v)}
	for i, name := range LinkNames()[:len(links)] {
		links[i].Name = name
	}
	if _, state := f.p.Client(v.Client); state == practice.Shared {
		for i := range links[1:4] {
			l := &links[1+i]
			*l = Link{Name: l.Name, State: LinkPart, What: "several rows of clients have the id that the visit names, so it cannot be told whose card it is", Seen: l.Seen}
		}
	}
	return links
}

func (f *Follower) whoTreated(v *practice.Visit) Link {
	day := v.Started.Day()
	if v.Person == "" {
		return f.gap("visits", f.person, day, "who treated is not written", "no visit says who treated")
	}
	seen := []Seen{{Row: &v.Row, Field: "person", Note: "who treated"}}
	person, state := f.p.Person(v.Person)
	switch {
	case state == practice.One:
		seen = append(seen, Seen{Row: &person.Row})
	case f.p.Typed("people"):
		return Link{State: LinkPart, What: "the person named is not exactly one row of people", Seen: seen, Sure: state == practice.Absent && f.p.Whole("people", 1, day)}
	}
	if c := f.registration(v.Person, day); c != nil {
		return Link{State: LinkFound, What: "registration entered as " + standing(c) + ", " + valid(c), Seen: append(seen, Seen{Row: &c.Row, Note: "in force that day"})}
	}
	if person != nil && person.Role == "student" {
		if link, ok := f.supervised(v, person, seen); ok {
			return link
		}
	}
	before := slices.ContainsFunc(f.p.CredentialsOf(v.Person), func(c *practice.Credential) bool { return c.Type == "registration" && c.ValidFrom <= day })
	switch {
	case !slices.ContainsFunc(f.p.Credentials, func(c practice.Credential) bool { return c.Type == "registration" }):
		return Link{State: LinkUnkept, What: "who treated is written; no registration of anyone is typed, so it is not judged", Seen: seen}
	case !before:
		return Link{State: LinkPart, What: "who treated is written; no registration of the person from that day or earlier is typed", Seen: seen}
	}
	return Link{State: LinkPart, What: "who treated is written; no registration in force that day is typed", Seen: seen, Sure: f.p.Whole("credentials", day, day)}
}

// supervised is the link of a student's visit: the supervisor's registration stands for it.
func (f *Follower) supervised(v *practice.Visit, student *practice.Person, seen []Seen) (Link, bool) {
	id, at := v.Supervisor, Seen{Row: &v.Row, Field: "supervisor", Note: "who supervised"}
	if id == "" {
		id, at = student.Supervisor, Seen{Row: &student.Row, Field: "supervisor", Note: "the student's supervisor"}
	}
	c := f.registration(id, v.Started.Day())
	if id == "" || c == nil {
		return Link{}, false
	}
	return Link{State: LinkFound, What: "a student treated; the supervisor's registration is entered as " + standing(c) + ", " + valid(c), Seen: append(seen, at, Seen{Row: &c.Row, Note: "the supervisor's, in force that day"})}, true
}

// registration is the newest one of a person that covers a day; nil if none is typed.
func (f *Follower) registration(person string, day quantity.Day) *practice.Credential {
	for _, c := range slices.Backward(f.p.CredentialsOf(person)) {
		if c.Type == "registration" && covers(c, day) {
			return c
		}
	}
	return nil
}

func covers(c *practice.Credential, day quantity.Day) bool {
	return c.ValidFrom <= day && (!c.ValidUntil.Written() || day <= c.ValidUntil)
}

func standing(c *practice.Credential) string {
	switch c.Status {
	case "":
		return "in force, its standing not written"
	case "conditions":
		return "active with conditions"
	}
	return c.Status
}

func valid(c *practice.Credential) string {
	if !c.ValidUntil.Written() {
		return "from " + c.ValidFrom.Words()
	}
	return "from " + c.ValidFrom.Words() + " to " + c.ValidUntil.Words()
}

func (f *Follower) history(v *practice.Visit) Link {
	day := v.Started.Day()
	h := lastUntil(f.histories[v.Client], day, func(h *practice.History) quantity.Day { return h.TakenOn })
	if h != nil {
		what := "taken " + h.TakenOn.Words()
		return Link{State: LinkFound, What: what, Seen: []Seen{{Row: &h.Row, Field: "taken_on"}}}
	}
	l := f.lacks("histories", v, "no health history of that day or earlier is typed")
	if later := f.histories[v.Client]; len(later) > 0 {
		if l.State == LinkAbsent {
			l.What += "; the first typed is of " + later[0].TakenOn.Words()
		}
		l.Seen = append(l.Seen, Seen{Row: &later[0].Row, Field: "taken_on", Note: "the first typed, after the visit"})
	}
	return l
}

// lacks is the link of a visit whose client has no row of a kind for the day or
// earlier. Where nobody has one, the kind may not have been typed yet.
func (f *Follower) lacks(kind string, v *practice.Visit, what string) Link {
	first, day := f.since[kind], v.Started.Day()
	switch {
	case !first.Written():
		return Link{State: LinkUnkept, What: "nothing is typed for " + kind + ", so it is not judged"}
	case f.early(kind, day):
		return Link{State: LinkUnkept, What: "nothing is typed for " + kind + " before " + first.Words() + ", so it is not judged before then"}
	}
	return Link{State: LinkAbsent, What: what, Sure: f.wholeFor(kind, v.Client, day)}
}

func (f *Follower) screen(v *practice.Visit) Link {
	if v.Treated() == quantity.No {
		return Link{What: "nothing was done that touches the skin, as written"}
	}
	day := v.Started.Day()
	var last *practice.Screen
	for _, s := range f.p.ScreensOf(v.Client) {
		if s.AskedOn <= day && (last == nil || s.Answered() || !last.Answered()) {
			last = s
		}
	}
	switch {
	case last == nil:
		return f.lacks("screens", v, "no allergy answer of that day or earlier is typed")
	case !last.Answered():
		return Link{State: LinkPart, What: "a screen of " + last.AskedOn.Words() + " is typed without an answer", Seen: []Seen{{Row: &last.Row, Field: "asked_on"}}}
	}
	l := Link{State: LinkFound, What: "asked " + last.AskedOn.Words(), Seen: []Seen{{Row: &last.Row, Field: "asked_on"}}}
	latex := f.p.AnswerOf(v.Client, "latex", day)
	if latex.Screen == nil {
		l.What += "; no latex answer is written"
		return l
	}
	l.What += "; latex: " + latex.Answer
	if latex.Screen != last {
		l.What += ", as answered on " + latex.Screen.AskedOn.Words()
		l.Seen = append(l.Seen, Seen{Row: &latex.Screen.Row, Field: latex.Field, Note: "the latex answer"})
	}
	return l
}

func (f *Follower) worn(v *practice.Visit) Link {
	switch {
	case v.Treated() == quantity.No:
		return Link{What: "nothing was done beyond an assessment, as written"}
	case v.Gloves == "":
		return f.gap("visits", f.gloves, v.Started.Day(), "which gloves were worn is not written", "no visit says which gloves were worn")
	}
	what := v.Gloves
	if what == "none" {
		what = "none worn, as written"
	}
	return Link{State: LinkFound, What: what, Seen: []Seen{{Row: &v.Row, Field: "gloves"}}}
}
