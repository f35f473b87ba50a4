package chain

import (
	"slices"
	"strings"

	"footing/internal/practice"
	"footing/internal/quantity"
)

// consent is the link to what the client agreed to. Forms in force are taken together,
// since one may name one procedure and the next another.
func (f *Follower) consent(v *practice.Visit) Link {
	if v.Treated() == quantity.No {
		return Link{What: "nothing was done beyond an assessment, as written"}
	}
	day := v.Started.Day()
	back := f.takenBack(v)
	var stand, doubtful []*practice.Consent // newest first
	over := ""
	for _, c := range slices.Backward(f.consents[v.Client]) {
		switch end := ended(c, day); {
		case c.GivenOn > day:
		case end != "" && over == "":
			over = "; the one of " + c.GivenOn.Words() + end
		case end != "":
		case c.WithdrawnOn == day || back != nil && c.GivenOn < back.WithdrawnOn:
			doubtful = append(doubtful, c)
		default:
			stand = append(stand, c)
		}
	}
	if forms, left := naming(v, stand); len(forms) > 0 && len(left) == 0 {
		l := Link{State: LinkFound, What: givenOn(forms) + ", in force that day", Seen: seenForms(forms, "given_on")}
		if !forms[0].Procedures.Written {
			l.What += "; for what is not written"
		}
		return l
	}
	forms, left := naming(v, append(stand, doubtful...))
	switch {
	case len(forms) == 0:
		l := f.lacks("consents", v, "no consent in force that day is typed")
		l.What += over
		return l
	case len(left) > 0:
		whose := "it does not name "
		if len(forms) > 1 {
			whose = "none of them names "
		}
		return Link{State: LinkPart, What: givenOn(forms) + ", in force that day; " + whose + strings.Join(left, ", "),
			Seen: seenForms(forms, "procedures"), Sure: len(doubtful) == 0 && f.wholeFor("consents", v.Client, day)}
	case back.WithdrawnOn == day:
		over = "withdrawn that day, and whether before the visit or after it cannot be told"
	default:
		over = "in force as written, but another form was withdrawn on " + back.WithdrawnOn.Words()
	}
	return Link{State: LinkPart, What: givenOn(forms) + "; " + over, Seen: append(seenForms(forms, "given_on"), Seen{Row: &back.Row, Field: "withdrawn_on"})}
}

// takenBack is the consent withdrawn last, by the day of a visit, of those that are
// about something done at it; nil for none.
func (f *Follower) takenBack(v *practice.Visit) (last *practice.Consent) {
	for _, c := range f.consents[v.Client] {
		named := func(done string) bool { return done != "assessment" && c.Procedures.Has(done) }
		about := !c.Procedures.Written || c.Procedures.All || !v.Procedures.Written || slices.ContainsFunc(v.Procedures.Items, named)
		if about && c.WithdrawnOn.Written() && c.WithdrawnOn <= v.Started.Day() && (last == nil || c.WithdrawnOn >= last.WithdrawnOn) {
			last = c
		}
	}
	return last
}

// ended says how a consent was over before a day; "" where it was not.
func ended(c *practice.Consent, day quantity.Day) string {
	switch {
	case c.WithdrawnOn.Written() && c.WithdrawnOn < day:
		return " was withdrawn on " + c.WithdrawnOn.Words()
	case c.ExpiresOn.Written() && c.ExpiresOn < day:
		return " ran until " + c.ExpiresOn.Words()
	}
	return ""
}

// naming is the newest of some consents that alone names all that was done at a visit,
// else all of them, with what none of them names.
func naming(v *practice.Visit, forms []*practice.Consent) ([]*practice.Consent, []string) {
	var left []string
	for i, c := range forms {
		out := outside(v, c)
		if len(out) == 0 {
			return forms[i : i+1], nil
		}
		if i == 0 {
			left = out
		}
		left = slices.DeleteFunc(left, func(done string) bool { return !slices.Contains(out, done) })
	}
	return forms, left
}

// outside is what was done at a visit that a consent does not name.
func outside(v *practice.Visit, c *practice.Consent) (out []string) {
	if !c.Procedures.Written || c.Procedures.All {
		return nil
	}
	for _, done := range v.Procedures.Items {
		if done != "assessment" && !c.Procedures.Has(done) {
			out = append(out, strings.ReplaceAll(strings.TrimPrefix(done, "other:"), "-", " "))
		}
	}
	return out
}

func givenOn(forms []*practice.Consent) string {
	var days []string
	for _, c := range forms {
		days = append(days, c.GivenOn.Words())
	}
	return "given " + strings.Join(days, " and ")
}

func seenForms(forms []*practice.Consent, field string) (seen []Seen) {
	for _, c := range forms {
		seen = append(seen, Seen{Row: &c.Row, Field: field})
	}
	return seen
}
